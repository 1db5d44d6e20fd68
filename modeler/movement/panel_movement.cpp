#include "modeler/panel_movement.hpp"

#include <cmath>

namespace standproud {

movement::Strain strain_of(const BenchSettings& bench) {
    movement::Material material;
    material.expansion = figure(bench, "expansion") * 1e-6;
    for (const auto& [key, humidity] : {std::pair{"moisture_60", 60.0}, {"moisture_80", 80.0}, {"moisture_100", 100.0}})
        material.moisture.push_back({humidity, figure(bench, key) / 100});
    movement::Climate climate;
    climate.fixed_at = figure(bench, "fixed_at");
    climate.coldest = figure(bench, "coldest");
    climate.hottest = figure(bench, "hottest");
    climate.fixed_humidity = figure(bench, "fixed_humidity");
    climate.driest = figure(bench, "driest");
    climate.wettest = figure(bench, "wettest");
    return movement::strain(material, climate);
}

movement::SealantClass sealant_of(const BenchSettings& bench) {
    static constexpr movement::SealantClass classes[] = {movement::SealantClass::c25, movement::SealantClass::c20,
                                                         movement::SealantClass::c12_5, movement::SealantClass::c7_5};
    return classes[bench.sealant];
}

JointMovement move_joint(const PanelJoint& joint, const movement::Strain& strain, movement::SealantClass sealant) {
    const movement::Gap gap{joint.gap.width, joint.first_moves, joint.second_moves};
    JointMovement made;
    made.moved = movement::move_gap(gap, strain);
    made.needed = movement::width_needed(gap, strain, sealant);
    if (joint.kind == JointKind::opening && joint.first_moves != 0) {
        // A wider gap moves the panel's edge by as much: nearer to the middle where that lies behind it, and it moves
        // the less, w = k (m - w + drawn); away from a middle across the gap, and it moves the more.
        const double share = made.needed / std::abs(joint.first_moves);
        made.needed = joint.first_moves > 0 ? share * (joint.first_moves + gap.width) / (1 + share)
                                            : share * (-joint.first_moves - gap.width) / (1 - share);
    }
    made.within = gap.width > 0 && movement::within_class(made.moved, sealant);
    if (gap.width <= 0) made.moved.tension = made.moved.compression = 0;
    return made;
}

double from_middle(const Panel& panel, const RoundedRect& opening) {
    return norm(opening.centre - centroid(panel.outline));
}

movement::HoleMovement move_hole(const Panel& panel, const RoundedRect& opening, double room, double allowance,
                                 const movement::Strain& strain) {
    return movement::move_hole(from_middle(panel, opening), 0, room, allowance, strain);
}

}  // namespace standproud
