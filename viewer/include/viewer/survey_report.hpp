// What the readings of the bare recess say, in words.
#pragma once

#include <string>

#include "modeler/survey.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

/// Adjusted widths, angles and leans with their +/-, what was assumed, every reading with its residual, and the
/// readings to take again. Ends with a line feed.
std::string text_survey(const Job& job, const Survey& survey, const TextStyle& style);

}  // namespace standproud::viewer
