// Prisms along one direction: what happens in the plane and what happens along it are apart from each other.
#include <algorithm>
#include <cmath>
#include <limits>

#include "clearance/paths.hpp"

namespace standproud {

namespace {

/// Directions this near are one: over 6 m the error is below 1e-9 mm.
constexpr double one_direction = 1.5e-13;

bool along_one(const Convex& a, const Convex& b) {
    const RoomPoint c = cross(a.place.z, b.place.z);
    return dot(c, c) < one_direction * one_direction;
}

bool is_prism(const Body& body) {
    const Convex& c = body.pieces[0];
    return c.ball == 0 && c.taper.x == 0 && c.taper.y == 0;
}

}  // namespace

std::optional<std::pair<Prism, Prism>> parallel_views(const Body& a, const Body& b) {
    if (!is_prism(a) || !is_prism(b)) return std::nullopt;
    const Convex& own_a = a.pieces[0];
    const Convex& own_b = b.pieces[0];
    if (along_one(own_a, own_b)) return std::pair{Prism{&a, nullptr}, Prism{&b, nullptr}};
    for (const auto& turned : b.turned) {
        if (along_one(own_a, turned)) return std::pair{Prism{&a, nullptr}, Prism{&b, &turned}};
    }
    for (const auto& turned : a.turned) {
        if (along_one(turned, own_b)) return std::pair{Prism{&a, &turned}, Prism{&b, nullptr}};
        for (const auto& other : b.turned) {
            if (along_one(turned, other)) return std::pair{Prism{&a, &turned}, Prism{&b, &other}};
        }
    }
    return std::nullopt;
}

namespace {

std::vector<Outline> outlines_of(const Prism& p) {
    if (p.turned) return {p.turned->outline};
    std::vector<Outline> outlines;
    outlines.reserve(p.body->pieces.size());
    for (const auto& piece : p.body->pieces) outlines.push_back(piece.outline);
    return outlines;
}

/// From b's plane to a's.
struct Mapping {
    Vec2 origin, x, y;
    bool mirrored = false;

