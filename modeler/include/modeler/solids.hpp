// Parts as true solids. The only public header, with exchange's own, that shows Open CASCADE types.
#pragma once

#include <TopoDS_Shape.hxx>

#include "modeler/parts.hpp"

namespace standproud {

/// The part as one valid solid in room coordinates, mm. Made by extruding a face with inner wires.
/// Throws std::runtime_error naming the part when the kernel refuses or BRepCheck finds a fault.
TopoDS_Shape make_solid(const Part& part);

/// Volume, mm3, relative error 1e-9.
double solid_volume(const TopoDS_Shape& shape);

}  // namespace standproud
