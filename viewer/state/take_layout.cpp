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

const toml::array* joins_of(const toml::table& tree, std::size_t wall) {
    const auto* table = wall_table(tree, wall);
    const auto* node = table ? table->get("joins") : nullptr;
    return node ? node->as_array() : nullptr;
}

Change placed(const Places& places, std::size_t wall, std::size_t join, double across) {
    const std::string base = fmt::format("walls[{}].joins[{}].", wall, join);
    const auto* table = joins_of(places.tree(), wall)->get(join)->as_table();
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

/// The new text says what the old one said, but for the joins of this wall.
bool says_the_same_but(const std::string& before, const std::string& after, std::size_t wall) {
    auto old_tree = Places(before).tree();
    auto new_tree = Places(after).tree();
    for (auto* tree : {&old_tree, &new_tree}) {
        if (wall_table(*tree, wall)) (*tree)["walls"].as_array()->get(wall)->as_table()->erase("joins");
    }
    return old_tree == new_tree;
}

bool same_joins(const std::string& text, std::size_t wall, const std::vector<double>& places) {
    const toml::table tree = Places(text).tree();
    const auto* joins = joins_of(tree, wall);
    if (!joins) return places.empty();
    if (joins->size() != places.size()) return false;
    for (std::size_t j = 0; j < places.size(); ++j) {
        const auto* table = joins->get(j)->as_table();
        if (!table || (*table)["from"].value_or(std::string()) != from) return false;
        if (std::abs((*table)["across"].value_or(places[j] + 1) - places[j]) >= 0.005) return false;
    }
    return true;
}

}  // namespace

Refusal take_layout(Document& document, std::size_t wall, const std::vector<double>& wanted) {
    const auto start = Places::of(document.text);
    if (!start) return unreadable;
    const auto* table = wall_table(start->tree(), wall);
    if (!table) return "there is no such wall";
    std::vector<double> at = wanted;
    for (double& one : at) {
        if (!std::isfinite(one)) return "a join needs a place along its wall";
        one = std::round(one * 100) / 100;
    }
    Step step{fmt::format("take over a layout of {}", (*table)["id"].value_or(std::string("?"))), "", {}};
    std::string text = document.text;
    const auto* joins = joins_of(start->tree(), wall);
    std::size_t count = joins ? joins->size() : 0;
    const std::string list = fmt::format("walls[{}].joins", wall);
    const auto entry = [](double across) {
        return Entry{{"across", number_text(across)}, {"from", toml_string(from)}};
    };
    for (std::size_t j = 0; j < std::min(count, at.size()); ++j) {
        if (Refusal no = carry_on(text, step, placed(Places(text), wall, j, at[j])); !no.empty()) return no;
    }
    for (; count > at.size(); --count) {
        if (Refusal no = carry_on(text, step, take_entry(Places(text), list, count - 1)); !no.empty()) return no;
    }
    for (; count < at.size(); ++count) {
        if (Refusal no = carry_on(text, step, put_entry(Places(text), list, count, entry(at[count]))); !no.empty())
            return no;
    }
    if (!says_the_same_but(document.text, text, wall) || !same_joins(text, wall, at))
        return "the joins cannot be set here without changing something else: write them by hand";
    return take_step(document, std::move(step));
}

}  // namespace standproud::viewer
