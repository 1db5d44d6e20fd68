// Documents against the schemas that ship with the program.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

// Instantiated once, in schema.cpp.
extern template class nlohmann::basic_json<>;

namespace standproud::testing {

/// The problems a reference library (valijson) has with a document under one of viewer/*.schema.json.
std::vector<std::string> problems(const nlohmann::json& document, const std::string& of = "report");

}  // namespace standproud::testing
