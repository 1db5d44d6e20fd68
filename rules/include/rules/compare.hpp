// What changed between two states of a job: two revisions, or design and as built.
#pragma once

#include <string>
#include <vector>

#include "modeler/model.hpp"
#include "rules/finding.hpp"

namespace standproud::rules {

/// A fitting that is in only one of the two, or lies elsewhere. Differences are new less old, mm.
struct FittingChange {
    enum class Kind { appeared, vanished, moved };
    std::string fitting;
    std::string wall;
    Trade trade = Trade::plumber;
    Kind kind = Kind::moved;
    std::string old_wall;  ///< where it changed walls; the differences across and up then mean nothing
    double across = 0;     ///< to the right
    double up = 0;
    double face = 0;  ///< of the finished face there
    std::optional<double> old_seat;
    std::optional<double> new_seat;
    bool other_type = false;
};

/// An opening that is in only one of the two, or has other edges. Differences are new less old, mm.
struct OpeningChange {
    FittingChange::Kind kind = FittingChange::Kind::moved;
    std::string opening;
    std::string wall;
    double left = 0;  ///< of its left edge, to the right
    double right = 0;
    double bottom = 0;  ///< up
    double top = 0;
    std::optional<double> old_reveal;  ///< how deep it is lined; none: not lined
    std::optional<double> new_reveal;
};

/// A finding whose verdict is another, or that is only in one of the two.
struct VerdictChange {
    std::string fitting;
    std::string rule;
    std::string quantity;
    Trade trade = Trade::plumber;
    std::optional<Verdict> before;
    std::optional<Verdict> after;
    std::optional<double> nominal_before;
    std::optional<double> nominal_after;
    std::optional<std::size_t> now_at;  ///< index of the new finding, which says what to do
    [[nodiscard]] bool worse() const;
    [[nodiscard]] bool better() const;
};

struct Comparison {
    std::vector<FittingChange> fittings;  ///< in the new job's order, those that vanished last
    std::vector<OpeningChange> openings;  ///< likewise
    std::vector<VerdictChange> verdicts;  ///< what got worse first
    [[nodiscard]] bool worse() const;
};

/// Pairs fittings by id, openings by wall and id, and findings by fitting, rule and what they judge.
Comparison compare(const Model& old_model, const std::vector<Finding>& old_findings, const Model& new_model,
                   const std::vector<Finding>& new_findings);

}  // namespace standproud::rules
