// Inside the nester: jobs too large for proof, and what no layout can beat.
#pragma once

#include "nesting/exact.hpp"

namespace standproud::nesting {

/// No layout costs less than this in what the aim counts first.
std::int64_t least_first_cost(const Task& task);

/// Sheets filled one by one by the single-sheet engine, then a few sheets at a time solved again exactly. Nothing when
/// the stock ran out on the way.
std::optional<std::vector<PlannedSheet>> search_large(const Task& task, Effort& effort, unsigned seed);

}  // namespace standproud::nesting
