// Files read whole, and written whole or not at all. Nothing else opens a file but the window's font.
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

/// Writes beside the file and renames over it, so that a failed write leaves the old one as it was, with its mode. A
/// link is followed and stays: the file that it leads to is replaced, or made. What is no file (a folder, pipe, device)
/// is refused. Throws FileError naming the path and the reason.
void write_whole(const std::filesystem::path& path, std::string_view bytes);

/// Paths below a folder, and their bytes.
using FileSet = std::vector<std::pair<std::filesystem::path, std::string>>;

/// Writes a whole set or nothing of it: all beside one another in a folder of their own first, and moved into place
/// when every one is there. Makes the folders. Links, and what is no file, as in `write_whole`. Throws FileError naming
/// the path and the reason.
void write_together(const std::filesystem::path& folder, const FileSet& files);

/// Every byte. What is no file is refused at once. Throws FileError naming the path and the reason, also when the disk
/// fails half-way.
std::string read_whole(const std::filesystem::path& path);

/// False when there is nothing of that name. Throws FileError when that cannot be told.
bool is_there(const std::filesystem::path& path);

/// All of it to an open file, however often it takes; false with errno when that fails.
bool write_all(int file, std::string_view bytes);

}  // namespace standproud
