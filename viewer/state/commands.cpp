// The commands that change values and fittings.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"
#include "state/steps.hpp"

namespace standproud::viewer {

namespace {

const char* const unreadable = "the file is not readable as TOML: undo, or put it right in a text editor first";

/// Puts a value into a copy of the tree: what the text must say after the edit.
bool put(toml::node& node, const std::vector<PathPart>& path, std::size_t at, const toml::node& value) {
    const bool last = at + 1 == path.size();
    if (path[at].is_index) {
        auto* list = node.as_array();
        if (!list || path[at].index >= list->size()) return false;
        if (!last) return put(*list->get(path[at].index), path, at + 1, value);
        list->replace(list->cbegin() + static_cast<std::ptrdiff_t>(path[at].index), value);
        return true;
    }
    auto* table = node.as_table();
    if (!table) return false;
    if (last) {
        table->insert_or_assign(path[at].key, value);
        return true;
    }
    if (!table->contains(path[at].key)) table->insert(path[at].key, toml::table{});
    return put(*table->get(path[at].key), path, at + 1, value);
}

/// An edit is taken only if the new text says what the old one said, but for that one value.
bool says_the_same_but(const Document& document, const std::vector<Splice>& splices, const std::string& path,
                       const std::string& value) {
    std::string text = document.text;
    for (const auto& splice : splices) text.replace(splice.at, splice.removed.size(), splice.inserted);
    const auto before = Places::of(document.text);
    const auto after = Places::of(text);
    if (!before || !after) return false;
    toml::table expected = before->tree();
    const auto parsed = toml::parse("value = " + value);
    return put(expected, *path_parts(path), 0, *parsed.get("value")) && expected == after->tree();
}

/// "hot-tap: across" for "fittings[0].across".
std::string step_words(const Document& document, const std::string& path) {
    const auto parts = path_parts(path);
    if (!parts || parts->size() < 2 || !(*parts)[1].is_index) return path;
    const auto places = Places::of(document.text);
    if (!places) return path;
    std::vector<PathPart> id{(*parts)[0], (*parts)[1], {"id", 0, false}};
    const auto* node = node_at(places->tree(), id);
    const auto name = node ? node->value_exact<std::string>() : std::nullopt;
    if (!name) return path;
    std::string rest = path.substr(path.find(']') + 1);
    if (!rest.empty() && rest.front() == '.') rest.erase(0, 1);
    return fmt::format("{}: {}", *name, rest);
}

/// The number inside a length written as text: "-26 +/- 0.5" -> from 1, 3 long.
std::optional<std::string> with_number(const std::string& written, double value) {
    if (written.size() < 2 || (written.front() != '"' && written.front() != '\'')) return std::nullopt;
    const std::size_t begin = written.find_first_not_of(" \t", 1);
    const std::size_t end = written.find_first_not_of("+-.0123456789eE", begin);
    // "12+/- 1": the sign of the +/- is not part of the number.
    std::size_t stop = end;
    const std::size_t sign = written.find("+/-", begin);
    if (sign != written.npos) stop = std::min(stop, sign);
    if (begin == written.npos || stop == begin || stop == written.npos) return std::nullopt;
    return written.substr(0, begin) + number_text(value) + written.substr(stop);
}

}  // namespace

std::optional<std::string> value_text(const Document& document, const std::string& path) {
    const auto places = Places::of(document.text);
    const auto parts = path_parts(path);
    if (!places || !parts) return std::nullopt;
    const auto* node = node_at(places->tree(), *parts);
    if (!node || !node->is_value()) return std::nullopt;
    const std::size_t begin = places->begin_of(*node);
    return document.text.substr(begin, places->end_of_value(begin) - begin);
}

std::optional<std::string> words_at(const Document& document, const std::string& path) {
    const auto places = Places::of(document.text);
    const auto parts = path_parts(path);
    const auto* node = places && parts ? node_at(places->tree(), *parts) : nullptr;
    return node ? node->value_exact<std::string>() : std::nullopt;
}

Refusal set_value(Document& document, const std::string& path, const std::string& value, bool joins) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    const Change change = change_value(*places, path, value);
    if (!change.refusal.empty()) return change.refusal;
    if (!says_the_same_but(document, change.splices, path, value)) {
        return fmt::format("{} cannot be set here without changing something else: write it by hand", path);
    }
    return take_step(document,
                     {fmt::format("{} {}", step_words(document, path), value), joins ? path : "", change.splices});
}

