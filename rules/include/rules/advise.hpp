// Advice that is a search: asked for where it is shown or printed, never paid for by judging.
#pragma once

#include <vector>

#include "modeler/model.hpp"
#include "rules/distances.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// Looks for the moves that clear a finding about two things, and says what to do about it. Other findings, and those
/// that have been advised on, stay as they are. `measured` is what the check of this model and these limits left.
void advise(const Model& model, const Limits& limits, const Distances& measured, Finding& finding);
void advise(const Model& model, const Limits& limits, const Distances& measured, std::vector<Finding>& findings);

}  // namespace standproud::rules
