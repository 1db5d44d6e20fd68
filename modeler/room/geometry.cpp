#include "modeler/geometry.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace standproud {

double norm(Vec2 a) { return std::hypot(a.x, a.y); }
double norm(RoomPoint a) { return std::hypot(a.x, a.y, a.z); }

RoomPoint Frame::to_room(double a, double b, double c) const { return origin + a * x + b * y + c * z; }

std::array<double, 3> Frame::from_room(RoomPoint p) const {
    const RoomPoint d = p - origin;
    return {dot(d, x), dot(d, y), dot(d, z)};
}

HalfSpace in_front_of(const Frame& plane, double depth) { return {plane.z, dot(plane.z, plane.origin) + depth}; }

HalfSpace behind(const Frame& plane, double depth) { return {-1.0 * plane.z, -dot(plane.z, plane.origin) - depth}; }

RoundedRect RoundedRect::circle(Vec2 centre, double diameter) {
    return {centre, diameter / 2, diameter / 2, diameter / 2};
}

RoundedRect RoundedRect::rect(Vec2 centre, double width, double height, double radius) {
    return {centre, width / 2, height / 2, radius};
}

bool RoundedRect::is_circle() const {
    return std::abs(half_width - radius) < same_length && std::abs(half_height - radius) < same_length;
}

double area(const RoundedRect& s) { return 4 * s.half_width * s.half_height - (4 - pi) * s.radius * s.radius; }

double area(const Polygon& shape) {
    double twice = 0;
    const auto& p = shape.points;
    for (std::size_t i = 0; i < p.size(); ++i) twice += cross(p[i], p[(i + 1) % p.size()]);
    return twice / 2;
}

double area(const Profile& shape) {
    return std::visit([](const auto& s) { return area(s); }, shape);
}

RoundedRect moved(RoundedRect shape, Vec2 by) {
    shape.centre = shape.centre + by;
    return shape;
}

Profile moved(const Profile& shape, Vec2 by) {
    if (const auto* r = std::get_if<RoundedRect>(&shape)) return moved(*r, by);
    Polygon polygon = std::get<Polygon>(shape);
    for (auto& p : polygon.points) p = p + by;
    return polygon;
}

std::array<double, 4> extent(const Profile& shape) {
    if (const auto* r = std::get_if<RoundedRect>(&shape)) {
        return {r->centre.x - r->half_width, r->centre.x + r->half_width, r->centre.y - r->half_height,
                r->centre.y + r->half_height};
    }
    constexpr double huge = std::numeric_limits<double>::infinity();
    std::array<double, 4> e{huge, -huge, huge, -huge};
    for (const auto& p : std::get<Polygon>(shape).points) {
        e = {std::min(e[0], p.x), std::max(e[1], p.x), std::min(e[2], p.y), std::max(e[3], p.y)};
    }
    return e;
}

double margin_inside(const RoundedRect& inner, const RoundedRect& outer) {
    // A rounded rectangle is a core rectangle grown by its radius, so its support function is
    // c.d + a|dx| + b|dy| + r. In one quadrant of directions the difference is k.d + (difference of radii).
    const Vec2 shift = outer.centre - inner.centre;
    const double a = (outer.half_width - outer.radius) - (inner.half_width - inner.radius);
    const double b = (outer.half_height - outer.radius) - (inner.half_height - inner.radius);
    double least = std::numeric_limits<double>::infinity();
    for (const double sx : {-1.0, 1.0}) {
        for (const double sy : {-1.0, 1.0}) {
            const Vec2 k{shift.x + sx * a, shift.y + sy * b};
            const bool downhill_here = -k.x * sx >= 0 && -k.y * sy >= 0;  // -k points into this quadrant
            least = std::min(least, downhill_here ? -norm(k) : std::min(sx * k.x, sy * k.y));
        }
    }
    return least + outer.radius - inner.radius;
}

