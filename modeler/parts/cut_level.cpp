#include <algorithm>
#include <cmath>

#include "modeler/parts.hpp"

namespace standproud {

namespace {

using Spans = std::vector<std::pair<double, double>>;

constexpr double upright = 1 - 1e-9;
constexpr double nearly_level = 0.2;  // a wall that leans by more has fallen over

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

/// The spans of a slab, less its holes, at depth z of its frame: along its level direction, at height v.
class LevelSpans {
  public:
    LevelSpans(const Part& part, double v) : part_(part), v_(v), y_is_up_(std::abs(part.place.y.z) > 0.5) {}

    [[nodiscard]] Spans at(double z) const {
        const double level = this->level(z);
        const auto cut = [&](const Profile& shape) { return spans_at(y_is_up_ ? shape : turned(shape), level); };
        Spans holes;
        for (const auto& hole : part_.holes) {
            const Spans more = cut(hole);
            holes.insert(holes.end(), more.begin(), more.end());
        }
        return without(cut(part_.outline), holes);
    }
    [[nodiscard]] RoomPoint point(double along, double z) const {
        const Vec2 p = local(along, z);
        return part_.place.to_room(p.x, p.y, z);
    }
    /// Where the far face lies at a place that is at `along` when z = length.
    [[nodiscard]] double far(double along) const { return part_.length + dot(part_.taper, local(along, part_.length)); }

  private:
    [[nodiscard]] double level(double z) const {
        const double up = y_is_up_ ? part_.place.y.z : part_.place.x.z;
        return (v_ - part_.place.origin.z - z * part_.place.z.z) / up;
    }
    [[nodiscard]] Vec2 local(double along, double z) const {
        return y_is_up_ ? Vec2{along, level(z)} : Vec2{level(z), along};
    }

    const Part& part_;
    double v_;
    bool y_is_up_;
};

void cut_level_prism(const Part& part, std::size_t index, const Frame& wall, double v, std::vector<CutPiece>& pieces) {
    const LevelSpans spans(part, v);
    const Spans near = spans.at(0);
    Spans far = part.place.z.z == 0 ? near : spans.at(part.length);
    if (far.size() != near.size()) far = near;  // an edge of the outline or a hole lies just at this height
    for (std::size_t i = 0; i < near.size(); ++i) {
        const auto [from, to] = near[i];
        const auto [far_from, far_to] = far[i];
        pieces.push_back(
            {index,
             seen_on(wall, {spans.point(from, 0), spans.point(to, 0), spans.point(far_to, spans.far(far_to)),
                            spans.point(far_from, spans.far(far_from))}),
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
        } else if (std::abs(parts[i].place.z.z) < nearly_level) {
            cut_level_prism(parts[i], i, wall, v, pieces);
        }
    }
    return pieces;
}

}  // namespace standproud
