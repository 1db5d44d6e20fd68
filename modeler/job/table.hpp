// Reads one TOML table by asking for its keys: collects faults, and knows what was never asked for.
#pragma once

#include <toml++/toml.h>

#include <array>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "modeler/job.hpp"

namespace standproud {

/// What a number may be. `above` excludes the lower end itself.
struct Range {
    double least = 0;
    double most = 0;
    const char* unit = "mm";
    bool above = false;
};

std::string to_string(const Range& range);

class Table {
  public:
    /// `name` is how the table is called in messages: "fittings". Must outlive nothing but the toml tree.
    Table(const toml::table& table, std::string file, std::string name, Faults& faults);

    /// Required values: a fault and an empty value when missing or wrong.
    std::string text(const char* key);
    std::string id(const char* key);
    std::string date(const char* key);  ///< as 2026-03-31
    double number(const char* key, Range range);
    Length length(const char* key, Range range);
    std::size_t word(const char* key, const std::vector<std::string>& words);

    /// Optional values.
    std::optional<std::string> maybe_text(const char* key);
    std::optional<double> maybe_number(const char* key, Range range);
    MaybeLength maybe_length(const char* key, Range range);
    std::optional<std::size_t> maybe_word(const char* key, const std::vector<std::string>& words);
    std::optional<Colour> maybe_colour(const char* key);
    /// A colour, or "clear".
    std::optional<SealantLook> maybe_sealant(const char* key);
    bool flag(const char* key, bool otherwise);
    std::optional<bool> maybe_flag(const char* key);
    std::optional<Vec2> maybe_pair(const char* key, Range range);
    std::vector<double> numbers(const char* key, Range range);
    std::vector<std::pair<std::string, Source>> texts(const char* key);
    std::vector<std::string> names(const char* key);                                              ///< ids, each once
    std::vector<std::pair<std::array<double, 3>, Source>> triples(const char* key, Range range);  ///< [[a, b, c], ...]

    /// Sub-tables: one, or a list. Missing is empty.
    std::optional<Table> table(const char* key);
    std::vector<Table> tables(const char* key);

    /// Every number under a key, with dotted names: for tables whose keys are known elsewhere.
    std::vector<std::pair<std::string, LimitOverride>> all_numbers(const char* key);

    [[nodiscard]] bool has(const char* key) const;
    [[nodiscard]] Source source() const;
    [[nodiscard]] Source source_of(const char* key) const;
    [[nodiscard]] std::string full(const char* key) const;  ///< with the table's name: "fittings.height"
    void fault(const char* key, const std::string& says, const std::string& allowed);

    /// The same where the value was written somewhere else: "walls.openings.right", with what was found.
    void fault_at(const Source& where, const std::string& key, const std::string& found, const std::string& says,
                  const std::string& allowed);

    /// Reports keys that were never asked for. Call last.
    void finish();

  private:
    const toml::node* find(const char* key);
    void missing(const char* key, const std::string& allowed);
    void wrong(const char* key, const toml::node& node, const std::string& says, const std::string& allowed);
    std::optional<double> checked(const char* key, const toml::node& node, double value, Range range);
    [[nodiscard]] Source at(const toml::source_region& region) const;

    const toml::table* table_;
    std::string file_;
    std::string name_;
    Faults* faults_;
    std::set<std::string> asked_;
};

}  // namespace standproud
