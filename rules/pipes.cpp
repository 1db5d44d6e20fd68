// pipe.wall: a pipe or cable that leaves its wall, to the front or to the back, and is not meant to be seen.
//
// It is within a wall where the whole of its thickness keeps behind the bare face and before the back. Walked along its
// middle line, bends and all, it must be within its own wall, which is taken to go on past an inside corner or a free
// end, or within one that it comes into behind an inside corner. At an outside corner there is only what lies behind
// both faces. What counts for nothing: what runs below the floor or under the tray, and, to the front, its own way out
// through the hole of a fitting that it connects.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "judge.hpp"
#include "modeler/clearance.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

constexpr double nowhere = std::numeric_limits<double>::infinity();
constexpr double chord = 0.001;  ///< mm: straight pieces stand for a bend within this
constexpr double step = 5;       ///< mm between two looks: a bare face rises and falls over hundreds

/// A spot of a middle line, and the way it runs there.
struct Spot {
    RoomPoint at;
    RoomPoint along;
};

/// Half of the pipe's thickness, seen along a direction square to no or all of it.
double half_along(const Spot& spot, RoomPoint direction, double diameter) {
    const double run = dot(spot.along, direction);
    return diameter / 2 * std::sqrt(std::max(0.0, 1 - run * run));
}

/// One pipe in the room, held against the walls.
struct Run {
    const Model& model;
    const PipeRun& pipe;
    std::size_t wall = 0;
    std::vector<Convex> pieces;          ///< straight, one after the other
    std::set<std::size_t> depth_wanted;  ///< walls that hold some of it, and whose depth is not given
    bool floor_wanted = false;           ///< some of it is below the datum in front of its wall: under the floor or not
};

/// Depths count from the bare face at each of its points, as surveyed.
Run run_of(const Model& model, const PipeRun& pipe) {
    const std::size_t w = wall_index(model.job, pipe.wall);
    Pipe laid;
    laid.diameter = pipe.diameter;
    laid.bend_radius = pipe.bend_radius;
    for (const auto& p : pipe.points) {
        const double u = bare_corner(model.job, model.room, w, Side::left, p.v) + p.u;
        laid.points.push_back(model.room.walls[w].to_room(u, p.v, model.room.faces[w].bare.at(u, p.v).n + p.n));
    }
    return {model, pipe, w, make_body(laid, 0, chord).pieces, {}};
}

/// u, v and depth from the bare face there, in a wall's frame.
WallPoint on_wall(const Model& model, std::size_t w, RoomPoint at) {
    const auto seen = model.room.walls[w].from_room(at);
    return {seen[0], seen[1], seen[2] - model.room.faces[w].bare.at(seen[0], seen[1]).n};
}

/// How far its front is before a wall's bare face.
double before_face(const Run& run, std::size_t w, const Spot& spot) {
    return on_wall(run.model, w, spot.at).n + half_along(spot, run.model.room.walls[w].z, run.pipe.diameter);
}

/// The same, where the wall ends at an outside corner too.
double front_of(const Run& run, std::size_t w, const Spot& spot) {
    double front = before_face(run, w, spot);
    for (const Side side : {Side::left, Side::right}) {
        const Corner* corner = corner_at(run.model.room, w, side);
        if (corner && corner->angle > 180) front = std::max(front, before_face(run, neighbour(*corner, w), spot));
    }
    return front;
}

/// How far its back is behind that of a wall.
double back_of(const Run& run, std::size_t w, const Spot& spot) {
    const auto depth = wall_depth(run.model.job.walls[w]);
    const double thickness = 2 * half_along(spot, run.model.room.walls[w].z, run.pipe.diameter);
    return depth ? thickness - before_face(run, w, spot) - *depth : -nowhere;
}

/// How far it is out of a wall that is not its own.
double outside_of(const Run& run, std::size_t w, const Spot& spot) {
    const Model& model = run.model;
    const WallPoint at = on_wall(model, w, spot.at);
    for (const Side side : {Side::left, Side::right}) {
        const double end = bare_corner(model.job, model.room, w, side, at.v);
        if (side == Side::left ? at.u >= end : at.u <= end) continue;
        const Corner* corner = corner_at(model.room, w, side);
        if (!corner || corner->angle > 180 || back_of(run, neighbour(*corner, w), spot) > 0) return nowhere;
    }
    return std::max(front_of(run, w, spot), back_of(run, w, spot));
}

