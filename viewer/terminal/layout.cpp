#include "terminal/layout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

namespace standproud::viewer {

using rules::Verdict;

namespace {

constexpr std::size_t page_width = 110;

// The only control sequences that a report holds.
constexpr std::string_view bold = "\033[1m";
constexpr std::string_view plain = "\033[0m";
constexpr std::string_view of_clear = "\033[36m";
constexpr std::string_view of_tight = "\033[33m";
constexpr std::string_view of_fails = "\033[1;35m";
constexpr std::string_view of_unknown = "\033[1;34m";

/// Characters as shown, not bytes: names may be in any language, and colour codes take no room.
std::size_t shown_width(const std::string& text) {
    std::size_t width = 0;
    bool in_code = false;
    for (const char c : text) {
        if (c == '\033') in_code = true;
        if (!in_code && (static_cast<unsigned char>(c) & 0xC0) != 0x80) ++width;
        if (c == 'm') in_code = false;
    }
    return width;
}

}  // namespace

std::string verdict_word(Verdict verdict, bool colour) {
    const auto said = [&](const char* text, std::string_view code) {
        return colour ? fmt::format("{}{}{}", code, text, plain) : std::string(text);
    };
    switch (verdict) {
        case Verdict::clear:
            return said("+ clear", of_clear);
        case Verdict::tight:
            return said("~ tight", of_tight);
        case Verdict::fails:
            return said("X FAILS", of_fails);
        case Verdict::unknown:
            return said("? unknown", of_unknown);
    }
    return {};
}

std::size_t colour_code_length(std::string_view text) {
    for (const auto code : {bold, plain, of_clear, of_tight, of_fails, of_unknown}) {
        if (text.starts_with(code)) return code.size();
    }
    return 0;
}

std::string heading(const std::string& text, bool colour) {
    return colour ? fmt::format("{}{}{}", bold, text, plain) : text;
}

std::string padded(const std::string& text, std::size_t width, bool right) {
    const std::size_t shown = shown_width(text);
    const std::string space(width > shown ? width - shown : 0, ' ');
    return right ? space + text : text + space;
}

std::string wrapped(const std::string& text, const std::string& first, const std::string& rest) {
    std::istringstream words(text);
    std::string out;
    std::string line = first;
    std::string word;
    bool empty = true;
    while (words >> word) {
        if (!empty && shown_width(line) + 1 + shown_width(word) > page_width) {
            out += line + "\n";
            line = rest;
            empty = true;
        }
        line += (empty ? "" : " ") + word;
        empty = false;
    }
    return out + line + "\n";
}

std::string table(const std::vector<Row>& rows, const std::vector<bool>& right, bool colour) {
    std::vector<std::size_t> width(rows.front().size(), 0);
    for (const auto& row : rows) {
        for (std::size_t i = 0; i < row.size(); ++i) width[i] = std::max(width[i], shown_width(row[i]));
    }
    std::string text;
    for (std::size_t r = 0; r < rows.size(); ++r) {
        std::string line = "  ";
        for (std::size_t i = 0; i < rows[r].size(); ++i) {
            line += i + 1 == rows[r].size() ? rows[r][i] : padded(rows[r][i], width[i], right[i]) + "  ";
        }
        line.erase(line.find_last_not_of(' ') + 1);
        text += (r < 2 ? heading(line, colour) : line) + "\n";
    }
    return text;
}

}  // namespace standproud::viewer
