// Colours, as files write them.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace standproud {

/// sRGB, 0 to 255.
struct Colour {
    int red = 0;
    int green = 0;
    int blue = 0;
};

inline bool operator==(const Colour& a, const Colour& b) {
    return a.red == b.red && a.green == b.green && a.blue == b.blue;
}

/// Six hexadecimal digits behind a hash, as CSS Color Module Level 4 has them: "#d8cfc0". Nothing for any other text.
std::optional<Colour> read_colour(std::string_view text);
std::string to_string(const Colour& colour);

}  // namespace standproud
