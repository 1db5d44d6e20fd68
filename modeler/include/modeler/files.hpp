// Files written whole or not at all.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>

namespace standproud {

/// A file that could not be read or written: a fault of what was asked for, not of the program.
struct FileError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Writes beside `path` and renames over it, so that a failed write leaves the old file as it was.
/// Throws FileError naming the path and the system's reason.
void write_whole(const std::filesystem::path& path, std::string_view bytes);

/// Throws FileError naming the path and the system's reason.
std::string read_whole(const std::filesystem::path& path);

}  // namespace standproud