    void apply(std::vector<Outline>& outlines) const {
        for (auto& outline : outlines) {
            for (auto& p : outline.core) p = origin + p.x * x + p.y * y;
            if (mirrored) std::reverse(outline.core.begin(), outline.core.end());
        }
    }
};

}  // namespace

Plan plan_of(const Prism& a, const Prism& b) {
    Plan plan;
    const Frame& f = a.place();
    const Frame& g = b.place();
    const RoomPoint offset = g.origin - f.origin;
    const auto flat = [&](RoomPoint d) { return Vec2{dot(d, f.x), dot(d, f.y)}; };
    const bool same_way = dot(f.z, g.z) > 0;
    const Mapping mapping{flat(offset), flat(g.x), flat(g.y), !same_way};
    plan.a = outlines_of(a);
    plan.b = outlines_of(b);
    mapping.apply(plan.b);
    plan.holes_a = a.body->holes;
    plan.holes_b = b.body->holes;
    mapping.apply(plan.holes_b);
    plan.a_high = a.length();
    const double start = dot(offset, f.z);
    plan.b_low = same_way ? start : start - b.length();
    plan.b_high = plan.b_low + b.length();
    return plan;
}

namespace {

/// How the two stand in the plane.
struct Standing {
    FlatSeparation nearest;  ///< of the outlines, or in a hole
    bool apart = false;      ///< nothing of one's material lies over the other's
    bool least = true;
};

/// All corners of one side as one outline: for what asks only about its hull.
Outline all_corners(const std::vector<Outline>& pieces) {
    Outline all;
    for (const auto& piece : pieces) {
        all.core.insert(all.core.end(), piece.core.begin(), piece.core.end());
        all.disc = std::max(all.disc, piece.disc);
    }
    return all;
}

FlatSeparation flipped(const FlatSeparation& s) { return {s.distance, -1.0 * s.direction, s.on_b, s.on_a}; }

FlatSeparation nearest_pieces(const Plan& plan) {
    FlatSeparation nearest;
    nearest.distance = std::numeric_limits<double>::infinity();
    for (const auto& p : plan.a) {
        for (const auto& q : plan.b) {
            const FlatSeparation s = flat_separation(p, q);
            if (s.distance < nearest.distance) nearest = s;
        }
    }
    return nearest;
}

Standing standing(const Plan& plan) {
    Standing found{nearest_pieces(plan), false, true};
    found.apart = found.nearest.distance > 0;
    if (found.apart) return found;
    // A convex thing meets no material exactly if it lies wholly in one hole.
    const auto look = [&](const std::vector<Outline>& holes, const std::vector<Outline>& inner, bool in_b) {
        if (holes.empty() || found.apart) return;
        const Outline all = all_corners(inner);
        for (const auto& hole : holes) {
            const FlatSeparation room = room_inside(hole, all);
            if (room.distance < 0) continue;
            found.nearest = in_b ? flipped(room) : room;
            found.apart = true;
            return;
        }
    };
    look(plan.holes_a, plan.b, false);
    look(plan.holes_b, plan.a, true);
    return found;
}

/// A push along n that frees the outlines whatever their shape.
FlatSeparation push_clear(const Plan& plan) {
    FlatSeparation best;
    best.distance = -std::numeric_limits<double>::infinity();
    const Outline all_a = all_corners(plan.a);
    const Outline all_b = all_corners(plan.b);
    const auto try_normals = [&](const Outline& o, double sign) {
        for (std::size_t i = 0; i < o.core.size(); ++i) {
            const Vec2 along = o.core[(i + 1) % o.core.size()] - o.core[i];
            if (norm(along) < same_length) continue;
            const Vec2 n = (sign / norm(along)) * Vec2{along.y, -along.x};
            const double apart = -flat_reach(all_a, n) - flat_reach(all_b, -1.0 * n);
            if (apart > best.distance) best = {apart, n, {}, {}};
        }
    };
    for (const auto& piece : plan.a) try_normals(piece, 1);
    for (const auto& piece : plan.b) try_normals(piece, -1);
    return best;
}

Outline pushed(Outline outline, Vec2 by) {
    for (Vec2& p : outline.core) p = p + by;
    return outline;
}

/// How far b must go along n to be free of a: past each piece that it meets on the way, one after another.
double push_past(const Plan& plan, Vec2 n) {
    double push = 0;
    for (std::size_t round = 0; round <= plan.a.size() * plan.b.size(); ++round) {
        double more = push;
        for (const auto& q : plan.b) {
            const Outline there = pushed(q, push * n);
            for (const auto& p : plan.a) {
                if (flat_separation(p, there).distance < -same_length)
                    more = std::max(more, flat_reach(p, n) + flat_reach(q, -1.0 * n));
            }
        }
        if (more == push) break;
        push = more;
    }
    return push;
}

/// A shorter push, out of one of the pieces that overlap and past those that then are in the way.
void try_pieces(const Plan& plan, FlatSeparation& best) {
    for (const auto& p : plan.a) {
        for (const auto& q : plan.b) {
            const FlatSeparation pair = flat_separation(p, q);
            if (pair.distance >= -same_length) continue;
            const double push = push_past(plan, pair.direction);
            if (-push > best.distance) best = {-push, pair.direction, {}, {}};
        }
    }
}

/// The least push in the plane, for outlines that overlap: out past the edge, or into a hole. Of several pieces that
/// only touch, none.
void find_push(const Plan& plan, Standing& found) {
    const bool several = plan.a.size() > 1 || plan.b.size() > 1;
    if (several && found.nearest.distance < -same_length) {
        found.nearest = push_clear(plan);
        try_pieces(plan, found.nearest);
        found.least = false;
    }
    const auto look = [&](const std::vector<Outline>& holes, const std::vector<Outline>& inner, double sign) {
        if (holes.empty()) return;
        const Outline all = all_corners(inner);
        for (const auto& hole : holes) {
            const auto move = move_into(hole, all);
            if (!move) continue;
            const double depth = norm(*move);
            if (-depth <= found.nearest.distance) continue;
            const Vec2 direction = depth > 0 ? (sign / depth) * *move : Vec2{1, 0};
            found.nearest = {-depth, direction, {}, {}};
        }
    };
    look(plan.holes_a, plan.b, 1);
    look(plan.holes_b, plan.a, -1);
}

const Outline* hole_at(const Plan& plan, Vec2 p) {
    for (const auto* holes : {&plan.holes_a, &plan.holes_b}) {
        for (const auto& hole : *holes) {
            if (edge_from(hole, p).distance < 0) return &hole;
        }
    }
    return nullptr;
}

Vec2 middle_of(const Polygon& shape) {
    Vec2 sum;
    for (const Vec2 p : shape.points) sum = sum + p;
    return (1.0 / static_cast<double>(shape.points.size())) * sum;
}

/// Where the way from `inside` a convex hole to `outside` it leaves the hole, as a share of the way.
double leaves_at(const Outline& hole, Vec2 inside, Vec2 outside) {
    double in = 0;
    double out = 1;
    for (int i = 0; i < 24; ++i) {
        const double middle = (in + out) / 2;
        (edge_from(hole, inside + middle * (outside - inside)).distance < 0 ? in : out) = middle;
    }
    return out;
}

/// A point of the convex shape in no hole, half-way from a hole's edge to the shape's own where its middle is in one.
std::optional<Vec2> point_in_material(const Plan& plan, const Polygon& shape) {
    const Vec2 middle = middle_of(shape);
    const Outline* hole = hole_at(plan, middle);
    if (!hole) return middle;
    // First towards the corner that stands out furthest.
    std::vector<std::pair<double, std::size_t>> corners;
    for (std::size_t i = 0; i < shape.points.size(); ++i) {
        const double out = edge_from(*hole, shape.points[i]).distance;
        if (out > 0) corners.emplace_back(-out, i);
    }
    std::sort(corners.begin(), corners.end());
    for (const auto& [out, i] : corners) {
        const Vec2 way = shape.points[i] - middle;
        const double share = (leaves_at(*hole, middle, shape.points[i]) + 1) / 2;
        if (!hole_at(plan, middle + share * way)) return middle + share * way;
        if (!hole_at(plan, shape.points[i])) return shape.points[i];
    }
    return std::nullopt;
}

/// Half-way from the edge of the hole round the middle of `own` to its own edge, along a few directions.
std::optional<Vec2> point_round_hole(const Plan& plan, const Outline& hole, const Outline& own, Vec2 middle,
                                     const Outline& other) {
    const Vec2 axes[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    for (std::size_t i = 0; i < std::max<std::size_t>(4, own.core.size()); ++i) {
        const Vec2 corner = own.core[i % own.core.size()];
        const Vec2 out = own.core.size() < 3 ? corner + own.disc * axes[i % 4] : corner;
        if (edge_from(hole, out).distance <= same_length) continue;
        const Vec2 at = middle + (leaves_at(hole, middle, out) + 1) / 2 * (out - middle);
        if (edge_from(other, at).distance < 0 && !hole_at(plan, at)) return at;
    }
    return std::nullopt;
}

/// The first of some likely points that lies in both outlines and in no hole.
std::optional<Vec2> likely_point(const Plan& plan, const Outline& p, const Outline& q) {
    for (const auto& [own, other] : {std::pair{&q, &p}, std::pair{&p, &q}}) {
        const Vec2 at = 0.5 * (own->core[0] + own->core[own->core.size() / 2]);
        if (edge_from(*own, at).distance >= 0) continue;
        const Outline* hole = hole_at(plan, at);
        if (!hole && edge_from(*other, at).distance < 0) return at;
        if (!hole) continue;
        if (const auto round = point_round_hole(plan, *hole, *own, at, *other)) return round;
    }
    return std::nullopt;
}

/// A point over which both have material.
std::optional<Vec2> common_point(const Plan& plan) {
    for (const auto& p : plan.a) {
        for (const auto& q : plan.b) {
            if (const auto point = likely_point(plan, p, q)) return point;
            Polygon shape = inscribed(p, 16);
            const Polygon other = inscribed(q, 16);
            for (std::size_t i = 0; i < other.points.size() && !shape.points.empty(); ++i) {
                const Vec2 from = other.points[i];
                const Vec2 along = other.points[(i + 1) % other.points.size()] - from;
                const Vec2 inwards{-along.y, along.x};
                shape = clipped(shape, inwards, dot(inwards, from));
            }
            if (shape.points.empty()) continue;
            if (const auto point = point_in_material(plan, shape)) return point;
        }
    }
    return std::nullopt;
}

struct Along {
    double distance = 0;  ///< signed, as everywhere
    double sign = 1;      ///< direction of b from a along z
    double middle = 0;    ///< of what both cover, or half-way between them
};

Along along_z(const Plan& plan) {
    const double above = plan.b_low - plan.a_high;
    const double below = -plan.b_high;
    const double middle = (std::max(0.0, plan.b_low) + std::min(plan.a_high, plan.b_high)) / 2;
    return above >= below ? Along{above, 1, middle} : Along{below, -1, middle};
}

}  // namespace

Separation parallel_separation(const Prism& a, const Prism& b) {
    const Plan plan = plan_of(a, b);
    const Frame& f = a.place();
    const Along along = along_z(plan);
    Standing found = standing(plan);
    Separation s;
    s.error = same_length;
    const double face = along.sign > 0 ? plan.a_high : 0;  // of a, towards b
    const auto common = found.apart ? std::nullopt : common_point(plan);
    const FlatSeparation outlines = found.nearest;
    const Vec2 spot = common ? *common : 0.5 * (outlines.on_a + outlines.on_b);
    // Where holes of both overlap each other, and no spot of material was found, there may be none.
    s.decided = found.apart || common || plan.holes_a.empty() || plan.holes_b.empty();

    if (found.apart || along.distance > 0) {
        const double in_plane = found.apart ? std::max(0.0, found.nearest.distance) : 0;
        const double out = std::max(0.0, along.distance);
        s.distance = std::hypot(in_plane, out);
        Vec2 direction = found.nearest.direction;
        double up = 0;
        if (s.distance > 0) {
            direction = (in_plane / s.distance) * direction;
            up = out / s.distance * along.sign;
        }
        s.direction = direction.x * f.x + direction.y * f.y + up * f.z;
        const Vec2 at = found.apart ? found.nearest.on_a : spot;
        s.on_a = f.to_room(at.x, at.y, along.distance > 0 ? face : along.middle);
        s.on_b = s.on_a + s.distance * s.direction;
        s.common = 0.5 * (s.on_a + s.on_b);
        return s;
    }
    find_push(plan, found);
    s.least = found.least;
    s.common = f.to_room(spot.x, spot.y, along.middle);
    if (along.distance >= found.nearest.distance) {
        s.distance = along.distance;
        s.direction = along.sign * f.z;
        s.on_a = f.to_room(spot.x, spot.y, face);
    } else {
        s.distance = found.nearest.distance;
        s.direction = found.nearest.direction.x * f.x + found.nearest.direction.y * f.y;
        const bool past_edge = s.distance == outlines.distance;
        const Vec2 at = past_edge ? outlines.on_a : spot - (s.distance / 2) * found.nearest.direction;
        s.on_a = f.to_room(at.x, at.y, along.middle);
    }
    s.on_b = s.on_a + s.distance * s.direction;
    return s;
}

std::optional<double> common_volume(const Body& a, const Body& b) {
    if (a.pieces.empty() || b.pieces.empty()) return 0;
    if (a.odd_holes || b.odd_holes) return std::nullopt;
    const auto views = parallel_views(a, b);
    if (!views) return std::nullopt;
    const Plan plan = plan_of(views->first, views->second);
    const double depth = std::min(plan.a_high, plan.b_high) - std::max(0.0, plan.b_low);
    if (depth <= 0) return 0;
    // Holes lie inside their outlines and apart: (P - H)(Q - G) = PQ - PG - HQ + HG.
    const auto sum = [](const std::vector<Outline>& p, const std::vector<Outline>& q) {
        double total = 0;
        for (const auto& one : p) {
            for (const auto& other : q) total += common_area(one, other);
        }
        return total;
    };
    const double net =
        sum(plan.a, plan.b) - sum(plan.a, plan.holes_b) - sum(plan.holes_a, plan.b) + sum(plan.holes_a, plan.holes_b);
    return std::max(0.0, net) * depth;
}

}  // namespace standproud
