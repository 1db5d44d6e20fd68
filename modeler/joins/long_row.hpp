// Inside the join planner: rows of four joins and more. With so many, the places where something changes are too many
// to try in every order. Each way to share the pieces out among sheets, with each choice of free stretches for the
// joins, is a linear programme: every rule and score is straight in the joins' places, and its best corner is one of
// those critical places. Ways come cheapest first, and stretches are chosen join by join with the programme as bound.
#pragma once

#include <functional>

#include "joins/problem.hpp"

namespace standproud::joins {

/// Linear programmes that were solved, so that a search can say when to stop; the same on any machine.
struct Effort {
    long long solved = 0;
    long long most = 0;  ///< no more than this
    bool spent = false;  ///< the search stopped early
};

/// Calls `visit` with layouts of so many joins that may be worth it. `worth` is asked with scores that no layout of a
/// branch can better; a branch that is not is left out. With `keep_rules` false what is forbidden and the least width
/// do not count.
void search_long_row(const Problem& problem, bool keep_rules, bool wettest, std::size_t joins, Effort& effort,
                     const std::function<bool(const JoinScore&)>& worth,
                     const std::function<void(const Places&)>& visit);

}  // namespace standproud::joins
