// Linear programmes with at most four rows and any number of columns, which is what planes over spots come to when
// they are turned round: one column a spot, and the plane is the rows' prices.
#pragma once

#include <array>
#include <limits>
#include <vector>

namespace standproud::survey {

inline constexpr std::size_t most_rows = 4;
using Rows = std::array<double, most_rows>;

/// One unknown x, 0 <= x <= upper.
struct Column {
    Rows entries{};
    double worth = 0;  ///< per unit of x
    double upper = std::numeric_limits<double>::infinity();
};

struct SimplexAnswer {
    enum class State { solved, infeasible, unbounded, gave_up };
    State state = State::gave_up;
    double value = 0;
    Rows prices{};       ///< of the rows: worth of column j <= prices . entries for every j at its lower end
    bool unique = true;  ///< the prices are the only ones: no unknown in the basis is at one of its ends
};

/// Most worth, with sum of entries * x = right in each of `rows` rows. Entries should be of the size of 1.
/// Method: primal simplex for bounded unknowns (Dantzig 1955; Chvatal, Linear Programming, 1983, chapter 8), in two
/// stages, the basis solved afresh at each step so that rounding does not build up; Bland's rule once it stalls.
[[nodiscard]] SimplexAnswer most_worth(std::size_t rows, const std::vector<Column>& columns, const Rows& right);

}  // namespace standproud::survey
