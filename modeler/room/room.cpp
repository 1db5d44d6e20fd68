#include "modeler/room.hpp"

#include <algorithm>
#include <cmath>

#include "room/corners.hpp"

namespace standproud {

namespace {

/// The unit vector of a heading in degrees from +x, exact at quarter turns.
RoomPoint along(double heading) {
    const double turned = std::fmod(std::fmod(heading, 360) + 360, 360);
    if (turned == 0) return {1, 0, 0};
    if (turned == 90) return {0, 1, 0};
    if (turned == 180) return {-1, 0, 0};
    if (turned == 270) return {0, -1, 0};
    return {std::cos(turned * pi / 180), std::sin(turned * pi / 180), 0};
}

}  // namespace

Room lay_out(const Job& job) {
    Room room;
    RoomPoint at;
    double heading = 90;
    for (std::size_t i = 0; i < job.walls.size(); ++i) {
        const RoomPoint u = along(heading);
        const RoomPoint v{0, 0, 1};
        room.walls.push_back({at, u, v, cross(u, v)});
        at = at + job.walls[i].width * u;
        heading -= 180 - job.walls[i].next_angle;
        const bool last = i + 1 == job.walls.size();
        if (!last || job.closed) {
            room.corners.push_back({i, last ? 0 : i + 1, job.walls[i].next_angle, job.walls[i].source});
        }
    }
    return room;
}

const Corner* corner_at(const Room& room, std::size_t wall, Side side) {
    for (const auto& corner : room.corners) {
        if ((side == Side::right ? corner.left_wall : corner.right_wall) == wall) return &corner;
    }
    return nullptr;
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

double panel_top(const Job& job, std::size_t wall) {
    const double own = job.walls[wall].panel_top.value_or(job.panels.top.value_or(job.walls[wall].height));
    return std::min(own, job.walls[wall].height);
}

std::vector<LayerAtSpot> build_up_at(const Job& job, std::size_t wall, double /*u*/, double v) {
    std::vector<LayerAtSpot> stack;
    const bool panelled = v >= panel_bottom(job, wall) && v <= panel_top(job, wall);
    double n = 0;
    for (const auto& layer : job.walls[wall].layers) {
        if (!panelled && layer.kind >= LayerKind::bed) continue;
        stack.push_back({&layer, n, n + layer.thickness.value});
        n += layer.thickness.value;
    }
    return stack;
}

double finished_face(const Job& job, std::size_t wall, double u, double v) {
    const auto stack = build_up_at(job, wall, u, v);
    return stack.empty() ? 0 : stack.back().to;
}

std::optional<double> finished_corner(const Job& job, const Room& room, std::size_t wall, Side side, double v) {
    const Corner* corner = corner_at(room, wall, side);
    if (!corner) return std::nullopt;
    const double bare = side == Side::left ? 0 : job.walls[wall].width;
    if (is_straight(corner->angle)) return bare;
    const std::size_t other = neighbour(*corner, wall);
    const double at_other = side == Side::left ? job.walls[other].width : 0;
    const double in =
        distance_at(finished_face(job, other, at_other, v), finished_face(job, wall, bare, v), corner->angle);
    return side == Side::left ? in : bare - in;
}

std::optional<double> along_wall(const Job& job, const Room& room, std::size_t wall, const Across& across, double v) {
    using From = Across::From;
    const auto left = finished_corner(job, room, wall, Side::left, v);
    const auto right = finished_corner(job, room, wall, Side::right, v);
    switch (across.from) {
        case From::left_bare:
            return across.distance;
        case From::right_bare:
            return job.walls[wall].width - across.distance;
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
