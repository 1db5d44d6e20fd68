// The readings of a job as observations for the adjustment, each with its name in words.
#pragma once

#include <string>
#include <vector>

#include "modeler/survey.hpp"
#include "survey/shape.hpp"

namespace standproud {

/// One line of the adjustment. Only those with a name are readings; the others state that a plane is plumb.
struct Line {
    std::string name;
    std::string unit = "mm";
    Source source;
    Observation observation;
    std::optional<std::size_t> wall;  ///< an offset: its wall
    double u = 0;                     ///< an offset: its spot
    double v = 0;
};

/// `uneven` is the standard deviation of a spot against its wall's plane, by wall. How it enters a reading:
/// once for one spot, as a difference of two for a distance or a level, over the legs for an angle.
std::vector<Line> lines_of(const Job& job, const Shape& shape, const std::vector<double>& uneven);

/// "the corner of left and back", "the left end of wall left".
std::string corner_words(const Job& job, const Shape& shape, std::size_t point);

}  // namespace standproud
