#include "exchange/step_text.hpp"

#include <fmt/format.h>

#include <iterator>

#include "modeler/clean_text.hpp"

namespace standproud {

namespace {

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
