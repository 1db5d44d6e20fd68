// Least push that frees two convex bodies: a polytope inside their difference a - b grows where its surface is nearest
// the origin (van den Bergen 2001). Distances of faces carry their sign, so that the origin may lie outside: bodies
// that just touch, or just do not, need no care of their own.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <queue>

#include "clearance/convex.hpp"

namespace standproud {

namespace {

constexpr double wanted_gap = 1e-8;
constexpr int most_steps = 400;

struct Facet {
    std::array<std::size_t, 3> corners{};
    RoomPoint normal;     // unit, outwards
    double distance = 0;  // of its plane from the origin, below 0 when the origin is outside
    bool gone = false;
};

struct Polytope {
    std::vector<Extreme> corners;
    std::vector<Facet> faces;
    std::priority_queue<std::pair<double, std::size_t>, std::vector<std::pair<double, std::size_t>>, std::greater<>>
        nearest;
};

void add_face(Polytope& p, std::size_t i, std::size_t j, std::size_t k) {
    Facet face{{i, j, k}, cross(p.corners[j].w - p.corners[i].w, p.corners[k].w - p.corners[i].w), 0, false};
    const double size = norm(face.normal);
    if (size > 0) {
        face.normal = (1 / size) * face.normal;
        face.distance = dot(face.normal, p.corners[i].w);
        p.nearest.emplace(face.distance, p.faces.size());
    }
    p.faces.push_back(face);  // one without area is never the nearest, but closes the surface
}

/// The corner that is furthest from `from` along d or against it.
Extreme furthest_either_way(const Convex& a, const Convex& b, RoomPoint from, RoomPoint d) {
    const Extreme one = extreme_along(a, b, d);
    const Extreme other = extreme_along(a, b, -1.0 * d);
    return std::abs(dot(one.w - from, d)) >= std::abs(dot(other.w - from, d)) ? one : other;
}

Polytope first_tetrahedron(const Convex& a, const Convex& b) {
    Polytope p;
    const RoomPoint x{1, 0, 0};
    p.corners.push_back(extreme_along(a, b, x));
    p.corners.push_back(extreme_along(a, b, -1.0 * x));
    const RoomPoint first = p.corners[0].w;
    const RoomPoint line = unit(p.corners[1].w - first);
    p.corners.push_back(furthest_either_way(a, b, first, square_to(line)));
    RoomPoint normal = cross(line, p.corners[2].w - first);
    if (norm(normal) < 1e-6) {
        p.corners[2] = furthest_either_way(a, b, first, cross(line, square_to(line)));
        normal = cross(line, p.corners[2].w - first);
    }
    p.corners.push_back(furthest_either_way(a, b, first, unit(normal)));
    if (dot(p.corners[3].w - first, normal) > 0) std::swap(p.corners[1], p.corners[2]);
    add_face(p, 0, 1, 2);
    add_face(p, 0, 3, 1);
    add_face(p, 1, 3, 2);
    add_face(p, 2, 3, 0);
    return p;
}

/// Adds the corner; the faces that see it give way to new ones from their rim. false: none sees it.
bool expand(Polytope& p, const Extreme& corner) {
    const double noise = 1e-12 * (1 + norm(corner.w));
    std::vector<std::pair<std::size_t, std::size_t>> rim;
    bool seen = false;
    for (auto& face : p.faces) {
        if (face.gone) continue;
        if (dot(face.normal, corner.w - p.corners[face.corners[0]].w) <= noise) continue;
        face.gone = true;
        seen = true;
        for (std::size_t i = 0; i < 3; ++i) {
            const std::pair edge{face.corners[i], face.corners[(i + 1) % 3]};
            const auto back = std::find(rim.begin(), rim.end(), std::pair{edge.second, edge.first});
            if (back != rim.end()) {
                *back = rim.back();
                rim.pop_back();
            } else {
                rim.push_back(edge);
            }
        }
    }
    if (!seen) return false;
    p.corners.push_back(corner);
    for (const auto& [i, j] : rim) add_face(p, i, j, p.corners.size() - 1);
    return true;
}

/// Weights of the point of the face's plane nearest the origin; one below 0 where that lies outside the face.
std::array<double, 3> weights_on(const Polytope& p, const Facet& face) {
    const RoomPoint a = p.corners[face.corners[0]].w;
    const RoomPoint ab = p.corners[face.corners[1]].w - a;
    const RoomPoint ac = p.corners[face.corners[2]].w - a;
    const RoomPoint to = face.distance * face.normal - a;
    const RoomPoint normal = cross(ab, ac);
    const double square = dot(normal, normal);
    const double at_b = dot(cross(to, ac), normal) / square;
    const double at_c = dot(cross(ab, to), normal) / square;
    return {1 - at_b - at_c, at_b, at_c};
}

/// The points where the push begins. A flat side of the difference is several triangles, all as near: the point lies in
/// that one whose least weight is greatest.
void find_points(const Polytope& p, Depth& best) {
    double inside = -std::numeric_limits<double>::infinity();
    std::array<double, 3> weights{};
    const Facet* chosen = nullptr;
    for (const auto& face : p.faces) {
        if (face.gone || dot(face.normal, best.direction) < 1 - 1e-9) continue;
        const auto here = weights_on(p, face);
        const double least = std::min({here[0], here[1], here[2]});
        if (least > inside) {
            inside = least;
            weights = here;
            chosen = &face;
        }
    }
    if (!chosen) return;
    double sum = 0;
    for (double& weight : weights) sum += weight = std::max(weight, 0.0);
    best.on_a = {};
    for (std::size_t i = 0; i < 3; ++i) {
        best.on_a = best.on_a + (weights[i] / sum) * p.corners[chosen->corners[i]].a;
    }
    best.on_b = best.on_a - best.depth * best.direction;
}

}  // namespace

Depth least_push(const Convex& a, const Convex& b) {
    Polytope p = first_tetrahedron(a, b);
    Depth best;
    best.depth = std::numeric_limits<double>::infinity();
    double lower = -std::numeric_limits<double>::infinity();
    for (int step = 0; step < most_steps && !p.nearest.empty(); ++step) {
        const auto [distance, index] = p.nearest.top();
        if (p.faces[index].gone) {
            p.nearest.pop();
            --step;
            continue;
        }
        const Facet face = p.faces[index];
        lower = distance;  // no direction reaches less far than the polytope, once it holds the origin
        const Extreme next = extreme_along(a, b, face.normal);
        const double depth = dot(next.w, face.normal);
        if (depth < best.depth) best = {depth, 0, face.normal, next.a, next.a - depth * face.normal};
        if (depth - distance <= wanted_gap || !expand(p, next)) break;
    }
    best.gap = std::max(0.0, best.depth - lower);
    find_points(p, best);
    return best;
}

}  // namespace standproud
