// Every thing in the room as a plain solid: an outline with holes, pushed along one direction.
// This is the one description that solids, sections and clearances are made from.
#pragma once

#include <string>
#include <vector>

#include "modeler/model.hpp"

namespace standproud {

/// A prism: `outline` less `holes` in the x-y plane of `place`, extruded along its z from 0 to its far face at
/// length + taper . (x, y): a bed between two planes that are not quite parallel has a taper, all else none.
struct Part {
    std::string id;       ///< unique: "back/board-1", "hot-tap/spindle"
    std::string name;     ///< in words
    std::string trade;    ///< builder, plumber, electrician, installer
    std::string layer;    ///< frame, board, membrane, bed, panel, tray, body, spindle, flange ...
    std::string wall;     ///< id of the wall it is on; empty for none
    std::string fitting;  ///< id of the fitting it belongs to; empty for none
    Source source;        ///< the lines it comes from
    Frame place;
    Profile outline;
    std::vector<Profile> holes;
    double length = 0;
    Vec2 taper = {};
    std::optional<Colour> colour{};  ///< that the job gives it; none: its layer's
};

/// All parts of the recess. A fitting whose seat is unknown gives only the parts that hang on the finished face.
std::vector<Part> build_parts(const Model& model);

/// What fills the gaps that are sealed, as parts of the layer "sealant": flush with the panels and as deep as they are
/// thick, whatever is behind. One part for all gaps of a wall that join up. Clear sealant has no colour. It gives way,
/// so nothing is measured against it. Outside a corner only what the next wall's bed leaves open.
std::vector<Part> build_sealant(const Model& model);

/// Room that things need and do not fill, as parts: layer says what for ("handle sweep", "heat", "swing").
std::vector<Part> build_access(const Model& model);

/// Closed form, mm3.
double volume(const Part& part);

/// One convex piece of a part in a horizontal plane, in a wall's (u, n).
struct CutPiece {
    std::size_t part = 0;  ///< index into the parts given
    Polygon outline;       ///< x = u, y = n, anticlockwise
    bool round = false;    ///< a circle, given as a polygon of many corners
};

/// Parts cut by the horizontal plane at v, seen in `wall` (u, n). Parts extrude level or nearly so (a wall that
/// leans), or straight up; what runs askew is left out. Upright parts are shown without their holes. Exact for straight
/// sides; where a slab leans by s and is t thick, a curved side of radius r is taken as straight over s t: off by (s
/// t)^2 / 8 r.
std::vector<CutPiece> cut_level(const std::vector<Part>& parts, const Frame& wall, double v);

}  // namespace standproud
