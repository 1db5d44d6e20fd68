// Private pieces of parts.cpp.
#pragma once

#include "modeler/parts.hpp"

namespace standproud {

/// Sits at a wall: x = u, y = v, extruded along n from `n`.
Frame out_of_wall(const Frame& wall, double n);

/// Space taken by one solid of a fitting, in its wall's frame.
struct Reach {
    double left = 0, right = 0, bottom = 0, top = 0, back = 0, front = 0;
};
Reach reach_of(const TypePart& part, const PlacedFitting& placed, double datum);

/// n that a part's depths are counted from; nothing when the seat is unknown.
std::optional<double> datum_of(const Model& model, const PlacedFitting& placed, const TypePart& part);

/// Openings that fittings need in what lies from n = from to n = to on a wall, inside `outline`.
std::vector<Profile> openings(const Model& model, std::size_t wall, double from, double to, const Polygon& outline,
                              bool with_panel_holes);

void add_frame_parts(const Model& model, std::vector<Part>& parts);
void add_layer_parts(const Model& model, std::vector<Part>& parts);
void add_fitting_parts(const Model& model, std::vector<Part>& parts);

}  // namespace standproud
