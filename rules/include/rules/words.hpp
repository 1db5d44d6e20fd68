// Numbers as they are said.
#pragma once

#include <string>
#include <utility>

namespace standproud::rules {

/// Up to two decimals, no trailing zeros: 28.5, 3, 9.98. A number too small for that keeps its first digit.
std::string mm(double value);

/// A range of seat depths, rounded inwards to 0.1 mm so that what is said is inside what works:
/// "12.3 to 15 mm behind the bare face".
std::string depth_range(std::pair<double, double> n);

/// "12.3 mm behind the bare face".
std::string depth(double n);

}  // namespace standproud::rules
