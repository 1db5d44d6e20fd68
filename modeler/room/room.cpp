#include "modeler/room.hpp"

#include <algorithm>
#include <cmath>

#include "room/corners.hpp"

namespace standproud {

const Corner* corner_at(const Room& room, std::size_t wall, Side side) {
    for (const auto& corner : room.corners) {
        if ((side == Side::right ? corner.left_wall : corner.right_wall) == wall) return &corner;
    }
    return nullptr;
}

bool lined_before(const Job& job, std::size_t a, std::size_t b) {
    const auto& order = job.panels.order;
    return std::find(order.begin(), order.end(), job.walls[a].id) <
           std::find(order.begin(), order.end(), job.walls[b].id);
}

std::size_t neighbour(const Corner& corner, std::size_t wall) {
    return corner.left_wall == wall ? corner.right_wall : corner.left_wall;
}

std::size_t wall_index(const Job& job, const std::string& id) {
    const auto found = std::find_if(job.walls.begin(), job.walls.end(), [&](const Wall& w) { return w.id == id; });
    return static_cast<std::size_t>(found - job.walls.begin());
}

double panel_bottom(const Job& job, std::size_t wall) {
    if (!job.tray) return 0;
    const auto& over = job.tray->walls;
    const bool stands_over = std::find(over.begin(), over.end(), job.walls[wall].id) != over.end();
    return stands_over ? job.tray->rim : 0;
}

double panel_top(const Job& job, const Room& room, std::size_t wall, double u) {
    const double top = wall_top(job, room, wall, u);
    return std::min(job.walls[wall].panel_top.value_or(job.panels.top.value_or(top)), top);
}

double wall_top(const Job& job, const Room& room, std::size_t wall, double u) {
    return job.walls[wall].height + room.faces[wall].fall * (u - job.walls[wall].width / 2);
}

std::optional<double> floor_at(const Room& room, std::size_t wall, double u) {
    const auto& floor = room.faces[wall].floor;
    if (floor.empty()) return std::nullopt;
    if (u <= floor.front().x) return floor.front().y;
    for (std::size_t i = 1; i < floor.size(); ++i) {
        if (u > floor[i].x) continue;
        const double run = floor[i].x - floor[i - 1].x;
        return floor[i - 1].y + (run > 0 ? (u - floor[i - 1].x) / run : 0) * (floor[i].y - floor[i - 1].y);
    }
    return floor.back().y;
}

double bare_corner(const Job& job, const Room& room, std::size_t wall, Side side, double v) {
    const Face& face = room.faces[wall];
    const double up = v - face.bare.level;
    return side == Side::left ? face.left_drift * up : job.walls[wall].width + face.right_drift * up;
}

std::vector<LayerAtSpot> build_up_at(const Job& job, const Room& room, std::size_t wall, double u, double v) {
    std::vector<LayerAtSpot> stack;
    const bool panelled = v >= panel_bottom(job, wall) && v <= panel_top(job, room, wall, u);
    const Face& face = room.faces[wall];
    const FaceDepth bare = face.bare.at(u, v);
    double n = bare.n;
    const auto add = [&](LayerKind kind, const std::string& name, Length thickness, const Source& source) {
        stack.push_back({kind, name, thickness, source, n, n + thickness.value});
        n += thickness.value;
    };
    for (const auto& layer : job.walls[wall].layers) {
        if (!panelled && layer.kind >= LayerKind::bed) continue;
        if (layer.kind == LayerKind::bed && face.bedding) {
            // The panel rests on spots that were surveyed themselves: it is off by no more than the worst of them.
            double rests = 0;
            for (const auto spot : face.bedding->rests_on) {
                rests = std::max(rests, face.bedded_on[spot].standard_error);
            }
            const double packing = face.bedding->back.at(u, v) - n - layer.thickness.value;
            const Source& source = job.survey ? job.survey->source : layer.source;
            add(LayerKind::bed, "packing", {packing, 2 * std::hypot(bare.standard_error, rests), source}, source);
            stack.back().assumed = face.bare.assumed;
        }
        add(layer.kind, layer.name, layer.thickness, layer.source);
    }
    return stack;
}

double build_up(const Job& job, const Room& room, std::size_t wall, double u, double v) {
    const auto stack = build_up_at(job, room, wall, u, v);
    return stack.empty() ? 0 : stack.back().to - stack.front().from;
}

double finished_face(const Job& job, const Room& room, std::size_t wall, double u, double v) {
    const auto stack = build_up_at(job, room, wall, u, v);
    return stack.empty() ? room.faces[wall].bare.at(u, v).n : stack.back().to;
}

std::optional<double> finished_corner(const Job& job, const Room& room, std::size_t wall, Side side, double v) {
    const Corner* corner = corner_at(room, wall, side);
    if (!corner) return std::nullopt;
    const double bare = bare_corner(job, room, wall, side, v);
    if (is_straight(corner->angle)) return bare;
    const std::size_t other = neighbour(*corner, wall);
    const Side other_side = side == Side::left ? Side::right : Side::left;
    const auto inwards = [&](std::size_t of, Side from, double d) {
        return from == Side::left ? d : job.walls[of].width - d;
    };
    // Where one face's depth changes along it, the place moves a little, and with it the depth: some rounds settle it.
    double own_u = bare;
    double other_u = bare_corner(job, room, other, other_side, v);
    for (int round = 0; round < 20; ++round) {
        const double own = finished_face(job, room, wall, own_u, v);
        const double theirs = finished_face(job, room, other, other_u, v);
        const double next = inwards(wall, side, distance_at(theirs, own, corner->angle));
        const double other_next = inwards(other, other_side, distance_at(own, theirs, corner->angle));
        const bool settled = std::abs(next - own_u) < 1e-12 && std::abs(other_next - other_u) < 1e-12;
        own_u = next;
        other_u = other_next;
        if (settled) break;
    }
    return own_u;
}

std::optional<double> along_wall(const Job& job, const Room& room, std::size_t wall, const Across& across, double v) {
    using From = Across::From;
    const auto left = finished_corner(job, room, wall, Side::left, v);
    const auto right = finished_corner(job, room, wall, Side::right, v);
    switch (across.from) {
        case From::left_bare:
            return bare_corner(job, room, wall, Side::left, v) + across.distance;
        case From::right_bare:
            return bare_corner(job, room, wall, Side::right, v) - across.distance;
        case From::left_finished:
            return left ? std::optional(*left + across.distance) : std::nullopt;
        case From::right_finished:
            return right ? std::optional(*right - across.distance) : std::nullopt;
        case From::centre:
            return left && right ? std::optional((*left + *right) / 2 + across.distance) : std::nullopt;
    }
    return std::nullopt;
}

}  // namespace standproud
