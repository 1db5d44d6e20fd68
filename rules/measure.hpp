// Which pairs of a scene are near enough to be judged.
#pragma once

#include "modeler/model.hpp"
#include "rules/distances.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// Brings `kept` up to this scene: pairs of things that are as they were keep their separation, all others are
/// measured. The outcome is that of measuring everything anew.
void measure(const Model& model, const Limits& limits, const Scene& scene, Distances& kept);

}  // namespace standproud::rules
