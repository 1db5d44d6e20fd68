// How far a fitting or a pipe must go to be clear of what it is too near, without meeting anything else.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/model.hpp"
#include "rules/distances.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// No move is longer, mm: beyond that it is another place, not a correction.
inline constexpr double longest_move = 300;

/// Looks for moves among the things of one check, which must outlive it.
class Mover {
  public:
    Mover(const Model& model, const Limits& limits, const Distances& measured);

    /// The least move of `id` (a fitting or pipe), straight along, up or down its wall, or for a pipe into it and out
    /// of it as far as the frame is deep, after which every pair of its parts and those of `other` (as `called` says
    /// it) has what its rule needs, tolerance included. Rounded up to 0.1 mm. A move that brings it too near to
    /// something it was clear of is none.
    [[nodiscard]] std::optional<Move> least(const std::string& id, const std::string& other) const;

  private:
    [[nodiscard]] double lacking(std::size_t mine, const Body& there, std::size_t other) const;
    [[nodiscard]] std::optional<double> far_enough(const std::vector<std::size_t>& mine,
                                                   const std::vector<std::size_t>& others, RoomPoint way) const;
    [[nodiscard]] bool harmless(const std::vector<std::size_t>& mine, RoomPoint by) const;

    const Model& model_;
    const Limits& limits_;
    const Distances& measured_;
    double largest_;  ///< need of any pair, mm
};

}  // namespace standproud::rules
