#include <algorithm>
#include <cmath>

#include "modeler/parts.hpp"

namespace standproud {

namespace {

using Spans = std::vector<std::pair<double, double>>;

constexpr double upright = 1 - 1e-9;

Profile turned(const Profile& shape) {
    if (const auto* r = std::get_if<RoundedRect>(&shape)) {
        return RoundedRect{{r->centre.y, r->centre.x}, r->half_height, r->half_width, r->radius};
    }
    Polygon polygon = std::get<Polygon>(shape);
    for (auto& p : polygon.points) p = {p.y, p.x};
    return polygon;
}

Spans without(const Spans& spans, const Spans& holes) {
    Spans left = spans;
    for (const auto& [from, to] : holes) {
        Spans next;
        for (const auto& [a, b] : left) {
            if (std::min(b, from) > a) next.emplace_back(a, std::min(b, from));
            if (b > std::max(a, to)) next.emplace_back(std::max(a, to), b);
        }
        left = next;
    }
    return left;
}

Polygon many_sided(const RoundedRect& r) {
    if (r.radius == 0) {
        return {{{r.centre.x - r.half_width, r.centre.y - r.half_height},
                 {r.centre.x + r.half_width, r.centre.y - r.half_height},
                 {r.centre.x + r.half_width, r.centre.y + r.half_height},
                 {r.centre.x - r.half_width, r.centre.y + r.half_height}}};
    }
    Polygon polygon;
    constexpr int quarter = 24;
    for (int i = 0; i < 4 * quarter; ++i) {
        const double angle = 2 * pi * (i + 0.5) / (4 * quarter);
        const double c = std::cos(angle);
        const double s = std::sin(angle);
        polygon.points.push_back({r.centre.x + std::copysign(r.half_width - r.radius, c) + r.radius * c,
                                  r.centre.y + std::copysign(r.half_height - r.radius, s) + r.radius * s});
    }
    return polygon;
}

Polygon seen_on(const Frame& wall, const std::vector<RoomPoint>& points) {
    Polygon polygon;
    for (const auto& p : points) {
        const auto local = wall.from_room(p);
        polygon.points.push_back({local[0], local[2]});
    }
    if (area(polygon) < 0) std::reverse(polygon.points.begin(), polygon.points.end());
    return polygon;
}

void cut_level_prism(const Part& part, std::size_t index, const Frame& wall, double v, std::vector<CutPiece>& pieces) {
    const bool y_is_up = std::abs(part.place.y.z) > upright;
    const double up = y_is_up ? part.place.y.z : part.place.x.z;
    const double level = (v - part.place.origin.z) / up;
    const auto at_level = [&](const Profile& shape) { return spans_at(y_is_up ? shape : turned(shape), level); };
    Spans holes;
    for (const auto& hole : part.holes) {
        const Spans more = at_level(hole);
        holes.insert(holes.end(), more.begin(), more.end());
    }
    for (const auto& [from, to] : without(at_level(part.outline), holes)) {
        const auto corner = [&](double along, double out) {
            return y_is_up ? part.place.to_room(along, level, out) : part.place.to_room(level, along, out);
        };
        pieces.push_back(
            {index, seen_on(wall, {corner(from, 0), corner(to, 0), corner(to, part.length), corner(from, part.length)}),
             false});
    }
}

void cut_upright_prism(const Part& part, std::size_t index, const Frame& wall, double v,
                       std::vector<CutPiece>& pieces) {
    const double height = (v - part.place.origin.z) * part.place.z.z;
    if (height <= 0 || height >= part.length) return;
    const auto* rounded = std::get_if<RoundedRect>(&part.outline);
    std::vector<RoomPoint> points;
    for (const auto& p : rounded ? many_sided(*rounded).points : std::get<Polygon>(part.outline).points) {
        points.push_back(part.place.to_room(p.x, p.y, height));
    }
    pieces.push_back({index, seen_on(wall, points), rounded && rounded->is_circle()});
}

}  // namespace

std::vector<CutPiece> cut_level(const std::vector<Part>& parts, const Frame& wall, double v) {
    std::vector<CutPiece> pieces;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (std::abs(parts[i].place.z.z) > upright) {
            cut_upright_prism(parts[i], i, wall, v, pieces);
        } else {
            cut_level_prism(parts[i], i, wall, v, pieces);
        }
    }
    return pieces;
}

}  // namespace standproud
