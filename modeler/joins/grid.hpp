// Inside the join planner: upright and level joins together. A hole keeps off upright joins by its u alone and off
// level ones by its v alone, and what fits beside one another does not depend on what fits above one another: so
// columns and rows are searched by themselves, and only the sharing of sheets brings them together.
#pragma once

#include "joins/corners.hpp"

namespace standproud::joins {

/// The two sides of a wall's grid. `rules` and `stock` must outlive it.
struct Grid {
    Grid(const Polygon& area, const std::vector<JoinFitting>& fittings, const std::vector<nesting::Stock>& stock,
         const JoinRules& rules, const JoinWish& wish);
    Grid(const Grid&) = delete;
    Grid& operator=(const Grid&) = delete;
    Grid(Grid&&) = delete;
    Grid& operator=(Grid&&) = delete;
    ~Grid() = default;

    std::string refused;
    JoinRules row_rules;
    Problem columns;
    Problem rows;
    struct Shared;
    mutable std::unordered_map<std::string, std::optional<Shared>> known{};
    mutable long long shares = 0;                     ///< times that sheets were shared out; the same on any machine
    static constexpr long long most_shares = 20'000;  ///< some 0.1 ms each: beyond it, no layout is called the best
};

/// Which sheet each piece comes from, row by row from below.
struct Grid::Shared {
    JoinScore score;  ///< sheets, cost, and the sheets' area as waste
    std::vector<std::size_t> stock;
    std::vector<int> sheet;
};

/// The cheapest sheets for a grid of so many columns and rows that fit as given: see corners.hpp. Nothing when the
/// stock does not do.
[[nodiscard]] const std::optional<Grid::Shared>& share_grid(const Grid& grid, std::size_t columns, std::size_t rows,
                                                            const std::string& across, const std::string& up);

/// How often a strip of a row may be on one sheet, for so many columns.
[[nodiscard]] unsigned most_strips(std::size_t columns);

/// One layout of a grid.
struct GridFound {
    Corner columns;
    Corner rows;
    Grid::Shared shared;
    JoinScore score;
};

/// Scored; nothing when the stock does not do.
[[nodiscard]] std::optional<GridFound> found_grid(const Grid& grid, const Corner& columns, const Corner& rows,
                                                  const std::string& across, const std::string& up);

/// The best layouts with so many level joins, best first. With `than` given, those that score better and break a rule.
/// With `enough` given, only those that score better than that.
[[nodiscard]] std::vector<GridFound> search_grid(const Grid& grid, std::size_t levels, bool wettest, bool outlet,
                                                 std::size_t keep, double apart, const JoinScore* than,
                                                 const JoinScore* enough = nullptr);

/// Its pieces, row by row from below.
[[nodiscard]] std::vector<JoinPiece> grid_pieces(const Grid& grid, const Polygon& area, const Places& columns,
                                                 const Places& rows, const Grid::Shared* shared);

[[nodiscard]] JoinLayout grid_layout(const Grid& grid, const Polygon& area, const GridFound& found, bool on_wettest);

/// Whether some level join lies below the outlet.
[[nodiscard]] bool below_outlet(const Grid& grid, const Places& rows);

}  // namespace standproud::joins
