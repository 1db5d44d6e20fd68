#include "clearance/flat.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace standproud {

namespace {

constexpr double huge = std::numeric_limits<double>::infinity();

std::size_t furthest_corner(const Outline& o, Vec2 d) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < o.core.size(); ++i) {
        if (dot(o.core[i], d) > dot(o.core[best], d)) best = i;
    }
    return best;
}

/// Two points: there and back. One point: none.
std::size_t edges(const Outline& o) { return o.core.size() < 2 ? 0 : o.core.size(); }

Vec2 outward(const Outline& o, std::size_t edge) {
    const Vec2 along = o.core[(edge + 1) % o.core.size()] - o.core[edge];
    const double length = std::sqrt(dot(along, along));
    return {along.y / length, -along.x / length};
}

Vec2 nearest_on_edge(const Outline& o, std::size_t edge, Vec2 p) {
    const Vec2 from = o.core[edge];
    const Vec2 along = o.core[(edge + 1) % o.core.size()] - from;
    return from + std::clamp(dot(p - from, along) / dot(along, along), 0.0, 1.0) * along;
}

struct Axis {
    double apart = -huge;
    Vec2 direction{1, 0};  // from a to b
    Vec2 on_a, on_b;
};

/// The edge of `first` that lets the other core lie furthest outside it.
Axis best_axis(const Outline& first, const Outline& second) {
    Axis best;
    for (std::size_t i = 0; i < edges(first); ++i) {
        const Vec2 n = outward(first, i);
        const Vec2 p = second.core[furthest_corner(second, -1.0 * n)];
        const double apart = dot(n, p - first.core[i]);
        if (apart > best.apart) best = {apart, n, p - apart * n, p};
    }
    return best;
}

struct Pair {
    double square = huge;
    Vec2 on_a, on_b;
};

Pair nearest_corners(const Outline& a, const Outline& b) {
    Pair best;
    const auto take = [&](Vec2 p, Vec2 q) {
        const double square = dot(q - p, q - p);
        if (square < best.square) best = {square, p, q};
    };
    if (edges(a) == 0) {
        if (edges(b) == 0) take(a.core[0], b.core[0]);
        for (std::size_t i = 0; i < edges(b); ++i) take(a.core[0], nearest_on_edge(b, i, a.core[0]));
        return best;
    }
    for (std::size_t i = 0; i < edges(a); ++i) {
        for (const Vec2 q : b.core) take(nearest_on_edge(a, i, q), q);
    }
    for (std::size_t i = 0; i < edges(b); ++i) {
        for (const Vec2 p : a.core) take(p, nearest_on_edge(b, i, p));
    }
    return best;
}

}  // namespace

FlatSeparation flat_separation(const Outline& a, const Outline& b) {
    Axis axis = best_axis(a, b);
    Axis other = best_axis(b, a);
    if (other.apart > axis.apart) axis = {other.apart, -1.0 * other.direction, other.on_b, other.on_a};
    // Two points: no edge to tell a direction.
    const bool points = edges(a) == 0 && edges(b) == 0;
    if (axis.apart > 0 || points) {
        const Pair pair = nearest_corners(a, b);
        const double apart = std::sqrt(pair.square);
        if (apart > same_length) {
            axis = {apart, (1 / apart) * (pair.on_b - pair.on_a), pair.on_a, pair.on_b};
        } else if (points) {
            axis = {apart, {1, 0}, pair.on_a, pair.on_b};
        }
    }
    return {axis.apart - a.disc - b.disc, axis.direction, axis.on_a + a.disc * axis.direction,
            axis.on_b - b.disc * axis.direction};
}

FlatEdge edge_from(const Outline& o, Vec2 p) {
    double inside = -huge;
    Vec2 normal{1, 0};
    double square = edges(o) == 0 ? dot(p - o.core[0], p - o.core[0]) : huge;
    Vec2 nearest = o.core[0];
    for (std::size_t i = 0; i < edges(o); ++i) {
        const Vec2 n = outward(o, i);
        const double here = dot(n, p - o.core[i]);
        if (here > inside) {
            inside = here;
            normal = n;
        }
        const Vec2 q = nearest_on_edge(o, i, p);
        if (dot(p - q, p - q) < square) {
            square = dot(p - q, p - q);
            nearest = q;
        }
    }
    // Two points have nothing inside, and 0 all along their line.
    if (edges(o) > 2 && inside <= 0) return {inside - o.disc, normal};
    const double apart = std::sqrt(square);
    if (apart <= same_length) return {apart - o.disc, normal};
    return {apart - o.disc, (1 / apart) * (p - nearest)};
}

