#include "support/apart.hpp"

#include <algorithm>

namespace standproud::testing {

double apart(const Polygon& a, const Polygon& b) {
    double separation = -1e300;
    for (const auto* one : {&a, &b}) {
        const Polygon& other = one == &a ? b : a;
        for (std::size_t i = 0; i < one->points.size(); ++i) {
            const Vec2 edge = one->points[(i + 1) % one->points.size()] - one->points[i];
            if (norm(edge) < 1e-9) continue;
            const Vec2 out{edge.y / norm(edge), -edge.x / norm(edge)};
            double least = 1e300;
            for (const auto& p : other.points) least = std::min(least, dot(out, p - one->points[i]));
            separation = std::max(separation, least);
        }
    }
    if (separation <= 0) return separation;
    double distance = 1e300;
    for (const auto* one : {&a, &b}) {
        const Polygon& other = one == &a ? b : a;
        for (const auto& p : one->points) {
            for (std::size_t i = 0; i < other.points.size(); ++i) {
                const Vec2 q = other.points[i];
                const Vec2 edge = other.points[(i + 1) % other.points.size()] - q;
                const double t = std::clamp(dot(p - q, edge) / dot(edge, edge), 0.0, 1.0);
                distance = std::min(distance, norm(p - q - t * edge));
            }
        }
    }
    return distance;
}

}  // namespace standproud::testing
