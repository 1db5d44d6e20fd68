// Flatness as a straightedge sees it, and plumb as a plumb line sees it. Lengths in mm.
//
// Along one line on a face, readings are taken as joined by straight lines; nothing is known between them. A
// straightedge can be laid two ways:
//   resting   on two high spots: the gap under it down to the face between them
//   blocks    with a block of one size under each end: how far the face stands out of, or lies behind, the line between
//             its two ends
// It may be laid anywhere along the line, also between readings. Both answers are exact for the joined readings.
#pragma once

#include <optional>
#include <vector>

#include "modeler/geometry.hpp"

namespace standproud {

/// A reading along a straightedge: `along` the line, `off` it (positive: towards the room), mm.
struct LineReading {
    double along = 0;
    double off = 0;
};

/// A straightedge where the face is worst.
struct Straightedge {
    double gap = 0;   ///< mm, >= 0: between the face and the straightedge (resting), or from the line (blocks)
    double at = 0;    ///< along the line, where the gap is
    double from = 0;  ///< along the line: the spots it rests on, or its two ends
    double to = 0;
    bool hump = false;  ///< with blocks: the face stands out there; resting: never
};

/// The greatest gap under a straightedge of at most this length, at rest on two high spots; from..to <= length.
/// Readings at one place count as one, their mean. Nothing when there are fewer than two places, or a number is none.
[[nodiscard]] std::optional<Straightedge> resting_gap(std::vector<LineReading> readings, double length);

/// The greatest departure from the line between the ends of a straightedge of this length with equal blocks. Where the
/// readings span less than its length, from the first to the last: from and to say so.
[[nodiscard]] std::optional<Straightedge> blocks_gap(std::vector<LineReading> readings, double length);

/// Readings on one straight line across a face, in order along it.
struct FaceLine {
    WallPoint start;                 ///< first spot
    Vec2 direction;                  ///< unit, in (u, v)
    std::vector<std::size_t> spots;  ///< indices, in order
    std::vector<LineReading> readings;
};

/// Every line that holds at least three spots within `within` mm of it, each set of spots once: rows, columns and
/// diagonals. Spots at the same place count as one place.
[[nodiscard]] std::vector<FaceLine> lines_across(const std::vector<WallPoint>& spots, double within);

/// Two spots one above the other, and how far from plumb they are.
struct OutOfPlumb {
    double offset = 0;      ///< mm, >= 0: difference in n
    double rise = 0;        ///< mm, > 0: difference in v
    bool inwards = false;   ///< the upper one is nearer to the middle of the room
    std::size_t lower = 0;  ///< indices of the spots
    std::size_t upper = 0;
};

/// Every two spots that are within `within` mm of one upright line and not at one height, in the order given.
[[nodiscard]] std::vector<OutOfPlumb> plumb_pairs(const std::vector<WallPoint>& spots, double within);

/// Of those, the two that are most out of plumb; nothing when there are none.
[[nodiscard]] std::optional<OutOfPlumb> most_out_of_plumb(const std::vector<WallPoint>& spots, double within);

}  // namespace standproud
