// The gaps about panels: how wide at which edge, which panels or things lie on their two sides, how much of each side
// moves. mm.
#pragma once

#include <string>
#include <vector>

#include "modeler/model.hpp"

namespace standproud {

enum class Edge { left, right, bottom, top };

/// Whether a wall carries panels: they are its last layer.
bool has_panels(const Wall& wall);

/// Thickness of a wall's bed, packing left out, mm.
double bed_of(const Wall& wall);

/// The gap that the panels of a wall leave at an edge: the wall's own, else the job's. At a free end, where nothing
/// stands, none but the wall's own.
EdgeGap gap_at(const Job& job, const Room& room, std::size_t wall, Edge edge);

/// Whether the panels' top line at u is more than 20 mm below the wall's own top: a free edge, and no gap to seal.
bool top_is_free(const Job& job, const Room& room, std::size_t wall, double u);

/// What the gaps of a wall's panels are sealed with: the wall's own, else the job's.
const SealantLook& sealant_on(const Job& job, std::size_t wall);

/// The gap of a join: its own, else the wall's, else the job's.
EdgeGap gap_of(const Job& job, std::size_t wall, const Join& join);
EdgeGap gap_of(const Job& job, std::size_t wall, const LevelJoin& join);

/// The same for a join that is not in the file yet.
EdgeGap join_gap(const Job& job, std::size_t wall);

/// A join in its place: u of its middle, half-way up the panels.
struct PlacedJoin {
    double u = 0;
    EdgeGap gap;
    std::size_t entry = 0;  ///< index into Wall::joins
};
/// From left to right.
std::vector<PlacedJoin> placed_joins(const Job& job, const Room& room, std::size_t wall);

/// A level join in its place: v of its middle.
struct PlacedLevel {
    double v = 0;
    EdgeGap gap;
    std::size_t entry = 0;  ///< index into Wall::level_joins
};
/// From below.
std::vector<PlacedLevel> placed_levels(const Job& job, std::size_t wall);

/// `end`: a panel stops short of a wall that carries none.
enum class JointKind { join, corner, base, ceiling, opening, end };

/// A gap between two panels, or between a panel and what stands still. Its sides move apart and together by the
/// movement of `first_moves` and `second_moves` mm of panel.
struct PanelJoint {
    JointKind kind = JointKind::join;
    std::string name;                 ///< "base of back-1"
    std::size_t wall = 0;             ///< on whose panels it lies
    std::vector<std::size_t> panels;  ///< indices into Model::panels
    Vec2 from;                        ///< its middle line, in the plane of that wall's panels
    Vec2 to;
    EdgeGap gap;
    std::string key;          ///< how the job file calls it: "[walls.gaps] bottom of wall back"
    double length = 0;        ///< mm
    double depth = 0;         ///< mm, panel and bed
    double first_moves = 0;   ///< mm of panel between its edge and its middle, square to the gap; below 0 where the
                              ///< middle lies across the gap, round a cut-out: growing, the panel draws away from it
    double second_moves = 0;  ///< and of the other panel; 0 for what stands still
    bool level = false;       ///< a level join
    double at_face = 0;     ///< mm wide at the panel's face: edges are cut square, so in a corner that is not, the gap
                            ///< is `gap` only where it is narrowest
    double widens = 0;      ///< by so much a mm behind the face; below 0 it narrows
    std::size_t entry = 0;  ///< of a join or opening: index into the wall's joins, level joins or openings; of an
                            ///< end: 0 for the left one, 1 for the right one
    bool sealed = true;     ///< false: it lies behind the panel of the next wall, and only gives room to move
};

/// Every gap of the model, also those of 0 mm: wall by wall, then corner by corner. A top line more than 20 mm below
/// the wall's own top is a free edge and has no gap.
std::vector<PanelJoint> panel_joints(const Model& model);

/// What an order of lining is proposed from.
struct LiningOrder {
    std::vector<std::string> walls;  ///< that carry panels
    std::string why;
};

/// The order in which fewest gaps are seen face on from the way in (common practice, no source): at each corner the
/// wall that faces the way in more is lined first and runs on behind its neighbour's edge; of two that face it alike
/// the wider one, then the one that comes first in the file. The way in is through the open side of the run, square to
/// the line between its free ends. Of a closed recess, whose way in is not known, by width alone.
LiningOrder propose_order(const Job& job, const Room& room);

/// Whether two orders come to the same at every corner.
bool same_corners(const Job& job, const Room& room, const std::vector<std::string>& a,
                  const std::vector<std::string>& b);

}  // namespace standproud
