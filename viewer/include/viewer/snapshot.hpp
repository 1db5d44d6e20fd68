// A picture of the recess without a window, for documents and tests.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "viewer/state.hpp"

namespace standproud::viewer {

struct Snapshot {
    std::string wall;                    ///< straight on to this wall; empty for the whole recess
    std::optional<std::size_t> finding;  ///< near this finding: index into the findings, the rest ghosted
    int width = 1600;                    ///< pixels
    int height = 1000;
    bool dark = false;
};

/// Writes a PNG, whole or not at all. Needs an X display (xvfb-run gives one). Throws FileError when there is none, or
/// no OpenGL, or the file cannot be written. The job must be good.
void write_snapshot(Document document, const Snapshot& options, const std::filesystem::path& path);

}  // namespace standproud::viewer
