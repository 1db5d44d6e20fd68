// Demo jobs opened from a folder of their own, so that they can be changed and saved.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "support/jobs.hpp"
#include "viewer/state.hpp"

namespace standproud::testing {

inline std::filesystem::path models_folder() { return std::filesystem::path(STANDPROUD_SOURCE_DIR) / "models"; }

/// A copy of a demo job, catalogues beside it, open.
struct Opened {
    explicit Opened(const std::string& name = "twin-taps.toml") {
        std::filesystem::copy(models_folder() / "catalogue", folder.path() / "catalogue");
        std::filesystem::copy_file(models_folder() / name, folder / name);
        document = viewer::open_document(folder / name);
    }
    Folder folder;
    viewer::Document document;
};

inline const std::vector<std::string>& demo_jobs() {
    static const std::vector<std::string> names{"twin-taps.toml", "corner-mixer.toml", "level-entry.toml",
                                                "bath-renovation.toml", "old-stable.toml"};
    return names;
}

/// Undoes everything; what the text must then be is what it was.
inline void undo_all(viewer::Document& document) {
    while (viewer::undo(document)) {
    }
}

}  // namespace standproud::testing
