#include <algorithm>
#include <cmath>

#include "modeler/bond.hpp"

namespace standproud::bond {

JointSeal seal_joint(const Joint& joint, double deepest) {
    JointSeal seal;
    seal.sealed_depth = std::min(joint.depth, deepest);
    if (joint.depth > deepest + same_length) seal.backing_length = joint.length;
    seal.volume = joint.gap * seal.sealed_depth * joint.length;
    return seal;
}

Purchase buy(double needed, double unit, double allowance) {
    Purchase p;
    p.needed = needed;
    p.waste = needed * allowance;
    p.with_waste = p.needed + p.waste;
    p.units = static_cast<int>(std::ceil(p.with_waste / unit - 1e-12));
    p.left_over = p.units * unit - p.with_waste;
    return p;
}

PaintStrip paint_behind(double join, double gap, double bottom, double top, double beyond) {
    PaintStrip strip{join - gap / 2 - beyond, join + gap / 2 + beyond, bottom, top, 0};
    strip.area = (strip.to - strip.from) * (top - bottom);
    return strip;
}

}  // namespace standproud::bond
