#include "window/settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <sstream>

#include "modeler/files.hpp"

namespace standproud::viewer {

namespace {

std::filesystem::path settings_file() {
    if (const char* folder = std::getenv("XDG_CONFIG_HOME"); folder && *folder) {
        return std::filesystem::path(folder) / "standproud" / "window";
    }
    const char* home = std::getenv("HOME");
    return std::filesystem::path(home && *home ? home : ".") / ".config" / "standproud" / "window";
}

constexpr std::size_t most_recent = 8;

}  // namespace

Settings load_settings() {
    Settings settings;
    if (!is_there(settings_file())) return settings;
    std::istringstream lines(read_whole(settings_file()));
    for (std::string line; std::getline(lines, line);) {
        const std::size_t space = line.find(' ');
        if (space == line.npos) continue;
        const std::string key = line.substr(0, space);
        const std::string value = line.substr(space + 1);
        if (key == "dark") settings.dark = value == "yes";
        if (key == "inches") settings.inches = value == "yes";
        if (key == "scale") settings.scale = std::clamp(std::atof(value.c_str()), 0.0, 4.0);
        if (key == "recent" && settings.recent.size() < most_recent) settings.recent.push_back(value);
    }
    return settings;
}

void store_settings(const Settings& settings) {
    std::string text = fmt::format("dark {}\ninches {}\nscale {}\n", settings.dark ? "yes" : "no",
                                   settings.inches ? "yes" : "no", settings.scale);
    for (const auto& file : settings.recent) text += fmt::format("recent {}\n", file);
    try {
        std::filesystem::create_directories(settings_file().parent_path());
        write_whole(settings_file(), text);
    } catch (const std::exception&) {
        // Not worth a word: next time the window looks as it does the first time.
    }
}

void add_recent(Settings& settings, const std::filesystem::path& file) {
    const std::string name = std::filesystem::absolute(file).lexically_normal().string();
    auto& recent = settings.recent;
    recent.erase(std::remove(recent.begin(), recent.end(), name), recent.end());
    recent.insert(recent.begin(), name);
    if (recent.size() > most_recent) recent.resize(most_recent);
}

}  // namespace standproud::viewer
