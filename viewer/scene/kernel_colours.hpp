#pragma once

#include <Quantity_Color.hxx>
#include <gp_Pnt.hxx>

#include "modeler/exchange.hpp"
#include "modeler/geometry.hpp"

namespace standproud::viewer {

inline Quantity_Color kernel_colour(Colour c) {
    return {c.red / 255.0, c.green / 255.0, c.blue / 255.0, Quantity_TOC_sRGB};
}
inline gp_Pnt kernel_point(RoomPoint p) { return {p.x, p.y, p.z}; }

}  // namespace standproud::viewer
