#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "modeler/cut_away.hpp"
#include "modeler/cutting.hpp"

namespace standproud::cutting {

namespace {

constexpr double degrees = 180 / pi;

EdgeSide side_of(Vec2 along) {
    // The outline runs anticlockwise: outwards is to the right of the way along.
    const Vec2 out{along.y, -along.x};
    if (std::abs(out.x) > std::abs(out.y)) return out.x > 0 ? EdgeSide::right : EdgeSide::left;
    return out.y > 0 ? EdgeSide::top : EdgeSide::bottom;
}

bool upright(EdgeSide side) { return side == EdgeSide::left || side == EdgeSide::right; }

std::vector<Edge> edges_of(const Polygon& outline, double named_from) {
    std::vector<Edge> edges;
    const auto& p = outline.points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        Edge edge;
        edge.from = i;
        edge.to = (i + 1) % p.size();
        const Vec2 along = p[edge.to] - p[i];
        edge.side = side_of(along);
        edge.length = norm(along);
        edge.leans = upright(edge.side) ? std::abs(along.x) : std::abs(along.y);
        edge.named = edge.leans > named_from + same_length;
        edges.push_back(edge);
    }
    return edges;
}

std::vector<double> angles_of(const Polygon& outline) {
    std::vector<double> angles;
    const auto& p = outline.points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 next = p[(i + 1) % p.size()] - p[i];
        const Vec2 before = p[(i + p.size() - 1) % p.size()] - p[i];
        angles.push_back(std::atan2(cross(next, before), dot(next, before)) * degrees);
    }
    return angles;
}

std::vector<Diagonal> diagonals_of(const Polygon& outline) {
    std::vector<Diagonal> diagonals;
    const auto& p = outline.points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        for (std::size_t j = i + 2; j < p.size(); ++j) {
            if (i == 0 && j + 1 == p.size()) continue;
            diagonals.push_back({i, j, norm(p[j] - p[i])});
        }
    }
    return diagonals;
}

std::vector<Taper> tapers_of(const std::vector<Edge>& edges, double named_from) {
    std::vector<Taper> tapers;
    if (edges.size() != 4) return tapers;
    for (const std::size_t i : {0u, 1u}) {
        const Edge& a = edges[i];
        const Edge& b = edges[i + 2];
        const double by = std::abs(a.length - b.length);
        if (by <= named_from + same_length) continue;
        const bool first = a.length > b.length;
        tapers.push_back({first ? a.side : b.side, first ? b.side : a.side, by});
    }
    return tapers;
}

FromEdge nearest(const Polygon& outline, const std::vector<Edge>& edges, Vec2 centre, bool of_upright) {
    FromEdge best;
    best.distance = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < edges.size(); ++i) {
        if (upright(edges[i].side) != of_upright) continue;
        const Vec2 from = outline.points[edges[i].from];
        const Vec2 along = outline.points[edges[i].to] - from;
        const double distance = cross(along, centre - from) / norm(along);
        // As near on both sides: from the left or bottom.
        const bool nearer = distance < best.distance - same_length;
        const bool as_near = std::abs(distance - best.distance) <= same_length;
        if (nearer || (as_near && (edges[i].side == EdgeSide::left || edges[i].side == EdgeSide::bottom))) {
            best = {edges[i].side, i, distance};
        }
    }
    return best;
}

bool inside(const Polygon& outline, Vec2 at) { return margin_inside(RoundedRect::circle(at, 0), outline) > 0; }

constexpr std::array<Vec2, 4> corner_ways{Vec2{-1, -1}, Vec2{1, -1}, Vec2{1, 1}, Vec2{-1, 1}};

/// Centres of the holes that round the corners; of a notch, those within the outline.
std::vector<Vec2> corner_holes(const Opening& opening, const Polygon& outline) {
    const RoundedRect& shape = opening.shape;
    std::vector<Vec2> holes;
    if (shape.is_circle() || shape.radius <= 0) return holes;
    const double a = shape.half_width - shape.radius;
    const double b = shape.half_height - shape.radius;
    for (const Vec2 way : corner_ways) {
        const Vec2 corner = shape.centre + Vec2{way.x * shape.half_width, way.y * shape.half_height};
        if (opening.notch && !inside(outline, corner)) continue;
        const Vec2 at = shape.centre + Vec2{way.x * a, way.y * b};
        // A slot's two corners at an end are one hole.
        const bool known = std::any_of(holes.begin(), holes.end(), [&](Vec2 h) { return norm(h - at) <= same_length; });
        if (!known) holes.push_back(at);
    }
    return holes;
}

}  // namespace

PanelShape in_own_frame(const PanelShape& panel) {
    const auto e = extent(Profile(panel.outline));
    const Vec2 by{-e[0], -e[2]};
    PanelShape own = panel;
    for (Vec2& p : own.outline.points) p = p + by;
    for (Opening& o : own.openings) o.shape = moved(o.shape, by);
    return own;
}

PanelShape turned_over(const PanelShape& panel) {
    PanelShape over = in_own_frame(panel);
    const double width = extent(Profile(over.outline))[1];
    auto& p = over.outline.points;
    for (Vec2& q : p) q.x = width - q.x;
    // Mirrored, the corners run the other way round; the first stays first.
    if (!p.empty()) std::reverse(p.begin() + 1, p.end());
    for (Opening& o : over.openings) o.shape.centre.x = width - o.shape.centre.x;
    return over;
}

SeenPanel see_panel(const PanelShape& panel, Face face, const BenchRules& rules) {
    SeenPanel seen;
    seen.face = face;
    seen.shape = face == Face::front ? in_own_frame(panel) : turned_over(panel);
    const Polygon& outline = seen.shape.outline;
    seen.edges = edges_of(outline, rules.named_from);
    seen.angles = angles_of(outline);
    seen.diagonals = diagonals_of(outline);
    seen.tapers = tapers_of(seen.edges, rules.named_from);
    std::vector<RoundedRect> notches;
    for (const Opening& opening : seen.shape.openings) {
        MarkedOpening marked;
        marked.seen = opening;
        const RoundedRect& shape = opening.shape;
        for (const Vec2 way : corner_ways) {
            const Vec2 at = shape.centre + Vec2{way.x * shape.half_width, way.y * shape.half_height};
            if (!opening.notch || !inside(outline, at)) continue;
            marked.inside.push_back(
                {at, nearest(outline, seen.edges, at, true), nearest(outline, seen.edges, at, false)});
        }
        if (opening.notch) notches.push_back(shape);
        marked.taken = opening.notch ? within(shape, extent(outline)) : shape;
        marked.across = nearest(outline, seen.edges, marked.taken.centre, true);
        marked.up = nearest(outline, seen.edges, marked.taken.centre, false);
        marked.corner_holes = corner_holes(opening, outline);
        if (!marked.corner_holes.empty()) marked.corner_diameter = 2 * opening.shape.radius;
        seen.openings.push_back(std::move(marked));
    }
    seen.cut = cut_away(outline, notches);
    return seen;
}

}  // namespace standproud::cutting
