#include "modeler/file_list.hpp"

#include <fmt/format.h>

#include <map>
#include <optional>
#include <sstream>

#include "modeler/hash.hpp"

namespace standproud {

namespace {

namespace fs = std::filesystem;

constexpr const char* heading =
    "# Files that standproud wrote here: size, hash, path. The next run removes those that it does not write again "
    "and\n"
    "# that are as they were.\n";

/// "SIZE HASH" of some bytes.
std::string mark_of(std::string_view bytes) { return fmt::format("{} {:016x}", bytes.size(), hash_of(bytes)); }

/// Below the folder whatever a list says: nobody's list makes us touch anything else.
bool below(const fs::path& path) {
    if (path.empty() || path.is_absolute()) return false;
    for (const auto& part : path) {
        if (part == ".." || part == "." || part.empty()) return false;
    }
    return true;
}

using Listed = std::map<fs::path, std::string>;  // marks by path

Listed read_list(const fs::path& path) {
    Listed listed;
    if (!is_there(path)) return listed;
    std::istringstream lines(read_whole(path));
    for (std::string line; std::getline(lines, line);) {
        const std::size_t size = line.find(' ');
        const std::size_t hash = size == std::string::npos ? size : line.find(' ', size + 1);
        if (line.starts_with('#') || hash == std::string::npos || !below(line.substr(hash + 1))) continue;
        listed[line.substr(hash + 1)] = line.substr(0, hash);
    }
    return listed;
}

/// No part of the way below the folder is a link to elsewhere.
bool leads_elsewhere(const fs::path& folder, const fs::path& name) {
    fs::path at = folder;
    std::error_code error;
    for (const auto& part : name) {
        at /= part;
        if (fs::is_symlink(fs::symlink_status(at, error))) return true;
    }
    return false;
}

/// Why a file of the earlier set must stay; nothing if it may go.
std::optional<std::string> must_stay(const fs::path& folder, const fs::path& name, const std::string& mark) {
    const fs::path path = folder / name;
    std::error_code error;
    if (leads_elsewhere(folder, name)) return "it is a link now";
    if (!fs::is_regular_file(fs::symlink_status(path, error))) return "it is no file now";
    try {
        if (mark_of(read_whole(path)) != mark) return "it was changed since";
    } catch (const FileError& fault) {
        return fault.what();
    }
    return std::nullopt;
}

void remove_empty(const fs::path& folder, fs::path name) {
    std::error_code error;
    for (name = name.parent_path(); !name.empty(); name = name.parent_path()) {
        if (!fs::is_empty(folder / name, error) || error || !fs::remove(folder / name, error)) return;
    }
}

}  // namespace

Earlier replace_together(const fs::path& folder, FileSet files, const std::string& list) {
    Listed earlier = read_list(folder / list);
    Listed now;
    for (const auto& [name, bytes] : files) {
        now[name] = mark_of(bytes);
        earlier.erase(name);
    }
    earlier.erase(list);
    std::error_code error;
    std::erase_if(earlier, [&](const auto& one) { return !fs::exists(fs::symlink_status(folder / one.first, error)); });
    // What is still to go is listed too, so that nothing is forgotten if we are stopped half-way.
    Listed all = now;
    all.insert(earlier.begin(), earlier.end());
    std::string text = heading;
    for (const auto& [name, mark] : all) text += mark + " " + name.generic_string() + "\n";
    files.emplace_back(list, std::move(text));
    write_together(folder, files);
    Earlier told;
    for (const auto& [name, mark] : earlier) {
        auto why = must_stay(folder, name, mark);
        if (!why && !fs::remove(folder / name, error)) why = error.message();
        if (why) {
            told.left.emplace_back(name, *why);
            continue;
        }
        told.removed.push_back(name);
        remove_empty(folder, name);
    }
    return told;
}

}  // namespace standproud
