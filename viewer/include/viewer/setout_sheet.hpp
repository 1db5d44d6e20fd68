// Set-out of one wall on paper, to be read and written on at the bare wall.
#pragma once

#include <filesystem>
#include <vector>

#include "modeler/setout.hpp"
#include "rules/finding.hpp"

typedef struct _cairo cairo_t;

namespace standproud::viewer {

/// One A4 landscape sheet, 297 x 210 mm, of one wall: the elevation from inside, running dimensions, a table with
/// a box for the figure as fixed. The context's units must be mm, y down, origin top left.
void draw_setout(cairo_t* context, const Model& model, const WallSetOut& wall,
                 const std::vector<rules::Finding>& findings);

/// Writes stem.pdf, stem.svg and stem.png, each whole or not at all; the same job gives the same bytes.
/// Returns the files. Throws FileError naming the path.
std::vector<std::filesystem::path> write_setout(const Model& model, const WallSetOut& wall,
                                                const std::vector<rules::Finding>& findings,
                                                const std::filesystem::path& stem);

}  // namespace standproud::viewer
