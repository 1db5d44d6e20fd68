// Private: convex outlines in one plane. All closed forms; 1e-9 mm at room size.
#pragma once

#include "modeler/clearance.hpp"

namespace standproud {

/// b from a: like Separation, in the plane. on_b - on_a = distance x direction.
struct FlatSeparation {
    double distance = 0;
    Vec2 direction{1, 0};
    Vec2 on_a, on_b;
};
FlatSeparation flat_separation(const Outline& a, const Outline& b);

/// Distance of p from the outline's edge, below 0 inside; and the unit direction in which it grows.
struct FlatEdge {
    double distance = 0;
    Vec2 outward{1, 0};
};
FlatEdge edge_from(const Outline& outline, Vec2 p);

/// What is left round `inner` inside `hole`: distance to the edge, below 0 when it sticks out. Direction from the edge
/// into the hole; on_a on the edge, on_b on the inner outline.
FlatSeparation room_inside(const Outline& hole, const Outline& inner);

/// The shortest move that brings `inner` wholly inside `hole`; nothing when it does not fit.
std::optional<Vec2> move_into(const Outline& hole, const Outline& inner);

/// Greatest d . p over the outline, d a unit direction.
double flat_reach(const Outline& outline, Vec2 d);

/// A polygon inside the outline, its corners on the edge; arcs by `per_turn` chords a turn.
Polygon inscribed(const Outline& outline, int per_turn = 24);

/// Area that two convex outlines have in common, mm2.
double common_area(const Outline& a, const Outline& b);

/// The outline of a profile; one that is not convex gives several. Corners written twice, or on a straight edge, go.
std::vector<Outline> convex_outlines(const Profile& profile);

}  // namespace standproud
