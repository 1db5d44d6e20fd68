// Changes of lists and tables in a job file's text, as splices. What is added is written as its neighbours are.
#pragma once

#include "state/write_value.hpp"

namespace standproud::viewer {

const toml::node* node_of(const Places& places, const std::string& path);

/// "walls[2]" of "walls[2].noggins"; "" of "layers".
std::string owner_of(const std::string& path);

/// Each entry of the list has a header of its own, "[[...]]".
bool in_blocks(const Places& places, const toml::array& list);

/// A table put before the entry `at` of a list, which may not be in the file yet, or behind its last.
Change put_entry(const Places& places, const std::string& path, std::size_t at, const Entry& entry);
Change take_entry(const Places& places, const std::string& path, std::size_t index);

/// A table that is there once.
Change put_table(const Places& places, const std::string& path, const Entry& entry);
/// A table, or a list in brackets, with all it holds.
Change take_whole(const Places& places, const std::string& path);

/// A value of a list in brackets, in the style of the list: on a line of its own where the others have one.
Change put_in_brackets(const Places& places, const toml::array& list, std::size_t at, const std::string& value);
/// Refuses where a remark would go with it.
Change take_from_brackets(const Places& places, const toml::array& list, std::size_t index);

}  // namespace standproud::viewer
