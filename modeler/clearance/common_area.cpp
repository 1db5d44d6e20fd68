// Area of the common part of two convex outlines of straight edges and arcs, in closed form: Green's theorem along its
// edge, which is what of each outline's edge lies inside the other.
#include <algorithm>
#include <array>
#include <cmath>

#include "clearance/flat.hpp"

namespace standproud {

namespace {

/// A straight edge from `from` to `to`, or an arc about `centre` from angle `start` over `turn`, anticlockwise.
struct Edge {
    bool arc = false;
    Vec2 from, to;
    Vec2 centre;
    double radius = 0, start = 0, turn = 0;

    [[nodiscard]] Vec2 at(double t) const {
        if (!arc) return from + t * (to - from);
        const double angle = start + t * turn;
        return centre + radius * Vec2{std::cos(angle), std::sin(angle)};
    }
};

std::vector<Edge> edges_of(const Outline& o) {
    std::vector<Edge> edges;
    const std::size_t n = o.core.size();
    if (n == 1) return {{true, {}, {}, o.core[0], o.disc, 0, 2 * pi}};
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 along = o.core[(i + 1) % n] - o.core[i];
        const Vec2 before = o.core[i] - o.core[(i + n - 1) % n];
        const Vec2 normal = (1 / norm(along)) * Vec2{along.y, -along.x};
        if (o.disc > 0) {
            const double start = std::atan2(-before.x, before.y);
            double turn = std::atan2(normal.y, normal.x) - start;
            if (turn < 0) turn += 2 * pi;
            edges.push_back({true, {}, {}, o.core[i], o.disc, start, turn});
        }
        const Vec2 out = o.disc * normal;
        edges.push_back({false, o.core[i] + out, o.core[(i + 1) % n] + out, {}, 0, 0, 0});
    }
    return edges;
}

void add_if_inside(std::vector<double>& cuts, double t) {
    if (t > 0 && t < 1) cuts.push_back(t);
}

/// Parameter on an arc of the direction d from its centre.
double on_arc(const Edge& arc, Vec2 d) {
    double angle = std::atan2(d.y, d.x) - arc.start;
    while (angle < 0) angle += 2 * pi;
    while (angle >= 2 * pi) angle -= 2 * pi;
    return angle / arc.turn;
}

/// Points of a line p + t d on a circle.
std::vector<double> line_on_circle(Vec2 p, Vec2 d, Vec2 centre, double radius) {
    const Vec2 m = p - centre;
    const double dd = dot(d, d);
    const double half = dot(m, d) / dd;
    // Distance of the line from the centre by the cross product: no cancellation of large squares.
    const double off = cross(d, m) / std::sqrt(dd);
    const double square = (radius - off) * (radius + off) / dd;
    if (square < 0) return {};
    const double root = std::sqrt(square);
    return {-half - root, -half + root};
}

/// Where `edge` crosses `other` (endless line or whole circle: a cut too many does no harm).
void cuts_by(const Edge& edge, const Edge& other, std::vector<double>& cuts) {
    const Vec2 d = edge.to - edge.from;
    const Vec2 e = other.to - other.from;
    if (!edge.arc && !other.arc) {
        const double turn = cross(d, e);
        if (turn != 0) add_if_inside(cuts, cross(other.from - edge.from, e) / turn);
    } else if (!edge.arc) {
        for (const double t : line_on_circle(edge.from, d, other.centre, other.radius)) add_if_inside(cuts, t);
    } else if (!other.arc) {
        for (const double t : line_on_circle(other.from, e, edge.centre, edge.radius)) {
            add_if_inside(cuts, on_arc(edge, other.from + t * e - edge.centre));
        }
    } else {
        const Vec2 between = other.centre - edge.centre;
        const double apart = norm(between);
        if (apart < same_length) return;
        const double along = (apart + (edge.radius - other.radius) * (edge.radius + other.radius) / apart) / 2;
        const double square = (edge.radius - along) * (edge.radius + along);
        if (square < 0) return;
        const Vec2 x = (1 / apart) * between;
        const Vec2 y{-x.y, x.x};
        for (const double side : {-1.0, 1.0}) {
            add_if_inside(cuts, on_arc(edge, along * x + side * std::sqrt(square) * y));
        }
    }
}

/// Half the integral of x dy - y dx along the edge from t to s, about `about`.
double green(const Edge& edge, double t, double s, Vec2 about) {
    const Vec2 p = edge.at(t) - about;
    const Vec2 q = edge.at(s) - about;
    if (!edge.arc) return cross(p, q) / 2;
    const Vec2 c = edge.centre - about;
    return (edge.radius * edge.radius * (s - t) * edge.turn + cross(c, q - p)) / 2;
}

Vec2 normal_at(const Edge& edge, double t) {
    if (edge.arc) return (1 / edge.radius) * (edge.at(t) - edge.centre);
    const Vec2 along = edge.to - edge.from;
    return (1 / norm(along)) * Vec2{along.y, -along.x};
}

double along_inside(const Outline& own, const Outline& other, bool shared_counts, Vec2 about) {
    const auto others = edges_of(other);
    double sum = 0;
    for (const Edge& edge : edges_of(own)) {
        std::vector<double> cuts{0, 1};
        for (const Edge& by : others) cuts_by(edge, by, cuts);
        std::sort(cuts.begin(), cuts.end());
        for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
            const double middle = (cuts[i] + cuts[i + 1]) / 2;
            const FlatEdge from_edge = edge_from(other, edge.at(middle));
            bool counts = from_edge.distance < 0;
            if (std::abs(from_edge.distance) < same_length) {
                // Along each other's edge: counted once, and only where both lie on the same side of it.
                counts = shared_counts && dot(from_edge.outward, normal_at(edge, middle)) > 0;
            }
            if (counts) sum += green(edge, cuts[i], cuts[i + 1], about);
        }
    }
    return sum;
}

}  // namespace

double common_area(const Outline& a, const Outline& b) {
    const Vec2 about = a.core.front();  // near the outlines, so that large areas do not cancel
    return std::max(0.0, along_inside(a, b, true, about) + along_inside(b, a, false, about));
}

}  // namespace standproud
