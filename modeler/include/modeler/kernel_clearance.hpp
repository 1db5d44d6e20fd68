// What the closed forms and iterations of clearance.hpp leave to the kernel: common solids, and pairs that they cannot
// decide. Milliseconds a pair, against microseconds there.
#pragma once

#include <TopoDS_Shape.hxx>

#include "modeler/clearance.hpp"

namespace standproud {

/// Below this the kernel's common solid is rounding, mm3.
inline constexpr double no_volume = 1e-3;

struct KernelOverlap {
    TopoDS_Shape solid;  ///< what both fill; null when nothing
    double volume = 0;   ///< mm3, relative error 1e-6
    RoomPoint middle;    ///< its centre of mass
};

/// Boolean common. Arguments are left as they are. Overlaps no deeper than `touch` mm count as nothing (0: none is
/// forgiven). Throws std::runtime_error when the kernel gives up.
KernelOverlap kernel_overlap(const TopoDS_Shape& a, const TopoDS_Shape& b, double touch = 0);

/// As separation(), from the kernel: distance 1e-6 mm. Overlapping: the least of the pushes tried along both parts'
/// axes, each seen to free b; least = false. a and b come back as given.
Separation kernel_separation(const Part& a, const Part& b, std::size_t number_a, std::size_t number_b);

/// The pipe as a solid with round bends and flat ends. Throws std::runtime_error when the kernel refuses it.
TopoDS_Shape make_solid(const Pipe& pipe);

}  // namespace standproud
