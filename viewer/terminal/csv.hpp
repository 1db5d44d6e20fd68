// Cells of tables for spreadsheets (RFC 4180).
#pragma once

#include <string>

namespace standproud::viewer {

/// Text in a cell, in quotes where it must be. What a spreadsheet would work out as a formula (it begins with = + - @
/// or a control character, or does so after spaces) gets an apostrophe in front and is text; a plain number stays one.
std::string csv_cell(const std::string& text);

}  // namespace standproud::viewer
