#include "support/schema.hpp"

#include <fstream>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

template class nlohmann::basic_json<>;

namespace standproud::testing {

std::vector<std::string> problems(const nlohmann::json& document, const std::string& of) {
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
