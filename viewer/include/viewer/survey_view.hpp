// What the window shows of a survey, as plain values: the bare face as a grid, and the readings where they were taken.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "modeler/exchange.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

/// One node of a grid over a wall.
struct FaceNode {
    double u = 0;
    double v = 0;
    double n = 0;                   ///< bare face as surveyed, mm from the wall's upright reference plane
    std::optional<double> packing;  ///< mm over the bed's own thickness; nothing where no panel lies in a plane there
};

struct FaceGrid {
    std::size_t wall = 0;
    std::size_t columns = 0;      ///< nodes along u; at least 2
    std::size_t rows = 0;         ///< nodes up; at least 2
    std::vector<FaceNode> nodes;  ///< row by row from the floor up, each from the left
};

/// The bare face of a wall from corner to corner, nodes at most `step` mm apart. Must hold: the job has a survey.
FaceGrid face_grid(const CheckedJob& job, std::size_t wall, double step);

/// A reading at its place on a wall.
struct ReadingMark {
    std::size_t reading = 0;  ///< index into Survey::readings
    std::size_t wall = 0;
    double u = 0;
    double v = 0;
    std::string words;     ///< "57"; with its unit where that is not mm
    bool suspect = false;  ///< probably a blunder
};

/// All readings that have a place on a wall; those through the room from corner to corner have none.
std::vector<ReadingMark> reading_marks(const CheckedJob& job);

/// Whether a reading is probably a blunder, and what is said of it; empty for a good one.
std::string suspicion(const Survey& survey, std::size_t reading);

/// Least and greatest figure of grids: of packing, else of the face itself.
std::array<double, 2> figures_between(const std::vector<FaceGrid>& grids, bool packing);

/// A colour between two ends, share 0 to 1: the map "cividis", which people with the common kinds of colour blindness
/// see alike, and which rises evenly in lightness (Nunez, Anderton and Renslow 2018, PLoS ONE 13(7) e0199239). Every
/// seventeenth entry of the 256 in matplotlib 3.6 (_cm_listed.py), with straight lines between.
Colour cividis(double share);

}  // namespace standproud::viewer
