// An order of lining, proposed.
#include <algorithm>
#include <cmath>
#include <optional>

#include "modeler/gaps.hpp"

namespace standproud {

namespace {

/// Walls that face the way in alike, to this, are told apart by their width.
constexpr double alike = 0.01;

bool carries_panels(const Wall& wall) {
    return std::any_of(wall.layers.begin(), wall.layers.end(),
                       [](const Layer& layer) { return layer.kind == LayerKind::panel; });
}

/// Level, out of the room through the open side, square to the line between the free ends; nothing where they meet.
std::optional<RoomPoint> way_out(const Job& job, const Room& room) {
    if (job.closed || job.walls.size() < 2) return std::nullopt;
    const RoomPoint across =
        room.walls.back().to_room(job.walls.back().width, 0, 0) - room.walls.front().to_room(0, 0, 0);
    const RoomPoint out = cross(across, {0, 0, 1});
    if (norm(out) < 1) return std::nullopt;
    return 1 / norm(out) * out;
}

std::size_t place_in(const std::vector<std::string>& order, const std::string& id) {
    return static_cast<std::size_t>(std::find(order.begin(), order.end(), id) - order.begin());
}

}  // namespace

LiningOrder propose_order(const Job& job, const Room& room) {
    std::vector<std::size_t> walls;
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        if (carries_panels(job.walls[w])) walls.push_back(w);
    }
    std::vector<double> facing(job.walls.size(), 0);
    const auto out = way_out(job, room);
    for (const std::size_t w : walls) facing[w] = out ? std::round(dot(room.walls[w].z, *out) / alike) * alike : 0;
    std::stable_sort(walls.begin(), walls.end(), [&](std::size_t a, std::size_t b) {
        if (std::abs(facing[a] - facing[b]) > alike / 2) return facing[a] > facing[b];
        return job.walls[a].width > job.walls[b].width + same_length;
    });
    LiningOrder order;
    for (const std::size_t w : walls) order.walls.push_back(job.walls[w].id);
    if (walls.size() < 2) {
        order.why = "no two walls with panels meet";
    } else if (out && facing[walls[0]] > facing[walls[1]] + alike / 2) {
        order.why =
            "wall " + order.walls.front() +
            " faces the way in: lined first it runs behind its neighbours' edges, so that no gap at its ends is "
            "seen face on from there";
    } else {
        order.why = std::string(out ? "they face the way in alike" : "the recess is closed, and its way in not known") +
                    "; the widest first, so that its neighbours' panels cover the gaps at its ends";
    }
    return order;
}

bool same_corners(const Job& job, const Room& room, const std::vector<std::string>& a,
                  const std::vector<std::string>& b) {
    return std::all_of(room.corners.begin(), room.corners.end(), [&](const Corner& corner) {
        const Wall& left = job.walls[corner.left_wall];
        const Wall& right = job.walls[corner.right_wall];
        if (!carries_panels(left) || !carries_panels(right)) return true;
        return (place_in(a, left.id) < place_in(a, right.id)) == (place_in(b, left.id) < place_in(b, right.id));
    });
}

}  // namespace standproud
