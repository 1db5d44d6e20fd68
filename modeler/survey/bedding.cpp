#include "modeler/bedding.hpp"

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

/// Least height at the target with the plane on or over every spot. Turned round: one weight a spot, all weights
/// together 1, their balance point the target; the most that the needed heights weigh is the plane's height there.
SimplexAnswer lowest(const BeddingProblem& problem, const BeddingRule& rule) {
    std::vector<Column> columns;
    for (const std::size_t i : problem.counted) {
        const WallPoint& spot = problem.spots[i];
        columns.push_back({problem.entries({spot.u, spot.v}), problem.needed(i, rule.substrate, rule.bed_min)});
    }
    return problem.lowest(std::move(columns));
}

/// Raises a plane by what rounding left it under a spot.
void clear_all(const BeddingProblem& problem, const BeddingRule& rule, Rows& plane) {
    double under = 0;
    for (const std::size_t i : problem.counted) {
        const Rows at = problem.entries({problem.spots[i].u, problem.spots[i].v});
        double height = 0;
        for (std::size_t k = 0; k < problem.rows(); ++k) height += at[k] * plane[k];
        under = std::max(under, problem.needed(i, rule.substrate, rule.bed_min) - height);
    }
    plane[0] += under;
}

/// Among the planes of this height at the target, the one whose greatest bed is least. Unknowns: that greatest bed over
/// bed_min, and the tilts.
bool least_greatest_bed(const BeddingProblem& problem, const BeddingRule& rule, Rows& plane) {
    std::vector<Column> columns;
    for (const std::size_t i : problem.counted) {
        const WallPoint& spot = problem.spots[i];
        Rows at = problem.entries({spot.u, spot.v});
        at[0] = 0;
        const double over = problem.needed(i, rule.substrate, rule.bed_min) - plane[0];
        columns.push_back({at, over});
        for (double& entry : at) entry = -entry;
        at[0] = 1;
        columns.push_back({at, -over});
    }
    const SimplexAnswer answer = most_worth(problem.rows(), columns, {1, 0, 0, 0});
    if (answer.state != SimplexAnswer::State::solved) return false;
    for (std::size_t k = 1; k < problem.rows(); ++k) plane[k] = answer.prices[k];
    return true;
}

}  // namespace

BeddingAnswer bed_as_plane(const std::vector<WallPoint>& spots, const Polygon& outline, const BeddingRule& rule) {
    BeddingAnswer answer;
    const auto problem = survey::state_problem(spots, outline, rule, answer.refused);
    if (!problem) return answer;
    if (!problem->doubts.empty() && !rule.assume) {
        answer.doubts = problem->doubts;
        answer.refused = survey::in_words(problem->doubts);
        return answer;
    }
    const SimplexAnswer found = lowest(*problem, rule);
    if (found.state != SimplexAnswer::State::solved) {
        answer.refused = "no lowest plane was found for these spots: they are too close to one line or one place";
        return answer;
    }
    Rows plane = found.prices;
    clear_all(*problem, rule, plane);
    if (!found.unique) least_greatest_bed(*problem, rule, plane);  // if not, the plane found stands as well
    const BackPlane back = problem->plane(plane);
    answer.refused = survey::too_steep(back);
    if (answer.refused.empty()) answer.bedding = survey::measured(*problem, rule, back);
    return answer;
}

double bed_following(double bare, double substrate, double bed) { return bare + substrate + bed; }

std::vector<OverThickBed> beds_over(const Bedding& bedding, double bed_max) {
    std::vector<OverThickBed> over;
    for (std::size_t i = 0; i < bedding.spots.size(); ++i) {
        const SpotBed& spot = bedding.spots[i];
        if (spot.counted && spot.bed > bed_max + same_length) over.push_back({i, spot.bed - bed_max});
    }
    std::stable_sort(over.begin(), over.end(),
                     [](const OverThickBed& a, const OverThickBed& b) { return a.over > b.over; });
    return over;
}

}  // namespace standproud
