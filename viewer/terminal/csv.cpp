#include "terminal/csv.hpp"

namespace standproud::viewer {

namespace {

/// Digits with a sign and one point at most.
bool plain_number(const std::string& text) {
    const std::size_t sign = text.find_first_of("+-") == 0 ? 1 : 0;
    const std::size_t point = text.find('.');
    const bool digits = text.find_first_not_of("0123456789.", sign) == std::string::npos;
    const bool one_point = point == std::string::npos || text.find('.', point + 1) == std::string::npos;
    return digits && one_point && text.find_first_of("0123456789") != std::string::npos;
}

bool formula(const std::string& text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    if (first == std::string::npos || plain_number(text)) return false;
    const bool broken = text.find_first_of("\t\r\n") < first;
    return broken || std::string("=+-@").find(text[first]) != std::string::npos;
}

}  // namespace

std::string csv_cell(const std::string& text) {
    const std::string safe = formula(text) ? "'" + text : text;
    if (safe.find_first_of(",;\t\"\r\n") == std::string::npos) return safe;
    std::string quoted = "\"";
    for (const char c : safe) quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + "\"";
}

}  // namespace standproud::viewer
