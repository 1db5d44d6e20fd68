// Outlines with shapes taken away that reach over their edge.
#pragma once

#include <array>
#include <vector>

#include "modeler/geometry.hpp"

namespace standproud {

/// The largest piece of `outline` outside all `shapes`, corners anticlockwise; not convex. Rounded corners become
/// chords that lie within `chord` mm of them, on the side of what is kept. By Boost.Geometry. No points when nothing is
/// left.
Polygon cut_away(const Polygon& outline, const std::vector<RoundedRect>& shapes, double chord = 0.02);

/// The part of a shape within bounds, as `extent` gives them: a rectangle again, its corners no rounder than it can be.
/// Must hold: they overlap.
RoundedRect within(const RoundedRect& shape, const std::array<double, 4>& bounds);

}  // namespace standproud
