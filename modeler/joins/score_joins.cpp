// Joins that somebody drew, scored as the planner scores its own.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "joins/problem.hpp"

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

std::string refuse_joins(const std::vector<double>& joins) {
    if (joins.size() > most_pieces - 1)
        return fmt::format("{} joins on one wall; up to {} are scored", joins.size(), most_pieces - 1);
    for (const double at : joins) {
        if (!std::isfinite(at)) return "the place of a join is not a number";
    }
    return {};
}

ScoredJoins scored(const Problem& problem, const Polygon& area, const Places& places) {
    ScoredJoins result;
    result.joins.assign(places.at.begin(), places.at.begin() + static_cast<std::ptrdiff_t>(places.count));
    result.score = score_of_places(problem, places);
    result.broken = objections(problem, places, false);
    result.on_wettest = objections(problem, places, true).size() > result.broken.size();
    result.room = room_of(problem, places, false);
    const auto widths = widths_of(problem, places);
    const bool real = std::all_of(widths.begin(), widths.begin() + static_cast<std::ptrdiff_t>(places.count) + 1,
                                  [](double width) { return width > 0; });
    const auto assigned = real ? assign(problem, places) : std::nullopt;
    if (real && !assigned) result.broken.push_back(not_cut(problem, places));
    result.cut_from_sheets = assigned.has_value();
    if (assigned) result.score = assigned->score;
    result.pieces = pieces_of(problem, area, places, assigned ? &*assigned : nullptr);
    return result;
}

}  // namespace

ScoreAnswer score_joins(const Polygon& area, const std::vector<JoinFitting>& fittings,
                        const std::vector<nesting::Stock>& stock, const JoinRules& rules, const JoinWish& wish,
                        std::vector<double> joins) {
    ScoreAnswer answer;
    const Problem problem = pose(area, fittings, stock, rules, wish, answer.refused);
    if (answer.refused.empty()) answer.refused = refuse_joins(joins);
    if (!answer.refused.empty()) return answer;
    std::sort(joins.begin(), joins.end());
    Places places;
    places.count = joins.size();
    std::copy(joins.begin(), joins.end(), places.at.begin());
    answer.scored = scored(problem, area, places);
    return answer;
}

}  // namespace standproud::joins
