// Where a layer of one wall ends, at each corner, joining the neighbour's layers without overlap.
#pragma once

#include "modeler/room.hpp"

namespace standproud {

/// u of the ends of a layer that lies from n = from to n = to on this wall. `layer` is its index in the wall's
/// layers; a negative index means what stands behind the bare face (masonry, from -thickness to 0).
/// Free ends run to the bare end. The gap at corners is that of panels for bed and panel, none for the rest.
std::pair<double, double> layer_ends(const Job& job, const Room& room, std::size_t wall, int layer, double from,
                                     double to);

}  // namespace standproud
