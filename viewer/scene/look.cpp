#include "scene/look.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace standproud::viewer {

namespace {

RoomPoint unit(RoomPoint p) {
    const double length = norm(p);
    return length > 0 ? (1 / length) * p : RoomPoint{0, 1, 0};
}

/// Turned about the upright axis, degrees anticlockwise seen from above.
RoomPoint turned(RoomPoint p, double degrees) {
    const double a = degrees * pi / 180;
    return {p.x * std::cos(a) - p.y * std::sin(a), p.x * std::sin(a) + p.y * std::cos(a), p.z};
}

RoomPoint raised(RoomPoint level, double degrees) {
    const double a = degrees * pi / 180;
    const RoomPoint flat = unit({level.x, level.y, 0});
    return {std::cos(a) * flat.x, std::cos(a) * flat.y, std::sin(a)};
}

/// From in front of a wall, turned so that a direction in the room is not looked along.
RoomPoint beside(RoomPoint out, RoomPoint way) {
    RoomPoint best = raised(turned(out, 20), 15);
    for (const auto& [turn, lift] : {std::pair{55.0, 18.0}, std::pair{20.0, 55.0}}) {
        if (std::abs(dot(best, way)) < 0.6) break;
        const RoomPoint other = raised(turned(out, turn), lift);
        if (std::abs(dot(other, way)) < std::abs(dot(best, way))) best = other;
    }
    return best;
}

/// Into the room: the way most walls face.
RoomPoint into_room(const Model& model) {
    // A recess is looked into; a corner is looked at from the middle, however long one wall is.
    const auto weight = [&](std::size_t w) { return model.room.walls.size() == 2 ? 1 : model.job.walls[w].width; };
    RoomPoint sum;
    for (std::size_t w = 0; w < model.room.walls.size(); ++w) sum = sum + weight(w) * model.room.walls[w].z;
    return norm(sum) > 0.1 ? unit(sum) : model.room.walls.front().z;
}

}  // namespace

std::array<RoomPoint, 2> bounds(const Model& model) {
    std::array<RoomPoint, 2> box{RoomPoint{1e9, 1e9, 0}, RoomPoint{-1e9, -1e9, 0}};
    for (std::size_t w = 0; w < model.room.walls.size(); ++w) {
        for (const double u : {0.0, model.job.walls[w].width}) {
            const RoomPoint p = model.room.walls[w].to_room(u, model.job.walls[w].height, 0);
            box[0] = {std::min(box[0].x, p.x), std::min(box[0].y, p.y), 0};
            box[1] = {std::max(box[1].x, p.x), std::max(box[1].y, p.y), std::max(box[1].z, p.z)};
        }
    }
    return box;
}

std::vector<RoomPoint> box_of_all(const Document& document, double apart) {
    auto [least, most] = bounds(document.job->model);
    const auto widen = [&least = least, &most = most](RoomPoint p) {
        least = {std::min(least.x, p.x), std::min(least.y, p.y), std::min(least.z, p.z)};
        most = {std::max(most.x, p.x), std::max(most.y, p.y), std::max(most.z, p.z)};
    };
    for (const auto& part : document.parts) {
        const RoomPoint moved = moved_apart(document.job->model, part, apart);
        const auto [left, right, low, high] = extent(part.outline);
        for (const double x : {left, right}) {
            for (const double y : {low, high}) {
                widen(moved + part.place.to_room(x, y, 0));
                widen(moved + part.place.to_room(x, y, part.length + part.taper.x * x + part.taper.y * y));
            }
        }
    }
    std::vector<RoomPoint> corners;
    for (const double x : {least.x, most.x}) {
        for (const double y : {least.y, most.y}) {
            for (const double z : {least.z, most.z}) corners.push_back({x, y, z});
        }
    }
    return corners;
}

Pose overview(const Document& document, const Look& look) {
    const Model& model = document.job->model;
    const auto [least, most] = bounds(model);
    Pose pose;
    pose.at = 0.5 * (least + most);
    // A little from the side, so that no wall is seen edge on; not so far that a side wall hides the back.
    pose.back = raised(turned(into_room(model), model.room.walls.size() == 2 ? 0 : -5), 12);
    pose.whole = box_of_all(document, look.apart);
    return pose;
}

