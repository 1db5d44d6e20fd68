#include "modeler/clean_text.hpp"

namespace standproud {

namespace {

constexpr char32_t wrong = 0xFFFD;

bool is_tail(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

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

bool steers(char32_t code) {
    const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
    const bool breaks = code == 0x2028 || code == 0x2029;
    const bool turns = (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
    const bool none = (code & 0xFFFE) == 0xFFFE;
    return control || breaks || turns || none;
}

}  // namespace

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

std::string clean_text(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const char32_t code = take_character(text);
        append_utf8(out, steers(code) ? U' ' : code);
    }
    return out;
}

}  // namespace standproud
