#include "state/write_entry.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "state/steps.hpp"

namespace standproud::viewer {

namespace {

const char* const in_a_list = "the list above it is written in brackets: add it by hand";
const char* const remark_inside = "a remark stands there: take it out by hand";

}  // namespace

const toml::node* node_of(const Places& places, const std::string& path) {
    const auto parts = path_parts(path);
    return parts ? node_at(places.tree(), *parts) : nullptr;
}

namespace {

/// "walls[2].noggins" without its indices, as Places::end_of_block names blocks: "walls[].noggins".
std::string block_name(const std::string& path) {
    std::string name;
    const auto parts = path_parts(path);
    for (const auto& part : *parts) {
        name += part.is_index ? "[]" : (name.empty() ? "" : ".") + part.key;
    }
    return name;
}

/// The keys alone, as a header has them: "walls.noggins".
std::string header_name(const std::string& path) {
    std::string name;
    const auto parts = path_parts(path);
    for (const auto& part : *parts) {
        if (!part.is_index) name += (name.empty() ? "" : ".") + part.key;
    }
    return name;
}

}  // namespace

std::string owner_of(const std::string& path) {
    const std::size_t dot = path.rfind('.');
    return dot == path.npos ? "" : path.substr(0, dot);
}

namespace {

std::string lines_of(const std::string& header, const Entry& entry, const std::string& feed) {
    std::string text = header + feed;
    for (const auto& [key, value] : entry) text += fmt::format("{} = {}{}", key, value, feed);
    return text;
}

std::string braces_of(const Entry& entry) {
    std::string text;
    for (const auto& [key, value] : entry) text += fmt::format("{}{} = {}", text.empty() ? "" : ", ", key, value);
    return "{" + text + "}";
}

bool good(const Entry& entry) {
    return std::all_of(entry.begin(), entry.end(), [](const auto& pair) { return is_toml_value(pair.second); });
}

}  // namespace

bool in_blocks(const Places& places, const toml::array& list) {
    return !list.empty() && places.text().compare(places.begin_of(*list.get(0)), 2, "[[") == 0;
}

namespace {

/// Where the lines of block `index` begin and end, remarks before the next table not counted.
std::pair<std::size_t, std::size_t> block_of(const Places& places, const toml::node& entry, const std::string& name) {
    const std::size_t begin = places.line_begin(places.begin_of(entry));
    return {begin, without_remarks_at_end(places, begin, places.end_of_block(places.begin_of(entry), name))};
}

Change put_block(const Places& places, const toml::array& list, const std::string& path, std::size_t at,
                 const Entry& entry) {
    const std::string feed = places.line_feed();
    const std::string lines = lines_of("[[" + header_name(path) + "]]", entry, feed);
    const std::string name = block_name(path) + "[]";
    if (at == 0) {
        // Behind the remarks above it: they are the list's heading more often than the first entry's.
        return {{{places.line_begin(places.begin_of(*list.get(0))), "", lines}}, ""};
    }
    const auto [begin, end] = block_of(places, *list.get(at - 1), name);
    const bool apart = begin > 0 && places.line_end(begin - 1) == places.line_begin(begin - 1);  // an empty line above
    const std::string before = places.text()[end - 1] == '\n' ? "" : feed;
    return {{{end, "", before + (apart ? feed : "") + lines}}, ""};
}

}  // namespace

Change put_in_brackets(const Places& places, const toml::array& list, std::size_t at, const std::string& value) {
    const std::string& text = places.text();
    const std::size_t open = places.begin_of(list);
    if (list.empty()) {
        const std::size_t close = places.end_of_value(open) - 1;
        if (text.substr(open, close - open).find('#') != text.npos) return {{}, remark_inside};
        return {{{open + 1, text.substr(open + 1, close - open - 1), value}}, ""};
    }
    const std::size_t neighbour = places.begin_of(*list.get(std::min(at, list.size() - 1)));
    const std::size_t line = places.line_begin(neighbour);
    const bool own_line = text.find_first_not_of(" \t", line) == neighbour;
    const std::string gap = own_line ? places.line_feed() + text.substr(line, neighbour - line) : " ";
    if (at < list.size()) return {{{neighbour, "", value + "," + gap}}, ""};
    return {{{places.end_of_value(neighbour), "", "," + gap + value}}, ""};
}

Change take_from_brackets(const Places& places, const toml::array& list, std::size_t index) {
    const std::string& text = places.text();
    std::size_t begin = places.begin_of(*list.get(index));
    std::size_t end = places.end_of_value(begin);
    if (index + 1 < list.size()) {
        end = places.begin_of(*list.get(index + 1));
    } else if (index > 0) {
        begin = places.end_of_value(places.begin_of(*list.get(index - 1)));
    } else {
        const std::size_t after = text.find_first_not_of(" \t\r\n", end);
        if (after != text.npos && text[after] == ',') end = after + 1;
    }
    const std::string removed = text.substr(begin, end - begin);
    if (removed.find('#') != removed.npos) return {{}, remark_inside};
    return {{{begin, removed, ""}}, ""};
}

namespace {

/// Lines of a new table, behind everything of the table that holds it, or at the end of the file. `in_braces` is done
/// where that table is written inside braces.
Change new_block(const Places& places, const std::string& path, const std::string& lines, const Change& in_braces) {
    const std::string& text = places.text();
    const std::string feed = places.line_feed();
    const std::string owner = owner_of(path);
    if (owner.empty()) {
        const std::string gap = text.empty() ? "" : text.back() == '\n' ? feed : feed + feed;
        return {{{text.size(), "", gap + lines}}, ""};
    }
    const auto* table = node_of(places, owner);
    if (!table || !table->is_table()) return {{}, fmt::format("{} is not in the file", owner)};
    if (table->as_table()->is_inline()) return in_braces;
    if (text.compare(places.begin_of(*table), 1, "[") != 0) return {{}, in_a_list};
    const auto [begin, end] = block_of(places, *table, block_name(owner));
    return {{{end, "", (text[end - 1] == '\n' ? "" : feed) + lines}}, ""};
}

/// A list of tables that is not in the file yet, with its first entry.
Change first_entry(const Places& places, const std::string& path, const Entry& entry) {
    const std::string lines = lines_of("[[" + header_name(path) + "]]", entry, places.line_feed());
    return new_block(places, path, lines, change_value(places, path, "[" + braces_of(entry) + "]"));
}

}  // namespace

Change put_entry(const Places& places, const std::string& path, std::size_t at, const Entry& entry) {
    const auto* node = node_of(places, path);
    if (!good(entry)) return {{}, "a value there cannot be written in a job file"};
    if (!node) return first_entry(places, path, entry);
    const auto* list = node->as_array();
    if (!list || at > list->size()) return {{}, fmt::format("{} has no place {}", path, at + 1)};
    if (in_blocks(places, *list)) return put_block(places, *list, path, at, entry);
    return put_in_brackets(places, *list, at, braces_of(entry));
}

namespace {

/// A block taken out; the empty line behind it too where one stands above it, so that one stays.
Change without_block(const Places& places, const toml::node& node, const std::string& name) {
    const auto [begin, end] = block_of(places, node, name);
    std::size_t stop = end;
    const bool apart = begin > 0 && places.line_end(begin - 1) == places.line_begin(begin - 1);
    if (apart && stop < places.text().size() && places.line_end(stop) == stop) stop = places.next_line(stop);
    return {{{begin, places.text().substr(begin, stop - begin), ""}}, ""};
}

}  // namespace

Change take_entry(const Places& places, const std::string& path, std::size_t index) {
    const auto* node = node_of(places, path);
    const auto* list = node ? node->as_array() : nullptr;
    if (!list || index >= list->size()) return {{}, fmt::format("{} has no entry {}", path, index + 1)};
    if (!in_blocks(places, *list)) return take_from_brackets(places, *list, index);
    return without_block(places, *list->get(index), block_name(path) + "[]");
}

Change take_whole(const Places& places, const std::string& path) {
    const auto* node = node_of(places, path);
    if (!node) return {{}, fmt::format("{} is not in the file", path)};
    const std::string& text = places.text();
    const std::size_t at = places.begin_of(*node);
    const auto* table = node->as_table();
    if (table && !table->is_inline()) {
        if (text.compare(at, 1, "[") != 0) return {{}, fmt::format("{} is written in dotted keys", path)};
        return without_block(places, *node, block_name(path));
    }
    const auto* owner = node_of(places, owner_of(path));
    if (owner && owner->as_table() && owner->as_table()->is_inline())
        return {{}, fmt::format("{} is written inside braces: take it out by hand", path)};
    const std::size_t begin = places.line_begin(at);
    const std::size_t end = places.next_line(places.end_of_value(at));
    const std::string removed = text.substr(begin, end - begin);
    if (text.substr(at, places.end_of_value(at) - at).find('#') != text.npos) return {{}, remark_inside};
    return {{{begin, removed, ""}}, ""};
}

Change put_table(const Places& places, const std::string& path, const Entry& entry) {
    if (!good(entry)) return {{}, "a value there cannot be written in a job file"};
    if (node_of(places, path)) return {{}, fmt::format("{} is in the file already", path)};
    const std::string lines = lines_of("[" + header_name(path) + "]", entry, places.line_feed());
    return new_block(places, path, lines, {{}, in_a_list});
}

}  // namespace standproud::viewer
