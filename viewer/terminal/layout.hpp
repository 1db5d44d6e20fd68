// Words and tables on a terminal.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "rules/finding.hpp"

namespace standproud::viewer {

using Row = std::vector<std::string>;

/// A mark, a word and a colour for each verdict: the colour only helps.
std::string verdict_word(rules::Verdict verdict, bool colour);

/// How long the colour code of ours is that `text` begins with; 0 for none.
std::size_t colour_code_length(std::string_view text);

std::string heading(const std::string& text, bool colour);

/// Filled with spaces to a width in characters as shown; on the left of the text when `right`.
std::string padded(const std::string& text, std::size_t width, bool right = false);

/// Text broken into lines of the page's width, with what stands before the first and before the rest.
std::string wrapped(const std::string& text, const std::string& first, const std::string& rest);

/// Rows in columns; the first two rows are headings. `right` says which columns are set to the right.
std::string table(const std::vector<Row>& rows, const std::vector<bool>& right, bool colour);

}  // namespace standproud::viewer