Refusal set_number(Document& document, const std::string& path, double value, bool joins) {
    if (!std::isfinite(value)) return fmt::format("{}: not a number", path);
    const auto written = value_text(document, path);
    const auto kept = written ? with_number(*written, value) : std::nullopt;
    return set_value(document, path, kept.value_or(number_text(value)), joins);
}

Refusal remove_value(Document& document, const std::string& path) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    const Change change = change_removed(*places, path);
    if (!change.refusal.empty()) return change.refusal;
    return take_step(document, {fmt::format("{} taken out", step_words(document, path)), "", change.splices});
}

std::optional<std::size_t> fitting_index(const Document& document, const std::string& id) {
    const auto places = Places::of(document.text);
    const auto* list = places ? places->tree()["fittings"].as_array() : nullptr;
    if (!list) return std::nullopt;
    for (std::size_t i = 0; i < list->size(); ++i) {
        const auto* table = list->get(i)->as_table();
        const auto name = table ? (*table)["id"].value_exact<std::string>() : std::nullopt;
        if (name && *name == id) return i;
    }
    return std::nullopt;
}

namespace {

std::string fitting_text(const NewFitting& fitting, const std::string& feed) {
    std::string text = "[[fittings]]" + feed;
    const auto line = [&](const char* key, const std::string& value) {
        text += fmt::format("{} = {}{}", key, value, feed);
    };
    line("id", toml_string(fitting.id));
    if (!fitting.name.empty() && fitting.name != fitting.id) line("name", toml_string(fitting.name));
    line("type", toml_string(fitting.type));
    line("wall", toml_string(fitting.wall));
    line("across", number_text(fitting.across));
    line("from", toml_string(fitting.from));
    line("height", number_text(fitting.height));
    if (fitting.seat) line("seat", number_text(*fitting.seat));
    return text;
}

/// The list of fittings where each has lines of its own; a reason when there is a list in brackets instead.
Refusal written_out(const Places& places) {
    const auto* node = places.tree().get("fittings");
    const auto* list = node ? node->as_array() : nullptr;
    if (!list || list->empty()) return "";
    const std::size_t begin = places.begin_of(*list->get(0));
    const bool header = places.text().compare(begin, 2, "[[") == 0;
    return header ? "" : "the fittings are written as one list in brackets: add or take them out by hand";
}

}  // namespace

std::size_t without_remarks_at_end(const Places& places, std::size_t begin, std::size_t end) {
    const std::string& text = places.text();
    while (end > begin) {
        const std::size_t line = places.line_begin(end - 1);
        const std::size_t first = text.find_first_not_of(" \t\r\n", line);
        const bool idle = first == text.npos || first >= end || text[first] == '#';
        if (!idle || line <= begin) return end;
        end = line;
    }
    return end;
}

namespace {

/// Takes an id out of every list of what a pipe joins.
std::vector<Splice> let_go(const Places& places, const std::string& id) {
    std::vector<Splice> splices;
    const std::string& text = places.text();
    const auto* pipes = places.tree()["pipes"].as_array();
    for (std::size_t i = 0; pipes && i < pipes->size(); ++i) {
        const auto* pipe = pipes->get(i)->as_table();
        const auto* joins = pipe ? (*pipe)["connects"].as_array() : nullptr;
        for (std::size_t k = 0; joins && k < joins->size(); ++k) {
            if (joins->get(k)->value_or(std::string()) != id) continue;
            std::size_t begin = places.begin_of(*joins->get(k));
            std::size_t end = places.end_of_value(begin);
            // One comma goes with it: the one behind it, else the one before.
            const std::size_t after = text.find_first_not_of(" \t\r\n", end);
            if (after != text.npos && text[after] == ',') {
                end = text.find_first_not_of(" \t", after + 1);
            } else if (k > 0) {
                begin = text.rfind(',', begin);
            }
            splices.push_back({begin, text.substr(begin, end - begin), ""});
        }
    }
    return splices;
}

}  // namespace

Refusal add_fitting(Document& document, const NewFitting& fitting) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    if (const Refusal refusal = written_out(*places); !refusal.empty()) return refusal;
    if (fitting_index(document, fitting.id)) return fmt::format("there is a fitting \"{}\" already", fitting.id);
    const std::string feed = places->line_feed();
    const std::string& text = document.text;
    std::size_t at = text.size();
    const auto* list = places->tree()["fittings"].as_array();
    if (list && !list->empty()) {
        const std::size_t last = places->begin_of(*list->get(list->size() - 1));
        const std::size_t block_end = places->end_of_block(last, "fittings[]");
        at = block_end == text.size() ? block_end : without_remarks_at_end(*places, last, block_end);
    }
    const bool on_new_line = at == 0 || text[at - 1] == '\n';
    const std::string inserted = (on_new_line ? feed : feed + feed) + fitting_text(fitting, feed);
    return take_step(document, {fmt::format("add {}", fitting.id), "", {{at, "", inserted}}});
}