double outside_others(Run& run, const Spot& spot) {
    double least = nowhere;
    for (std::size_t w = 0; w < run.model.job.walls.size(); ++w) {
        if (w == run.wall) continue;
        const double outside = outside_of(run, w, spot);
        least = std::min(least, outside);
        if (outside <= 0 && !wall_depth(run.model.job.walls[w])) run.depth_wanted.insert(w);
    }
    return least;
}

/// Below the floor, or under the tray's rim: neither in front of a wall nor behind it.
bool under_the_floor(const Run& run, const Spot& spot) {
    const double top = spot.at.z + half_along(spot, {0, 0, 1}, run.pipe.diameter);
    const WallPoint own = on_wall(run.model, run.wall, spot.at);
    const auto floor = floor_at(run.model.room, run.wall, own.u);
    if (floor && top <= *floor + same_length) return true;
    const auto& tray = run.model.job.tray;
    if (!tray || top > tray->rim + same_length) return false;
    const WallPoint at = on_wall(run.model, wall_index(run.model.job, tray->wall), spot.at);
    return at.u >= tray->left && at.u <= tray->left + tray->width && at.n >= 0 && at.n <= tray->depth;
}

/// Below height 0, where nobody read the floor's level: it may be under the floor.
bool below_the_datum(const Run& run, const Spot& spot) {
    const WallPoint own = on_wall(run.model, run.wall, spot.at);
    const double top = spot.at.z + half_along(spot, {0, 0, 1}, run.pipe.diameter);
    return !floor_at(run.model.room, run.wall, own.u) && top <= same_length;
}

/// Within a hole of a fitting that it connects. A fitting without holes has its own spot.
bool own_way_out(const Run& run, const Spot& spot) {
    return std::any_of(run.model.fittings.begin(), run.model.fittings.end(), [&](const PlacedFitting& placed) {
        const auto& connects = run.pipe.connects;
        const std::string& id = fitting_of(run.model, placed).id;
        if (std::find(connects.begin(), connects.end(), id) == connects.end()) return false;
        const WallPoint at = on_wall(run.model, placed.wall, spot.at);
        const Vec2 from_fitting{at.u - placed.u, at.v - placed.v};
        const auto& holes = type_of(run.model, placed).holes;
        if (holes.empty()) return norm(from_fitting) <= run.pipe.diameter / 2;
        const RoundedRect section = RoundedRect::circle(from_fitting, run.pipe.diameter);
        return std::any_of(holes.begin(), holes.end(),
                           [&](const HoleNeed& hole) { return margin_inside(section, hole.opening) >= -same_length; });
    });
}

/// How far it stands out of the walls there, in front of its own; less than nothing: how far it is within.
double in_front(Run& run, const Spot& spot) {
    const double own = front_of(run, run.wall, spot);
    if (own + run.pipe.plus_minus <= same_length) return own;
    if (under_the_floor(run, spot) || own_way_out(run, spot)) return -nowhere;
    const double least = std::min(own, outside_others(run, spot));
    if (least + run.pipe.plus_minus <= same_length || !below_the_datum(run, spot)) return least;
    run.floor_wanted = true;
    return -nowhere;
}

/// The same behind it.
double behind(Run& run, const Spot& spot) {
    if (under_the_floor(run, spot)) return -nowhere;
    const bool in_wall = on_wall(run.model, run.wall, spot.at).n < 0;
    if (in_wall && !wall_depth(run.model.job.walls[run.wall])) run.depth_wanted.insert(run.wall);
    const double own = back_of(run, run.wall, spot);
    return own + run.pipe.plus_minus <= same_length ? own : std::min(own, outside_others(run, spot));
}

