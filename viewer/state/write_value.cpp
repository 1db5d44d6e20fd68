#include "state/write_value.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace standproud::viewer {

namespace {

/// The bytes that a table's own keys take up: what a new key is put behind.
struct Extent {
    bool header = false;     ///< it has a line of its own in brackets
    bool in_braces = false;  ///< { ... }
    std::size_t last = 0;    ///< a byte of the last line that belongs to its own keys
};

/// The last byte of the keys written under a table's header; tables with headers of their own do not count.
std::size_t last_of(const Places& places, const toml::table& table, std::size_t least) {
    std::size_t last = least;
    for (const auto& [key, value] : table) {
        const std::size_t begin = places.begin_of(value);
        const auto* sub = value.as_table();
        const bool bracketed = begin < places.text().size() && places.text()[begin] == '[';
        if (sub && !sub->is_inline()) {
            if (!bracketed) last = std::max(last, last_of(places, *sub, least));  // from dotted keys
            continue;
        }
        // A list of tables with headers starts at "[[", an ordinary list at "[" behind its key's "=".
        const auto* list = value.as_array();
        if (list && list->is_array_of_tables() && places.line_begin(begin) == begin) continue;
        last = std::max(last, places.end_of_value(begin) - 1);
    }
    return last;
}

Extent extent_of(const Places& places, const toml::table& table) {
    Extent extent;
    const std::size_t begin = places.begin_of(table);
    extent.in_braces = table.is_inline();
    extent.header = !extent.in_braces && begin < places.text().size() && places.text()[begin] == '[';
    extent.last = last_of(places, table, begin);
    return extent;
}

Splice behind_line(const Places& places, std::size_t byte, const std::string& line) {
    return {places.line_end(byte), "", places.line_feed() + line};
}

Splice inside_braces(const Places& places, const toml::table& table, const std::string& entry) {
    const std::size_t begin = places.begin_of(table);
    if (table.empty()) return {begin + 1, "", entry};
    return {last_of(places, table, begin) + 1, "", ", " + entry};
}

std::string dotted(const std::vector<PathPart>& parts, std::size_t from) {
    std::string text;
    for (std::size_t i = from; i < parts.size(); ++i) text += (text.empty() ? "" : ".") + parts[i].key;
    return text;
}

/// A key that is not there yet goes behind the last one of the nearest table that is.
Change added(const Places& places, const std::vector<PathPart>& parts, const std::string& path,
             const std::string& value) {
    std::size_t depth = parts.size();
    while (depth > 0) {
        --depth;
        const toml::node* node =
            node_at(places.tree(), {parts.begin(), parts.begin() + static_cast<std::ptrdiff_t>(depth)});
        if (!node || !node->is_table()) continue;
        for (std::size_t i = depth; i < parts.size(); ++i) {
            if (parts[i].is_index) return {{}, fmt::format("{} is not in the file", path)};
        }
        if (depth == 0) break;
        const auto& table = *node->as_table();
        const Extent extent = extent_of(places, table);
        const std::string entry = fmt::format("{} = {}", dotted(parts, depth), value);
        if (extent.in_braces) return {{inside_braces(places, table, entry)}, ""};
        if (extent.header) return {{behind_line(places, extent.last, entry)}, ""};
        // A table that only dotted keys made has no line of its own: the one above it takes the key.
    }
    if (parts.size() < 2) return {{}, fmt::format("{} is not in the file, and belongs to no table", path)};
    const std::string feed = places.line_feed();
    const std::string& text = places.text();
    const std::string gap = text.empty() ? "" : text.back() == '\n' ? feed : feed + feed;
    return {
        {{text.size(), "", fmt::format("{}[{}]{}{} = {}{}", gap, parts[0].key, feed, dotted(parts, 1), value, feed)}},
        ""};
}

}  // namespace

bool is_toml_value(const std::string& value) {
    try {
        if (value.find_first_of("\r\n") != value.npos) return false;
        const std::string text = "value = " + value;
        const auto places = Places::of(text);
        if (!places || places->tree().size() != 1) return false;
        // Nothing may follow it, a remark neither.
        return places->end_of_value(places->begin_of(*places->tree().get("value"))) == text.size();
    } catch (const toml::parse_error&) {
        return false;
    }
}

std::string toml_string(const std::string& words) {
    std::string out = "\"";
    for (const char c : words) {
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
            out += fmt::format("\\u{:04X}", static_cast<int>(c));
        } else {
            out += c;
        }
    }
    return out + "\"";
}

std::string number_text(double value) { return fmt::format("{}", value == 0 ? 0.0 : value); }

Change change_value(const Places& places, const std::string& path, const std::string& value) {
    const auto parts = path_parts(path);
    if (!parts) return {{}, fmt::format("{} names no value", path)};
    if (!is_toml_value(value)) return {{}, fmt::format("{} is not a value that a job file can hold", value)};
    const toml::node* node = node_at(places.tree(), *parts);
    if (!node) return added(places, *parts, path, value);
    if (!node->is_value()) return {{}, fmt::format("{} is a table or a list, not a single value", path)};
    const std::size_t begin = places.begin_of(*node);
    const std::size_t end = places.end_of_value(begin);
    return {{{begin, places.text().substr(begin, end - begin), value}}, ""};
}

Change change_removed(const Places& places, const std::string& path) {
    const auto parts = path_parts(path);
    const toml::node* node = parts ? node_at(places.tree(), *parts) : nullptr;
    if (!node || !node->is_value() || parts->back().is_index) return {{}, fmt::format("{} is not in the file", path)};
    const auto* owner = node_at(places.tree(), {parts->begin(), parts->end() - 1});
    if (owner->as_table()->is_inline())
        return {{}, fmt::format("{} is written inside braces: take it out by hand", path)};
    const std::size_t begin = places.line_begin(places.begin_of(*node));
    const std::size_t end = places.next_line(places.end_of_value(places.begin_of(*node)));
    return {{{begin, places.text().substr(begin, end - begin), ""}}, ""};
}

}  // namespace standproud::viewer
