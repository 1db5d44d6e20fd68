// Adhesive where lanes between tapes do not come: in the legs beside notches.
#pragma once

#include "modeler/bond.hpp"

namespace standproud::bond {

/// Puts straight beads into the legs that hold tape but no adhesive, and names those that stay dry. `bead_area` is what
/// a bead's middle may be in. See lay_bond.
void glue_legs(const Polygon& outline, const std::vector<RoundedRect>& notches, const BondRules& rules,
               const Polygon& bead_area, PanelBond& bond);

}  // namespace standproud::bond
