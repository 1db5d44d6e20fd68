#pragma once

#include <string>

#include "rules/compare.hpp"

namespace standproud::viewer {

/// What is other about a fitting: "100 mm to the right; seat was ..., is ...".
std::string what_moved(const rules::FittingChange& change);
/// The same of an opening: "left edge 50 mm to the left; head 20 mm up".
std::string what_moved(const rules::OpeningChange& change);

}  // namespace standproud::viewer
