// Numbers as they are said.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "rules/finding.hpp"

namespace standproud::rules {

/// Up to two decimals, no trailing zeros: 28.5, 3, 9.98. A number too small for that keeps its first digit.
std::string mm(double value);

/// "1 verdict", "2 verdicts", "2 boxes"; `many` where it is not the same word with an s.
std::string counted(std::size_t number, const std::string& one, const std::string& many = "");

/// Rounded up to 0.1 mm, so that what is said is enough.
double tenth_up(double width);

/// The seats that suit every reach finding of a fitting, n. Nothing when one of them has no range, when they do not
/// overlap, or for a screwed-on item, whose depth is that of its timber.
std::optional<std::pair<double, double>> seat_for_all(const std::vector<Finding>& findings, const std::string& fitting);

/// Rounded inwards to 0.1 mm; as it is when too narrow for that.
std::pair<double, double> rounded_inwards(std::pair<double, double> n);

/// A range of seat depths, rounded inwards to 0.1 mm so that what is said is inside what works:
/// "12.3 to 15 mm behind the bare face".
std::string depth_range(std::pair<double, double> n);

/// "12.3 mm behind the bare face".
std::string depth(double n);

}  // namespace standproud::rules
