#include "rules/limits.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <vector>

namespace standproud::rules {

extern const char* const limits_text;  // rules/limits.toml, put in by the build

namespace {

Limits shipped() {
    Limits limits;
    const toml::table tree = toml::parse(limits_text);
    for (const auto& node : *tree["limits"].as_array()) {
        const toml::table& table = *node.as_table();
        Limit limit;
        limit.name = table["name"].value<std::string>().value();
        limit.value = table["value"].value<double>().value();
        limit.standard = limit.value;
        limit.unit = table["unit"].value<std::string>().value();
        limit.advice = table["level"].value<std::string>().value() == "advised";
        limit.says = table["says"].value<std::string>().value();
        limit.source = table["source"].value<std::string>().value();
        limit.least = table["least"].value<double>().value();
        limit.most = table["most"].value<double>().value();
        limits[limit.name] = limit;
    }
    return limits;
}

}  // namespace

Limits limits_for(const Job& job, Faults& faults) {
    Limits limits = shipped();
    std::vector<std::string> names;
    for (const auto& [name, limit] : limits) names.push_back(name);
    for (const auto& [name, written] : job.limits) {
        const auto found = limits.find(name);
        if (found == limits.end()) {
            const std::string near = nearest_word(name, names);
            std::string allowed;
            for (const auto& known : names) allowed += (allowed.empty() ? "" : ", ") + known;
            faults.push_back({written.source, "limits." + name, fmt::format("{:g}", written.value), allowed,
                              fmt::format("there is no limit {}{}", name,
                                          near.empty() ? "" : fmt::format("; did you mean {}?", near))});
            continue;
        }
        Limit& limit = found->second;
        if (written.value < limit.least || written.value > limit.most) {
            faults.push_back({written.source, "limits." + name, fmt::format("{:g}", written.value),
                              fmt::format("{:g} to {:g} {}", limit.least, limit.most, limit.unit),
                              fmt::format("limit {} is out of range", name)});
            continue;
        }
        limit.value = written.value;
        limit.overridden = true;
        limit.overridden_at = written.source;
    }
    return limits;
}

}  // namespace standproud::rules
