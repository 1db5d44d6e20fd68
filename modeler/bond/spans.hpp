// Upright spans on a panel, and shapes in their way.
#pragma once

#include <utility>
#include <vector>

#include "modeler/geometry.hpp"

namespace standproud::bond {

using Span = std::pair<double, double>;

/// The part of an upright line x inside a convex outline; empty: from > to.
Span upright_span(const Polygon& outline, double x);

/// The outline moved inwards. A convex one stays convex; too narrow, and no points are left.
Polygon inset(const Polygon& outline, double by);

RoundedRect grown(RoundedRect shape, double by);

/// How far a shape reaches up and down from its middle at the point of a strip that is nearest to it; negative: not
/// there.
double reach_at(const RoundedRect& shape, double from, double to);

bool inside(const RoundedRect& shape, Vec2 p);

/// What is left of a span without others, in order.
std::vector<Span> without(const Span& whole, std::vector<Span> others);

}  // namespace standproud::bond
