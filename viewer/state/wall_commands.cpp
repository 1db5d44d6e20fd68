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
    const auto* joins = (*table)["joins"].as_array();
    return add_entry(document, fmt::format("walls[{}].joins", wall), joins ? joins->size() : 0,
                     {{"across", number_text(across)}, {"from", toml_string(from)}},
                     fmt::format("add a join on {}", wall_name(*places, wall)));
}

Refusal remove_join(Document& document, std::size_t wall, std::size_t join) {
    const auto places = Places::of(document.text);
    if (!places) return unreadable;
    return remove_entry(document, fmt::format("walls[{}].joins", wall), join,
                        fmt::format("take out join {} of {}", join + 1, wall_name(*places, wall)));
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
