#include "modeler/colour.hpp"

#include <fmt/format.h>

#include <charconv>

namespace standproud {

std::optional<Colour> read_colour(std::string_view text) {
    if (text.size() != 7 || text[0] != '#') return std::nullopt;
    int parts[3] = {};
    for (int i = 0; i < 3; ++i) {
        const char* from = text.data() + 1 + 2 * i;
        if (*from == '-') return std::nullopt;
        const auto [end, error] = std::from_chars(from, from + 2, parts[i], 16);
        if (error != std::errc() || end != from + 2) return std::nullopt;
    }
    return Colour{parts[0], parts[1], parts[2]};
}

std::string to_string(const Colour& colour) {
    return fmt::format("#{:02x}{:02x}{:02x}", colour.red, colour.green, colour.blue);
}

}  // namespace standproud
