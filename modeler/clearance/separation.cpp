// Which way a pair goes, and what holes and several pieces make of it.
#include <algorithm>
#include <cmath>
#include <limits>

#include "clearance/paths.hpp"

namespace standproud {

namespace {

constexpr double huge = std::numeric_limits<double>::infinity();

/// Where p, seen along the plate's z, lies in a hole by more than rounding; holes.size() if in none.
std::size_t hole_at(const Body& body, RoomPoint p) {
    if (body.holes.empty()) return 0;
    const auto local = body.pieces[0].place.from_room(p);
    for (std::size_t i = 0; i < body.holes.size(); ++i) {
        if (edge_from(body.holes[i], {local[0], local[1]}).distance < -same_length) return i;
    }
    return body.holes.size();
}

Separation flipped(Separation s) {
    std::swap(s.a, s.b);
    std::swap(s.on_a, s.on_b);
    s.direction = -1.0 * s.direction;
    return s;
}

/// The two pieces as they stand with one hole of a's looked at: `plain` found its point of a inside that hole.
/// A plate less its holes is nearest at the wall of the one hole in which the whole plate is nearest: distance to a
/// convex body is convex over the plate, so from any point of the plate it falls towards that place, and the way there
/// crosses the wall.
Separation through_hole(const Convex& a, const Outline& hole, const Convex& b, const Separation& plain) {
    const WallHit wall = hole_wall(a, hole, b);
    Separation s = plain;
    s.error = wall.gap + same_length;
    if (wall.hit) {
        if (plain.distance < 0) s.common = wall.on_wall;
        if (plain.distance < 0) s.error = plain.error;
        return s;
    }
    s.distance = wall.distance;
    s.on_a = wall.on_wall;
    s.direction = unit(wall.on_other - wall.on_wall);
    s.on_b = s.on_a + s.distance * s.direction;
    s.common = 0.5 * (s.on_a + s.on_b);
    s.least = true;
    return s;
}

/// One piece of each, with the holes of both.
Separation piece_separation(const Body& a, const Convex& p, const Body& b, const Convex& q) {
    const Separation plain = convex_separation(p, q);
    const bool over = plain.distance < 0;
    const std::size_t hole_a = hole_at(a, over ? plain.common : plain.on_a);
    if (hole_a < a.holes.size()) {
        Separation s = through_hole(p, a.holes[hole_a], q, plain);
        const bool also_b = hole_at(b, s.distance < 0 ? s.common : s.on_b) < b.holes.size();
        s.decided = !also_b;
        // In another hole of the same plate there is nothing to be nearest to: then the whole plate's nearest points
        // reach over more than one hole, and so over the material between them.
        const std::size_t other = hole_at(a, s.on_a);
        return s.distance > plain.distance && other < a.holes.size() && other != hole_a ? plain : s;
    }
    const std::size_t hole_b = hole_at(b, over ? plain.common : plain.on_b);
    if (hole_b < b.holes.size()) {
        Separation s = flipped(through_hole(q, b.holes[hole_b], p, flipped(plain)));
        s.decided = hole_at(a, s.distance < 0 ? s.common : s.on_a) >= a.holes.size();
        return s;
    }
    return plain;
}

double gap_between(const Box& a, const Box& b) {
    const double x = std::max({0.0, a.low.x - b.high.x, b.low.x - a.high.x});
    const double y = std::max({0.0, a.low.y - b.high.y, b.low.y - a.high.y});
    const double z = std::max({0.0, a.low.z - b.high.z, b.low.z - a.high.z});
    return std::sqrt(x * x + y * y + z * z);
}

const Box& box_of(const Body& body, std::size_t piece) { return body.boxes.empty() ? body.box : body.boxes[piece]; }

/// Least over all pieces; for those that overlap, the deepest.
Separation over_pieces(const Body& a, const Body& b) {
    Separation best;
    best.distance = huge;
    bool decided = true;
    for (std::size_t i = 0; i < a.pieces.size(); ++i) {
        for (std::size_t j = 0; j < b.pieces.size(); ++j) {
            if (best.distance < huge && gap_between(box_of(a, i), box_of(b, j)) > std::max(best.distance, 0.0))
                continue;
            const Separation s = piece_separation(a, a.pieces[i], b, b.pieces[j]);
            decided = decided && s.decided;
            if (s.distance < best.distance) best = s;
        }
    }
    best.decided = decided;
    best.error += a.error + b.error;
    return best;
}

/// A push of b along n that frees it from a: past each piece that it meets on the way, one after another.
double push_along(const Body& a, const Body& b, RoomPoint n) {
    double push = 0;
    for (std::size_t round = 0; round <= a.pieces.size() * b.pieces.size(); ++round) {
        const Body there = moved(b, push * n);
        double more = push;
        for (const auto& p : a.pieces) {
            for (const auto& q : there.pieces) {
                const double past = reach(p, n) + reach(q, -1.0 * n);
                if (past <= touch_length / 10 || convex_separation(p, q).distance >= -touch_length / 10) continue;
                more = std::max(more, push + past);
            }
        }
        if (more == push) break;
        push = more;
    }
    return push;
}

/// The least push found among the ways out of each piece; holes are not looked at.
Separation with_push(const Body& a, const Body& b, Separation s) {
    double least = huge;
    RoomPoint direction;
    const auto consider = [&](RoomPoint n) {
        const double push = push_along(a, b, n);
        if (push >= least) return;
        least = push;
        direction = n;
    };
    for (const auto& p : a.pieces) {
        for (const auto& q : b.pieces) {
            const Separation pair = convex_separation(p, q);
            if (pair.distance < -touch_length) consider(pair.direction);
        }
    }
    if (least == huge) return s;
    s.distance = -least;
    s.direction = direction;
    s.on_a = s.common + (least / 2) * direction;
    s.on_b = s.on_a + s.distance * s.direction;
    s.least = false;
    return s;
}

/// Takes the push along `direction` for s where it is shorter than that of s and frees b: the least of them, looked for
/// up to `enough`.
void try_push(const Body& a, const Body& b, RoomPoint direction, double enough, Separation& s) {
    if (enough >= -s.distance) return;
    const auto frees = [&](double push) {
        const Separation after = over_pieces(a, moved(b, push * direction));
        return after.distance >= -after.error;
    };
    if (!frees(enough)) return;
    double push = enough;
    for (double low = 0; push - low > touch_length / 4;) {
        const double middle = (low + push) / 2;
        (frees(middle) ? push : low) = middle;
    }
    s.distance = -push;
    s.direction = direction;
    s.on_a = s.common + (push / 2) * direction;
    s.on_b = s.on_a + s.distance * s.direction;
    s.least = false;
}

/// Whether b, pushed by less than that of s, can come to a hole of a at all.
bool in_reach(const Body& a, const Outline& hole, const Body& b, const Separation& s) {
    const Convex& plate = a.pieces[0];
    const Convex space{plate.place, hole, plate.length, plate.taper, 0};
    return std::any_of(b.pieces.begin(), b.pieces.end(),
                       [&](const Convex& q) { return convex_separation(space, q).distance < -s.distance; });
}

/// A shorter push than that of `s` sideways into a hole of a, where there is one and it is seen to free b.
void try_holes(const Body& a, const Body& b, Separation& s) {
    const bool can_try = a.pieces.size() == 1 && b.pieces.size() == 1 && b.holes.empty();
    for (const auto& hole : a.holes) {
        if (!in_reach(a, hole, b, s)) continue;
        s.least = false;
        if (!can_try) continue;
        // The view of b is a polygon round it, so that this move is enough, and a little less may do.
        const auto move = move_into_hole(a.pieces[0], hole, b.pieces[0]);
        if (!move) continue;
        const double enough = norm(*move) + touch_length;  // to be clear of rounding at the wall
        // Where b only grazes the wall, straight away from it is shorter than the polygon's corners make believe.
        const Frame& f = a.pieces[0].place;
        const auto local = f.from_room(s.common);
        const Vec2 inwards = -1.0 * edge_from(hole, {local[0], local[1]}).outward;
        try_push(a, b, unit(*move), enough, s);
        try_push(a, b, inwards.x * f.x + inwards.y * f.y, 1.5 * enough, s);
    }
}

}  // namespace

Separation separation_general(const Body& a, const Body& b) {
    Separation s = over_pieces(a, b);
    if (s.distance < -touch_length) {
        if (a.pieces.size() > 1 || b.pieces.size() > 1) s = with_push(a, b, s);
        try_holes(a, b, s);
        Separation back = flipped(s);
        try_holes(b, a, back);
        s = flipped(back);
    }
    if (a.odd_holes || b.odd_holes) s.decided = false;
    s.a = a.part;
    s.b = b.part;
    return s;
}

Separation separation(const Body& a, const Body& b) {
    const auto views = a.odd_holes || b.odd_holes ? std::nullopt : parallel_views(a, b);
    if (!views) return separation_general(a, b);
    Separation s = parallel_separation(views->first, views->second);
    s.a = a.part;
    s.b = b.part;
    return s;
}

bool overlaps(const Separation& s) { return s.distance < -touch_length - s.error; }
bool touches(const Separation& s) { return !overlaps(s) && s.distance <= touch_length + s.error; }

}  // namespace standproud
