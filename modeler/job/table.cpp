#include "job/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <sstream>

#include "modeler/clean_text.hpp"

namespace standproud {

namespace {

std::string shown(const toml::node& node) {
    if (node.is_table()) return "a table";
    if (node.is_array()) return "a list";
    if (const auto words = node.value_exact<std::string>()) return fmt::format("\"{}\"", *words);
    if (const auto number = node.value_exact<double>()) {
        const std::string digits = fmt::format("{}", *number);
        return digits.find_first_not_of("-0123456789") == digits.npos ? digits + ".0" : digits;
    }
    std::ostringstream text;
    node.visit([&](const auto& value) { text << value; });
    return text.str();
}

/// "48", "48 +/- 0.5" or with the sign for plus or minus. Nothing when it is not of that form.
std::optional<Length> parse_length(const std::string& text) {
    const char* at = text.c_str();
    char* end = nullptr;
    Length length;
    length.value = std::strtod(at, &end);
    if (end == at) return std::nullopt;
    std::string rest(end);
    rest.erase(0, rest.find_first_not_of(' ') == std::string::npos ? rest.size() : rest.find_first_not_of(' '));
    if (rest.empty()) return length;
    for (const std::string sign : {"+/-", "\u00b1"}) {
        if (rest.rfind(sign, 0) != 0) continue;
        const std::string number = rest.substr(sign.size());
        length.tolerance = std::strtod(number.c_str(), &end);
        const bool only_spaces = std::string(end).find_first_not_of(' ') == std::string::npos;
        if (end != number.c_str() && only_spaces) return length;
    }
    return std::nullopt;
}

std::string listed(const std::vector<std::string>& words) {
    std::string text;
    for (const auto& word : words) text += (text.empty() ? "\"" : ", \"") + word + "\"";
    return text;
}

bool plain_id(const std::string& id) {
    return !id.empty() && id.front() != '-' &&
           id.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") ==
               std::string::npos;
}

}  // namespace

std::string to_string(const Range& range) {
    return fmt::format("{}{:g} to {:g} {}", range.above ? "above " : "", range.least, range.most, range.unit);
}

Table::Table(const toml::table& table, std::string file, std::string name, Faults& faults)
    : table_(&table), file_(std::move(file)), name_(std::move(name)), faults_(&faults) {}

Source Table::at(const toml::source_region& region) const {
    return {file_, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

Source Table::source() const { return at(table_->source()); }

Source Table::source_of(const char* key) const {
    const toml::node* node = table_->get(key);
    return node ? at(node->source()) : source();
}

std::string Table::full(const char* key) const { return name_.empty() ? key : fmt::format("{}.{}", name_, key); }

bool Table::has(const char* key) const { return table_->contains(key); }

const toml::node* Table::find(const char* key) {
    asked_.insert(key);
    return table_->get(key);
}

void Table::missing(const char* key, const std::string& allowed) {
    faults_->push_back({source(), full(key), "", allowed, fmt::format("{} is missing", full(key))});
}

void Table::wrong(const char* key, const toml::node& node, const std::string& says, const std::string& allowed) {
    faults_->push_back({at(node.source()), full(key), shown(node), allowed, says});
}

void Table::fault_at(const Source& where, const std::string& key, const std::string& found, const std::string& says,
                     const std::string& allowed) {
    faults_->push_back({where, key, found, allowed, says});
}

void Table::fault(const char* key, const std::string& says, const std::string& allowed) {
    const toml::node* node = table_->get(key);
    faults_->push_back({source_of(key), full(key), node ? shown(*node) : "", allowed, says});
}

std::optional<std::string> Table::maybe_text(const char* key) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    if (const auto value = node->value_exact<std::string>()) return clean_text(*value);
    wrong(key, *node, fmt::format("{} is not text", full(key)), "text in double quotes");
    return std::nullopt;
}

std::string Table::text(const char* key) {
    if (!find(key)) missing(key, "text in double quotes");
    const auto value = maybe_text(key);
    if (value && value->find_first_not_of(" \t\n") == std::string::npos) {
        fault(key, fmt::format("{} is empty", full(key)), "some text");
    }
    return value.value_or("");
}

std::string Table::id(const char* key) {
    const auto before = faults_->size();
    std::string value = text(key);
    if (faults_->size() == before && !plain_id(value)) {
        fault(key, fmt::format("{} is not a plain word", full(key)), "letters, digits, - and _ only");
    }
    return value;
}

std::string Table::date(const char* key) {
    const std::string allowed = "a date without quotes: 2026-03-31";
    const toml::node* node = find(key);
    if (!node) {
        missing(key, allowed);
        return "";
    }
    if (const auto value = node->value_exact<toml::date>()) {
        return fmt::format("{:04}-{:02}-{:02}", value->year, value->month, value->day);
    }
    wrong(key, *node, fmt::format("{} is not a date", full(key)), allowed);
    return "";
}

std::optional<double> Table::checked(const char* key, const toml::node& node, double value, Range range) {
    const bool inside =
        std::isfinite(value) && value <= range.most && (range.above ? value > range.least : value >= range.least);
    if (inside) return value;
    wrong(key, node, fmt::format("{} is out of range", full(key)), to_string(range));
    return std::nullopt;
}

std::optional<double> Table::maybe_number(const char* key, Range range) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    if (node->is_number()) return checked(key, *node, *node->value<double>(), range);
    wrong(key, *node,
          fmt::format("{} is not a number{}", full(key), node->is_string() ? ": numbers stand without quotes" : ""),
          to_string(range));
    return std::nullopt;
}

double Table::number(const char* key, Range range) {
    if (!find(key)) missing(key, to_string(range));
    return maybe_number(key, range).value_or(range.above ? range.most : range.least);
}

MaybeLength Table::maybe_length(const char* key, Range range) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    const std::string allowed = to_string(range) + ", as 48 or \"48 +/- 0.5\"";
    std::optional<Length> length;
    if (node->is_number()) length = Length{*node->value<double>(), std::nullopt, {}};
    if (const auto written = node->value_exact<std::string>()) length = parse_length(*written);
    if (!length) {
        wrong(key, *node, fmt::format("{} is not a length", full(key)), allowed);
        return std::nullopt;
    }
    if (!checked(key, *node, length->value, range)) return std::nullopt;
    if (length->tolerance && !(std::isfinite(*length->tolerance) && *length->tolerance >= 0)) {
        wrong(key, *node, fmt::format("the +/- of {} is out of range", full(key)), "a +/- of 0 or more");
        return std::nullopt;
    }
    length->source = at(node->source());
    return length;
}

