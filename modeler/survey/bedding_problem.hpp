// What bedding and planing share: which spots count, which tilts are free, what the spots do not tell.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/bedding.hpp"
#include "survey/small_simplex.hpp"

namespace standproud::survey {

/// Planes are written n = base + height + sum of tilt[k] * along[k] . (spot - target): `height` is n over the base
/// plane at the target, the place where the plane is to be lowest.
struct BeddingProblem {
    std::vector<WallPoint> spots;
    std::vector<std::size_t> counted;  ///< indices of spots
    Vec2 middle;                       ///< the outline's centroid
    Vec2 target;                       ///< the middle, or what stands for it
    BackPlane base;                    ///< through a mean height, with the fixed turn
    std::vector<Vec2> along;           ///< at most two, each scaled so that the spots span about 1
    double unsurveyed = 0;
    std::vector<BeddingDoubt> doubts;

    /// What a plane takes at a spot: 1 for its height, then one entry a free tilt.
    [[nodiscard]] Rows entries(Vec2 at) const;
    [[nodiscard]] std::size_t rows() const { return 1 + along.size(); }
    /// The plane that is lowest at the target, one column a bound on it (worth: the bound). Where the target lies on
    /// the border of the spots, rounding can put it outside: it may then move by the rounding of a place.
    [[nodiscard]] SimplexAnswer lowest(std::vector<Column> columns) const;
    [[nodiscard]] std::vector<Column> slack() const;
    [[nodiscard]] BackPlane plane(const Rows& unknowns) const;
    /// Of a counted spot, less the base plane: the least n of the panel's back there for this bed.
    [[nodiscard]] double needed(std::size_t spot, double substrate, double bed) const;
};

/// The problem, or `refused` in words. Doubts that may be assumed away do not refuse.
std::optional<BeddingProblem> state_problem(const std::vector<WallPoint>& spots, const Polygon& outline,
                                            const BeddingRule& rule, std::string& refused);

/// All doubts in one sentence, for a refusal.
std::string in_words(const std::vector<BeddingDoubt>& doubts);

/// Why a plane is none that a panel can take, in words; empty when it can.
std::string too_steep(const BackPlane& plane);

/// Beds and sums of a plane over the spots, planed by `depths` (by index of spot; empty: not planed).
/// The plane is moved along n by what rounding left, so that the least bed is bed_min, if `settle`.
Bedding measured(const BeddingProblem& problem, const BeddingRule& rule, BackPlane back,
                 const std::vector<double>& depths = {}, bool settle = true);

}  // namespace standproud::survey
