// Choosing a file or folder, inside the window.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace standproud::viewer {

struct App;

struct FileDialog {
    enum class Kind { open, write, folder };
    bool wanted = false;
    Kind kind = Kind::open;
    std::string title;
    std::string button;
    std::string ending;  ///< ".toml": which files are listed
    std::filesystem::path folder;
    std::string name;
    std::function<void(const std::filesystem::path&)> then;
    std::vector<std::filesystem::directory_entry> entries;
    bool read_again = true;
    std::string marked;  ///< a folder in the list, where a file is asked for
};

void ask_file(App& app, FileDialog::Kind kind, const std::string& title, const std::string& button,
              const std::string& ending, const std::filesystem::path& start,
              std::function<void(const std::filesystem::path&)> then);
void draw_file_dialog(App& app);

}  // namespace standproud::viewer
