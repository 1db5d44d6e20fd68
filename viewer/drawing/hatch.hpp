// What stands for which material on a section, in black on white.
#pragma once

#include <string>
#include <vector>

#include "drawing/sheet.hpp"

namespace standproud::viewer {

enum class Hatch {
    plain,     ///< outline only
    frame,     ///< timber: crossed when cut across the grain, grain lines when cut along it
    masonry,   ///< pairs of lines at 45 degrees
    board,     ///< lines at 45 degrees
    membrane,  ///< solid
    bed,       ///< dots
    panel,     ///< close lines the other way
    tray,      ///< crossed lines
    metal      ///< light tint: a fitting's own pieces
};

/// From the layer of a part.
Hatch hatch_of(const std::string& layer, bool of_fitting);

/// Fills a convex outline on paper, which is what is seen of `whole`. Pieces too thin on paper for a pattern
/// get a solid tone.
void fill_hatched(Sheet& sheet, const std::vector<Vec2>& outline, const std::vector<Vec2>& whole, Hatch hatch);

/// Lines `spacing` apart, rising to the right at `degrees`, inside a convex outline.
void hatch_lines(Sheet& sheet, const std::vector<Vec2>& outline, double degrees, double spacing, double line_width,
                 double shift = 0);

}  // namespace standproud::viewer
