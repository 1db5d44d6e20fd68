// Private: convex bodies by their support functions, and the two iterations on them.
#pragma once

#include "modeler/clearance.hpp"

namespace standproud {

/// The point of the piece, without its ball, that lies furthest along d (any length but 0).
RoomPoint support(const Convex& shape, RoomPoint d);

/// How far the piece reaches along the unit direction d, ball included: the greatest d . p.
double reach(const Convex& shape, RoomPoint d);

RoomPoint unit(RoomPoint v);

/// Any unit direction square to v.
RoomPoint square_to(RoomPoint v);

/// A point on the edge of the difference a - b of two pieces, balls left out, and where it comes from: w = a - b.
struct Extreme {
    RoomPoint w, a, b;
};
Extreme extreme_along(const Convex& a, const Convex& b, RoomPoint d);

/// What the iterations find, balls left out.
struct Nearest {
    bool apart = false;    ///< the pieces have no point in common
    double distance = 0;   ///< apart: between them. Else 0 or noise
    double gap = 0;        ///< upper less lower bound of the distance
    RoomPoint on_a, on_b;  ///< nearest points, or a common point (twice)
};
/// Distance by Gilbert, Johnson and Keerthi 1988.
Nearest nearest_points(const Convex& a, const Convex& b);

/// The same, signed and with balls, where it is settled by less: a cylinder whose side is nearest is as near as its
/// axis grown by its radius. `gap` is then below 1e-8; `on_a` and `on_b` are on the grown bodies. apart: false only
/// where the cores meet. Where grown bodies overlap, the distance is that of the cores less the balls.
Nearest nearest_grown(const Convex& a, const Convex& b);

struct Depth {
    double depth = 0;      ///< moving b by depth x direction frees it; negative: it is apart by that along direction
    double gap = 0;        ///< the least depth is no less than depth - gap
    RoomPoint direction;   ///< unit, from a to b
    RoomPoint on_a, on_b;  ///< deepest points: on_a - on_b = depth x direction
};
/// Least push by an expanding polytope (van den Bergen 2001) inside the difference of the two bodies.
/// Must hold: at least one of the two has a volume.
Depth least_push(const Convex& a, const Convex& b);

/// Signed, balls included. No holes here.
Separation convex_separation(const Convex& a, const Convex& b);

}  // namespace standproud
