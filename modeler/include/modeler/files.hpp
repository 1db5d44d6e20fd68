// Files written whole or not at all.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace standproud {

/// Writes beside `path` and renames over it, so that a failed write leaves the old file as it was.
/// Throws std::runtime_error naming the path and the system's reason.
void write_whole(const std::filesystem::path& path, std::string_view bytes);

/// Throws std::runtime_error naming the path and the system's reason.
std::string read_whole(const std::filesystem::path& path);

}  // namespace standproud