FlatSeparation room_inside(const Outline& hole, const Outline& inner) {
    // Depth below the edge of a convex hole is concave, so the least of it over a convex core is at a corner.
    FlatSeparation least;
    least.distance = huge;
    for (const Vec2 p : inner.core) {
        const FlatEdge edge = edge_from(hole, p);
        const double room = -edge.distance - inner.disc;
        if (room >= least.distance) continue;
        least = {room, -1.0 * edge.outward, p - edge.distance * edge.outward, p + inner.disc * edge.outward};
    }
    return least;
}

double flat_reach(const Outline& o, Vec2 d) { return dot(o.core[furthest_corner(o, d)], d) + o.disc; }

namespace {

/// The hole less a rim of `rim`: the places that a circle of that radius can have its middle. Nothing: none.
std::optional<Outline> inset(const Outline& hole, double rim) {
    if (rim <= hole.disc) return Outline{hole.core, hole.disc - rim};
    if (edges(hole) < 3) return std::nullopt;
    Polygon left{hole.core};
    for (std::size_t i = 0; i < edges(hole); ++i) {
        const Vec2 inwards = -1.0 * outward(hole, i);
        left = clipped(left, inwards, dot(inwards, hole.core[i]) + rim - hole.disc);
    }
    if (left.points.size() < 3) return std::nullopt;
    return Outline{left.points, 0};
}

Vec2 nearest_to_origin(const Polygon& region) {
    const Outline o{region.points, 0};
    Vec2 best;
    double least = huge;
    bool inside = true;
    for (std::size_t i = 0; i < edges(o); ++i) {
        const Vec2 along = o.core[(i + 1) % o.core.size()] - o.core[i];
        if (dot(along, along) == 0) continue;
        inside = inside && cross(along, -1.0 * o.core[i]) >= 0;
        const Vec2 q = nearest_on_edge(o, i, {0, 0});
        if (dot(q, q) < least) {
            least = dot(q, q);
            best = q;
        }
    }
    return inside ? Vec2{} : best;
}

}  // namespace

std::optional<Vec2> move_into(const Outline& hole, const Outline& inner) {
    const auto places = inset(hole, inner.disc);
    if (!places) return std::nullopt;
    // Wanted: the shortest t with every corner of the core, moved by t, inside `places`. Each corner that is outside
    // gives a straight cut that no good t crosses; the nearest point of what is left is a lower bound, and once it is
    // inside everywhere, the answer.
    const double far = 1e5;
    Polygon region{{{-far, -far}, {far, -far}, {far, far}, {-far, far}}};
    for (int step = 0; step < 200; ++step) {
        const Vec2 t = nearest_to_origin(region);
        FlatEdge worst{-huge, {}};
        for (const Vec2 p : inner.core) {
            const FlatEdge edge = edge_from(*places, p + t);
            if (edge.distance > worst.distance) worst = edge;
        }
        if (worst.distance <= same_length / 10) return t;
        const double least = flat_reach(Outline{inner.core, 0}, worst.outward) - flat_reach(*places, worst.outward);
        region = clipped(region, -1.0 * worst.outward, least);
        if (region.points.size() < 3) return std::nullopt;
    }
    return std::nullopt;
}

Polygon inscribed(const Outline& o, int per_turn) {
    if (o.disc <= 0) return {o.core};
    const auto angle_of = [](Vec2 n) { return std::atan2(n.y, n.x); };
    Polygon shape;
    const std::size_t count = o.core.size();
    for (std::size_t i = 0; i < count; ++i) {
        double from = 0;
        double turn = 2 * pi;
        if (count > 1) {
            from = angle_of(outward(o, (i + count - 1) % count));
            turn = angle_of(outward(o, i)) - from;
            if (turn <= 0) turn += 2 * pi;
        }
        const int chords = std::max(1, static_cast<int>(std::ceil(per_turn * turn / (2 * pi))));
        const int last = count > 1 ? chords : chords - 1;
        for (int k = 0; k <= last; ++k) {
            const double angle = from + turn * k / chords;
            shape.points.push_back(o.core[i] + o.disc * Vec2{std::cos(angle), std::sin(angle)});
        }
    }
    return shape;
}

}  // namespace standproud
