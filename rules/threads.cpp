#include "rules/threads.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <cstdlib>

namespace standproud::rules {

extern const char* const threads_text;  // rules/threads.toml, put in by the build

namespace {

double number_of(const toml::table& table, const char* key) { return table[key].value<double>().value(); }

std::optional<Thread> row_of(const char* table, const std::string& size, const char* source, bool taper = false) {
    static const toml::table tree = toml::parse(threads_text);
    for (const auto& node : *tree[table].as_array()) {
        const toml::table& row = *node.as_table();
        if (row["size"].value<std::string>() != size) continue;
        Thread thread{number_of(row, "pitch"),
                      row["major"].value<double>().value_or(std::strtod(size.c_str(), nullptr)),
                      source,
                      {}};
        if (taper) {
            thread.taper =
                TaperReach{number_of(row, "useful"), number_of(row, "useful_least"), number_of(row, "useful_most")};
        }
        return thread;
    }
    return std::nullopt;
}

}  // namespace

std::optional<Thread> thread_named(const std::string& name) {
    std::string plain = name;
    plain.erase(std::remove(plain.begin(), plain.end(), ' '), plain.end());
    if (plain.rfind("Rp", 0) == 0) return row_of("pipe", plain.substr(2), "ISO 7-1 table 1", true);
    if (plain.rfind('R', 0) == 0) return row_of("pipe", plain.substr(1), "ISO 7-1 table 1", true);
    if (plain.rfind('G', 0) == 0) return row_of("pipe", plain.substr(1), "ISO 228-1 table 1");
    if (plain.rfind('M', 0) == 0) return row_of("metric", plain.substr(1), "ISO 261 coarse, from memory");
    return std::nullopt;
}

}  // namespace standproud::rules
