#pragma once

#include <string>

#include "rules/compare.hpp"

namespace standproud::viewer {

/// What is other about a fitting: "100 mm to the right; seat was ..., is ...".
std::string what_moved(const rules::FittingChange& change);

}  // namespace standproud::viewer
