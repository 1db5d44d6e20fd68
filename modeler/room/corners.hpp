// How layers and panels of two walls meet at a corner.
#pragma once

#include "modeler/room.hpp"

namespace standproud {

/// The distance along a wall from its bare corner, inwards, of a point at depth n whose depth on the
/// neighbour is c. With the angle t between the walls a point (d, n) of one wall has depth
/// d sin t - n cos t on the other, at either end. Must hold: the walls are not in line.
double distance_at(double c, double n, double angle);

/// True where the walls are so nearly in line (within 45 degrees of straight) that layers are mitred
/// instead of one running past the other.
bool is_wide(double angle);

/// True where the walls are in line for all that can be measured (within 1 degree).
bool is_straight(double angle);

}  // namespace standproud
