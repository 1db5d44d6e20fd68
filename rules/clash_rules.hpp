// Which two things must keep how far apart. Contacts that belong are told by what the model says of them (in its own
// wall, seated on the panel, fixed to timber, joined to a pipe), never by a list of names.
#pragma once

#include <optional>
#include <string>

#include "modeler/scene.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// Of a panel's gap so much less does, mm: a lean of 10 mm per m takes 0.0025 off a gap of 50 that is drawn upright.
inline constexpr double by_lean = 0.005;

struct PairRule {
    std::string rule;
    double need = 0;        ///< mm they must be apart; 0: they may touch
    bool advice = false;    ///< a breach that does not overlap is tight
    bool as_fixed = false;  ///< one is fixed to the other, so where they are carries no +/- between them
    std::string limit;      ///< name of the limit; empty for 0
};

/// Nothing: they belong together, or are of no concern to each other.
std::optional<PairRule> pair_rule(const Model& model, const Limits& limits, const Thing& a, const Thing& b);

/// How far to look for a pair, mm: its need, and by how much they may be nearer than they are drawn.
double looked_for(const Thing& a, const Thing& b, const PairRule& rule);

/// The largest need of any pair, mm.
double largest_need(const Limits& limits);

/// How one of two is called: a fitting, pipe or screen by its id, what belongs to a wall by the wall.
std::string called(const Thing& thing);

}  // namespace standproud::rules
