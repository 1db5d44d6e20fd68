// Private: the ways that separation() can go.
#pragma once

#include "clearance/convex.hpp"
#include "clearance/flat.hpp"

namespace standproud {

/// A body seen as a prism along `place.z`: its own pieces, or a box turned.
struct Prism {
    const Body* body = nullptr;
    const Convex* turned = nullptr;  ///< null: as it is

    [[nodiscard]] const Frame& place() const { return turned ? turned->place : body->pieces[0].place; }
    [[nodiscard]] double length() const { return turned ? turned->length : body->pieces[0].length; }
};

/// Both bodies along one direction, where there is such a view of them.
std::optional<std::pair<Prism, Prism>> parallel_views(const Body& a, const Body& b);

/// Two prisms in the plane square to their direction, in the frame of the first.
struct Plan {
    std::vector<Outline> a, b;
    std::vector<Outline> holes_a, holes_b;
    double a_high = 0;             ///< a runs from 0 to this
    double b_low = 0, b_high = 0;  ///< b along the same direction
};
Plan plan_of(const Prism& a, const Prism& b);

Separation parallel_separation(const Prism& a, const Prism& b);

/// Nearest point on the wall of a hole through `plate` to `other`, or a point of the wall inside it.
struct WallHit {
    bool hit = false;     ///< other reaches into the wall
    double distance = 0;  ///< not hit: between them
    double gap = 0;       ///< upper less lower bound
    RoomPoint on_wall, on_other;
};
WallHit hole_wall(const Convex& plate, const Outline& hole, const Convex& other);

/// A move of `other` in the plane of the plate that brings what of it lies between the plate's faces into the hole, to
/// a hundredth of a mm; nothing when none was found.
std::optional<RoomPoint> move_into_hole(const Convex& plate, const Outline& hole, const Convex& other);

}  // namespace standproud
