// The recess worked out from the job: wall frames, corners, build-up and finished face at a spot.
#pragma once

#include <optional>
#include <vector>

#include "modeler/bedding.hpp"
#include "modeler/job.hpp"
#include "modeler/surface.hpp"

namespace standproud {

/// Where two walls meet. `angle` is inside the room, degrees: 90 an internal corner, 270 an external one.
struct Corner {
    std::size_t left_wall = 0;   ///< the wall whose right end is here
    std::size_t right_wall = 0;  ///< the wall whose left end is here
    double angle = 90;
    Source source;
};

/// How one wall really stands, in its frame. A wall without a survey is flat and upright.
struct Face {
    Surface bare;             ///< the bare face
    double left_drift = 0;    ///< how its bare corners or free ends move along u, mm per mm of height
    double right_drift = 0;   ///< (u = 0 and u = width at `bare.level`)
    double fall = 0;          ///< of its top line, mm per mm to the right; at the wall's middle it is Wall::height
    std::vector<Vec2> floor;  ///< levels of the floor along it: x = u, y = level; rising in u
    std::optional<Bedding> bedding;    ///< where the panels' backs lie in one plane of its own
    std::vector<FaceDepth> bedded_on;  ///< the bare face at bedding->spots
    std::string not_bedded;            ///< why there is no such plane, where the job asks for one
};

struct Room {
    /// x = u, y = v, z = n; upright; origin at datum level, below the left bare corner at Face::bare.level.
    std::vector<Frame> walls;
    std::vector<Corner> corners;
    std::vector<Face> faces;  ///< one a wall
};

/// One layer at a spot, from n = from to n = to. What fills the room behind a flat panel, over the bed's own
/// thickness, is a layer of its own: its +/- is what the survey leaves open there.
struct LayerAtSpot {
    LayerKind kind = LayerKind::board;
    std::string name;
    Length thickness;
    Source source;
    double from = 0;
    double to = 0;
    bool assumed = false;  ///< packing that rests on an assumption, in a job that wants such figures unknown
};

/// Frames from widths and angles. The first wall starts at the origin and runs along +y, so that the
/// room lies on its +x side. Faces are flat and upright.
Room lay_out(const Job& job);

/// The same with faces as surveyed, bedded as the job says. Must hold: `job` is as_surveyed, the survey converged.
Room lay_out(const Job& job, const Survey& survey);

/// The job with adjusted widths, angles and heights in place of those that were drawn.
Job as_surveyed(Job job, const Survey& survey);

/// The corner at one end of a wall, if another wall is there.
const Corner* corner_at(const Room& room, std::size_t wall, Side side);
std::size_t neighbour(const Corner& corner, std::size_t wall);

/// Whether one wall is lined before another.
bool lined_before(const Job& job, std::size_t a, std::size_t b);

/// The index of a wall; job.walls.size() when there is none of that id.
std::size_t wall_index(const Job& job, const std::string& id);

/// The level panels on this wall stop above (the rim or the datum), and the line they stop below at u: the job's, or
/// the wall's own top. No gaps taken off.
double panel_bottom(const Job& job, std::size_t wall);
double panel_top(const Job& job, const Room& room, std::size_t wall, double u);

/// v of the top of a wall at u.
double wall_top(const Job& job, const Room& room, std::size_t wall, double u);

/// Level of the floor below a spot, from the readings of the floor along that wall; nothing without readings.
std::optional<double> floor_at(const Room& room, std::size_t wall, double u);

/// u of a bare corner or free end at height v.
double bare_corner(const Job& job, const Room& room, std::size_t wall, Side side, double v);

/// The plane of a wall's bare face, and that of its panels' backs (the bare plane where it has no panels): x level
/// along the wall, y up the plane, z out of it, origin on the line u = 0, v = 0.
Frame bare_plane(const Room& room, std::size_t wall);
Frame panel_plane(const Job& job, const Room& room, std::size_t wall);

/// n of the bare face that solids at a spot are placed from. The layers of solids lie on the wall's bare plane; where
/// the panels' backs are a plane of their own, what hangs on the bare face hangs on it as surveyed.
double drawn_face(const Room& room, std::size_t wall, double u, double v);

/// The layers at (u, v), from the bare face out. Bed and panel count only between the panels' bottom and
/// top lines, joins and gaps included.
std::vector<LayerAtSpot> build_up_at(const Job& job, const Room& room, std::size_t wall, double u, double v);

/// How far the finished face stands in front of the bare face there, mm.
double build_up(const Job& job, const Room& room, std::size_t wall, double u, double v);

/// F(u, v): n of the finished face at a spot.
double finished_face(const Job& job, const Room& room, std::size_t wall, double u, double v);

/// u of the finished corner at one end of a wall at height v, on the wall's own finished face; nothing at
/// a free end. Formula: the neighbour's face n_b = F_b cut with n = F_a, at F_b + F_a cos(angle), over sin(angle).
std::optional<double> finished_corner(const Job& job, const Room& room, std::size_t wall, Side side, double v);

/// u of a position along the wall at height v; nothing when it names a finished corner that does not exist.
std::optional<double> along_wall(const Job& job, const Room& room, std::size_t wall, const Across& across, double v);

/// Wood or masonry behind a spot: its face, from the bare face there (behind it: negative), and how deep it goes. None
/// within an opening.
struct Backing {
    double face = 0;
    double depth = 0;
    std::string name;
    Source source;
};
std::optional<Backing> backing_at(const Job& job, std::size_t wall, double u, double v);

}  // namespace standproud
