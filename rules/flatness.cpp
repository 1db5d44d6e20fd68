#include "rules/flatness.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <string>

namespace standproud::rules {

extern const char* const flatness_text;  // rules/flatness.toml, put in by the build

namespace {

std::string text_of(const toml::table& table, const char* key) { return table[key].value<std::string>().value(); }

std::vector<double> numbers_of(const toml::table& table, const char* key) {
    std::vector<double> numbers;
    for (const auto& node : *table[key].as_array()) numbers.push_back(node.value<double>().value());
    return numbers;
}

std::vector<FlatnessStandard> shipped() {
    std::vector<FlatnessStandard> standards;
    const toml::table tree = toml::parse(flatness_text);
    for (const auto& node : *tree["standards"].as_array()) {
        const toml::table& table = *node.as_table();
        FlatnessStandard standard;
        standard.name = text_of(table, "name");
        if (text_of(table, "measure") == "plumb") {
            standard.measure = FlatnessStandard::Measure::plumb;
        } else if (text_of(table, "laid") == "blocks") {
            standard.laid = FlatnessStandard::Laid::blocks;
        }
        standard.lengths = numbers_of(table, "lengths");
        standard.allows = numbers_of(table, "allows");
        standard.says = text_of(table, "says");
        standard.source = text_of(table, "source");
        standards.push_back(std::move(standard));
    }
    return standards;
}

}  // namespace

std::optional<Scaling> scaling_named(const std::string& word) {
    for (const Scaling scaling : {Scaling::interpolate, Scaling::never_below}) {
        if (word == word_of(scaling)) return scaling;
    }
    return std::nullopt;
}

std::string word_of(Scaling scaling) {
    return scaling == Scaling::interpolate ? "interpolate" : "never below the table's length";
}

const std::vector<FlatnessStandard>& flatness_standards() {
    static const std::vector<FlatnessStandard> standards = shipped();
    return standards;
}

const FlatnessStandard* flatness_standard(const std::string& name) {
    for (const auto& standard : flatness_standards()) {
        if (standard.name == name) return &standard;
    }
    return nullptr;
}

namespace {

const FlatnessStandard* named(const std::optional<std::string>& name, FlatnessStandard::Measure measure,
                              const char* otherwise, const char* key, const Source& where, Faults& faults) {
    if (!name) return flatness_standard(otherwise);
    const FlatnessStandard* found = flatness_standard(*name);
    if (found && found->measure == measure) return found;
    std::vector<std::string> known;
    std::string list;
    for (const auto& standard : flatness_standards()) {
        if (standard.measure != measure) continue;
        known.push_back(standard.name);
        list += (list.empty() ? "" : ", ") + standard.name;
    }
    const std::string near = nearest_word(*name, known);
    faults.push_back(
        {where, std::string("survey.standards.") + key, "\"" + *name + "\"", list,
         std::string("no such standard of ") + key + (near.empty() ? "" : "; did you mean \"" + near + "\"?")});
    return flatness_standard(otherwise);
}

}  // namespace

FaceRule face_rule_for(const Job& job, Faults& faults) {
    const FaceStandards none;
    const FaceStandards& named_by = job.survey ? job.survey->standards : none;
    FaceRule rule;
    rule.flatness = named(named_by.flatness, FlatnessStandard::Measure::flatness, "din18202.row6", "flatness",
                          named_by.source, faults);
    rule.plumb =
        named(named_by.plumb, FlatnessStandard::Measure::plumb, "nhbc9.1.plumb", "plumb", named_by.source, faults);
    if (named_by.scaling) {
        if (const auto scaling = scaling_named(*named_by.scaling)) {
            rule.scaling = *scaling;
        } else {
            faults.push_back({named_by.source, "survey.standards.scaling", "\"" + *named_by.scaling + "\"",
                              "\"" + word_of(Scaling::interpolate) + "\", \"" + word_of(Scaling::never_below) + "\"",
                              "no such way of scaling a tolerance to another length"});
        }
    }
    return rule;
}

std::optional<double> allowed_gap(const FlatnessStandard& standard, double length, Scaling scaling) {
    const auto& lengths = standard.lengths;
    const auto& allows = standard.allows;
    if (!(length > 0) || length > lengths.back() + same_length) return std::nullopt;
    std::size_t next = 0;  // the first published length that is not shorter
    while (next + 1 < lengths.size() && lengths[next] + same_length < length) ++next;
    if (scaling == Scaling::never_below) return allows[next];
    if (lengths.size() == 1) return allows[0] * std::min(1.0, length / lengths[0]);
    if (next == 0) {
        if (length + same_length < lengths[0]) return std::nullopt;
        return allows[0];
    }
    const double part = std::min(1.0, (length - lengths[next - 1]) / (lengths[next] - lengths[next - 1]));
    return allows[next - 1] + part * (allows[next] - allows[next - 1]);
}

std::optional<double> allowed_gap(const std::string& standard, double length, Scaling scaling) {
    const FlatnessStandard* found = flatness_standard(standard);
    if (found == nullptr) return std::nullopt;
    return allowed_gap(*found, length, scaling);
}

std::optional<JudgedFlatness> judge_flatness(const std::vector<LineReading>& readings, const FlatnessStandard& standard,
                                             Scaling scaling, double longest) {
    if (standard.measure != FlatnessStandard::Measure::flatness || readings.empty()) return std::nullopt;
    const bool resting = standard.laid == FlatnessStandard::Laid::resting;
    const auto shorter = [](const LineReading& a, const LineReading& b) { return a.along < b.along; };
    const auto [first, last] = std::minmax_element(readings.begin(), readings.end(), shorter);
    longest = std::min(longest, last->along - first->along);
    std::vector<double> lengths = standard.lengths;
    lengths.push_back(longest);
    for (std::size_t i = 0; resting && i < readings.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) lengths.push_back(std::abs(readings[i].along - readings[j].along));
    }
    std::sort(lengths.begin(), lengths.end());
    lengths.erase(std::unique(lengths.begin(), lengths.end()), lengths.end());
    std::optional<JudgedFlatness> worst;
    for (const double length : lengths) {
        const auto allowed = allowed_gap(standard, length, scaling);
        if (!allowed || length > longest + same_length) continue;
        const auto laid = resting ? resting_gap(readings, length) : blocks_gap(readings, length);
        if (!laid) continue;
        const JudgedFlatness judged{*laid, length, *allowed};
        if (!worst || judged.over() > worst->over()) worst = judged;
    }
    return worst;
}

std::optional<JudgedPlumb> judge_plumb(const std::vector<WallPoint>& spots, const FlatnessStandard& standard,
                                       Scaling scaling, double within, double shortest) {
    if (standard.measure != FlatnessStandard::Measure::plumb) return std::nullopt;
    std::optional<JudgedPlumb> worst;
    for (const auto& pair : plumb_pairs(spots, within)) {
        const auto allowed = allowed_gap(standard, pair.rise, scaling);
        if (!allowed || pair.rise + same_length < shortest) continue;
        const JudgedPlumb judged{pair, *allowed};
        if (!worst || judged.over() > worst->over()) worst = judged;
    }
    return worst;
}

}  // namespace standproud::rules
