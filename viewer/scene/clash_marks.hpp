// The chosen clash in the 3D view: what both things fill, hatched; or the room between them, as a dimension.
#pragma once

#include <TopoDS_Shape.hxx>
#include <string>

#include "scene/marks.hpp"

namespace standproud::viewer {

/// Solids of the chosen clash that the parts of the job do not show.
struct ClashSolids {
    TopoDS_Shape common;  ///< what both fill, with its mesh; null when they are apart, or the kernel finds nothing
    double volume = 0;    ///< of it, mm3
    TopoDS_Shape room_a;  ///< of a thing that is no solid: the room a handle or a drill needs; else null
    TopoDS_Shape room_b;
};

/// Asks the kernel, some milliseconds. Nothing in it without a chosen clash.
ClashSolids clash_solids(const Document& document);

/// What clash_solids depends on, as text.
std::string clash_key(const Document& document);

Marks clash_marks(const Document& document, const ClashSolids& solids, const Look& look);

}  // namespace standproud::viewer
