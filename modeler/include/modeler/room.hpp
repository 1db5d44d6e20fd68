// The recess worked out from the job: wall frames, corners, build-up and finished face at a spot.
#pragma once

#include <optional>
#include <vector>

#include "modeler/job.hpp"

namespace standproud {

/// Where two walls meet. `angle` is inside the room, degrees: 90 an internal corner, 270 an external one.
struct Corner {
    std::size_t left_wall = 0;   ///< the wall whose right end is here
    std::size_t right_wall = 0;  ///< the wall whose left end is here
    double angle = 90;
    Source source;
};

struct Room {
    std::vector<Frame> walls;  ///< x = u, y = v, z = n; origin at the left bare corner, datum level
    std::vector<Corner> corners;
};

/// One layer at a spot, from n = from to n = to.
struct LayerAtSpot {
    const Layer* layer = nullptr;
    double from = 0;
    double to = 0;
};

/// Frames from widths and angles. The first wall starts at the origin and runs along +y, so that the
/// room lies on its +x side.
Room lay_out(const Job& job);

/// The corner at one end of a wall, if another wall is there.
const Corner* corner_at(const Room& room, std::size_t wall, Side side);
std::size_t neighbour(const Corner& corner, std::size_t wall);

/// The index of a wall; job.walls.size() when there is none of that id.
std::size_t wall_index(const Job& job, const std::string& id);

/// The level panels on this wall stop above (the rim or the datum), and the line they stop below. No gaps taken off.
double panel_bottom(const Job& job, std::size_t wall);
double panel_top(const Job& job, std::size_t wall);

/// The layers at (u, v), from the bare face out. Bed and panel count only between the panels' bottom and
/// top lines, joins and gaps included.
std::vector<LayerAtSpot> build_up_at(const Job& job, std::size_t wall, double u, double v);

/// F(u, v): n of the finished face at a spot.
double finished_face(const Job& job, std::size_t wall, double u, double v);

/// u of the finished corner at one end of a wall at height v, on the wall's own finished face; nothing at
/// a free end. Formula: the neighbour's face n_b = F_b cut with n = F_a, at F_b + F_a cos(angle), over sin(angle).
std::optional<double> finished_corner(const Job& job, const Room& room, std::size_t wall, Side side, double v);

/// u of a position along the wall at height v; nothing when it names a finished corner that does not exist.
std::optional<double> along_wall(const Job& job, const Room& room, std::size_t wall, const Across& across, double v);

/// Wood or masonry behind a spot: n of its face and how deep it goes.
struct Backing {
    double face = 0;
    double depth = 0;
    std::string name;
    Source source;
};
std::optional<Backing> backing_at(const Job& job, std::size_t wall, double u, double v);

}  // namespace standproud
