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
    std::string look;                    ///< in words: "apart=40,hide=board"; see look_refused
    int width = 1600;                    ///< pixels
    int height = 1000;
    bool dark = false;
};

/// Why a look in words cannot be taken; "" when it can. The words: apart=MM, hide=LAYER, ghost=LAYER, cut=level:MM,
/// cut=WALL:MM, survey, layer-colours, no-flags, no-edges. The job must be good.
std::string look_refused(const Document& document, const std::string& words);

/// Writes a PNG, whole or not at all. Needs an X display (xvfb-run gives one). Throws FileError when there is none, or
/// no OpenGL, or the file cannot be written. The job must be good.
void write_snapshot(Document document, const Snapshot& options, const std::filesystem::path& path);

}  // namespace standproud::viewer
