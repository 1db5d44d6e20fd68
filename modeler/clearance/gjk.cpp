// Distance of two convex bodies: the point of their difference a - b that is nearest the origin, by ever better
// simplices of support points (Gilbert, Johnson and Keerthi 1988). The nearest point of a simplex is found by looking
// at each of its faces, which is slower than the usual recursion and does not suffer from its cancellation.
#include <array>
#include <cmath>
#include <limits>

#include "clearance/convex.hpp"

namespace standproud {

namespace {

constexpr double wanted_gap = 1e-9;
constexpr int most_steps = 200;

struct Simplex {
    std::array<Extreme, 4> corners;
    std::array<double, 4> weights{};
    std::size_t count = 0;
};

Simplex only(const Simplex& s, std::initializer_list<std::size_t> which, std::initializer_list<double> weights) {
    Simplex kept;
    auto weight = weights.begin();
    for (const std::size_t i : which) {
        kept.corners[kept.count] = s.corners[i];
        kept.weights[kept.count++] = *weight++;
    }
    return kept;
}

RoomPoint point(const Simplex& s) {
    RoomPoint v;
    for (std::size_t i = 0; i < s.count; ++i) v = v + s.weights[i] * s.corners[i].w;
    return v;
}

Simplex nearest_on_edge(const Simplex& s, std::size_t i, std::size_t j) {
    const RoomPoint p = s.corners[i].w;
    const RoomPoint edge = s.corners[j].w - p;
    const double square = dot(edge, edge);
    const double t = square > 0 ? -dot(p, edge) / square : 0;
    if (t <= 0) return only(s, {i}, {1});
    if (t >= 1) return only(s, {j}, {1});
    return only(s, {i, j}, {1 - t, t});
}

Simplex nearest_on_triangle(const Simplex& s, std::size_t i, std::size_t j, std::size_t k) {
    const RoomPoint a = s.corners[i].w;
    const RoomPoint ab = s.corners[j].w - a;
    const RoomPoint ac = s.corners[k].w - a;
    const RoomPoint normal = cross(ab, ac);
    const double square = dot(normal, normal);
    if (square > 1e-24 * dot(ab, ab) * dot(ac, ac)) {
        const double at_c = dot(cross(ab, -1.0 * a), normal) / square;
        const double at_b = dot(cross(-1.0 * a, ac), normal) / square;
        if (at_b > 0 && at_c > 0 && at_b + at_c < 1) return only(s, {i, j, k}, {1 - at_b - at_c, at_b, at_c});
    }
    Simplex best;
    double least = std::numeric_limits<double>::infinity();
    for (const auto& [p, q] : {std::pair{i, j}, std::pair{j, k}, std::pair{k, i}}) {
        const Simplex edge = nearest_on_edge(s, p, q);
        const double here = norm(point(edge));
        if (here < least) {
            least = here;
            best = edge;
        }
    }
    return best;
}

double signed_volume(RoomPoint a, RoomPoint b, RoomPoint c, RoomPoint d) { return dot(cross(b - a, c - a), d - a); }

Simplex nearest_in_tetrahedron(const Simplex& s) {
    const auto w = [&](std::size_t i) { return s.corners[i].w; };
    const RoomPoint o;
    const double whole = signed_volume(w(0), w(1), w(2), w(3));
    const double parts[] = {signed_volume(o, w(1), w(2), w(3)), signed_volume(w(0), o, w(2), w(3)),
                            signed_volume(w(0), w(1), o, w(3)), signed_volume(w(0), w(1), w(2), o)};
    bool inside = whole != 0;
    for (const double part : parts) inside = inside && part / whole > 0;
    if (inside) {
        Simplex all = s;
        for (std::size_t i = 0; i < 4; ++i) all.weights[i] = parts[i] / whole;
        return all;
    }
    Simplex best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t left_out = 0; left_out < 4; ++left_out) {
        const Simplex face = nearest_on_triangle(s, (left_out + 1) % 4, (left_out + 2) % 4, (left_out + 3) % 4);
        const double here = norm(point(face));
        if (here < least) {
            least = here;
            best = face;
        }
    }
    return best;
}

Simplex nearest_in(const Simplex& s) {
    switch (s.count) {
        case 1:
            return only(s, {0}, {1});
        case 2:
            return nearest_on_edge(s, 0, 1);
        case 3:
            return nearest_on_triangle(s, 0, 1, 2);
        default:
            return nearest_in_tetrahedron(s);
    }
}

Nearest read_off(const Simplex& s, bool apart, double distance, double gap) {
    Nearest found{apart, distance, gap, {}, {}};
    for (std::size_t i = 0; i < s.count; ++i) {
        found.on_a = found.on_a + s.weights[i] * s.corners[i].a;
        found.on_b = found.on_b + s.weights[i] * s.corners[i].b;
    }
    return found;
}

bool has_corner(const Simplex& s, RoomPoint w) {
    for (std::size_t i = 0; i < s.count; ++i) {
        const RoomPoint d = s.corners[i].w - w;
        if (dot(d, d) < 1e-24) return true;
    }
    return false;
}

}  // namespace

Nearest nearest_points(const Convex& a, const Convex& b) {
    Simplex s;
    s.corners[0] = extreme_along(a, b, b.place.origin - a.place.origin + RoomPoint{1e-3, 0, 0});
    s.weights[0] = 1;
    s.count = 1;
    RoomPoint v = s.corners[0].w;
    double size = norm(v);
    double lower = 0;
    for (int step = 0; step < most_steps && size > 1e-10; ++step) {
        const Extreme next = extreme_along(a, b, -1.0 * v);
        lower = std::max(lower, dot(v, next.w) / size);
        if (size - lower <= wanted_gap || has_corner(s, next.w)) break;
        Simplex more = s;
        more.corners[more.count++] = next;
        const Simplex kept = nearest_in(more);
        if (kept.count == 4) return read_off(kept, false, 0, 0);
        const double now = norm(point(kept));
        if (now >= size) break;  // rounding: no better simplex can be had
        s = kept;
        v = point(s);
        size = now;
    }
    return read_off(s, lower > 0, size, size - lower);
}

}  // namespace standproud
