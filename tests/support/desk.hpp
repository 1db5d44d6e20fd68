// A demo job in a folder of its own, to be worked on in the window.
#pragma once

#include <filesystem>
#include <string>

#include "modeler/files.hpp"
#include "support/jobs.hpp"

namespace standproud::testing {

struct Desk {
    explicit Desk(const std::string& name = "twin-taps.toml") : job(folder / name) {
        const auto models = std::filesystem::path(STANDPROUD_SOURCE_DIR) / "models";
        std::filesystem::copy(models / "catalogue", folder.path() / "catalogue");
        std::filesystem::copy_file(models / name, job);
        text = read_whole(job);
    }
    [[nodiscard]] std::string on_disk() const { return read_whole(job); }
    Folder folder;
    std::filesystem::path job;
    std::string text;
};

}  // namespace standproud::testing
