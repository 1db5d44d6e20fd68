// An order of lining, proposed.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "modeler/gaps.hpp"

namespace standproud {

namespace {

/// Walls that face the way in alike, to this, are told apart by their width.
constexpr double alike = 0.01;

bool carries_panels(const Wall& wall) {
    return std::any_of(wall.layers.begin(), wall.layers.end(),
                       [](const Layer& layer) { return layer.kind == LayerKind::panel; });
}

/// The middle between the free ends of an open run, at datum level.
RoomPoint way_in(const Job& job, const Room& room) {
    const RoomPoint left = room.walls.front().to_room(0, 0, 0);
    const RoomPoint right = room.walls.back().to_room(job.walls.back().width, 0, 0);
    return 0.5 * (left + right);
}

/// How squarely a wall faces a point: 1 head on, 0 edge on.
double faces(const Job& job, const Room& room, std::size_t wall, RoomPoint point) {
    const RoomPoint towards = point - room.walls[wall].to_room(job.walls[wall].width / 2, 0, 0);
    const double far = norm(towards);
    return far > same_length ? dot(towards, room.walls[wall].z) / far : 0;
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
    const bool open = !job.closed && job.walls.size() > 1;
    if (open) {
        const RoomPoint from = way_in(job, room);
        for (const std::size_t w : walls) facing[w] = std::round(faces(job, room, w, from) / alike) * alike;
    }
    std::stable_sort(walls.begin(), walls.end(), [&](std::size_t a, std::size_t b) {
        if (std::abs(facing[a] - facing[b]) > alike / 2) return facing[a] > facing[b];
        return job.walls[a].width > job.walls[b].width + same_length;
    });
    LiningOrder order;
    for (const std::size_t w : walls) order.walls.push_back(job.walls[w].id);
    if (walls.size() < 2) {
        order.why = "no two walls with panels meet";
    } else if (open && facing[walls[0]] > facing[walls[1]] + alike / 2) {
        order.why =
            "wall " + order.walls.front() +
            " faces the way in: lined first it runs behind its neighbours' edges, so that no gap at its ends is "
            "seen face on from there";
    } else {
        order.why =
            std::string(open ? "they face the way in alike" : "the recess is closed, and its way in not known") +
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
