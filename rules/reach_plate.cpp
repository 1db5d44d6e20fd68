// reach.plate: a box or frame in a cut-out. Its front against F, and the plate's screws in their lugs.
#include "judge.hpp"

namespace standproud::rules {

namespace {

/// `screws`: the depths that suit the plate's screws; what is advised must suit them too.
Finding front_behind_face(const Model& model, const PlacedFitting& placed,
                          const std::optional<std::pair<double, double>>& screws) {
    const FittingType& type = type_of(model, placed);
    ReachCase reach;
    reach.rule = "reach.plate";
    reach.quantity = "front behind the finished face";
    reach.need = {0, most_of(type.recess_max)};
    reach.need_source = type_source(type);
    if (!type.recess_max) reach.need_missing.push_back("recess_max of " + type_source(type));
    add_face(reach.sum, model, placed, 1);
    add_seat(reach, model, placed, "front", -1);
    reach.seat_name = "front";
    reach.seat_within = screws;
    reach.short_words = "proud by";
    reach.over_words = "too deep by";
    return reach_finding(model, placed, reach);
}

/// `front` is the finding of the box front: a depth that suits the screws must suit it too.
Finding screws_in_lugs(const Model& model, const PlacedFitting& placed, const Limits& limits, const Finding& front) {
    const FittingType& type = type_of(model, placed);
    ReachCase reach;
    reach.rule = "reach.plate";
    reach.quantity = "plate screw engagement";
    need_turns(reach, type, limits.at("plate.turns"), "lug depth");
    reach.swapped_term = type.screw_length ? 0 : -1;
    reach.sum.add("screw length", type.screw_length, 1, type.source);
    reach.sum.add("plate thickness", type.base_thickness, -1, type.source);
    add_face(reach.sum, model, placed, -1);
    add_seat(reach, model, placed, "front", 1);
    reach.seat_name = "front";
    reach.seat_within = front.seat_range;
    reach.over_words = "screw bottoms in its lug by";
    reach.stock = StockItem::Kind::screw;
    return reach_finding(model, placed, reach);
}

}  // namespace

std::vector<Finding> check_plate(const Model& model, const PlacedFitting& placed, const Limits& limits) {
    std::vector<Finding> findings{front_behind_face(model, placed, std::nullopt)};
    // A niche or reveal has no screws: its type then names no connection.
    if (!type_of(model, placed).connection.empty()) {
        findings.push_back(screws_in_lugs(model, placed, limits, findings.front()));
        findings.front() = front_behind_face(model, placed, findings.back().seat_range);
    }
    return findings;
}

}  // namespace standproud::rules
