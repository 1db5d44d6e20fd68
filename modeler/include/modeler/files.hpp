// Files written whole or not at all.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace standproud {

/// A file that could not be read or written: a fault of what was asked for, not of the program.
struct FileError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Writes beside `path` and renames over it, so that a failed write leaves the old file as it was.
/// Throws FileError naming the path and the system's reason.
void write_whole(const std::filesystem::path& path, std::string_view bytes);

/// Paths below a folder, and their bytes.
using FileSet = std::vector<std::pair<std::filesystem::path, std::string>>;

/// Writes a whole set or nothing of it: all beside one another in a folder of their own first, and moved into place
/// when every one is there. Makes the folders. Throws FileError naming the path and the system's reason.
void write_together(const std::filesystem::path& folder, const FileSet& files);

/// Throws FileError naming the path and the system's reason.
std::string read_whole(const std::filesystem::path& path);

}  // namespace standproud
