// Lettering, leaders and dimensions in the 3D view.
#pragma once

#include <AIS_InteractiveObject.hxx>
#include <vector>

#include "scene/look.hpp"
#include "scene/palette.hpp"

namespace standproud::viewer {

/// Lettering that stays upright and the same size, on a plate of its own colour.
/// `side` -1: they end at the spot, 1: they begin there, 0: in its middle; `level` likewise -1 under it, 1 over it.
Handle(AIS_InteractiveObject)
    letters(const std::string& words, RoomPoint at, Colour ink, Colour plate, double size, int side = 0, int level = 0);
/// A rod in front of everything, its radius in mm: lines more than a pixel wide are not to be had from OpenGL 3.3.
Handle(AIS_InteractiveObject) rod(RoomPoint from, RoomPoint to, Colour colour, double radius);
/// A line in front of everything.
Handle(AIS_InteractiveObject) line(RoomPoint from, RoomPoint to, Colour colour, double width);

/// A flag with its verdict at every fitting; those that are not clear stand out.
std::vector<Handle(AIS_InteractiveObject)> flags(const Document& document, const Look& look);

/// A rod along every join, in front of the panels.
std::vector<Handle(AIS_InteractiveObject)> join_grips(const Document& document, const Look& look);

/// The chosen finding: where it is, what was found, and for a depth the line that was judged beside the one needed.
std::vector<Handle(AIS_InteractiveObject)> chosen_marks(const Document& document, const Look& look);

}  // namespace standproud::viewer
