// Comparisons as lines and as JSON, for the reports that hold one.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "viewer/report.hpp"

namespace standproud::viewer {

/// Indented lines: what moved, then which verdicts changed, by trade, what got worse first.
std::string comparison_lines(const rules::Comparison& changes, const std::vector<rules::Finding>& now, bool colour);

nlohmann::ordered_json comparison_object(const rules::Comparison& changes, const std::vector<rules::Finding>& now);

/// A number to a millionth of a millimetre, so that the last bits of a double do not show.
nlohmann::ordered_json json_number(double value);
nlohmann::ordered_json json_number(const std::optional<double>& value);

}  // namespace standproud::viewer
