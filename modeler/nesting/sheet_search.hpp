// Inside the nester: the single-sheet engine, giving its plan. See most_on_sheet.
#pragma once

#include "nesting/plan.hpp"

namespace standproud::nesting {

struct SheetPlan {
    Plan plan;  ///< piece types are indices into the items
    double value = 0;
    double bound = 0;
};

SheetPlan plan_on_sheet(const SingleSheet& problem, std::stop_token stop);

}  // namespace standproud::nesting
