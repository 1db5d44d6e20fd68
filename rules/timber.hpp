// Pipes through timber, and bodies without timber behind them.
#pragma once

#include <optional>
#include <utility>

#include "modeler/scene.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// A pipe (first) that passes through a stud or noggin (second): how much timber is left beside its hole.
std::optional<Finding> timber_finding(const Model& model, const Limits& limits, const Scene& scene,
                                      std::pair<std::size_t, std::size_t> pair);

/// Bodies that rest on nothing.
std::vector<Finding> check_backing(const Model& model);

}  // namespace standproud::rules
