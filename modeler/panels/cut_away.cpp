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

}  // namespace

Polygon cut_away(const Polygon& outline, const std::vector<RoundedRect>& shapes, double chord) {
    if (shapes.empty()) return outline;
    Shape whole;
    for (const Vec2 p : outline.points) bg::append(whole.outer(), Point(p.x, p.y));
    bg::correct(whole);
    Shapes left{whole};
    for (const auto& shape : shapes) {
        Shapes less;
        bg::difference(left, round_cornered(shape, chord), less);
        left = std::move(less);
    }
    if (left.empty()) return {};
    const auto largest = std::max_element(left.begin(), left.end(),
                                          [](const Shape& x, const Shape& y) { return bg::area(x) < bg::area(y); });
    Polygon kept;
    for (const auto& p : largest->outer()) {
        const Vec2 at{p.x(), p.y()};
        if (kept.points.empty() || norm(at - kept.points.back()) > 1e-6) kept.points.push_back(at);
    }
    while (kept.points.size() > 1 && norm(kept.points.front() - kept.points.back()) <= 1e-6) kept.points.pop_back();
    return kept;
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
