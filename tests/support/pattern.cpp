#include "support/pattern.hpp"

#include <map>
#include <regex>

namespace standproud::testing {

namespace {

/// Compiled once a pattern: tests put the same one to thousands of texts.
const std::regex& compiled(const std::string& pattern) {
    static std::map<std::string, std::regex> known;
    const auto found = known.find(pattern);
    return found != known.end() ? found->second : known.emplace(pattern, std::regex(pattern)).first->second;
}

std::vector<std::string> groups(const std::smatch& match) {
    std::vector<std::string> all;
    for (const auto& group : match) all.push_back(group.str());
    return all;
}

}  // namespace

std::vector<std::string> matched(const std::string& text, const std::string& pattern) {
    std::smatch match;
    return std::regex_match(text, match, compiled(pattern)) ? groups(match) : std::vector<std::string>{};
}

std::vector<std::string> searched(const std::string& text, const std::string& pattern) {
    std::smatch match;
    return std::regex_search(text, match, compiled(pattern)) ? groups(match) : std::vector<std::string>{};
}

std::vector<std::vector<std::string>> all_searched(const std::string& text, const std::string& pattern) {
    std::vector<std::vector<std::string>> all;
    const auto& regex = compiled(pattern);
    for (auto it = std::sregex_iterator(text.begin(), text.end(), regex); it != std::sregex_iterator(); ++it) {
        all.push_back(groups(*it));
    }
    return all;
}

std::string replaced(const std::string& text, const std::string& pattern, const std::string& with) {
    return std::regex_replace(text, compiled(pattern), with);
}

}  // namespace standproud::testing
