// What has to be assumed because no reading tells it.
#pragma once

#include <string>
#include <vector>

#include "survey/observations.hpp"
#include "survey/shape.hpp"

namespace standproud {

/// Something that is taken as it stands in the job: "wall left is plumb", with its +/- as an observation.
struct Assumed {
    std::string says;
    std::string kind;  ///< its name in modeler/survey/instruments.toml
    Observation observation;
};

/// The fewest assumptions, in a fixed order (plumb, then level, square, the job's widths, planes along the wall),
/// that fix what the readings leave open. An assumption is made only where the readings know less than a third
/// as much: it never overrules them.
std::vector<Assumed> assumptions_for(const Job& job, const Shape& shape, const std::vector<Line>& lines);

}  // namespace standproud