Pose facing_wall(const Model& model, std::size_t wall) {
    const Frame& frame = model.room.walls.at(wall);
    const Wall& made = model.job.walls[wall];
    Pose pose;
    pose.at = frame.to_room(made.width / 2, made.height / 2, 0);
    pose.back = frame.z;
    pose.up = frame.y;
    pose.fit_width = 1.12 * made.width;
    pose.fit_height = 1.1 * made.height;
    pose.perspective = false;
    return pose;
}

const PlacedFitting* placed_of(const Model& model, const std::string& fitting) {
    for (const auto& placed : model.fittings) {
        if (fitting_of(model, placed).id == fitting) return &placed;
    }
    return nullptr;
}

double front_at(const Model& model, std::size_t wall, Vec2 spot) {
    return drawn_face(model.room, wall, spot.x, spot.y) + build_up(model.job, model.room, wall, spot.x, spot.y);
}

double clash_span(const rules::Clash& clash) { return std::clamp(16 * std::abs(clash.distance), 90.0, 700.0); }

Pose near_finding(const Document& document, const rules::Finding& finding, const Look& look) {
    const Model& model = document.job->model;
    const PlacedFitting* placed = placed_of(model, finding.subject);
    const std::size_t named = wall_index(model.job, finding.wall);
    if (finding.clash && (named < model.job.walls.size() || placed)) {
        Pose pose;
        pose.at = finding.clash->at;
        pose.back =
            beside(model.room.walls[named < model.job.walls.size() ? named : placed->wall].z, finding.clash->push);
        pose.fit_width = clash_span(*finding.clash);
        pose.fit_height = 0.9 * pose.fit_width;
        return pose;
    }
    if (!placed) return named < model.job.walls.size() ? facing_wall(model, named) : overview(document, look);
    const Frame& wall = model.room.walls[placed->wall];
    const Vec2 spot = finding.spot.value_or(Vec2{placed->u, placed->v});
    Pose pose;
    pose.at = wall.to_room(spot.x, spot.y, front_at(model, placed->wall, spot));
    // From the side where there is more room.
    const bool from_right = placed->u < model.job.walls[placed->wall].width / 2;
    const bool reach = finding.rule.rfind("reach.", 0) == 0;
    pose.back = raised(turned(wall.z, (from_right ? 1 : -1) * (reach ? 52 : 20)), reach ? 18 : 12);
    pose.fit_width = 330;
    pose.fit_height = 300;
    return pose;
}

Shown shown(const Part& part, const Look& look, const Selection& selection, bool ghost_rest) {
    Shown state = Shown::full;
    const auto weigh = [&](const std::map<std::string, Shown>& states, const std::string& key) {
        const auto found = states.find(key);
        if (found != states.end()) state = std::max(state, found->second);
    };
    weigh(look.layers, part.layer);
    weigh(look.trades, part.trade);
    if (look.survey.on) {
        static const std::set<std::string> linings{"board", "membrane", "bed", "panel", "sealant", "masonry"};
        state = std::max(state, linings.count(part.layer) ? Shown::hidden : Shown::ghost);
    }
    if (ghost_rest && state == Shown::full) {
        const bool mine = !selection.fitting.empty() ? part.fitting == selection.fitting : part.id == selection.part;
        if (!mine) state = Shown::ghost;
    }
    return state;
}

RoomPoint moved_apart(const Model& model, const Part& part, double apart) {
    static const std::map<std::string, double> rank{
        {"masonry", -1}, {"frame", -1}, {"board", 0}, {"membrane", 1}, {"bed", 2},       {"panel", 3}, {"sealant", 3},
        {"flange", 4},   {"rose", 4},   {"plate", 4}, {"handle", 5},   {"bracket", 4.5}, {"rail", 5}};
    const auto found = rank.find(part.layer);
    const std::size_t wall = wall_index(model.job, part.wall);
    if (found == rank.end() || wall == model.job.walls.size()) return {};
    return (apart * found->second) * model.room.walls[wall].z;
}

}  // namespace standproud::viewer
