// reach.window: F - body, within the body's depth window. A kit moves the window out.
#include "judge.hpp"

namespace standproud::rules {

std::vector<Finding> check_window(const Model& model, const PlacedFitting& placed, const Limits&) {
    const FittingType& type = type_of(model, placed);
    ReachCase reach;
    reach.rule = "reach.window";
    reach.quantity = "finished face from the body";
    reach.need = {least_of(type.face_min), most_of(type.face_max)};
    reach.need_source = type_source(type);
    if (!type.face_min) reach.need_missing.push_back("face_min of " + type_source(type));
    if (!type.face_max) reach.need_missing.push_back("face_max of " + type_source(type));
    add_face(reach.sum, model, placed, 1);
    add_seat(reach, model, placed, "seat", -1);
    reach.short_words = "body too near the face by";
    reach.over_words = "body too deep by";
    reach.stock = StockItem::Kind::kit;
    reach.stock_sign = -1;
    return {reach_finding(model, placed, reach)};
}

}  // namespace standproud::rules
