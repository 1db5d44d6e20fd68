// Jobs opened for a command, with what there is to say about it on standard error.
#pragma once

#include <optional>
#include <string>

#include "viewer/report.hpp"

namespace standproud::program {

/// Nothing, and the faults said, when the job has any.
std::optional<viewer::CheckedJob> open_or_say(const std::string& path, viewer::Advice advice = viewer::Advice::at_once);

/// Says which things are left out of solids.
void print_left_out(const Model& model);

}  // namespace standproud::program
