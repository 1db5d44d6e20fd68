// A set of files that takes the place of an earlier one in the same folder.
#pragma once

#include <string>
#include <vector>

#include "modeler/files.hpp"

namespace standproud {

/// What stands in a folder from an earlier set and is not part of the new one.
struct Earlier {
    std::vector<std::filesystem::path> removed;                       ///< below the folder
    std::vector<std::pair<std::filesystem::path, std::string>> left;  ///< and why
};

/// As `write_together`, and writes `list` beside the files: size, FNV-1a hash and path of each. Then removes the files
/// that an earlier list names and this set lacks, with the folders that this leaves empty; but only what is unchanged
/// since: a file that somebody changed or replaced stays, is told, and stays in the list. Nothing is removed unless
/// everything is written. Throws FileError as `write_together`.
Earlier replace_together(const std::filesystem::path& folder, FileSet files, const std::string& list);

}  // namespace standproud
