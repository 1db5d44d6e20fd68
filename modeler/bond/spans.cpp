#include "bond/spans.hpp"

#include <algorithm>
#include <cmath>

namespace standproud::bond {

Span upright_span(const Polygon& outline, double x) {
    Polygon turned;
    for (const Vec2& p : outline.points) turned.points.push_back({p.y, p.x});
    const auto spans = spans_at(Profile(turned), x);
    return spans.empty() ? Span{1, 0} : spans.front();
}

Polygon inset(const Polygon& outline, double by) {
    Polygon inside = outline;
    const auto& p = outline.points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 along = p[(i + 1) % p.size()] - p[i];
        const double length = norm(along);
        if (length < same_length) continue;
        const Vec2 inward = (1 / length) * Vec2{-along.y, along.x};
        inside = clipped(inside, inward, dot(inward, p[i]) + by);
    }
    return inside;
}

RoundedRect grown(RoundedRect shape, double by) {
    shape.half_width += by;
    shape.half_height += by;
    shape.radius += by;
    return shape;
}

double reach_at(const RoundedRect& shape, double from, double to) {
    const double x = std::clamp(shape.centre.x, from, to);
    const double dx = std::abs(x - shape.centre.x);
    if (dx >= shape.half_width) return -1;
    const double into = std::max(0.0, dx - (shape.half_width - shape.radius));
    return shape.half_height - shape.radius + std::sqrt(std::max(0.0, shape.radius * shape.radius - into * into));
}

bool inside(const RoundedRect& shape, Vec2 p) {
    const double reach = reach_at(shape, p.x, p.x);
    return reach > 0 && std::abs(p.y - shape.centre.y) < reach;
}

std::vector<Span> without(const Span& whole, std::vector<Span> others) {
    std::sort(others.begin(), others.end());
    std::vector<Span> left;
    double from = whole.first;
    const auto add = [&](double to) {
        if (to > from) left.emplace_back(from, to);
    };
    for (const Span& other : others) {
        add(std::min(other.first, whole.second));
        from = std::max(from, other.second);
    }
    add(whole.second);
    return left;
}

}  // namespace standproud::bond
