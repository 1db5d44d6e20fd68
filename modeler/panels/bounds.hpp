// Where the layers of a wall end: at its corners, joining the neighbour's layers without overlap, at free ends, and
// at the top of the wall.
#pragma once

#include "modeler/room.hpp"

namespace standproud {

/// What stands behind the bare face, in place of a layer's index.
inline constexpr int behind_face = -1;

/// What a layer of a wall must keep inside of, at both ends. `layer` is its index in the wall's layers, or behind_face.
/// Bed and panel keep the gap of corners, other layers none. Free ends run to the bare end, less the
/// gap that the wall itself gives there.
std::vector<HalfSpace> ends_of(const Job& job, const Room& room, std::size_t wall, int layer);

/// Below the wall's own top line, less `gap`; above and below a level.
HalfSpace under_top(const Job& job, const Room& room, std::size_t wall, double gap);
HalfSpace above_level(double v);
HalfSpace below_level(double v);

/// The outline of a square-cut slab that lies from z = from to z = to of a frame along the wall, and keeps inside of
/// all bounds through its whole thickness. Convex; fewer than three corners when nothing is left.
Polygon outline_within(const Job& job, std::size_t wall, const Frame& place, double from, double to,
                       const std::vector<HalfSpace>& bounds);

}  // namespace standproud
