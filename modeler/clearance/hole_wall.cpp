// Holes met by something that does not go through them square.
//
// The wall of a hole is cut into strips; each strip's chord is a flat rectangle, and no point of the strip is further
// from it than the sagitta. So the distance to the chord, less the sagitta, is a lower bound, and the distance to a
// line of the wall an upper one. The strip with the least bound is halved until they meet: the sagitta goes with the
// square of the width, so few halvings do.
#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include "clearance/paths.hpp"

namespace standproud {

namespace {

constexpr double wanted_gap = 5e-8;
constexpr double huge = std::numeric_limits<double>::infinity();

struct Strip {
    Vec2 from, to;
    Vec2 centre;        // of the arc
    double radius = 0;  // 0: straight
    double start = 0, turn = 0;
    double lower = 0;  // bound of the distance

    [[nodiscard]] double sagitta() const { return radius * (1 - std::cos(turn / 2)); }
};

struct LowestFirst {
    bool operator()(const Strip& a, const Strip& b) const { return a.lower > b.lower; }
};

Strip arc(Vec2 centre, double radius, double start, double turn) {
    const auto at = [&](double angle) { return centre + radius * Vec2{std::cos(angle), std::sin(angle)}; };
    return {at(start), at(start + turn), centre, radius, start, turn, 0};
}

std::vector<Strip> strips_of(const Outline& hole) {
    std::vector<Strip> strips;
    const std::size_t n = hole.core.size();
    const auto add_arc = [&](Vec2 centre, double start, double turn) {
        const int pieces = std::max(1, static_cast<int>(std::ceil(turn / (pi / 4))));
        for (int i = 0; i < pieces; ++i) {
            strips.push_back(arc(centre, hole.disc, start + turn * i / pieces, turn / pieces));
        }
    };
    if (n == 1) add_arc(hole.core[0], 0, 2 * pi);
    for (std::size_t i = 0; n > 1 && i < n; ++i) {
        const Vec2 before = hole.core[i] - hole.core[(i + n - 1) % n];
        const Vec2 along = hole.core[(i + 1) % n] - hole.core[i];
        const Vec2 out = (hole.disc / norm(along)) * Vec2{along.y, -along.x};
        if (hole.disc > 0) {
            const double start = std::atan2(-before.x, before.y);
            double turn = std::atan2(-along.x, along.y) - start;
            if (turn < 0) turn += 2 * pi;
            add_arc(hole.core[i], start, turn);
        }
        strips.push_back({hole.core[i] + out, hole.core[(i + 1) % n] + out, {}, 0, 0, 0, 0});
    }
    return strips;
}

Nearest to_wall(const Convex& plate, std::vector<Vec2> core, const Convex& other) {
    return nearest_grown({plate.place, {std::move(core), 0}, plate.length, plate.taper, 0}, other);
}

}  // namespace

WallHit hole_wall(const Convex& plate, const Outline& hole, const Convex& other) {
    std::priority_queue<Strip, std::vector<Strip>, LowestFirst> open;
    WallHit best;
    best.distance = huge;
    const auto take = [&](const Nearest& near, double slack) {
        const double distance = near.distance + slack;
        if (distance >= best.distance) return;
        best.distance = distance;
        best.on_wall = near.on_a;
        best.on_other = near.on_b;
    };
    const auto look = [&](Strip strip) {
        const Nearest near = to_wall(plate, {strip.from, strip.to}, other);
        const double slack = strip.radius > 0 ? strip.sagitta() : 0;
        strip.lower = near.distance - near.gap - slack;
        if (strip.lower >= best.distance) return;
        take(near, slack);
        open.push(strip);
    };
    for (const auto& strip : strips_of(hole)) look(strip);
    double lower = best.distance;
    while (!open.empty() && best.distance > wanted_gap) {
        const Strip strip = open.top();
        open.pop();
        lower = strip.lower;
        if (best.distance - lower <= wanted_gap || strip.radius == 0 || strip.sagitta() < wanted_gap / 4) break;
        const double half = strip.turn / 2;
        const Strip second = arc(strip.centre, strip.radius, strip.start + half, half);
        take(to_wall(plate, {second.from}, other), 0);
        look(arc(strip.centre, strip.radius, strip.start, half));
        look(second);
    }
    best.gap = std::max(0.0, best.distance - lower);
    best.hit = best.distance <= wanted_gap;
    return best;
}

namespace {

/// How far what of `other` lies between the plate's faces reaches along u: by duality, the least over s of the reach
/// along u + s z, less what the faces hold back. Convex in s, so a ternary search finds it.
double reach_between_faces(const Convex& plate, const Convex& other, RoomPoint u) {
    const RoomPoint z = plate.place.z;
    const auto bound = [&](double s) {
        const RoomPoint d = u + s * z;
        const RoomPoint p = support(other, d);
        const double ball = other.ball * norm(d);
        const double along_u = dot(p - plate.place.origin, u);
        const double along_z = dot(p - plate.place.origin, z);
        return along_u + s * along_z + ball + (s < 0 ? -s * plate.length : 0);
    };
    double low = -1e3;
    double high = 1e3;
    // Steep bodies have their best s near 0: shrink by thirds, which reaches 1e-6 from 1e3 in 52 steps.
    for (int i = 0; i < 56; ++i) {
        const double a = low + (high - low) / 3;
        const double b = high - (high - low) / 3;
        if (bound(a) <= bound(b)) {
            high = b;
        } else {
            low = a;
        }
    }
    return bound((low + high) / 2);
}

}  // namespace

std::optional<RoomPoint> move_into_hole(const Convex& plate, const Outline& hole, const Convex& other) {
    // Seen square to the plate, as a polygon round it of many sides.
    constexpr int sides = 96;
    std::vector<double> reaches;
    std::vector<Vec2> normals;
    for (int i = 0; i < sides; ++i) {
        const double angle = 2 * pi * i / sides;
        const Vec2 n{std::cos(angle), std::sin(angle)};
        normals.push_back(n);
        reaches.push_back(reach_between_faces(plate, other, n.x * plate.place.x + n.y * plate.place.y));
    }
    Outline seen;
    for (int i = 0; i < sides; ++i) {
        const int j = (i + 1) % sides;
        const double turn = cross(normals[i], normals[j]);
        const Vec2 corner{(reaches[i] * normals[j].y - reaches[j] * normals[i].y) / turn,
                          (reaches[j] * normals[i].x - reaches[i] * normals[j].x) / turn};
        seen.core.push_back(corner);
    }
    const auto move = move_into(hole, seen);
    if (!move) return std::nullopt;
    return move->x * plate.place.x + move->y * plate.place.y;
}

}  // namespace standproud
