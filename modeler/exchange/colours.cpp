#include <algorithm>
#include <array>
#include <string_view>

#include "modeler/exchange.hpp"

namespace standproud {

namespace {

struct LayerColour {
    std::string_view layer;
    Colour colour;
};

// Quiet tones for what stays hidden; for what must be told apart at a glance, hues of the Okabe-Ito set,
// which people with the common kinds of colour blindness can tell apart (Okabe and Ito 2002, "Color Universal
// Design"; values from memory). No two layers share a colour.
constexpr std::array table{
    LayerColour{"masonry", {148, 130, 120}},
    LayerColour{"frame", {205, 175, 130}},
    LayerColour{"stud", {200, 168, 121}},
    LayerColour{"noggin", {184, 148, 98}},
    LayerColour{"board", {214, 216, 208}},
    LayerColour{"membrane", {94, 124, 128}},
    LayerColour{"bed", {176, 170, 186}},
    LayerColour{"panel", {232, 238, 240}},
    LayerColour{"sealant", {206, 212, 206}},
    LayerColour{"tray", {244, 244, 240}},
    LayerColour{"screw", {70, 74, 80}},
    // Okabe-Ito orange, blue, sky blue, bluish green, reddish purple, vermillion, yellow:
    LayerColour{"body", {230, 159, 0}},
    LayerColour{"spindle", {0, 114, 178}},
    LayerColour{"flange", {86, 180, 233}},
    LayerColour{"rose", {0, 158, 115}},
    LayerColour{"handle", {204, 121, 167}},
    LayerColour{"box", {213, 94, 0}},
    LayerColour{"plate", {240, 228, 66}},
    // Pipes, glass and what overlaps:
    LayerColour{"cold pipe", {120, 150, 190}},
    LayerColour{"hot pipe", {190, 120, 110}},
    LayerColour{"waste pipe", {110, 110, 110}},
    LayerColour{"cable", {60, 60, 66}},
    LayerColour{"screen", {200, 226, 230}},
    LayerColour{"clash", {0, 0, 0}},
};

/// Layers not in the table, such as roles that a catalogue makes up.
constexpr Colour other{160, 164, 168};

}  // namespace

Colour colour_of(const Part& part) {
    if (part.colour) return *part.colour;
    const auto found =
        std::find_if(table.begin(), table.end(), [&](const auto& row) { return row.layer == part.layer; });
    return found == table.end() ? other : found->colour;
}

}  // namespace standproud