Length Table::length(const char* key, Range range) {
    if (!find(key)) missing(key, to_string(range) + ", as 48 or \"48 +/- 0.5\"");
    return maybe_length(key, range).value_or(Length{range.least, std::nullopt, source()});
}

std::optional<std::size_t> Table::maybe_word(const char* key, const std::vector<std::string>& words) {
    const auto value = maybe_text(key);
    if (!value) return std::nullopt;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (words[i] == *value) return i;
    }
    const std::string near = nearest_word(*value, words);
    fault(key,
          fmt::format("{} is not one of the words known here{}", full(key),
                      near.empty() ? "" : fmt::format("; did you mean \"{}\"?", near)),
          listed(words));
    return std::nullopt;
}

std::size_t Table::word(const char* key, const std::vector<std::string>& words) {
    if (!find(key)) missing(key, listed(words));
    return maybe_word(key, words).value_or(0);
}

std::optional<Colour> Table::maybe_colour(const char* key) {
    const auto text = maybe_text(key);
    if (!text) return std::nullopt;
    const auto colour = read_colour(*text);
    if (!colour) fault(key, fmt::format("{} is not a colour", full(key)), "\"#rrggbb\", as \"#d8cfc0\"");
    return colour;
}

std::optional<SealantLook> Table::maybe_sealant(const char* key) {
    const auto text = maybe_text(key);
    if (!text) return std::nullopt;
    SealantLook look{read_colour(*text), source_of(key)};
    if (!look.colour && *text != "clear")
        fault(key, fmt::format("{} is not a colour of sealant", full(key)),
              "\"clear\", or \"#rrggbb\", as \"#d8cfc0\"");
    return look;
}

bool Table::flag(const char* key, bool otherwise) { return maybe_flag(key).value_or(otherwise); }

std::optional<bool> Table::maybe_flag(const char* key) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    if (const auto value = node->value_exact<bool>()) return *value;
    wrong(key, *node, fmt::format("{} is neither true nor false", full(key)), "true or false");
    return std::nullopt;
}

std::vector<double> Table::numbers(const char* key, Range range) {
    const toml::node* node = find(key);
    std::vector<double> values;
    if (!node) return values;
    const toml::array* list = node->as_array();
    if (!list) {
        wrong(key, *node, fmt::format("{} is not a list of numbers", full(key)),
              "[a, b, ...], each " + to_string(range));
        return values;
    }
    for (const auto& item : *list) {
        if (!item.is_number()) {
            wrong(key, item, fmt::format("{} holds something that is not a number", full(key)), to_string(range));
        } else if (const auto value = checked(key, item, *item.value<double>(), range)) {
            values.push_back(*value);
        }
    }
    return values;
}

std::optional<Vec2> Table::maybe_pair(const char* key, Range range) {
    const auto before = faults_->size();
    if (!find(key)) return std::nullopt;
    const auto values = numbers(key, range);
    if (values.size() == 2) return Vec2{values[0], values[1]};
    if (faults_->size() == before) {
        fault(key, fmt::format("{} is not a pair", full(key)), "[a, b], each " + to_string(range));
    }
    return std::nullopt;
}

