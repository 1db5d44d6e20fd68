// Which reading is probably a blunder, found by standardised residuals.
#pragma once

#include <vector>

#include "modeler/survey.hpp"
#include "survey/observations.hpp"

namespace standproud {

/// The largest standardised residual above `suspect_above` names the suspect; it is left out and the rest adjusted
/// again, until none is left or too little would remain. `observations` are those of `lines`, then others that
/// are never suspected. Indexes in the suspects count lines.
std::vector<Suspect> find_suspects(const std::vector<Line>& lines, const std::vector<Observation>& observations,
                                   const Eigen::VectorXd& start, const AdjustSettings& settings,
                                   const Adjustment& first);

}  // namespace standproud
