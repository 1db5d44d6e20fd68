// Changes of single values in a job file's text, as splices.
#pragma once

#include <string>
#include <vector>

#include "state/places.hpp"
#include "viewer/state.hpp"

namespace standproud::viewer {

/// The splices that set, add or take out a value; none and a reason when that cannot be done.
struct Change {
    std::vector<Splice> splices;
    Refusal refusal;
};
Change change_value(const Places& places, const std::string& path, const std::string& value);
Change change_removed(const Places& places, const std::string& path);

/// Whether `value` reads as one TOML value.
bool is_toml_value(const std::string& value);

}  // namespace standproud::viewer
