// A proposed layout in place of a wall's joins: one step that changes no more of the text than it must.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "state/steps.hpp"
#include "state/write_entry.hpp"
#include "viewer/bench_view.hpp"

namespace standproud::viewer {

namespace {

const char* const unreadable = "the file is not readable as TOML: undo, or put it right in a text editor first";
const char* const from = "left bare";

const toml::table* wall_table(const toml::table& tree, std::size_t wall) {
    const auto* walls = tree["walls"].as_array();
    return walls && wall < walls->size() ? walls->get(wall)->as_table() : nullptr;
}

const toml::array* list_of(const toml::table& tree, std::size_t wall, const char* list) {
    const auto* table = wall_table(tree, wall);
    const auto* node = table ? table->get(list) : nullptr;
    return node ? node->as_array() : nullptr;
}

Change placed(const Places& places, std::size_t wall, std::size_t join, double across) {
    const std::string base = fmt::format("walls[{}].joins[{}].", wall, join);
    const auto* table = list_of(places.tree(), wall, "joins")->get(join)->as_table();
    // A join that is there already is not written anew: 856 stays 856, not 856.0.
    const bool same = table && (*table)["from"].value_or(std::string()) == from &&
                      std::abs((*table)["across"].value_or(across + 1) - across) < 0.005;
    if (same) return {};
    Change change = change_value(places, base + "across", number_text(across));
    const Change counted = change_value(places, base + "from", toml_string(from));
    if (change.refusal.empty()) change.refusal = counted.refusal;
    change.splices.insert(change.splices.end(), counted.splices.begin(), counted.splices.end());
    // From the end of the text on, so that neither moves the place of the other.
    std::sort(change.splices.begin(), change.splices.end(),
              [](const Splice& a, const Splice& b) { return a.at > b.at; });
    return change;
}

/// The new text says what the old one said, but for the joins of this wall, upright and level.
bool says_the_same_but(const std::string& before, const std::string& after, std::size_t wall) {
    auto old_tree = Places(before).tree();
    auto new_tree = Places(after).tree();
    for (auto* tree : {&old_tree, &new_tree}) {
        for (const char* list : {"joins", "level_joins"}) {
            if (wall_table(*tree, wall)) (*tree)["walls"].as_array()->get(wall)->as_table()->erase(list);
        }
    }
    return old_tree == new_tree;
}

bool same_joins(const std::string& text, std::size_t wall, const std::vector<double>& places) {
    const toml::table tree = Places(text).tree();
    const auto* joins = list_of(tree, wall, "joins");
    if (!joins) return places.empty();
    if (joins->size() != places.size()) return false;
    for (std::size_t j = 0; j < places.size(); ++j) {
        const auto* table = joins->get(j)->as_table();
        if (!table || (*table)["from"].value_or(std::string()) != from) return false;
        if (std::abs((*table)["across"].value_or(places[j] + 1) - places[j]) >= 0.005) return false;
    }
    return true;
}

bool same_levels(const std::string& text, std::size_t wall, const std::vector<double>& heights) {
    const toml::table tree = Places(text).tree();
    const auto* joins = list_of(tree, wall, "level_joins");
    if (!joins) return heights.empty();
    if (joins->size() != heights.size()) return false;
    for (std::size_t j = 0; j < heights.size(); ++j) {
        const auto* table = joins->get(j)->as_table();
        if (!table || std::abs((*table)["height"].value_or(heights[j] + 1) - heights[j]) >= 0.005) return false;
    }
    return true;
}

/// Makes a list of the wall have one entry for each place: `change` for those that are there, `entry` for new ones.
template <typename Change, typename New>
Refusal set_list(std::string& text, Step& step, std::size_t wall, const char* list, const std::vector<double>& at,
                 const Change& change, const New& entry) {
    const toml::table tree = Places(text).tree();
    const auto* present = list_of(tree, wall, list);
    std::size_t count = present ? present->size() : 0;
    const std::string path = fmt::format("walls[{}].{}", wall, list);
    for (std::size_t j = 0; j < std::min(count, at.size()); ++j) {
        if (Refusal no = carry_on(text, step, change(Places(text), j, at[j])); !no.empty()) return no;
    }
    for (; count > at.size(); --count) {
        if (Refusal no = carry_on(text, step, take_entry(Places(text), path, count - 1)); !no.empty()) return no;
    }
    for (; count < at.size(); ++count) {
        if (Refusal no = carry_on(text, step, put_entry(Places(text), path, count, entry(at[count]))); !no.empty())
            return no;
    }
    return "";
}

bool rounded(std::vector<double>& places) {
    for (double& one : places) {
        if (!std::isfinite(one)) return false;
        one = std::round(one * 100) / 100;
    }
    return true;
}

}  // namespace

Refusal take_layout(Document& document, std::size_t wall, const std::vector<double>& wanted,
                    const std::vector<double>& wanted_levels) {
    const auto start = Places::of(document.text);
    if (!start) return unreadable;
    const auto* table = wall_table(start->tree(), wall);
    if (!table) return "there is no such wall";
    std::vector<double> at = wanted;
    std::vector<double> levels = wanted_levels;
    if (!rounded(at) || !rounded(levels)) return "a join needs a place on its wall";
    Step step{fmt::format("take over a layout of {}", (*table)["id"].value_or(std::string("?"))), "", {}};
    std::string text = document.text;
    const auto across = [&](const Places& places, std::size_t j, double place) {
        return placed(places, wall, j, place);
    };
    const auto new_join = [](double place) {
        return Entry{{"across", number_text(place)}, {"from", toml_string(from)}};
    };
    const auto height = [&](const Places& places, std::size_t j, double place) {
        if (same_levels(text, wall, levels)) return Change{};
        return change_value(places, fmt::format("walls[{}].level_joins[{}].height", wall, j), number_text(place));
    };
    const auto new_level = [](double place) { return Entry{{"height", number_text(place)}}; };
    if (Refusal no = set_list(text, step, wall, "joins", at, across, new_join); !no.empty()) return no;
    if (Refusal no = set_list(text, step, wall, "level_joins", levels, height, new_level); !no.empty()) return no;
    if (!says_the_same_but(document.text, text, wall) || !same_joins(text, wall, at) ||
        !same_levels(text, wall, levels))
        return "the joins cannot be set here without changing something else: write them by hand";
    return take_step(document, std::move(step));
}

}  // namespace standproud::viewer
