// reach.plate: a box or frame in a cut-out. Its front against F, and the plate's screws in their lugs. Judged at its
// own spot; what is advised must suit every cut-out.
#include "judge.hpp"

namespace standproud::rules {

namespace {

ReachCase front_behind_face(const Model& model, const PlacedFitting& placed, Vec2 place) {
    const FittingType& type = type_of(model, placed);
    ReachCase reach;
    reach.rule = "reach.plate";
    reach.quantity = "front behind the finished face";
    reach.need = {0, most_of(type.recess_max)};
    reach.need_source = type_source(type);
    if (!type.recess_max) reach.need_missing.push_back("recess_max of " + type_source(type));
    add_face(reach.sum, model, placed, 1, place);
    add_seat(reach, model, placed, "front", -1);
    reach.seat_name = "front";
    reach.short_words = "proud by";
    reach.over_words = "too deep by";
    return reach;
}

ReachCase screws_in_lugs(const Model& model, const PlacedFitting& placed, const Limits& limits, Vec2 place) {
    const FittingType& type = type_of(model, placed);
    ReachCase reach;
    reach.rule = "reach.plate";
    reach.quantity = "plate screw engagement";
    need_turns(reach, type, limits.at("plate.turns"), "lug depth");
    reach.swapped_term = type.screw_length ? 0 : -1;
    reach.sum.add("screw length", type.screw_length, 1, type.source);
    reach.sum.add("plate thickness", type.base_thickness, -1, type.source);
    add_face(reach.sum, model, placed, -1, place);
    add_seat(reach, model, placed, "front", 1);
    reach.seat_name = "front";
    reach.over_words = "screw bottoms in its lug by";
    reach.stock = StockItem::Kind::screw;
    return reach;
}

}  // namespace

std::vector<Finding> check_plate(const Model& model, const PlacedFitting& placed, const Limits& limits) {
    ReachCase front = front_behind_face(model, placed, {0, 0});
    ReachCase screws = screws_in_lugs(model, placed, limits, {0, 0});
    std::vector<ReachCase> fronts;
    std::vector<ReachCase> lugs;
    for (const Vec2 place : hole_places(type_of(model, placed))) {
        if (norm(place) <= same_length) continue;
        fronts.push_back(front_behind_face(model, placed, place));
        lugs.push_back(screws_in_lugs(model, placed, limits, place));
    }
    // A niche or reveal has no screws: its type then names no connection.
    if (type_of(model, placed).connection.empty()) return {reach_finding(model, placed, front, fronts)};
    // A depth that is advised for one must suit the other.
    const auto suits_front = seats_for(model, front, fronts);
    front.seat_within = seats_for(model, screws, lugs);
    front.within_words = "the plate's screws";
    screws.seat_within = suits_front;
    screws.within_words = "how far it may lie behind the face";
    return {reach_finding(model, placed, front, fronts), reach_finding(model, placed, screws, lugs)};
}

}  // namespace standproud::rules
