// Inside the nester: for every choice of pieces (how many of each type) all smallest boxes that it can be cut from.
//
// A guillotine box of a choice S is cut into boxes of A and B = S - A, side by side or one above the other, and a
// smaller box of A never makes the box of S larger. So the smallest boxes of S come from those of its parts, and the
// list is exact. Side by side, for every height h the least width is least_width(A, h) + least_width(B, h): merging two
// lists takes as many steps as they are long.
#pragma once

#include <algorithm>
#include <cstdint>
#include <stop_token>
#include <vector>

#include "nesting/plan.hpp"

namespace standproud::nesting {

struct PieceType {
    Unit width = 0;   ///< grown by the kerf
    Unit height = 0;  ///< grown by the kerf
    bool turnable = false;
    std::vector<std::size_t> members;  ///< indices of the pieces given
};

/// A smallest box. In a list widths rise and heights fall.
struct BoxSize {
    Unit width = 0;
    Unit height = 0;
};

/// Choices are numbered in mixed radix: digit i is how many of type i.
class Choices {
  public:
    explicit Choices(const std::vector<PieceType>& types);

    [[nodiscard]] std::size_t count() const { return count_; }  ///< 0: too many to number
    [[nodiscard]] std::size_t weight(std::size_t type) const { return weight_[type]; }
    [[nodiscard]] std::vector<int> digits(std::size_t choice) const;
    /// All parts of a choice, itself and nothing included, smallest number first.
    [[nodiscard]] std::vector<std::size_t> parts_of(std::size_t choice) const;

  private:
    std::vector<std::size_t> weight_;
    std::vector<int> most_;
    std::size_t count_ = 1;
};

/// Elementary steps left. Runs out once and stays out, at the latest some 10 000 steps after a stop was asked for.
struct Effort {
    long long left = 0;
    std::stop_token stop{};
    long long look_at = INT64_MAX;  ///< steps left at which to look whether to stop
    bool spend(long long steps) {
        left -= steps;
        if (left < look_at) {
            look_at = left - 10'000;
            if (stop.stop_requested()) left = std::min<long long>(left, -1);
        }
        return left >= 0;
    }
    [[nodiscard]] bool out() const { return left < 0; }
    /// For what is known to be found soon: can no longer be stopped.
    void grant(long long steps) {
        left = std::max<long long>(left, 0) + steps;
        stop = {};
    }
};

class Fronts {
  public:
    /// Boxes are kept only if they fit one of `limits` (grown sizes). May run out of effort: then useless.
    Fronts(const std::vector<PieceType>& types, const Choices& choices, std::vector<BoxSize> limits, bool turning,
           Effort& effort);

    [[nodiscard]] const std::vector<BoxSize>& boxes(std::size_t choice) const { return boxes_[choice]; }
    [[nodiscard]] bool fits(std::size_t choice, BoxSize sheet) const;
    /// The least width of the choice at a height; none fits: -1. And the other way round.
    [[nodiscard]] Unit least_width(std::size_t choice, Unit height) const;
    [[nodiscard]] Unit least_height(std::size_t choice, Unit width) const;
    [[nodiscard]] double area(std::size_t choice) const { return area_[choice]; }

    /// Adds how a box of the choice that fits `within` is cut; gives the node. Must hold: it fits.
    int build(Plan& plan, std::size_t choice, BoxSize within) const;

  private:
    void fill(std::size_t choice, Effort& effort);
    int build_exact(Plan& plan, std::size_t choice, BoxSize box) const;

    const std::vector<PieceType>& types_;
    const Choices& choices_;
    std::vector<BoxSize> limits_;
    bool turning_;
    std::vector<std::vector<BoxSize>> boxes_;
    std::vector<double> area_;
};

}  // namespace standproud::nesting
