// Bodies for clearance tests: made up from a seed, moved about, and looked at point by point.
#pragma once

#include "modeler/clearance.hpp"
#include "sample_parts.hpp"

namespace standproud::samples {

inline RoomPoint turned(const Frame& motion, RoomPoint d) { return d.x * motion.x + d.y * motion.y + d.z * motion.z; }

/// The same frame after the rigid motion that brings the room's frame to `motion`.
inline Frame moved_by(const Frame& motion, const Frame& f) {
    return {motion.to_room(f.origin.x, f.origin.y, f.origin.z), turned(motion, f.x), turned(motion, f.y),
            turned(motion, f.z)};
}

inline Part moved_by(const Frame& motion, Part part) {
    part.place = moved_by(motion, part.place);
    return part;
}

inline Part prism(Profile outline, double length, Frame place = {}) {
    Part part;
    part.id = "part";
    part.outline = std::move(outline);
    part.length = length;
    part.place = place;
    return part;
}

/// A box from `low` to `high` along the room's axes.
inline Part box(RoomPoint low, RoomPoint high) {
    const Vec2 middle{(low.x + high.x) / 2, (low.y + high.y) / 2};
    Part part = prism(RoundedRect::rect(middle, high.x - low.x, high.y - low.y), high.z - low.z);
    part.place.origin = {0, 0, low.z};
    return part;
}

/// A right-handed frame with this z.
inline Frame frame_along(RoomPoint origin, RoomPoint z) {
    z = (1 / norm(z)) * z;
    const RoomPoint other = std::abs(z.x) < 0.9 ? RoomPoint{1, 0, 0} : RoomPoint{0, 1, 0};
    RoomPoint x = cross(other, z);
    x = (1 / norm(x)) * x;
    return {origin, x, cross(z, x), z};
}

inline Part cylinder(RoomPoint from, RoomPoint along, double diameter, double length) {
    return prism(RoundedRect::circle({0, 0}, diameter), length, frame_along(from, along));
}

/// Quarter turns and the wall's own directions, as nearly everything in a room stands.
inline Frame square_frame(Dice& dice, double spread) {
    static const RoomPoint axes[] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {-1, 0, 0}, {0, -1, 0}, {0, 0, -1}};
    const int z = dice.up_to(5);
    int x = dice.up_to(5);
    while (x % 3 == z % 3) x = dice.up_to(5);
    return {{dice.between(-spread, spread), dice.between(-spread, spread), dice.between(-spread, spread)},
            axes[x],
            cross(axes[z], axes[x]),
            axes[z]};
}

/// Turned any way, near the origin.
inline Frame near_frame(Dice& dice, double spread) {
    Frame f = random_frame(dice);
    f.origin = {dice.between(-spread, spread), dice.between(-spread, spread), dice.between(-spread, spread)};
    return f;
}

inline Part random_box(Dice& dice, const Frame& place) {
    return prism(
        RoundedRect::rect({dice.between(-40, 40), dice.between(-40, 40)}, dice.between(5, 120), dice.between(5, 120)),
        dice.between(5, 120), place);
}

inline Part random_cylinder(Dice& dice, const Frame& place) {
    return prism(RoundedRect::circle({dice.between(-40, 40), dice.between(-40, 40)}, dice.between(5, 80)),
                 dice.between(5, 120), place);
}

inline Part random_drilled(Dice& dice, const Frame& place) {
    Part part =
        prism(RoundedRect::rect({0, 0}, dice.between(150, 300), dice.between(150, 300)), dice.between(3, 20), place);
    for (int tries = 0; tries < 4; ++tries) {
        const RoundedRect hole = random_rounded(dice, {dice.between(-90, 90), dice.between(-90, 90)}, 20, 90);
        bool good = margin_inside(hole, std::get<RoundedRect>(part.outline)) > 1;
        for (const auto& other : part.holes) good = good && gap_between(hole, std::get<RoundedRect>(other)) > 1;
        if (good) part.holes.emplace_back(hole);
    }
    return part;
}

}  // namespace standproud::samples
