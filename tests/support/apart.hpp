// Distance of outlines in plan.
#pragma once

#include "modeler/geometry.hpp"

namespace standproud::testing {

/// The least distance between two convex polygons in plan; negative when they overlap (by separating axes).
double apart(const Polygon& a, const Polygon& b);

}  // namespace standproud::testing
