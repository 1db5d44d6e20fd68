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

/// An outline with holes in it, all anticlockwise; the outline may have inside corners.
struct Region {
    Polygon outline;
    std::vector<Polygon> holes;
};

/// A convex outline less shapes, whether they reach over its edge or lie within; the largest piece. `by` mm larger all
/// round, and so are its holes smaller.
Region region_of(const Polygon& outline, const std::vector<RoundedRect>& shapes, double by = 0, double chord = 0.02);

/// What the first regions cover and the others do not, in pieces that are more than slivers. By Boost.Geometry.
std::vector<Region> left_over(const std::vector<Region>& whole, const std::vector<Region>& taken);

/// The part of a shape within bounds, as `extent` gives them: a rectangle again, its corners no rounder than it can be.
/// Must hold: they overlap.
RoundedRect within(const RoundedRect& shape, const std::array<double, 4>& bounds);

}  // namespace standproud