double margin_inside(const RoundedRect& inner, const Polygon& outer) {
    double least = std::numeric_limits<double>::infinity();
    const auto& p = outer.points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 edge = p[(i + 1) % p.size()] - p[i];
        const double length = norm(edge);
        if (length < same_length) continue;
        const Vec2 inward{-edge.y / length, edge.x / length};
        const double reach = (inner.half_width - inner.radius) * std::abs(inward.x) +
                             (inner.half_height - inner.radius) * std::abs(inward.y) + inner.radius;
        least = std::min(least, dot(inward, inner.centre - p[i]) - reach);
    }
    return least;
}

double gap_between(const RoundedRect& a, const RoundedRect& b) {
    const double dx = std::abs(a.centre.x - b.centre.x) - (a.half_width - a.radius) - (b.half_width - b.radius);
    const double dy = std::abs(a.centre.y - b.centre.y) - (a.half_height - a.radius) - (b.half_height - b.radius);
    const double cores = (dx <= 0 && dy <= 0) ? std::max(dx, dy) : std::hypot(std::max(dx, 0.0), std::max(dy, 0.0));
    return cores - a.radius - b.radius;
}

std::vector<std::pair<double, double>> spans_at(const Profile& shape, double y) {
    if (const auto* r = std::get_if<RoundedRect>(&shape)) {
        const double dy = std::abs(y - r->centre.y);
        if (dy >= r->half_height) return {};
        const double into_corner = std::max(0.0, dy - (r->half_height - r->radius));
        const double half =
            r->half_width - r->radius + std::sqrt(std::max(0.0, r->radius * r->radius - into_corner * into_corner));
        return {{r->centre.x - half, r->centre.x + half}};
    }
    std::vector<double> crossings;
    const auto& p = std::get<Polygon>(shape).points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 a = p[i];
        const Vec2 b = p[(i + 1) % p.size()];
        if ((a.y <= y) == (b.y <= y)) continue;
        crossings.push_back(a.x + (y - a.y) * (b.x - a.x) / (b.y - a.y));
    }
    std::sort(crossings.begin(), crossings.end());
    std::vector<std::pair<double, double>> spans;
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) spans.emplace_back(crossings[i], crossings[i + 1]);
    return spans;
}

namespace {

/// Corners within `on_line` of the line lie on it.
Polygon clipped_within(const Polygon& shape, Vec2 normal, double offset, double on_line) {
    Polygon kept;
    const auto& p = shape.points;
    const auto side = [&](Vec2 at) {
        const double off = dot(normal, at) - offset;
        return std::abs(off) < on_line ? 0 : off;
    };
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 a = p[i];
        const Vec2 b = p[(i + 1) % p.size()];
        const double side_a = side(a);
        const double side_b = side(b);
        if (side_a >= 0) kept.points.push_back(a);
        if ((side_a > 0 && side_b < 0) || (side_a < 0 && side_b > 0)) {
            kept.points.push_back(a + (side_a / (side_a - side_b)) * (b - a));
        }
    }
    return kept;
}

}  // namespace

Polygon clipped(const Polygon& shape, Vec2 normal, double offset) { return clipped_within(shape, normal, offset, 0); }

Polygon clipped(const Polygon& shape, const Frame& place, double z, const HalfSpace& kept) {
    const Vec2 normal{dot(kept.normal, place.x), dot(kept.normal, place.y)};
    // A corner on the plane stays a corner: rounding must not make two of it.
    return clipped_within(shape, normal, kept.offset - dot(kept.normal, place.origin) - z * dot(kept.normal, place.z),
                          same_length);
}

Vec2 centroid(const Profile& shape) {
    if (const auto* r = std::get_if<RoundedRect>(&shape)) return r->centre;
    const auto& p = std::get<Polygon>(shape).points;
    Vec2 moment;
    double twice = 0;
    for (std::size_t i = 0; i < p.size(); ++i) {
        // About the first corner, so that nothing large cancels.
        const Vec2 a = p[i] - p[0];
        const Vec2 b = p[(i + 1) % p.size()] - p[0];
        twice += cross(a, b);
        moment = moment + cross(a, b) * (a + b);
    }
    return p[0] + 1 / (3 * twice) * moment;
}

}  // namespace standproud
