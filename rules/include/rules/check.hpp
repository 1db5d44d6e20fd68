// All rules over one model.
#pragma once

#include <vector>

#include "modeler/model.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// Every finding, by wall in order, then fitting in order, then rule.
std::vector<Finding> check(const Model& model, const Limits& limits);

}  // namespace standproud::rules
