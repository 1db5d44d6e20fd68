// The distance between two picked pieces.
#pragma once

#include <TopoDS_Shape.hxx>
#include <array>
#include <string>

#include "modeler/geometry.hpp"

namespace standproud::viewer {

struct Measured3d {
    double distance = 0;  ///< mm, the least between the two
    std::array<RoomPoint, 2> ends;
    std::string words;
};

/// Least distance of two corners, edges or faces, by the kernel; where that fails, between the picked points.
Measured3d measure(const TopoDS_Shape& a, RoomPoint picked_a, const TopoDS_Shape& b, RoomPoint picked_b);

/// corner, edge, face.
std::string piece_word(const TopoDS_Shape& piece);

}  // namespace standproud::viewer
