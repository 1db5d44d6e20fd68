// Planes over spots by GLPK, in rational arithmetic: the outside opinion on bedding and planing. GLPK first takes each
// number to a nearby simple fraction, some 1e-9 off; to be exact it is to be given sixteenths.
#pragma once

#include <optional>
#include <vector>

#include "modeler/bedding.hpp"

namespace standproud::testing {

/// One question in a, b, c and what else it takes, written down as the definitions say, in wall coordinates.
struct PlaneOpinion {
    enum class State { solved, unbounded, none };
    State state = State::none;
    double value = 0;
    BackPlane plane;
};

/// Least n of the back at the middle, bed >= bed_min at every spot.
PlaneOpinion glpk_lowest(const std::vector<WallPoint>& spots, Vec2 middle, const BeddingRule& rule);

/// Least greatest bed of the lowest planes.
PlaneOpinion glpk_least_greatest_bed(const std::vector<WallPoint>& spots, Vec2 middle, const BeddingRule& rule);

/// Least sum of planing.
PlaneOpinion glpk_least_total(const std::vector<WallPoint>& spots, const BeddingRule& rule);

/// Least deepest planing, and the least sum of planing among those.
PlaneOpinion glpk_least_deepest(const std::vector<WallPoint>& spots, const BeddingRule& rule);
PlaneOpinion glpk_least_total_of_deepest(const std::vector<WallPoint>& spots, const BeddingRule& rule);

}  // namespace standproud::testing
