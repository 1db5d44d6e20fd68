#include "survey/instruments.hpp"

#include <toml++/toml.h>

namespace standproud {

extern const char* const instruments_text;  // modeler/survey/instruments.toml, put in by the build

namespace {

std::map<std::string, Uncertainty> read_list(const toml::table& tree, const char* key) {
    std::map<std::string, Uncertainty> found;
    for (const auto& node : *tree[key].as_array()) {
        const toml::table& table = *node.as_table();
        found[table["name"].value<std::string>().value()] = {table["plus_minus"].value<double>().value(),
                                                             table["unit"].value<std::string>().value(),
                                                             table["source"].value<std::string>().value()};
    }
    return found;
}

}  // namespace

std::string to_string(Instrument instrument) {
    switch (instrument) {
        case Instrument::tape:
            return "tape";
        case Instrument::laser_measure:
            return "laser measure";
        case Instrument::string:
            return "string";
        case Instrument::laser_plane:
            return "laser plane";
        case Instrument::spirit_level:
            return "spirit level";
        case Instrument::straightedge:
            return "straightedge";
        case Instrument::square:
            return "square";
    }
    return {};
}

const Uncertainties& shipped_uncertainties() {
    static const Uncertainties shipped = [] {
        const toml::table tree = toml::parse(instruments_text);
        return Uncertainties{read_list(tree, "instruments"), read_list(tree, "assumptions")};
    }();
    return shipped;
}

double sigma_of(const SurveyReadings& readings, Instrument instrument, const std::optional<double>& own) {
    if (own) return *own / 2;
    const auto of_job = readings.plus_minus.find(instrument);
    if (of_job != readings.plus_minus.end()) return of_job->second / 2;
    return shipped_uncertainties().instruments.at(to_string(instrument)).plus_minus / 2;
}

double sigma_of_assumption(const std::string& name) {
    return shipped_uncertainties().assumptions.at(name).plus_minus / 2;
}

}  // namespace standproud
