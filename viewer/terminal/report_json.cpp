#include <cmath>
#include <nlohmann/json.hpp>

#include "terminal/comparison.hpp"

namespace standproud::viewer {

nlohmann::ordered_json json_number(double value) { return std::round(value * 1e6) / 1e6 + 0.0; }
nlohmann::ordered_json json_number(const std::optional<double>& value) {
    return value ? json_number(*value) : nlohmann::ordered_json(nullptr);
}

namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return json_number(value); }
Json number(const std::optional<double>& value) { return json_number(value); }

Json place(const Source& source) { return {{"file", source.file}, {"line", source.line}, {"column", source.column}}; }

Json terms_of(const rules::Finding& finding) {
    Json terms = Json::array();
    for (const auto& term : finding.terms) {
        terms.push_back({{"name", term.name},
                         {"value", number(term.value)},
                         {"tolerance", number(term.tolerance)},
                         {"at", place(term.source)}});
    }
    return terms;
}

Json clash_json(const rules::Finding& f) {
    if (!f.clash) return nullptr;
    const rules::Clash& c = *f.clash;
    Json moves = Json::array();
    for (const auto& move : c.moves) {
        moves.push_back(
            {{"id", move.id}, {"across", number(move.across)}, {"up", number(move.up)}, {"out", number(move.out)}});
    }
    return {{"other", c.other},
            {"other_trade", c.other_trade},
            {"parts", {c.part_a, c.part_b}},
            {"distance", number(c.distance)},
            {"push", {number(c.push.x), number(c.push.y), number(c.push.z)}},
            {"at_room", {number(c.at.x), number(c.at.y), number(c.at.z)}},
            {"at_wall", {number(c.on_wall.u), number(c.on_wall.v), number(c.on_wall.n)}},
            {"from_finished_corner", c.finished_corner},
            {"volume", number(c.volume)},
            {"also", c.also},
            {"moves", moves}};
}

Json finding_json(const rules::Finding& f) {
    Json json{{"rule", f.rule},
              {"subject", f.subject},
              {"wall", f.wall},
              {"trade", to_string(f.trade)},
              {"verdict", rules::to_string(f.verdict)},
              {"quantity", f.quantity},
              {"unit", f.unit},
              {"nominal", number(f.nominal)},
              {"low", number(f.low)},
              {"high", number(f.high)},
              {"need_low", number(f.need_low)},
              {"need_high", number(f.need_high)},
              {"says", f.says},
              {"do", f.action},
              {"remedy", nullptr},
              {"seat_range", nullptr},
              {"source", f.source}};
    if (f.remedy) {
        json["remedy"] = {{"item", f.remedy->item},
                          {"adds", number(f.remedy->adds)},
                          {"nominal", number(f.remedy->nominal)},
                          {"low", number(f.remedy->low)},
                          {"high", number(f.remedy->high)}};
    }
    if (f.seat_range) json["seat_range"] = {number(f.seat_range->first), number(f.seat_range->second)};
    json["worst_case"] = f.worst_low ? Json{number(f.worst_low), number(f.worst_high)} : Json(nullptr);
    json["root_sum_square"] =
        f.statistical_low ? Json{number(f.statistical_low), number(f.statistical_high)} : Json(nullptr);
    json["clash"] = clash_json(f);
    json["terms"] = terms_of(f);
    json["missing"] = f.missing;
    return json;
}

Json limits_json(const rules::Limits& limits) {
    Json changed = Json::array();
    for (const auto& [name, limit] : limits) {
        if (!limit.overridden) continue;
        changed.push_back({{"name", name},
                           {"value", number(limit.value)},
                           {"standard", number(limit.standard)},
                           {"unit", limit.unit},
                           {"at", place(limit.overridden_at)}});
    }
    return changed;
}

Json job_json(const CheckedJob& job) {
    const Tally count = tally(job.findings);
    Json findings = Json::array();
    for (const auto& finding : job.findings) findings.push_back(finding_json(finding));
    return {{"file", job.model.job.file},
            {"name", job.model.job.name},
            {"revision", job.model.job.revision},
            {"judged_on", job.model.job.statistical ? "root-sum-square" : "worst case"},
            {"summary",
             {{"clear", count.clear}, {"tight", count.tight}, {"fails", count.fails}, {"unknown", count.unknown}}},
            {"limits_overridden", limits_json(job.limits)},
            {"since_design", job.since_design ? comparison_object(*job.since_design, job.findings) : Json(nullptr)},
            {"findings", std::move(findings)}};
}

}  // namespace

std::string json_report(const std::vector<CheckedJob>& jobs, const std::vector<RefusedJob>& refused) {
    Json report{{"format", "standproud-report/1"}, {"jobs", Json::array()}, {"refused", Json::array()}};
    for (const auto& job : jobs) report["jobs"].push_back(job_json(job));
    for (const auto& job : refused) {
        Json faults = Json::array();
        for (const auto& fault : job.faults) {
            faults.push_back({{"at", place(fault.where)},
                              {"key", fault.key},
                              {"found", fault.found},
                              {"allowed", fault.allowed},
                              {"says", fault.says}});
        }
        report["refused"].push_back({{"file", job.file}, {"faults", std::move(faults)}});
    }
    return report.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace standproud::viewer
