// Joins that somebody drew, scored as the planner scores its own.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "joins/grid.hpp"

namespace standproud::joins {

namespace {

/// Why no way of sharing the pieces out among the sheets was found.
std::string not_cut(const Problem& problem, const Places& places) {
    const auto widths = widths_of(problem, places);
    for (std::size_t i = 0; i <= places.count; ++i) {
        if (widths[i] > problem.widest + same_length)
            return fmt::format("piece {} would be {:.2f} mm wide, the widest that a sheet gives is {:.2f}", i + 1,
                               widths[i], problem.widest);
    }
    return "there are not enough sheets for these pieces";
}

std::string refuse_joins(const std::vector<double>& joins, const std::vector<double>& levels) {
    if (levels.size() > most_levels)
        return fmt::format("{} level joins on one wall; up to {} are scored", levels.size(), most_levels);
    if (!levels.empty() && joins.size() > most_tried)
        return fmt::format("{} upright joins beside level ones; up to {} are scored", joins.size(), most_tried);
    for (const double at : levels) {
        if (!std::isfinite(at)) return "the height of a level join is not a number";
    }
    if (joins.size() > most_pieces - 1)
        return fmt::format("{} joins on one wall; up to {} are scored", joins.size(), most_pieces - 1);
    for (const double at : joins) {
        if (!std::isfinite(at)) return "the place of a join is not a number";
    }
    return {};
}

Places placed(std::vector<double> joins) {
    std::sort(joins.begin(), joins.end());
    Places places;
    places.count = joins.size();
    std::copy(joins.begin(), joins.end(), places.at.begin());
    return places;
}

bool all_real(const Problem& problem, const Places& places) {
    const auto widths = widths_of(problem, places);
    return std::all_of(widths.begin(), widths.begin() + static_cast<std::ptrdiff_t>(places.count) + 1,
                       [](double width) { return width > 0; });
}

ScoredJoins scored(const Problem& problem, const Polygon& area, const Places& places) {
    ScoredJoins result;
    result.joins.assign(places.at.begin(), places.at.begin() + static_cast<std::ptrdiff_t>(places.count));
    result.score = score_of_places(problem, places);
    result.broken = objections(problem, places, false);
    result.on_wettest = objections(problem, places, true).size() > result.broken.size();
    result.room = room_of(problem, places, false);
    const bool real = all_real(problem, places);
    const auto assigned = real ? assign(problem, places) : std::nullopt;
    if (real && !assigned) result.broken.push_back(not_cut(problem, places));
    result.cut_from_sheets = assigned.has_value();
    if (assigned) result.score = assigned->score;
    result.pieces = pieces_of(problem, area, places, assigned ? &*assigned : nullptr);
    return result;
}

ScoredJoins scored_grid(const Grid& grid, const Polygon& area, const Places& columns, const Places& rows) {
    Corner across{columns, score_of_places(grid.columns, columns), room_of(grid.columns, columns, false),
                  objections(grid.columns, columns, false)};
    Corner up{rows, {}, room_of(grid.rows, rows, false), objections(grid.rows, rows, false)};
    ScoredJoins result;
    result.joins.assign(columns.at.begin(), columns.at.begin() + static_cast<std::ptrdiff_t>(columns.count));
    result.levels.assign(rows.at.begin(), rows.at.begin() + static_cast<std::ptrdiff_t>(rows.count));
    result.broken = across.reasons;
    result.broken.insert(result.broken.end(), up.reasons.begin(), up.reasons.end());
    result.on_wettest = objections(grid.columns, columns, true).size() > across.reasons.size();
    result.below_outlet = below_outlet(grid, rows);
    result.room = columns.count == 0 ? up.room : std::min(across.room, up.room);
    result.score = across.score;
    result.score.joins += static_cast<int>(rows.count);
    result.score.levels = static_cast<int>(rows.count);
    std::optional<GridFound> found;
    if (all_real(grid.columns, columns) && all_real(grid.rows, rows)) {
        found = found_grid(grid, across, up, fits(grid.columns, columns, 1),
                           fits(grid.rows, rows, most_strips(columns.count + 1)));
        if (!found) result.broken.emplace_back("the sheets do not give these pieces: too large, or too few sheets");
    }
    result.cut_from_sheets = found.has_value();
    if (found) result.score = found->score;
    result.pieces = grid_pieces(grid, area, columns, rows, found ? &found->shared : nullptr);
    return result;
}

}  // namespace

ScoreAnswer score_joins(const Polygon& area, const std::vector<JoinFitting>& fittings,
                        const std::vector<nesting::Stock>& stock, const JoinRules& rules, const JoinWish& wish,
                        std::vector<double> joins, std::vector<double> levels) {
    ScoreAnswer answer;
    const Problem problem = pose(area, fittings, stock, rules, wish, answer.refused);
    if (answer.refused.empty()) answer.refused = refuse_joins(joins, levels);
    if (answer.refused.empty() && levels.empty()) answer.refused = problem.too_high;
    if (!answer.refused.empty()) return answer;
    const Places places = placed(std::move(joins));
    if (levels.empty()) {
        answer.scored = scored(problem, area, places);
        return answer;
    }
    const Grid grid(area, fittings, stock, rules, wish);
    answer.scored = scored_grid(grid, area, places, placed(std::move(levels)));
    return answer;
}

}  // namespace standproud::joins
