#include "modeler/cut_away.hpp"

// Points are worked with as they are, not rescaled to integers: room sizes need no more.
#define BOOST_GEOMETRY_NO_ROBUSTNESS

#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>

namespace standproud {

namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Shape = bg::model::polygon<Point, false, true>;  // anticlockwise, first point repeated
using Shapes = bg::model::multi_polygon<Shape>;

/// Arcs of an inside corner bulge into what is taken away: points on them leave a little more of it.
Shape round_cornered(const RoundedRect& shape, double chord) {
    Shape made;
    const double r = shape.radius;
    const int steps = r > chord ? std::max(1, static_cast<int>(std::ceil(pi / 2 / (2 * std::acos(1 - chord / r))))) : 1;
    const double a = shape.half_width - r;
    const double b = shape.half_height - r;
    const Vec2 centres[] = {{a, -b}, {a, b}, {-a, b}, {-a, -b}};
    for (int corner = 0; corner < 4; ++corner) {
        for (int i = 0; i <= (r > 0 ? steps : 0); ++i) {
            const double angle = (corner - 1) * pi / 2 + (pi / 2) * i / steps;
            const Vec2 at = shape.centre + centres[corner] + r * Vec2{std::cos(angle), std::sin(angle)};
            bg::append(made.outer(), Point(at.x, at.y));
        }
    }
    bg::correct(made);
    return made;
}

Shape shape_of(const Polygon& outline) {
    Shape made;
    for (const Vec2 p : outline.points) bg::append(made.outer(), Point(p.x, p.y));
    bg::correct(made);
    return made;
}

/// Corners anticlockwise, without those that lie together.
Polygon polygon_of(const Shape::ring_type& ring) {
    Polygon made;
    for (const auto& p : ring) {
        const Vec2 at{p.x(), p.y()};
        if (made.points.empty() || norm(at - made.points.back()) > 1e-6) made.points.push_back(at);
    }
    while (made.points.size() > 1 && norm(made.points.front() - made.points.back()) <= 1e-6) made.points.pop_back();
    return made;
}

Shapes without(const Shape& whole, const std::vector<RoundedRect>& shapes, double chord) {
    Shapes left{whole};
    for (const auto& shape : shapes) {
        Shapes less;
        bg::difference(left, round_cornered(shape, chord), less);
        left = std::move(less);
    }
    return left;
}

const Shape& largest(const Shapes& shapes) {
    return *std::max_element(shapes.begin(), shapes.end(),
                             [](const Shape& x, const Shape& y) { return bg::area(x) < bg::area(y); });
}

/// Holes as they are kept: anticlockwise too.
Region region_of(const Shape& shape) {
    Region made{polygon_of(shape.outer()), {}};
    for (const auto& inner : shape.inners()) {
        Polygon hole = polygon_of(inner);
        std::reverse(hole.points.begin(), hole.points.end());
        made.holes.push_back(std::move(hole));
    }
    return made;
}

Shape shape_of(const Region& region) {
    Shape made = shape_of(region.outline);
    for (const auto& hole : region.holes) made.inners().push_back(shape_of(hole).outer());
    bg::correct(made);
    return made;
}

/// A convex outline with every side moved out.
Polygon grown(const Polygon& outline, double by) {
    const auto& p = outline.points;
    Polygon made;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 in = p[i] - p[(i + p.size() - 1) % p.size()];
        const Vec2 out = p[(i + 1) % p.size()] - p[i];
        const Vec2 a{in.y / norm(in), -in.x / norm(in)};
        const Vec2 b{out.y / norm(out), -out.x / norm(out)};
        made.points.push_back(p[i] + by / (1 + dot(a, b)) * (a + b));
    }
    return made;
}

}  // namespace

Polygon cut_away(const Polygon& outline, const std::vector<RoundedRect>& shapes, double chord) {
    if (shapes.empty()) return outline;
    const Shapes left = without(shape_of(outline), shapes, chord);
    return left.empty() ? Polygon{} : polygon_of(largest(left).outer());
}

Region region_of(const Polygon& outline, const std::vector<RoundedRect>& shapes, double by, double chord) {
    std::vector<RoundedRect> smaller = shapes;
    for (auto& shape : smaller) {
        shape.half_width -= by;
        shape.half_height -= by;
        shape.radius = std::max(0.0, shape.radius - by);
    }
    const Shapes left = without(shape_of(grown(outline, by)), smaller, chord);
    return left.empty() ? Region{} : region_of(largest(left));
}

std::vector<Region> left_over(const std::vector<Region>& whole, const std::vector<Region>& taken) {
    constexpr double sliver = 1e-3;  // mm2
    Shapes left;
    for (const auto& region : whole) {
        if (!region.outline.points.empty()) left.push_back(shape_of(region));
    }
    for (const auto& region : taken) {
        if (region.outline.points.empty()) continue;
        Shapes less;
        bg::difference(left, shape_of(region), less);
        left = std::move(less);
    }
    std::vector<Region> regions;
    for (const auto& shape : left) {
        if (bg::area(shape) > sliver) regions.push_back(region_of(shape));
    }
    return regions;
}

RoundedRect within(const RoundedRect& shape, const std::array<double, 4>& bounds) {
    const auto e = extent(shape);
    const double left = std::max(e[0], bounds[0]);
    const double right = std::min(e[1], bounds[1]);
    const double bottom = std::max(e[2], bounds[2]);
    const double top = std::min(e[3], bounds[3]);
    const double width = right - left;
    const double height = top - bottom;
    return RoundedRect::rect({(left + right) / 2, (bottom + top) / 2}, width, height,
                             std::min({shape.radius, width / 2, height / 2}));
}

}  // namespace standproud
