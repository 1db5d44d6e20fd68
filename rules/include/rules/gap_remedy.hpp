// What would clear a finding about the movement of panels: a gap, wider.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/model.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// The widest gap that a job file takes, mm.
inline constexpr double widest_gap = 50;

/// One gap of the job file: of a join that has its own, of an opening, or of an edge of a wall's panels, or of its
/// joins.
struct GapPlace {
    std::size_t wall = 0;
    std::string list;       ///< "joins", "level_joins", "openings"; empty: a key of [walls.gaps]
    std::size_t entry = 0;  ///< index into that list
    std::string key;        ///< "left", "right", "bottom", "top", "join"; in a list "gap"
    bool operator==(const GapPlace&) const = default;
};

struct GapRemedy {
    double width = 0;              ///< mm, to 0.1: from which every gap of the finding is clear
    std::vector<GapPlace> places;  ///< where it has to be written, each once
    std::string words;             ///< "Make the join 6.4 mm"
};

/// Nothing when the finding is not of `panel.movement`, is clear, is not of this model, or when no gap that a job file
/// takes would do. Panels are the smaller for a wider gap, and move the less: what was worked out for them as they are
/// is enough.
[[nodiscard]] std::optional<GapRemedy> gap_remedy(const Model& model, const Limits& limits, const Finding& finding);

}  // namespace standproud::rules
