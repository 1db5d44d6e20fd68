// Where things stand in the text of a job file: from a path to bytes.
#pragma once

#include <toml++/toml.h>

#include <optional>
#include <string>
#include <vector>

namespace standproud::viewer {

/// One step of a path: a key or an index.
struct PathPart {
    std::string key;
    std::size_t index = 0;
    bool is_index = false;
};

/// "fittings[2].as_built.seat" taken apart; nothing when it is not of that form.
std::optional<std::vector<PathPart>> path_parts(const std::string& path);

/// The node at a path, or null.
const toml::node* node_at(const toml::table& tree, const std::vector<PathPart>& path);

/// The text with its tree and line starts. The text must outlive it, and must be readable as TOML.
class Places {
  public:
    explicit Places(const std::string& text);
    /// Null when the text is not readable as TOML.
    static std::optional<Places> of(const std::string& text);

    [[nodiscard]] const toml::table& tree() const { return tree_; }
    /// Byte of a place that the parser names in lines and characters.
    [[nodiscard]] std::size_t byte_of(const toml::source_position& place) const;
    [[nodiscard]] std::size_t begin_of(const toml::node& node) const { return byte_of(node.source().begin); }
    /// One past the last byte of a value that begins at `begin`.
    [[nodiscard]] std::size_t end_of_value(std::size_t begin) const;
    [[nodiscard]] std::size_t line_begin(std::size_t byte) const;
    /// One past the last byte of the line, its line end not counted.
    [[nodiscard]] std::size_t line_end(std::size_t byte) const;
    /// The first byte of the line after.
    [[nodiscard]] std::size_t next_line(std::size_t byte) const;
    /// The first line from `byte` on that opens a table which does not belong to `prefix`: the begin of that line, or
    /// the text's end.
    [[nodiscard]] std::size_t end_of_block(std::size_t byte, const std::string& prefix) const;
    /// "\n" or "\r\n", as the text has it.
    [[nodiscard]] std::string line_feed() const;
    [[nodiscard]] const std::string& text() const { return *text_; }

  private:
    const std::string* text_;
    toml::table tree_;
    std::vector<std::size_t> lines_;
};

}  // namespace standproud::viewer
