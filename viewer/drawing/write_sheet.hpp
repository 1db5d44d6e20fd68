// One sheet as files.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "drawing/sheet.hpp"

namespace standproud::viewer {

/// Draws the sheet once for each of stem.pdf, stem.svg and stem.png and writes each whole or not at all. The same
/// drawing gives the same bytes. Returns the files. Throws FileError naming the path.
std::vector<std::filesystem::path> write_sheet(const std::string& title, const std::function<void(Sheet&)>& draw,
                                               const std::filesystem::path& stem);

}  // namespace standproud::viewer