std::vector<std::pair<std::array<double, 3>, Source>> Table::triples(const char* key, Range range) {
    const toml::node* node = find(key);
    std::vector<std::pair<std::array<double, 3>, Source>> values;
    if (!node) return values;
    const std::string allowed = "[[a, b, c], ...], each " + to_string(range);
    const toml::array* list = node->as_array();
    if (!list) {
        wrong(key, *node, fmt::format("{} is not a list", full(key)), allowed);
        return values;
    }
    for (const auto& item : *list) {
        const toml::array* row = item.as_array();
        const bool numbers =
            row && row->size() == 3 &&
            std::all_of(row->begin(), row->end(), [](const toml::node& each) { return each.is_number(); });
        if (!numbers) {
            wrong(key, item, fmt::format("{} holds something that is not three numbers", full(key)), allowed);
            continue;
        }
        std::array<double, 3> triple{};
        bool good = true;
        for (std::size_t i = 0; i < 3; ++i) {
            const toml::node& number = *row->get(i);
            const auto value = checked(key, number, *number.value<double>(), range);
            good = good && value;
            triple[i] = value.value_or(0);
        }
        if (good) values.emplace_back(triple, at(item.source()));
    }
    return values;
}

std::vector<std::pair<std::string, Source>> Table::texts(const char* key) {
    const toml::node* node = find(key);
    std::vector<std::pair<std::string, Source>> values;
    if (!node) return values;
    const toml::array* list = node->as_array();
    if (!list) {
        wrong(key, *node, fmt::format("{} is not a list", full(key)), "[\"a\", \"b\", ...]");
        return values;
    }
    for (const auto& item : *list) {
        if (const auto value = item.value_exact<std::string>()) {
            values.emplace_back(*value, at(item.source()));
        } else {
            wrong(key, item, fmt::format("{} holds something that is not text", full(key)), "[\"a\", \"b\", ...]");
        }
    }
    return values;
}

std::vector<std::string> Table::names(const char* key) {
    std::vector<std::string> names;
    for (auto& [name, source] : texts(key)) {
        if (std::find(names.begin(), names.end(), name) == names.end()) {
            names.push_back(clean_text(name));
        } else {
            fault_at(source, full(key), fmt::format("\"{}\"", name), fmt::format("{} names it twice", full(key)),
                     "each once");
        }
    }
    return names;
}

std::optional<Table> Table::table(const char* key) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    if (const toml::table* found = node->as_table()) return Table(*found, file_, full(key), *faults_);
    wrong(key, *node, fmt::format("{} is not a table", full(key)), fmt::format("[{}] and keys under it", full(key)));
    return std::nullopt;
}

std::vector<Table> Table::tables(const char* key) {
    const toml::node* node = find(key);
    std::vector<Table> found;
    if (!node) return found;
    const std::string allowed = fmt::format("[[{}]] and keys under it, once for each", full(key));
    const toml::array* list = node->as_array();
    if (!list) {
        wrong(key, *node, fmt::format("{} is not a list of tables", full(key)), allowed);
        return found;
    }
    for (const auto& item : *list) {
        if (const toml::table* each = item.as_table()) {
            found.emplace_back(*each, file_, full(key), *faults_);
        } else {
            wrong(key, item, fmt::format("{} holds something that is not a table", full(key)), allowed);
        }
    }
    return found;
}

std::vector<std::pair<std::string, LimitOverride>> Table::all_numbers(const char* key) {
    std::vector<std::pair<std::string, LimitOverride>> found;
    const auto walk = [&](const auto& self, const toml::table& table, const std::string& prefix) -> void {
        for (const auto& [name, node] : table) {
            const std::string dotted =
                prefix.empty() ? std::string(name.str()) : fmt::format("{}.{}", prefix, name.str());
            if (const toml::table* sub = node.as_table()) {
                self(self, *sub, dotted);
            } else if (node.is_number() && std::isfinite(*node.template value<double>())) {
                found.emplace_back(dotted, LimitOverride{*node.template value<double>(), at(node.source())});
            } else {
                faults_->push_back({at(node.source()), fmt::format("{}.{}", full(key), dotted), shown(node), "a number",
                                    fmt::format("limit {} is not a number", dotted)});
            }
        }
    };
    if (const toml::node* node = find(key)) {
        if (const toml::table* table = node->as_table()) {
            walk(walk, *table, "");
        } else {
            wrong(key, *node, fmt::format("{} is not a table", full(key)),
                  fmt::format("[{}] and keys under it", full(key)));
        }
    }
    return found;
}

void Table::finish() {
    const std::vector<std::string> known(asked_.begin(), asked_.end());
    for (const auto& [key, node] : *table_) {
        const std::string name(key.str());
        if (asked_.count(name)) continue;
        const std::string near = nearest_word(name, known);
        std::string allowed;
        for (const auto& word : known) allowed += (allowed.empty() ? "" : ", ") + word;
        faults_->push_back(
            {at(key.source()), full(name.c_str()), shown(node), allowed,
             fmt::format("unknown key {}{}", name, near.empty() ? "" : fmt::format("; did you mean {}?", near))});
    }
}

}  // namespace standproud
