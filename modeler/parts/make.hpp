// Private pieces of parts.cpp.
#pragma once

#include "modeler/parts.hpp"

namespace standproud {

/// A frame moved along its own z: sits at a wall, extruded out of it from `n`.
Frame moved_out(const Frame& frame, double n);

/// n of a plane along a wall, in the wall's frame, at (u, v).
double depth_of(const Frame& wall, const Frame& place, Vec2 at);

/// Space taken by one solid of a fitting, in its wall's frame.
struct Reach {
    double left = 0, right = 0, bottom = 0, top = 0, back = 0, front = 0;
};
Reach reach_of(const TypePart& part, const PlacedFitting& placed, double datum);

/// n that a part's depths are counted from, as solids are drawn (see drawn_face); nothing when the seat is unknown.
std::optional<double> datum_of(const Model& model, const PlacedFitting& placed, const TypePart& part);

/// What passes the holes of a fitting and its catalogue draws nowhere: from its depth to the finished face, a screw as
/// long as it is. Nothing for a hole that does not say what passes it, or when the seat is unknown.
std::vector<TypePart> passing_parts(const Model& model, const PlacedFitting& placed);

/// Openings that fittings need in a slab that lies from z = 0 to z = thickness of `place`, inside `outline`, both in
/// the plane of `place`.
std::vector<Profile> openings(const Model& model, std::size_t wall, const Frame& place, double thickness,
                              const Polygon& outline, bool with_panel_holes);

/// A slab with the wall's openings cut out to their edges, and with what fittings need: one part for each piece that is
/// left, the first with the slab's own id, the others "ID-2" on.
void add_slab(const Model& model, std::size_t wall, const Part& slab, bool with_fittings, bool with_panel_holes,
              std::vector<Part>& parts);

void add_frame_parts(const Model& model, std::vector<Part>& parts);
void add_layer_parts(const Model& model, std::vector<Part>& parts);
void add_fitting_parts(const Model& model, std::vector<Part>& parts);
void add_screens(const Model& model, std::vector<Part>& parts);
void add_swings(const Model& model, std::vector<Part>& parts);

}  // namespace standproud