/// A part of a run that is further out than asked.
struct Stretch {
    RoomPoint from, to;
    double length = 0;
    double most = -nowhere;  ///< how far out
    RoomPoint at;            ///< and where
};

/// Where it is out by more than `allowed`: the ends to 1e-9 mm.
std::vector<Stretch> stretches(Run& run, bool front, double allowed) {
    std::vector<Stretch> found;
    const auto out = [&](const Spot& spot) { return front ? in_front(run, spot) : behind(run, spot); };
    bool open = false;
    for (const auto& piece : run.pieces) {
        const auto spot = [&](double s) { return Spot{piece.place.origin + s * piece.place.z, piece.place.z}; };
        const auto beyond = [&](double s) { return out(spot(s)) > allowed + same_length; };
        // The end of what is beyond, between a spot that is and one that is not.
        const auto end_of = [&](double in, double not_in) {
            while (std::abs(in - not_in) > same_length) {
                const double middle = (in + not_in) / 2;
                (beyond(middle) ? in : not_in) = middle;
            }
            return in;
        };
        const auto take = [&](double s) {
            const double by = out(spot(s));
            if (by <= found.back().most) return;
            found.back().most = by;
            found.back().at = spot(s).at;
        };
        const int looks = std::max(1, static_cast<int>(std::ceil(piece.length / step)));
        bool first_in = beyond(0);
        open = open && first_in;
        for (int i = 0; i < looks; ++i) {
            const double a = piece.length * i / looks;
            const double b = piece.length * (i + 1) / looks;
            const bool second_in = beyond(b);
            if (first_in || second_in) {
                const double from = first_in ? a : end_of(b, a);
                const double to = second_in ? b : end_of(a, b);
                if (!open) found.push_back({spot(from).at, {}, 0, -nowhere, {}});
                found.back().to = spot(to).at;
                found.back().length += to - from;
                take(from);
                take(to);
            }
            open = first_in = second_in;
        }
    }
    return found;
}

/// "from 200 / 1100 to 1200 / 1100 (mm right of the left bare corner / above the datum)".
std::string where_words(const Run& run, const std::vector<Stretch>& all) {
    const auto place = [&](RoomPoint at) {
        const WallPoint p = on_wall(run.model, run.wall, at);
        const double along = p.u - bare_corner(run.model.job, run.model.room, run.wall, Side::left, p.v);
        return fmt::format("{} / {}", mm(std::round(along * 10) / 10), mm(std::round(p.v * 10) / 10));
    };
    std::string words;
    for (const auto& stretch : all) {
        words += fmt::format("{}from {} to {}", words.empty() ? "" : " and ", place(stretch.from), place(stretch.to));
    }
    return words + " (mm right of the left bare corner / above the datum)";
}

/// Where its middle line would be within its wall.
std::string inside_words(const Run& run) {
    const double half = run.pipe.diameter / 2 + run.pipe.plus_minus;
    const auto depth = wall_depth(run.model.job.walls[run.wall]);
    if (!depth) {
        return fmt::format("Lead it within the wall, its middle line at least {} mm behind the bare face",
                           mm(tenth_up(half)));
    }
    if (2 * half > *depth + same_length) {
        return fmt::format("The wall is {} mm deep and has no room for it: lead it another way", mm(*depth));
    }
    return fmt::format("Lead it within the wall, its middle line {}", depth_range({half - *depth, -half}));
}

/// How far it comes out to the front, from what is seen.
std::string front_words(const Run& run, const Stretch& worst) {
    const WallPoint at = on_wall(run.model, run.wall, worst.at);
    const double lining = build_up(run.model.job, run.model.room, run.wall, at.u, at.v);
    if (lining <= 0) return fmt::format("up to {} mm in front of the bare face", mm(worst.most));
    if (worst.most <= lining) return fmt::format("up to {} mm into the lining", mm(worst.most));
    return fmt::format("up to {} mm in front of the finished face", mm(worst.most - lining));
}

