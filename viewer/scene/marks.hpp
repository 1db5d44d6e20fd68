// Lettering, leaders and dimensions in the 3D view.
#pragma once

#include <AIS_InteractiveObject.hxx>
#include <vector>

#include "scene/flags.hpp"
#include "scene/look.hpp"
#include "scene/palette.hpp"

namespace standproud::viewer {

inline constexpr const char* letters_font = "DejaVu Sans";
inline constexpr double letter_size = 15;  ///< pixels, at a scale of 1

/// What is drawn in its place in the room, and the lettering that finds a place of its own.
struct Marks {
    std::vector<Handle(AIS_InteractiveObject)> objects;
    std::vector<Flag> flags;
};

/// Black or white, whichever stands out more from the plate.
Colour ink_on(Colour plate);
/// Lettering that stays upright and the same size, its middle at a spot, on a plate of its own colour.
Handle(AIS_InteractiveObject) letters(const std::string& words, RoomPoint at, Colour ink, Colour plate, double size);
/// A rod in front of everything, its radius in mm: lines more than a pixel wide are not to be had from OpenGL 3.3.
Handle(AIS_InteractiveObject) rod(RoomPoint from, RoomPoint to, Colour colour, double radius);
/// A line in front of everything.
Handle(AIS_InteractiveObject) line(RoomPoint from, RoomPoint to, Colour colour, double width);

/// A flag with its verdict at every fitting of which anything is shown; those that are not clear find room first.
std::vector<Flag> fitting_flags(const Document& document, const Look& look);

/// A rod along every join, in front of the panels.
std::vector<Handle(AIS_InteractiveObject)> join_grips(const Document& document, const Look& look);

/// The chosen finding: where it is, what was found, and for a depth the line that was judged beside the one needed.
Marks chosen_marks(const Document& document, const Look& look);

}  // namespace standproud::viewer
