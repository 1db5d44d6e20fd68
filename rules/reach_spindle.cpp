// reach.spindle: proud = seat + spindle - F, within the fitting's window.
#include "judge.hpp"

namespace standproud::rules {

std::vector<Finding> check_spindle(const Model& model, const PlacedFitting& placed, const Limits&) {
    const FittingType& type = type_of(model, placed);
    ReachCase reach;
    reach.rule = "reach.spindle";
    reach.quantity = "spindle stands proud";
    reach.need = {least_of(type.proud_min), most_of(type.proud_max)};
    reach.need_source = type_source(type);
    if (!type.proud_min) reach.need_missing.push_back("proud_min of " + type_source(type));
    if (!type.proud_max) reach.need_missing.push_back("proud_max of " + type_source(type));
    add_seat(reach, model, placed, "seat", 1);
    reach.sum.add("spindle length", type.spindle_length, 1, type.source);
    add_face(reach.sum, model, placed, -1);
    reach.over_words = "too long by";
    reach.stock = StockItem::Kind::extension;
    return {reach_finding(model, placed, reach)};
}

}  // namespace standproud::rules
