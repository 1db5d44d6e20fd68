// Commands on walls: where their layers are written, and joins.
#include <fmt/format.h>

#include <cmath>

#include "state/steps.hpp"

namespace standproud::viewer {

namespace {

const char* const unreadable = "the file is not readable as TOML: undo, or put it right in a text editor first";

const toml::table* wall_table(const Places& places, std::size_t wall) {
    const auto* walls = places.tree()["walls"].as_array();
    return walls && wall < walls->size() ? walls->get(wall)->as_table() : nullptr;
}

std::string wall_name(const Places& places, std::size_t wall) {
    const auto* table = wall_table(places, wall);
    return table ? (*table)["id"].value_or(std::string("?")) : "?";
}

const toml::array* joins_of(const Places& places, std::size_t wall) {
    const auto* table = wall_table(places, wall);
    const auto* node = table ? table->get("joins") : nullptr;
    return node ? node->as_array() : nullptr;
}

/// Each in lines of its own under [[walls.joins]], not in one list in brackets.
bool in_lines(const Places& places, const toml::array& joins) {
    return !joins.empty() && places.text().compare(places.begin_of(*joins.get(0)), 2, "[[") == 0;
}

std::string join_lines(double across, const std::string& from, const std::string& feed) {
    return fmt::format("[[walls.joins]]{0}across = {1}{0}from = {2}{0}", feed, number_text(across), quoted(from));
}

}  // namespace

std::string layers_path(const Document& document, std::size_t wall) {
    const auto places = Places::of(document.text);
    const auto* table = places ? wall_table(*places, wall) : nullptr;
    return table && table->contains("layers") ? fmt::format("walls[{}].layers", wall) : "layers";
}

Refusal add_join(Document& document, std::size_t wall, double across, const std::string& from) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    const auto* table = wall_table(*places, wall);
    if (!table || !std::isfinite(across)) return "a join needs a wall and a place along it";
    const std::string feed = places->line_feed();
    const std::string& text = document.text;
    Step step{fmt::format("add a join on {}", wall_name(*places, wall)), "", {}};
    const auto* joins = joins_of(*places, wall);
    if (joins && !in_lines(*places, *joins)) {
        const std::size_t close = places->end_of_value(places->begin_of(*joins)) - 1;
        const std::string entry = fmt::format("{{across = {}, from = {}}}", number_text(across), quoted(from));
        const std::size_t at =
            joins->empty() ? close : places->end_of_value(places->begin_of(*joins->get(joins->size() - 1)));
        step.splices.push_back({at, "", (joins->empty() ? "" : ", ") + entry});
        return take_step(document, std::move(step));
    }
    const bool after_join = joins && !joins->empty();
    const std::size_t header =
        places->begin_of(after_join ? *joins->get(joins->size() - 1) : *static_cast<const toml::node*>(table));
    if (text.compare(header, 2, "[[") != 0)
        return "the walls are written as one list in brackets: add the join by hand";
    const std::size_t block = places->end_of_block(header, after_join ? "walls[].joins[]" : "walls[]");
    const std::size_t end = without_remarks_at_end(*places, header, block);
    step.splices.push_back({end, "", (text[end - 1] == '\n' ? "" : feed) + join_lines(across, from, feed)});
    return take_step(document, std::move(step));
}

Refusal remove_join(Document& document, std::size_t wall, std::size_t join) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    const auto* joins = joins_of(*places, wall);
    if (!joins || join >= joins->size()) return "there is no such join";
    const std::string& text = document.text;
    Step step{fmt::format("take out join {} of {}", join + 1, wall_name(*places, wall)), "", {}};
    std::size_t begin = places->begin_of(*joins->get(join));
    std::size_t end = 0;
    if (in_lines(*places, *joins)) {
        begin = places->line_begin(begin);
        end = without_remarks_at_end(*places, begin, places->end_of_block(begin, "walls[].joins[]"));
    } else {
        end = places->end_of_value(begin);
        if (join + 1 < joins->size()) {
            end = places->begin_of(*joins->get(join + 1));
        } else if (join > 0) {
            begin = places->end_of_value(places->begin_of(*joins->get(join - 1)));
        }
        if (text.substr(begin, end - begin).find('#') != text.npos) return "a remark stands there: take it out by hand";
    }
    step.splices.push_back({begin, text.substr(begin, end - begin), ""});
    return take_step(document, std::move(step));
}

Refusal move_join(Document& document, std::size_t wall, std::size_t join, double across) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    if (!std::isfinite(across)) return "a join needs a place along its wall";
    const std::string path = fmt::format("walls[{}].joins[{}].across", wall, join);
    const Change change = change_value(*places, path, number_text(across));
    if (!change.refusal.empty()) return change.refusal;
    const std::string name = fmt::format("move join {} of {}", join + 1, wall_name(*places, wall));
    return take_step(document, {name, path, change.splices});
}

}  // namespace standproud::viewer
