// Inside the nester: whole thousandths of a millimetre, sizes grown by one kerf so that cuts cost nothing, and trees of
// boxes that become cut sheets.
#pragma once

#include <cmath>
#include <cstdint>
#include <vector>

#include "modeler/nesting.hpp"

namespace standproud::nesting {

using Unit = std::int64_t;  ///< 0.001 mm

inline Unit units_up(double mm) { return static_cast<Unit>(std::ceil(mm * 1000 - 1e-6)); }
inline Unit units_down(double mm) { return static_cast<Unit>(std::floor(mm * 1000 + 1e-6)); }
inline double to_mm(Unit units) { return static_cast<double>(units) / 1000; }

/// A box that pieces are cut from. Sizes are grown by one kerf on the right and at the top.
struct PlanNode {
    enum class Kind { piece, beside, above, leftover };  ///< beside: first left of second; above: second on first
    Kind kind = Kind::leftover;
    Unit width = 0;
    Unit height = 0;
    int first = -1;  ///< index of a node
    int second = -1;
    int type = -1;  ///< for a piece: its type
    bool turned = false;
};

struct Plan {
    std::vector<PlanNode> nodes;
    int root = -1;

    int add(const PlanNode& node) {
        nodes.push_back(node);
        return static_cast<int>(nodes.size()) - 1;
    }
};

/// A sheet to lay a plan on; ungrown.
struct BareSheet {
    Unit width = 0;
    Unit height = 0;
    Unit trim = 0;
    Unit kerf = 0;
    Unit usable_side = 0;
};

/// The plan as cuts on a sheet; where a box is smaller than the part it comes from, the rest is cut off first, so that
/// the largest rectangle is left. Placed::piece and CutPart::piece are types, for the caller to name.
SheetLayout lay_plan(const Plan& plan, const BareSheet& sheet);

}  // namespace standproud::nesting
