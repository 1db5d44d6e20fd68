// All rules over one model.
#pragma once

#include <vector>

#include "modeler/model.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// Every finding: of the survey, then by wall in order: of the wall, then of its fittings in order; then by rule.
std::vector<Finding> check(const Model& model, const Limits& limits);

}  // namespace standproud::rules
