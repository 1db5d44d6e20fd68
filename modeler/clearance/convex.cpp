#include "clearance/convex.hpp"

#include <algorithm>
#include <cmath>

namespace standproud {

RoomPoint unit(RoomPoint v) { return (1 / norm(v)) * v; }

RoomPoint square_to(RoomPoint v) {
    const double x = std::abs(v.x);
    const double y = std::abs(v.y);
    const double z = std::abs(v.z);
    const RoomPoint least = x <= y && x <= z ? RoomPoint{1, 0, 0} : y <= z ? RoomPoint{0, 1, 0} : RoomPoint{0, 0, 1};
    return unit(cross(v, least));
}

namespace {

/// Point of the outline furthest along d; d may be 0.
Vec2 furthest(const Outline& outline, Vec2 d) {
    Vec2 best = outline.core.front();
    double most = dot(best, d);
    for (std::size_t i = 1; i < outline.core.size(); ++i) {
        const double here = dot(outline.core[i], d);
        if (here > most) {
            most = here;
            best = outline.core[i];
        }
    }
    if (outline.disc > 0) {
        const double length = std::sqrt(dot(d, d));
        if (length > 0) best = best + (outline.disc / length) * d;
    }
    return best;
}

}  // namespace

RoomPoint support(const Convex& shape, RoomPoint d) {
    const Frame& f = shape.place;
    const Vec2 flat{dot(d, f.x), dot(d, f.y)};
    const double up = dot(d, f.z);
    if (shape.taper.x == 0 && shape.taper.y == 0) {
        const Vec2 p = furthest(shape.outline, flat);
        return f.to_room(p.x, p.y, up > 0 ? shape.length : 0);
    }
    // On the far face z = length + taper.p, so that d.(p, z) is (flat + up taper).p and a constant.
    const Vec2 near = furthest(shape.outline, flat);
    const Vec2 far = furthest(shape.outline, flat + up * shape.taper);
    const double far_z = shape.length + dot(shape.taper, far);
    if (dot(flat, far) + up * far_z > dot(flat, near)) return f.to_room(far.x, far.y, far_z);
    return f.to_room(near.x, near.y, 0);
}

double reach(const Convex& shape, RoomPoint d) { return dot(support(shape, d), d) + shape.ball; }

Extreme extreme_along(const Convex& a, const Convex& b, RoomPoint d) {
    const RoomPoint on_a = support(a, d);
    const RoomPoint on_b = support(b, -1.0 * d);
    return {on_a - on_b, on_a, on_b};
}

namespace {

/// Nearest points of two segments (closed form; the clamping is that of Ericson, Real-Time Collision Detection 2005,
/// section 5.1.9, from memory).
std::pair<RoomPoint, RoomPoint> nearest_on_segments(RoomPoint p, RoomPoint u, RoomPoint q, RoomPoint v) {
    const RoomPoint r = p - q;
    const double uu = dot(u, u);
    const double vv = dot(v, v);
    const double uv = dot(u, v);
    const double ur = dot(u, r);
    const double vr = dot(v, r);
    double s = 0;
    double t = 0;
    if (uu > 0 && vv > 0) {
        const double square = uu * vv - uv * uv;
        if (square > 1e-14 * uu * vv) s = std::clamp((uv * vr - ur * vv) / square, 0.0, 1.0);
        t = (uv * s + vr) / vv;
        if (t < 0) {
            t = 0;
            s = std::clamp(-ur / uu, 0.0, 1.0);
        } else if (t > 1) {
            t = 1;
            s = std::clamp((uv - ur) / uu, 0.0, 1.0);
        }
    } else if (uu > 0) {
        s = std::clamp(-ur / uu, 0.0, 1.0);
    } else if (vv > 0) {
        t = std::clamp(vr / vv, 0.0, 1.0);
    }
    return {p + s * u, q + t * v};
}

bool is_rod(const Convex& c) { return c.outline.core.size() == 1 && c.taper.x == 0 && c.taper.y == 0; }
bool is_capsule(const Convex& c) { return is_rod(c) && c.outline.disc == 0; }
bool is_cylinder(const Convex& c) { return is_rod(c) && c.outline.disc > 0 && c.ball == 0; }

RoomPoint rod_start(const Convex& c) { return c.place.to_room(c.outline.core[0].x, c.outline.core[0].y, 0); }
RoomPoint rod_along(const Convex& c) { return c.length * c.place.z; }

/// From the nearest points of the cores: the answer for the grown bodies.
Separation grown(RoomPoint on_a, RoomPoint on_b, RoomPoint direction, double ball_a, double ball_b) {
    Separation s;
    s.direction = direction;
    s.on_a = on_a + ball_a * direction;
    s.on_b = on_b - ball_b * direction;
    s.distance = dot(on_b - on_a, direction) - ball_a - ball_b;
    s.common = 0.5 * (s.on_a + s.on_b);
    return s;
}

Separation capsules(const Convex& a, const Convex& b) {
    const RoomPoint u = rod_along(a);
    const RoomPoint v = rod_along(b);
    const auto [p, q] = nearest_on_segments(rod_start(a), u, rod_start(b), v);
    const double apart = norm(q - p);
    RoomPoint direction;
    if (apart > same_length) {
        direction = unit(q - p);
    } else {
        // The middle lines meet: the shortest way out is square to both.
        const RoomPoint both = cross(u, v);
        const double size = norm(both);
        direction = size > 1e-12 * (1 + norm(u) * norm(v)) ? (1 / size) * both : square_to(norm(u) > 0 ? u : a.place.z);
    }
    Separation s = grown(p, q, direction, a.ball, b.ball);
    s.error = same_length;
    return s;
}

/// Cylinders whose sides face each other: the distance between the axes less both radii. Nothing when an end may be
/// nearer, or when they overlap.
std::optional<Separation> cylinder_sides(const Convex& a, const Convex& b) {
    const RoomPoint u = rod_along(a);
    const RoomPoint v = rod_along(b);
    const auto [p, q] = nearest_on_segments(rod_start(a), u, rod_start(b), v);
    const RoomPoint between = q - p;
    const double apart = norm(between);
    if (apart <= a.outline.disc + b.outline.disc + touch_length) return std::nullopt;
    // Square to both axes: then both feet are inside their lengths, and no point of the endless cylinders is nearer.
    if (std::abs(dot(between, a.place.z)) > 1e-12 * apart || std::abs(dot(between, b.place.z)) > 1e-12 * apart) {
        return std::nullopt;
    }
    Separation s = grown(p, q, (1 / apart) * between, a.outline.disc, b.outline.disc);
    s.error = same_length;
    return s;
}

/// The axis of a cylinder, its radius as a ball: a capsule that holds the cylinder and shares its side.
Convex as_capsule(const Convex& c) {
    Convex capsule = c;
    capsule.ball = c.outline.disc;
    capsule.outline.disc = 0;
    return capsule;
}

/// Nothing where an end of a cylinder may be nearer than its side.
std::optional<Nearest> nearest_by_axes(const Convex& a, const Convex& b) {
    const bool round_a = is_cylinder(a);
    const bool round_b = is_cylinder(b);
    if (!round_a && !round_b) return std::nullopt;
    Nearest near = nearest_points(round_a ? as_capsule(a) : a, round_b ? as_capsule(b) : b);
    if (!near.apart || near.distance < 1e-3) return std::nullopt;
    const RoomPoint direction = (1 / near.distance) * (near.on_b - near.on_a);
    // Off square by c, the side is r c^2 / 2 further away: below 1e-9 mm.
    constexpr double square = 3e-6;
    if (round_a && std::abs(dot(direction, a.place.z)) > square) return std::nullopt;
    if (round_b && std::abs(dot(direction, b.place.z)) > square) return std::nullopt;
    const double ball_a = round_a ? a.outline.disc : a.ball;
    const double ball_b = round_b ? b.outline.disc : b.ball;
    near.distance -= ball_a + ball_b;
    near.on_a = near.on_a + ball_a * direction;
    near.on_b = near.on_b - ball_b * direction;
    return near;
}

}  // namespace

Nearest nearest_grown(const Convex& a, const Convex& b) {
    if (const auto near = nearest_by_axes(a, b)) return *near;
    Nearest near = nearest_points(a, b);
    if (!near.apart || a.ball + b.ball == 0) return near;
    const RoomPoint direction = (1 / near.distance) * (near.on_b - near.on_a);
    near.distance -= a.ball + b.ball;
    near.on_a = near.on_a + a.ball * direction;
    near.on_b = near.on_b - b.ball * direction;
    return near;
}

Separation convex_separation(const Convex& a, const Convex& b) {
    if (is_capsule(a) && is_capsule(b)) return capsules(a, b);
    if (is_cylinder(a) && is_cylinder(b)) {
        if (const auto sides = cylinder_sides(a, b)) return *sides;
    }
    if (is_cylinder(a) || is_cylinder(b)) {
        const auto sides = nearest_by_axes(a, b);
        if (sides && sides->distance > touch_length) {
            Separation s = grown(sides->on_a, sides->on_b, unit(sides->on_b - sides->on_a), 0, 0);
            s.error = sides->gap + 2 * same_length;
            return s;
        }
    }
    const Nearest near = nearest_points(a, b);
    // Nearer than this, the direction between the two points is noise, and the polytope tells it better.
    constexpr double far_enough = 1e-5;
    if (near.apart && near.distance > far_enough) {
        Separation s = grown(near.on_a, near.on_b, unit(near.on_b - near.on_a), a.ball, b.ball);
        s.error = near.gap + same_length;
        return s;
    }
    const Depth push = least_push(a, b);
    Separation s = grown(push.on_a, push.on_b, push.direction, a.ball, b.ball);
    s.distance = -push.depth - a.ball - b.ball;
    s.common = near.apart ? s.common : 0.5 * (near.on_a + near.on_b);
    s.error = push.gap + same_length;
    return s;
}

}  // namespace standproud