Finding blank(const Run& run, bool front) {
    Finding finding;
    finding.rule = "pipe.wall";
    finding.subject = run.pipe.id;
    finding.wall = run.pipe.wall;
    finding.trade = run.pipe.kind == PipeRun::Kind::cable ? Trade::electrician : Trade::plumber;
    finding.quantity = front ? "in front of the bare face" : "behind the back of the wall";
    finding.source = "a pipe or cable keeps within its wall: common practice, no source";
    return finding;
}

std::optional<Finding> leaves(Run& run, bool front) {
    const double half = run.pipe.plus_minus;
    std::vector<Stretch> found = stretches(run, front, 0);
    const bool surely = !found.empty();
    if (!surely && half > 0) found = stretches(run, front, -half);
    if (found.empty()) return std::nullopt;
    const auto worst = std::max_element(found.begin(), found.end(),
                                        [](const Stretch& a, const Stretch& b) { return a.most < b.most; });
    double length = 0;
    for (const auto& stretch : found) length += stretch.length;
    Finding finding = blank(run, front);
    Sum sum;
    sum.add(fmt::format("{} {}", run.pipe.id, finding.quantity), worst->most, half, run.pipe.source);
    judge(finding, sum, {std::nullopt, 0}, run.model.job.statistical);
    finding.says =
        fmt::format("{} {} wall {} to the {}: {} mm of its length, {}", run.pipe.name, surely ? "leaves" : "may leave",
                    run.pipe.wall, front ? "front" : "back", mm(std::round(length * 10) / 10), where_words(run, found));
    if (surely) {
        finding.says +=
            ", " + (front ? front_words(run, *worst) : fmt::format("up to {} mm behind its back", mm(worst->most)));
    } else {
        finding.says += fmt::format(": within the wall by {} mm, +/- {} mm", mm(-worst->most), mm(half));
    }
    finding.action = inside_words(run) + "; if it is meant to be seen, write exposed = true.";
    const WallPoint at = on_wall(run.model, run.wall, worst->at);
    finding.spot = {at.u, at.v};
    return finding;
}

/// Nothing says how deep a wall is that it runs in.
Finding depth_unknown(const Run& run, std::size_t w) {
    const Wall& wall = run.model.job.walls[w];
    Finding finding = blank(run, false);
    finding.wall = wall.id;
    finding.quantity = "behind the back of wall " + wall.id;
    finding.missing = {fmt::format("studs or masonry of wall {} ({})", wall.id,
                                   to_string(Source{wall.source.file, wall.source.line, 0}))};
    finding.says = fmt::format("whether {} leaves wall {} to the back cannot be judged: missing {}", run.pipe.name,
                               wall.id, finding.missing.front());
    finding.action = fmt::format("Fill in how deep wall {} is: [walls.studs] or [walls.masonry].", wall.id);
    return finding;
}

/// Nothing says where the floor is.
Finding floor_unknown(const Run& run) {
    Finding finding = blank(run, true);
    finding.verdict = Verdict::unknown;
    finding.missing = {fmt::format("the floor's level at wall {}: [[survey.floors]]", run.pipe.wall)};
    finding.says = fmt::format(
        "some of {} is in front of wall {} and below the datum: whether under the floor cannot be "
        "judged: missing {}",
        run.pipe.name, run.pipe.wall, finding.missing.front());
    finding.action =
        fmt::format("Fill in: {}; if it is meant to be seen, write exposed = true.", finding.missing.front());
    return finding;
}

}  // namespace

std::optional<double> wall_depth(const Wall& wall) {
    if (wall.masonry) return wall.masonry->thickness;
    return wall.studs ? std::optional(wall.studs->set_back + wall.studs->depth) : std::nullopt;
}

std::vector<Finding> check_pipes(const Model& model) {
    std::vector<Finding> findings;
    for (const auto& pipe : model.job.pipes) {
        if (pipe.exposed) continue;
        Run run = run_of(model, pipe);
        for (const bool front : {true, false}) {
            if (auto finding = leaves(run, front)) findings.push_back(std::move(*finding));
        }
        for (const std::size_t w : run.depth_wanted) findings.push_back(depth_unknown(run, w));
        if (run.floor_wanted) findings.push_back(floor_unknown(run));
    }
    return findings;
}

}  // namespace standproud::rules
