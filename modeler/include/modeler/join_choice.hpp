// Joins of a whole job: of the best few layouts of each wall, those that nest best together. Plain values in, plain
// values out.
//
// Each wall by itself, a layout may leave an offcut that no other piece of that wall fills but a piece of another wall
// would; only the panels of all walls on the sheets together say what is bought. Every combination of the layouts given
// is nested, or left out because the area of its pieces shows that it cannot be better.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/nesting.hpp"

namespace standproud::joins {

/// The layouts of one wall, its own best first, as the pieces that they are cut into.
struct WallLayouts {
    std::string wall;
    std::vector<std::vector<nesting::Piece>> layouts;
};

/// One layout for each wall, and its pieces on sheets.
struct JobLayout {
    std::vector<std::size_t> layouts;  ///< for each wall, which
    nesting::NestingAnswer answer;
};

struct JobChoice {
    JobLayout own;               ///< each wall's own best
    JobLayout best;              ///< best together: by the aim of the rules, then nearer to each wall's own best
    long long combinations = 0;  ///< of the layouts given
    long long nested = 0;        ///< of them
    long long left_out = 0;      ///< not nested: the area of their pieces alone needs no less than the best
    /// No combination of these layouts counts less by what the aim counts first. Other layouts of the walls may.
    bool proved = false;
};

struct JobChoiceAnswer {
    std::optional<JobChoice> choice;
    std::string refused;  ///< no combination can be nested, or there are too many
};

/// At most 2000 combinations. `rules.effort` is spent on each of them; the best and each wall's own best are nested
/// once more with `last_effort`. Must hold: every wall has a layout.
[[nodiscard]] JobChoiceAnswer choose_together(const std::vector<WallLayouts>& walls,
                                              const std::vector<nesting::Stock>& stock,
                                              const nesting::NestingRules& rules, long long last_effort);

/// No nesting of pieces of this area (mm2) has less: new sheets, and price.
struct AreaBound {
    double sheets = 0;
    double price = 0;
};
[[nodiscard]] AreaBound bound_of_area(double area, const std::vector<nesting::Stock>& stock);

}  // namespace standproud::joins
