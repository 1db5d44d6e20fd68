// One sheet as files.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "drawing/sheet.hpp"

namespace standproud::viewer {

/// A file that is not yet written.
struct SheetFile {
    std::string path;
    std::string bytes;
};

/// The sheet as stem.pdf, stem.svg and stem.png, in memory. The same drawing gives the same bytes.
std::vector<SheetFile> sheet_files(const std::string& title, const std::function<void(Sheet&)>& draw,
                                   const std::string& stem);

/// Several sheets as the pages of one PDF, in memory.
std::string pdf_of_sheets(const std::string& title, const std::vector<std::function<void(Sheet&)>>& pages);

/// Draws the sheet once for each of stem.pdf, stem.svg and stem.png and writes each whole or not at all. The same
/// drawing gives the same bytes. Returns the files. Throws FileError naming the path.
std::vector<std::filesystem::path> write_sheet(const std::string& title, const std::function<void(Sheet&)>& draw,
                                               const std::filesystem::path& stem);

}  // namespace standproud::viewer
