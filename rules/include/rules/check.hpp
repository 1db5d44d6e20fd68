// All rules over one model.
#pragma once

#include <vector>

#include "modeler/model.hpp"
#include "rules/distances.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// Every finding: of the survey, then by wall in order: of the wall, then of its fittings in order; then by rule; then
/// those about several things at once.
std::vector<Finding> check(const Model& model, const Limits& limits);

/// The same findings, with the distances of an earlier check at hand (of this job before an edit, say): between things
/// that are as they were, nothing is measured again.
std::vector<Finding> check(const Model& model, const Limits& limits, Distances& kept);

}  // namespace standproud::rules
