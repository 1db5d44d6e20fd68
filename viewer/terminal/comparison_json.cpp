#include "terminal/comparison.hpp"

namespace standproud::viewer {

namespace {

using Json = nlohmann::ordered_json;

const char* kind_word(rules::FittingChange::Kind kind) {
    switch (kind) {
        case rules::FittingChange::Kind::appeared:
            return "appeared";
        case rules::FittingChange::Kind::vanished:
            return "vanished";
        case rules::FittingChange::Kind::moved:
            return "moved";
    }
    return "";
}

Json verdict_or_null(const std::optional<rules::Verdict>& verdict) {
    return verdict ? Json(rules::to_string(*verdict)) : Json(nullptr);
}

Json side(const CheckedJob& job) {
    return {{"file", job.model.job.file}, {"name", job.model.job.name}, {"revision", job.model.job.revision}};
}

}  // namespace

nlohmann::ordered_json comparison_object(const rules::Comparison& changes, const std::vector<rules::Finding>& now) {
    Json object{{"fittings", Json::array()}, {"openings", Json::array()}, {"verdicts", Json::array()}};
    for (const auto& c : changes.fittings) {
        object["fittings"].push_back({{"fitting", c.fitting},
                                      {"wall", c.wall},
                                      {"old_wall", c.old_wall.empty() ? Json(nullptr) : Json(c.old_wall)},
                                      {"trade", to_string(c.trade)},
                                      {"change", kind_word(c.kind)},
                                      {"across", json_number(c.across)},
                                      {"up", json_number(c.up)},
                                      {"face", json_number(c.face)},
                                      {"old_seat", json_number(c.old_seat)},
                                      {"new_seat", json_number(c.new_seat)},
                                      {"other_type", c.other_type}});
    }
    for (const auto& c : changes.openings) {
        object["openings"].push_back({{"opening", c.opening},
                                      {"wall", c.wall},
                                      {"change", kind_word(c.kind)},
                                      {"left", json_number(c.left)},
                                      {"right", json_number(c.right)},
                                      {"bottom", json_number(c.bottom)},
                                      {"top", json_number(c.top)},
                                      {"old_reveal", json_number(c.old_reveal)},
                                      {"new_reveal", json_number(c.new_reveal)}});
    }
    for (const auto& c : changes.verdicts) {
        object["verdicts"].push_back({{"fitting", c.fitting},
                                      {"rule", c.rule},
                                      {"quantity", c.quantity},
                                      {"trade", to_string(c.trade)},
                                      {"before", verdict_or_null(c.before)},
                                      {"after", verdict_or_null(c.after)},
                                      {"worse", c.worse()},
                                      {"nominal_before", json_number(c.nominal_before)},
                                      {"nominal_after", json_number(c.nominal_after)},
                                      {"do", c.now_at ? now[*c.now_at].action : std::string()}});
    }
    return object;
}

std::string json_comparison(const CheckedJob& old_job, const CheckedJob& new_job, const rules::Comparison& changes) {
    Json report{{"format", "standproud-comparison/1"}, {"old", side(old_job)}, {"new", side(new_job)}};
    report.update(comparison_object(changes, new_job.findings));
    return report.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace standproud::viewer
