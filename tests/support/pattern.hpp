// Regular expressions (ECMAScript), compiled in one place: <regex> costs every file that includes it half a minute.
#pragma once

#include <string>
#include <vector>

namespace standproud::testing {

/// The whole match and its groups, "" for a group that took no part. Empty if the whole text does not match.
std::vector<std::string> matched(const std::string& text, const std::string& pattern);

/// The same for the first place in the text that matches.
std::vector<std::string> searched(const std::string& text, const std::string& pattern);

/// The same for every place, in order; none overlaps another.
std::vector<std::vector<std::string>> all_searched(const std::string& text, const std::string& pattern);

/// The text with every match replaced.
std::string replaced(const std::string& text, const std::string& pattern, const std::string& with);

}  // namespace standproud::testing
