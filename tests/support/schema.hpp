// Documents against the schemas that ship with the program.
#pragma once

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>
#include <vector>

namespace standproud::testing {

/// The problems a reference library (valijson) has with a document under one of viewer/*.schema.json.
inline std::vector<std::string> problems(const nlohmann::json& document, const std::string& of = "report") {
    std::ifstream file(STANDPROUD_SOURCE_DIR "/viewer/" + of + ".schema.json");
    const auto text = nlohmann::json::parse(file);
    valijson::Schema schema;
    valijson::SchemaParser parser;
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(text), schema);
    valijson::Validator validator;
    valijson::ValidationResults results;
    validator.validate(schema, valijson::adapters::NlohmannJsonAdapter(document), &results);
    std::vector<std::string> found;
    valijson::ValidationResults::Error error;
    while (results.popError(error)) found.push_back(error.description);
    return found;
}

}  // namespace standproud::testing
