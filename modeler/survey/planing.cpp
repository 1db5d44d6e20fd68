// Planing takes p_i >= 0 off spot i. A plane that leaves a bed g_i there before planing needs p_i = bed_min - g_i where
// g_i is too thin, and then has bed_min exactly; where g_i is over bed_max no planing helps. So the plane is sought
// with g_i <= bed_max everywhere and least sum, or least greatest, of max(0, bed_min - g_i): a linear programme again.
#include <algorithm>
#include <cmath>
#include <utility>

#include "survey/bedding_problem.hpp"

namespace standproud {

namespace {

using survey::BeddingProblem;
using survey::Column;
using survey::most_worth;
using survey::Rows;
using survey::SimplexAnswer;

constexpr double rounding = 1e-10;  ///< less planing than this is none, mm

Rows negative(Rows rows) {
    for (double& entry : rows) entry = -entry;
    return rows;
}

struct Programme {
    const BeddingProblem& problem;
    const BeddingRule& rule;

    [[nodiscard]] Rows at(std::size_t i) const { return problem.entries({problem.spots[i].u, problem.spots[i].v}); }
    [[nodiscard]] double low(std::size_t i) const { return problem.needed(i, rule.substrate, rule.bed_min); }
    [[nodiscard]] double high(std::size_t i) const { return problem.needed(i, rule.substrate, *rule.bed_max); }

    /// Least greatest planing: one more unknown, and row, for it.
    [[nodiscard]] SimplexAnswer least_deepest() const {
        const std::size_t last = problem.rows();
        std::vector<Column> columns;
        for (const std::size_t i : problem.counted) {
            Rows under = at(i);
            under[last] = 1;
            columns.push_back({under, low(i)});
            columns.push_back({negative(at(i)), -high(i)});
        }
        Rows right{};
        right[last] = 1;
        Column nothing;  // the planing is not less than none
        nothing.entries[last] = 1;
        columns.push_back(nothing);
        return most_worth(last + 1, columns, right);
    }

    /// Least sum; none deeper than `deepest`.
    [[nodiscard]] SimplexAnswer least_total(double deepest) const {
        std::vector<Column> columns;
        for (const std::size_t i : problem.counted) {
            columns.push_back({at(i), low(i), 1});
            columns.push_back({negative(at(i)), -high(i)});
            if (std::isfinite(deepest)) columns.push_back({at(i), low(i) - deepest});
        }
        return most_worth(problem.rows(), columns, {});
    }

    /// The lowest plane within bed_min and bed_max over the planed face.
    [[nodiscard]] SimplexAnswer lowest(const std::vector<double>& depths) const {
        std::vector<Column> columns;
        for (const std::size_t i : problem.counted) {
            columns.push_back({at(i), low(i) - depths[i]});
            columns.push_back({negative(at(i)), -high(i) + depths[i]});
        }
        return problem.lowest(std::move(columns));
    }
};

bool solved(const SimplexAnswer& answer) { return answer.state == SimplexAnswer::State::solved; }

std::vector<double> depths_under(const Programme& programme, const Rows& plane) {
    std::vector<double> depths(programme.problem.spots.size(), 0.0);
    for (const std::size_t i : programme.problem.counted) {
        double height = 0;
        const Rows rows = programme.at(i);
        for (std::size_t k = 0; k < programme.problem.rows(); ++k) height += rows[k] * plane[k];
        const double depth = programme.low(i) - height;
        if (depth > rounding) depths[i] = depth;
    }
    return depths;
}

std::optional<Planing> planed(const Programme& programme, LeastPlaning least) {
    double deepest = std::numeric_limits<double>::infinity();
    if (least == LeastPlaning::deepest) {
        const SimplexAnswer first = programme.least_deepest();
        if (!solved(first)) return std::nullopt;
        deepest = std::max(0.0, first.value);
    }
    SimplexAnswer sum = programme.least_total(deepest);
    if (!solved(sum)) sum = programme.least_total(deepest + same_length);  // rounding had left it no plane
    if (!solved(sum)) return std::nullopt;
    const std::vector<double> depths = depths_under(programme, sum.prices);
    const SimplexAnswer last = programme.lowest(depths);
    const Rows& plane = solved(last) ? last.prices : sum.prices;
    Planing planing;
    for (std::size_t i = 0; i < depths.size(); ++i) {
        if (depths[i] <= 0) continue;
        planing.planed.push_back({i, depths[i]});
        planing.total += depths[i];
        planing.deepest = std::max(planing.deepest, depths[i]);
    }
    planing.bedding =
        survey::measured(programme.problem, programme.rule, programme.problem.plane(plane), depths, false);
    return planing;
}

}  // namespace

PlaningAnswer least_planing(const std::vector<WallPoint>& spots, const Polygon& outline, const BeddingRule& rule,
                            LeastPlaning least) {
    PlaningAnswer answer;
    if (!rule.bed_max) {
        answer.refused = "bed_max is not given: without it nothing needs planing";
        return answer;
    }
    const auto problem = survey::state_problem(spots, outline, rule, answer.refused);
    if (!problem) return answer;
    if (!problem->doubts.empty() && !rule.assume) {
        answer.doubts = problem->doubts;
        answer.refused = survey::in_words(problem->doubts);
        return answer;
    }
    answer.planing = planed({*problem, rule}, least);
    if (!answer.planing) {
        answer.refused = "no least planing was found for these spots: they are too close to one line or one place";
        return answer;
    }
    answer.refused = survey::too_steep(answer.planing->bedding.back);
    if (!answer.refused.empty()) answer.planing.reset();
    return answer;
}

}  // namespace standproud
