// What the window remembers between runs.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace standproud::viewer {

struct Settings {
    bool dark = false;
    bool inches = false;  ///< beside mm
    double scale = 0;     ///< of lettering; 0: as the screen says
    std::vector<std::string> recent;
};

/// Reads and writes a file in the user's folder for settings. A file that is missing or spoilt gives the standard
/// ones; one that cannot be written is not missed. Throws FileError when it is there and cannot be read: the next
/// writing would lose it.
Settings load_settings();
void store_settings(const Settings& settings);
void add_recent(Settings& settings, const std::filesystem::path& file);

}  // namespace standproud::viewer
