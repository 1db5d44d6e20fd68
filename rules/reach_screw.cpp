// reach.screw: embedment = screw - base - (F - timber), at the screw that stands worst, and wood behind every screw.
#include <fmt/format.h>

#include "judge.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

Vec2 on_wall(const PlacedFitting& placed, Vec2 place) { return {placed.u + place.x, placed.v + place.y}; }

/// One finding for all the screws that have nothing to go into.
Finding nothing_behind(const Model& model, const PlacedFitting& placed, const std::vector<Vec2>& places) {
    Finding finding = blank_finding(model, placed, "reach.screw");
    finding.trade = Trade::builder;
    finding.verdict = Verdict::fails;
    finding.quantity = "screw embedment";
    finding.need_low = least_of(type_of(model, placed).embedment_min);
    finding.source = type_source(type_of(model, placed));
    finding.spot = on_wall(placed, places.front());
    std::string where;
    for (const Vec2 place : places) {
        const Vec2 at = on_wall(placed, place);
        where += fmt::format("{}{} / {}", where.empty() ? "" : ", ", mm(at.x), mm(at.y));
    }
    const std::string screws = places.size() == 1 ? "1 screw" : fmt::format("{} screws", places.size());
    finding.says = fmt::format("no stud or noggin behind {} (mm right of the left bare corner / above the datum): {}",
                               screws, where);
    finding.action = fmt::format(
        "Before the wall is lined, fix a noggin behind {} (mm from the left bare corner / above the datum).", where);
    return finding;
}

ReachCase at_screw(const Model& model, const PlacedFitting& placed, const Limits& limits, Vec2 place,
                   const Backing& backing) {
    const FittingType& type = type_of(model, placed);
    const Fitting& fitting = fitting_of(model, placed);
    ReachCase reach;
    reach.rule = "reach.screw";
    reach.quantity = "screw embedment";
    reach.need = {least_of(type.embedment_min), backing.depth};
    reach.need_source = fmt::format("{}; depth of the {}, {}", type_source(type), backing.name,
                                    to_string(Source{backing.source.file, backing.source.line, 0}));
    if (!type.embedment_min) reach.need_missing.push_back("embedment_min of " + type_source(type));
    reach.swapped_term = type.screw_length ? 0 : -1;
    reach.sum.add("screw length", type.screw_length, 1, type.source);
    reach.sum.add("base thickness", type.base_thickness, -1, type.source);
    add_face(reach.sum, model, placed, -1, place);
    reach.seat_name = backing.name + "'s face";
    if (fitting.seat) {
        add_seat(reach, model, placed, reach.seat_name, 1);
    } else {
        reach.seat_term = static_cast<int>(reach.sum.terms.size());
        reach.sum.add(reach.seat_name, backing.face, limits.at("timber.face").value, backing.source);
    }
    reach.seat_within = {-backing.depth, 0};  // timber cannot stand in front of the bare face
    reach.over_words = "comes through the back by";
    reach.stock = StockItem::Kind::screw;
    return reach;
}

/// The screw that stands worst; of several alike the one that has least.
bool worse(const Finding& a, const Finding& b) {
    if (a.verdict != b.verdict) return severity(a.verdict) > severity(b.verdict);
    return a.nominal && b.nominal && *a.nominal < *b.nominal - same_length;
}

}  // namespace

std::vector<Finding> check_screw(const Model& model, const PlacedFitting& placed, const Limits& limits) {
    std::vector<ReachCase> cases;
    std::vector<Vec2> without;
    std::optional<Finding> worst;
    std::size_t worst_case = 0;
    for (const Vec2 place : hole_places(type_of(model, placed))) {
        const Vec2 at = on_wall(placed, place);
        const auto backing = backing_at(model.job, placed.wall, at.x, at.y);
        if (!backing) {
            without.push_back(place);
            continue;
        }
        cases.push_back(at_screw(model, placed, limits, place, *backing));
        Finding finding = judged_reach(model, placed, cases.back());
        finding.spot = at;
        if (worst && !worse(finding, *worst)) continue;
        worst = std::move(finding);
        worst_case = cases.size() - 1;
    }
    if (!without.empty()) return {nothing_behind(model, placed, without)};
    const ReachCase reach = cases[worst_case];
    cases.erase(cases.begin() + static_cast<std::ptrdiff_t>(worst_case));
    find_remedy(*worst, model, placed, reach, cases);
    return {*worst};
}

}  // namespace standproud::rules
