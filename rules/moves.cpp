#include "moves.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "clash_rules.hpp"
#include "judge.hpp"
#include "modeler/openings.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

constexpr double step = 0.1;  ///< mm: as moves are said

/// How far apart two boxes are along the axis where they are furthest; below 0 when they overlap.
double apart(const Box& a, const Box& b) {
    return std::max({a.low.x - b.high.x, b.low.x - a.high.x, a.low.y - b.high.y, b.low.y - a.high.y, a.low.z - b.high.z,
                     b.low.z - a.high.z});
}

struct Room {
    double in = 0;
    double out = 0;
};

/// How far a pipe may go into its wall and out of it, mm: it stays between the bare face and the back of the frame,
/// wherever within its +/- it is.
Room depth_room(const Model& model, const std::string& id) {
    for (const auto& pipe : model.job.pipes) {
        if (pipe.id != id || pipe.points.empty()) continue;
        const Wall& wall = model.job.walls[wall_index(model.job, pipe.wall)];
        const auto depth = wall_depth(wall);
        if (!wall.studs || !depth) return {};
        const double half = pipe.diameter / 2 + pipe.plus_minus;
        const auto [deepest, nearest] =
            std::minmax_element(pipe.points.begin(), pipe.points.end(), [](auto& a, auto& b) { return a.n < b.n; });
        return {*depth + deepest->n - half, -nearest->n - half};
    }
    return {};
}

}  // namespace

Mover::Mover(const Model& model, const Limits& limits, const Distances& measured)
    : model_(model), limits_(limits), measured_(measured), largest_(largest_need(limits)) {}

/// What a pair lacks with one of it elsewhere, mm; 0 or less when it lacks nothing.
double Mover::lacking(std::size_t mine, const Body& there, std::size_t other) const {
    const Thing& a = measured_.things[mine];
    const Thing& b = measured_.things[other];
    if (a.owner == b.owner || there.pieces.empty() || measured_.bodies[other].pieces.empty()) return 0;
    if (apart(there.box, measured_.bodies[other].box) > largest_ + a.plus_minus + b.plus_minus) return 0;
    const auto rule = pair_rule(model_, limits_, a, b);
    if (!rule) return 0;
    const double asked = looked_for(a, b, *rule);
    if (apart(there.box, measured_.bodies[other].box) >= asked) return 0;
    const double lack = asked - separation(there, measured_.bodies[other]).distance;
    return lack > (rule->need > 0 ? same_length : touch_length) ? lack : 0;
}

/// Going on by what is lacking never goes too far: distances change by no more than the way gone; nor does rounding it
/// up to what is said.
std::optional<double> Mover::far_enough(const std::vector<std::size_t>& mine, const std::vector<std::size_t>& others,
                                        RoomPoint way) const {
    double gone = 0;
    for (int tries = 0; tries < 100 && gone <= longest_move; ++tries) {
        double most = 0;
        for (const std::size_t i : mine) {
            const Body there = moved(measured_.bodies[i], gone * way);
            for (const std::size_t j : others) most = std::max(most, lacking(i, there, j));
        }
        if (most <= 0) return gone;
        gone = std::max(tenth_up(gone + most), gone + step);
    }
    return std::nullopt;
}

bool Mover::harmless(const std::vector<std::size_t>& mine, RoomPoint by) const {
    for (const std::size_t i : mine) {
        const Body there = moved(measured_.bodies[i], by);
        for (std::size_t j = 0; j < measured_.things.size(); ++j) {
            if (lacking(i, there, j) > 0 && lacking(i, measured_.bodies[i], j) == 0) return false;
        }
    }
    return true;
}

std::optional<Move> Mover::least(const std::string& id, const std::string& other) const {
    std::vector<std::size_t> mine;
    std::vector<std::size_t> others;
    std::string wall;
    bool pipe = false;
    for (std::size_t i = 0; i < measured_.things.size(); ++i) {
        const Thing& thing = measured_.things[i];
        if (thing.owner == id) {
            mine.push_back(i);
            wall = thing.wall;
            pipe = thing.kind == Thing::Kind::pipe;
        } else if (called(thing) == other) {
            others.push_back(i);
        }
    }
    const std::size_t w = wall_index(model_.job, wall);
    if (w >= model_.job.walls.size()) return std::nullopt;
    const Frame& frame = model_.room.walls[w];
    const Room room = pipe ? depth_room(model_, id) : Room{};
    struct Way {
        RoomPoint along;
        double most;
        Move unit;
    };
    const std::array ways{
        Way{-1.0 * frame.x, longest_move, {id, -1, 0, 0}}, Way{frame.x, longest_move, {id, 1, 0, 0}},
        Way{frame.y, longest_move, {id, 0, 1, 0}},         Way{-1.0 * frame.y, longest_move, {id, 0, -1, 0}},
        Way{-1.0 * frame.z, room.in, {id, 0, 0, -1}},      Way{frame.z, room.out, {id, 0, 0, 1}}};
    const auto in_opening = [&](const Move& to) {
        for (const auto& placed : model_.fittings) {
            if (fitting_of(model_, placed).id != id) continue;
            return opening_at(model_.job.walls[placed.wall], {placed.u + to.across, placed.v + to.up}) != nullptr;
        }
        return false;
    };
    std::optional<Move> best;
    double least = longest_move + 1;
    for (const auto& way : ways) {
        if (way.most <= 0) continue;
        const auto by = far_enough(mine, others, way.along);
        if (!by || *by > way.most || *by >= least || !harmless(mine, *by * way.along)) continue;
        const Move to{id, *by * way.unit.across, *by * way.unit.up, *by * way.unit.out};
        if (in_opening(to)) continue;
        least = *by;
        best = to;
    }
    return best;
}

}  // namespace standproud::rules
