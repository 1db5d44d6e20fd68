#include "exchange/step_text.hpp"

#include <fmt/format.h>

#include <iterator>

namespace standproud {

namespace {

constexpr char32_t wrong = 0xFFFD;

bool is_tail(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

/// Takes one character off the front of `text`; a byte that starts none, or an overlong or surrogate code, is `wrong`.
char32_t take_character(std::string_view& text) {
    const auto first = static_cast<unsigned char>(text.front());
    const std::size_t tails = first < 0x80 ? 0 : first >> 5 == 6 ? 1 : first >> 4 == 14 ? 2 : first >> 3 == 30 ? 3 : 4;
    char32_t code = tails == 0 ? first : first & (0x3Fu >> tails);
    std::size_t seen = 0;
    while (tails < 4 && seen < tails && seen + 1 < text.size() && is_tail(text[seen + 1])) {
        code = (code << 6) | (static_cast<unsigned char>(text[++seen]) & 0x3Fu);
    }
    text.remove_prefix(1 + seen);
    constexpr char32_t least[] = {0, 0x80, 0x800, 0x10000};
    const bool good =
        tails < 4 && seen == tails && code >= least[tails] && code <= 0x10FFFF && !(code >= 0xD800 && code <= 0xDFFF);
    return good ? code : wrong;
}

void append_utf8(std::string& out, char32_t code) {
    const auto tail = [&](int shift) { out += static_cast<char>(0x80 | ((code >> shift) & 0x3F)); };
    if (code < 0x80) {
        out += static_cast<char>(code);
    } else if (code < 0x800) {
        out += static_cast<char>(0xC0 | (code >> 6));
        tail(0);
    } else if (code < 0x10000) {
        out += static_cast<char>(0xE0 | (code >> 12));
        tail(6), tail(0);
    } else {
        out += static_cast<char>(0xF0 | (code >> 18));
        tail(12), tail(6), tail(0);
    }
}

/// The characters of one string, without its quotes, in the alphabet of ISO 10303-21.
std::string encoded(std::string_view raw) {
    std::string out;
    int width = 0;  // hex digits of the run that is open; 0 for none
    while (!raw.empty()) {
        const char32_t code = take_character(raw);
        const int needed = code < 0x80 ? 0 : code <= 0xFFFF ? 4 : 8;
        if (needed != width) {
            if (width != 0) out += "\\X0\\";
            if (needed != 0) out += needed == 4 ? "\\X2\\" : "\\X4\\";
            width = needed;
        }
        if (needed == 0) out += static_cast<char>(code);
        if (needed != 0) fmt::format_to(std::back_inserter(out), "{:0{}X}", static_cast<unsigned>(code), needed);
    }
    if (width != 0) out += "\\X0\\";
    return out;
}

/// From just after an opening quote: the string's characters, line breaks taken out, and what follows the end quote.
std::string take_string(std::string_view& rest) {
    std::string raw;
    while (!rest.empty()) {
        const char c = rest.front();
        rest.remove_prefix(1);
        if (c == '\n' || c == '\r') continue;
        if (c != '\'') {
            raw += c;
            continue;
        }
        // Two quotes are one character, even with the kernel's line break between them: no two strings ever
        // stand next to each other without a comma.
        const std::size_t next = rest.find_first_not_of("\r\n");
        if (next == std::string_view::npos || rest[next] != '\'') break;
        rest.remove_prefix(next + 1);
        raw += "''";
    }
    return raw;
}

}  // namespace

std::string clean_text(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const char32_t code = take_character(text);
        const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
        append_utf8(out, control ? U' ' : code);
    }
    return out;
}

std::string with_encoded_strings(std::string_view step_file) {
    std::string out;
    out.reserve(step_file.size());
    while (!step_file.empty()) {
        const std::size_t quote = step_file.find('\'');
        if (quote == std::string_view::npos) break;
        out += step_file.substr(0, quote + 1);
        step_file.remove_prefix(quote + 1);
        out += encoded(take_string(step_file));
        out += '\'';
    }
    out += step_file;
    return out;
}

}  // namespace standproud