Refusal remove_fitting(Document& document, const std::string& id) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    if (const Refusal refusal = written_out(*places); !refusal.empty()) return refusal;
    const auto index = fitting_index(document, id);
    if (!index) return fmt::format("there is no fitting \"{}\"", id);
    const auto& list = *places->tree()["fittings"].as_array();
    const std::size_t header = places->begin_of(*list.get(*index));
    const std::size_t begin = places->line_begin(header);
    const std::size_t block_end = places->end_of_block(header, "fittings[]");
    const std::size_t end = without_remarks_at_end(*places, begin, block_end);
    // The empty line behind it goes with it, so that taking out what was added leaves no hole.
    std::size_t stop = end;
    if (stop < block_end && places->line_end(stop) == stop) stop = places->next_line(stop);
    std::vector<Splice> splices = let_go(*places, id);
    splices.push_back({begin, document.text.substr(begin, stop - begin), ""});
    // From the end of the text on, so that no splice moves the place of another.
    std::sort(splices.begin(), splices.end(), [](const Splice& a, const Splice& b) { return a.at > b.at; });
    return take_step(document, {fmt::format("take out {}", id), "", std::move(splices)});
}

namespace {

/// Several values of one table in one step.
Refusal set_several(Document& document, Step step, const std::string& base,
                    const std::vector<std::pair<std::string, std::string>>& values) {
    // Each splice counts from the text that the one before it left.
    std::string text = document.text;
    for (const auto& [key, value] : values) {
        const auto now = Places::of(text);
        if (!now) return unreadable;
        const Change change = change_value(*now, base + key, value);
        if (!change.refusal.empty()) return change.refusal;
        for (const auto& splice : change.splices) {
            text.replace(splice.at, splice.removed.size(), splice.inserted);
            step.splices.push_back(splice);
        }
    }
    return take_step(document, std::move(step));
}

}  // namespace

Refusal move_fitting(Document& document, const std::string& fitting, double across, double height) {
    const auto index = fitting_index(document, fitting);
    if (!index) return fmt::format("there is no fitting \"{}\"", fitting);
    if (!std::isfinite(across) || !std::isfinite(height)) return "a place needs two numbers";
    return set_several(document, {fmt::format("move {}", fitting), "move " + fitting, {}},
                       fmt::format("fittings[{}].", *index),
                       {{"across", number_text(across)}, {"height", number_text(height)}});
}

Refusal set_as_built(Document& document, const std::string& fitting, const Measured& measured) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    const auto index = fitting_index(document, fitting);
    if (!index) return fmt::format("there is no fitting \"{}\"", fitting);
    if (!std::isfinite(measured.seat) || measured.by.empty() || !is_toml_value(measured.date)) {
        return "a measured depth needs a number, a date as 2026-03-31, and who measured it";
    }
    const std::string seat =
        measured.tolerance
            ? toml_string(fmt::format("{} +/- {}", number_text(measured.seat), number_text(*measured.tolerance)))
            : number_text(measured.seat);
    const std::string base = fmt::format("fittings[{}].as_built", *index);
    const std::vector<std::pair<std::string, std::string>> values{
        {"date", measured.date}, {"by", toml_string(measured.by)}, {"seat", seat}};
    Step step{fmt::format("{}: measured seat {}", fitting, seat), "", {}};
    if (node_at(places->tree(), *path_parts(base))) {
        return set_several(document, std::move(step), base + ".", values);
    }
    if (const Refusal refusal = written_out(*places); !refusal.empty()) return refusal;
    const std::string feed = places->line_feed();
    const std::size_t header = places->begin_of(*places->tree()["fittings"].as_array()->get(*index));
    const std::size_t end = without_remarks_at_end(*places, header, places->end_of_block(header, "fittings[]"));
    std::string inserted = document.text[end - 1] == '\n' ? "" : feed;
    inserted += "[fittings.as_built]" + feed;
    for (const auto& [key, value] : values) inserted += fmt::format("{} = {}{}", key, value, feed);
    step.splices.push_back({end, "", inserted});
    return take_step(document, std::move(step));
}

}  // namespace standproud::viewer
