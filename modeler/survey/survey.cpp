#include "modeler/survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "survey/assumptions.hpp"
#include "survey/blunders.hpp"
#include "survey/instruments.hpp"
#include "survey/observations.hpp"
#include "survey/shape.hpp"

namespace standproud {

namespace {

/// Below this share a reading counts as checked by nothing.
constexpr double least_share = 0.01;

/// A result rests on an assumption that makes more than this part of its variance.
constexpr double least_part = 1e-4;

/// From this excess on a wall counts as more uneven than stated.
constexpr double clearly_uneven = 2;

/// Everything of one adjustment.
struct Work {
    Shape shape;
    std::vector<double> uneven;
    std::vector<Line> lines;
    std::vector<Assumed> assumed;
    std::vector<Observation> observations;  ///< of lines, then of assumed
    Adjustment adjusted;
};

Work worked(const Job& job, const std::vector<double>& uneven) {
    Work work{Shape(job), uneven, {}, {}, {}, {}};
    work.lines = lines_of(job, work.shape, uneven);
    work.assumed = assumptions_for(job, work.shape, work.lines);
    for (const auto& line : work.lines) work.observations.push_back(line.observation);
    for (const auto& assumed : work.assumed) work.observations.push_back(assumed.observation);
    work.adjusted = adjust(work.observations, work.shape.start(), work.shape.settings());
    return work;
}

/// How many times further off its plane a wall's spots lie than they were reckoned with, the worst of them left out,
/// since that may be a blunder: leaving a reading out takes the square of its standardised residual off the sum of
/// squares (closed form). Nothing with too few spots.
struct Excess {
    double times = 0;
    double variance = 0;  ///< that the spots were reckoned with, on average
};

std::optional<Excess> excess_of(const Work& work, std::size_t wall) {
    double squares = 0;
    double shares = 0;
    double worst = 0;
    double variance = 0;
    int spots = 0;
    for (std::size_t i = 0; i < work.lines.size(); ++i) {
        if (work.lines[i].wall != wall) continue;
        const auto k = static_cast<Eigen::Index>(i);
        const double sigma = work.lines[i].observation.sigma;
        const double misfit = work.adjusted.residuals[k] / sigma;
        variance += sigma * sigma;
        ++spots;
        squares += misfit * misfit;
        shares += work.adjusted.shares[k];
        worst = std::max(worst, work.adjusted.standardised[k] * work.adjusted.standardised[k]);
    }
    if (shares < 4) return std::nullopt;
    return Excess{std::sqrt(std::max(0.0, squares - worst) / (shares - 1)), variance / spots};
}

/// Unevenness as stated; where a wall's own spots show more than twice that, what they show.
std::vector<double> uneven_by_wall(const Job& job, double stated) {
    std::vector<double> uneven(job.walls.size(), stated);
    if (job.survey->offsets.empty()) return uneven;
    const Work first = worked(job, uneven);
    if (!first.adjusted.determined) return uneven;
    for (std::size_t w = 0; w < uneven.size(); ++w) {
        const auto excess = excess_of(first, w);
        if (!excess || excess->times <= clearly_uneven) continue;
        // All that is in excess is the wall's.
        uneven[w] = std::sqrt(stated * stated + (excess->times * excess->times - 1) * excess->variance);
    }
    return uneven;
}

/// Turns functions of the unknowns into estimates, and notes which assumption they rest on.
class Results {
  public:
    Results(const Work& work, Survey& survey) : work_(work), survey_(survey) {
        for (const auto& assumed : work.assumed) {
            const auto& data = shipped_uncertainties().assumptions.at(assumed.kind);
            survey.assumptions.push_back({assumed.says, data.plus_minus, data.unit, data.source, {}});
        }
    }

    Estimate of(const Measured& what, const std::string& name) {
        const auto& adjusted = work_.adjusted;
        const Eigen::VectorXd slope = slope_of(what, adjusted.parameters, work_.shape.settings());
        const Eigen::VectorXd spread = adjusted.covariance * slope;
        const double variance = std::max(0.0, slope.dot(spread));
        Estimate estimate{what.predict(adjusted.parameters), std::sqrt(variance), {}};
        // An assumption with slope a and sigma s moves the result by (slope . C . a) / s^2 for each unit.
        for (std::size_t i = 0; i < work_.assumed.size(); ++i) {
            const auto row = static_cast<Eigen::Index>(work_.lines.size() + i);
            const double moved = adjusted.slopes.row(row).dot(spread) / work_.assumed[i].observation.sigma;
            if (moved * moved <= least_part * variance) continue;
            estimate.rests_on.push_back(i);
            survey_.assumptions[i].results.push_back(name);
        }
        return estimate;
    }

    double covariance(const Measured& a, const Measured& b) const {
        const auto& settings = work_.shape.settings();
        const auto& adjusted = work_.adjusted;
        return slope_of(a, adjusted.parameters, settings)
            .dot(adjusted.covariance * slope_of(b, adjusted.parameters, settings));
    }

  private:
    const Work& work_;
    Survey& survey_;
};

/// Standard error of n at a spot: n is the plane of light less the reading, and the reading e helped to place that
/// plane, so the variance is that of the light and of e, less twice what they share.
double spot_error(const Work& work, std::size_t line, const Measured& light, double own) {
    const auto& adjusted = work.adjusted;
    const auto k = static_cast<Eigen::Index>(line);
    const Eigen::VectorXd slope = slope_of(light, adjusted.parameters, work.shape.settings());
    const Eigen::VectorXd spread = adjusted.covariance * slope;
    const double sigma = work.lines[line].observation.sigma;
    const double pull = adjusted.slopes.row(k).dot(spread) / (sigma * sigma);
    return std::sqrt(std::max(0.0, slope.dot(spread) + own * own * (1 - 2 * pull)));
}

/// The bare face at the spots of one wall.
void fill_points(const Job& job, const Work& work, std::size_t wall, WallSurvey& result) {
    for (std::size_t s = 0, line = 0; s < job.survey->offsets.size(); ++s) {
        const OffsetSet& set = job.survey->offsets[s];
        const double own = sigma_of(*job.survey, set.instrument, set.plus_minus);
        for (const auto& point : set.points) {
            while (work.lines[line].wall == std::nullopt) ++line;
            const std::size_t at = line++;
            if (set.wall != job.walls[wall].id) continue;
            const double off = work.adjusted.residuals[static_cast<Eigen::Index>(at)];
            const double up = (point.v - work.shape.mid_height()) / 1000;
            const double error = spot_error(work, at, work.shape.light(s, wall, point.u, point.v), own);
            result.points.push_back({point.u, point.v, result.lean.value * up + off, off, error, point.source});
        }
    }
}

void fill_hollows(const Job& job, WallSurvey& result) {
    for (const auto& reading : job.survey->straightedges) {
        if (reading.wall != result.wall) continue;
        const double own = sigma_of(*job.survey, reading.reading.instrument, reading.reading.plus_minus);
        result.hollows.push_back({reading.u,
                                  reading.v,
                                  reading.length,
                                  reading.upright,
                                  {reading.reading.value, own, {}},
                                  reading.reading.source});
    }
}

WallSurvey wall_result(const Job& job, const Work& work, Results& results, std::size_t w) {
    const Shape& shape = work.shape;
    const double mid = shape.mid_height();
    WallSurvey wall;
    wall.wall = job.walls[w].id;
    wall.drawn_width = job.walls[w].width;
    const Measured width = shape.distance(shape.left_point(w), mid, shape.right_point(w), mid);
    wall.width = results.of(width, fmt::format("the width of wall {}", wall.wall));
    wall.width_change = results.of(shape.width_change(w), fmt::format("how wall {} widens with height", wall.wall));
    wall.width_covariance = results.covariance(width, shape.width_change(w));
    wall.lean = results.of(shape.parameter(shape.lean(w), 1000), fmt::format("the lean of wall {}", wall.wall));
    wall.turn = results.of(shape.turned(w), fmt::format("the turn of wall {}", wall.wall));
    const auto& heights = job.survey->heights;
    if (std::any_of(heights.begin(), heights.end(), [&](const auto& h) { return h.wall == wall.wall; })) {
        wall.height = results.of(shape.parameter(shape.top(w)), fmt::format("the height of wall {}", wall.wall));
        wall.fall =
            results.of(shape.parameter(shape.fall(w), 1000), fmt::format("the fall of the top of wall {}", wall.wall));
    }
    wall.unevenness = work.uneven[w];
    fill_points(job, work, w, wall);
    fill_hollows(job, wall);
    for (const auto& floor : job.survey->floors) {
        if (floor.wall == wall.wall) wall.floor.push_back({floor.u, floor.reading.value});
    }
    std::stable_sort(wall.floor.begin(), wall.floor.end(), [](Vec2 a, Vec2 b) { return a.x < b.x; });
    return wall;
}

void fill_readings(const Work& work, Survey& survey) {
    for (std::size_t i = 0; i < work.lines.size(); ++i) {
        const Line& line = work.lines[i];
        if (line.name.empty()) continue;
        const auto k = static_cast<Eigen::Index>(i);
        ReadingResult reading{line.name,
                              line.unit,
                              line.source,
                              line.observation.value,
                              line.observation.sigma,
                              0,
                              work.adjusted.residuals[k],
                              0,
                              work.adjusted.shares[k],
                              false};
        reading.adjusted = reading.observed + reading.residual;
        reading.checked = reading.share >= least_share;
        if (reading.checked) reading.standardised = work.adjusted.standardised[k];
        if (!reading.checked) survey.unchecked.push_back(reading.name);
        survey.readings.push_back(reading);
    }
}

/// A hollow or hump that a straightedge shows as well is the wall's, not a reading gone wrong.
bool confirmed(const Job& job, const Work& work, const Suspect& suspect) {
    const Line& line = work.lines[suspect.reading];
    if (!line.wall) return false;
    for (const auto& edge : job.survey->straightedges) {
        if (edge.wall != job.walls[*line.wall].id) continue;
        const bool near = std::hypot(edge.u - line.u, edge.v - line.v) <= edge.length / 4;
        // Further from the plane of light than the rest of the wall: a hollow.
        if (near && suspect.misses_by > 0 && edge.reading.value >= suspect.misses_by / 2) return true;
    }
    return false;
}

/// Suspects count readings, not lines.
void fill_suspects(const Job& job, const Work& work, Survey& survey) {
    survey.suspects =
        find_suspects(work.lines, work.observations, work.adjusted.parameters, work.shape.settings(), work.adjusted);
    std::erase_if(survey.suspects, [&](const Suspect& suspect) { return confirmed(job, work, suspect); });
    std::vector<std::size_t> reading_of;
    std::size_t readings = 0;
    for (const auto& line : work.lines) reading_of.push_back(line.name.empty() ? readings : readings++);
    for (auto& suspect : survey.suspects) {
        suspect.reading = reading_of[suspect.reading];
        for (auto& other : suspect.or_else) other = reading_of[other];
    }
}

/// Assumptions that no result rests on are of no concern to anybody.
void drop_idle_assumptions(Survey& survey) {
    std::vector<std::size_t> place(survey.assumptions.size());
    std::vector<Assumption> kept;
    for (std::size_t i = 0; i < survey.assumptions.size(); ++i) {
        place[i] = kept.size();
        if (!survey.assumptions[i].results.empty()) kept.push_back(std::move(survey.assumptions[i]));
    }
    survey.assumptions = std::move(kept);
    const auto renumber = [&](Estimate& estimate) {
        for (auto& index : estimate.rests_on) index = place[index];
    };
    for (auto& wall : survey.walls) {
        for (Estimate* estimate : {&wall.width, &wall.width_change, &wall.lean, &wall.turn}) renumber(*estimate);
        if (wall.height) renumber(*wall.height);
        if (wall.fall) renumber(*wall.fall);
    }
    for (auto& corner : survey.corners) renumber(corner.angle);
}

std::vector<std::size_t> both(const std::vector<std::size_t>& a, const std::vector<std::size_t>& b) {
    std::vector<std::size_t> all;
    std::set_union(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(all));
    return all;
}

}  // namespace

Survey adjust_survey(const Job& job) {
    const double stated = job.survey->unevenness ? *job.survey->unevenness / 2 : sigma_of_assumption("uneven");
    const Work work = worked(job, uneven_by_wall(job, stated));
    Survey survey;
    survey.mid_height = work.shape.mid_height();
    survey.assume = job.survey->assume;
    survey.converged = work.adjusted.converged && work.adjusted.determined;
    if (!work.adjusted.determined) return survey;
    survey.redundancy = work.adjusted.redundancy;
    survey.s0 = work.adjusted.s0;
    Results results(work, survey);
    for (std::size_t w = 0; w < work.shape.walls(); ++w) survey.walls.push_back(wall_result(job, work, results, w));
    for (std::size_t k = 0; k < work.shape.points(); ++k) {
        const auto& p = work.adjusted.parameters;
        survey.plan.push_back({work.shape.at_mid(p, k), 1000 * work.shape.drift(p, k)});
        const auto left = work.shape.wall_left_of(k);
        const auto right = work.shape.wall_right_of(k);
        if (!left || !right) continue;
        survey.corners.push_back(
            {*left, *right,
             results.of(work.shape.angle(k), fmt::format("the angle at {}", corner_words(job, work.shape, k))),
             job.walls[*left].next_angle});
    }
    fill_readings(work, survey);
    fill_suspects(job, work, survey);
    drop_idle_assumptions(survey);
    return survey;
}

bool is_known(const Survey& survey, const Estimate& estimate) {
    return estimate.rests_on.empty() || survey.assume == SurveyReadings::Assume::carry;
}

double plus_minus_of(const SurveyReadings& readings, const Reading& reading) {
    return 2 * sigma_of(readings, reading.instrument, reading.plus_minus);
}

Estimate width_at(const Survey& survey, std::size_t wall, double v) {
    const WallSurvey& w = survey.walls[wall];
    const double up = (v - survey.mid_height) / 1000;
    const double variance = w.width.standard_error * w.width.standard_error + 2 * up * w.width_covariance +
                            up * up * w.width_change.standard_error * w.width_change.standard_error;
    return {w.width.value + up * w.width_change.value, std::sqrt(std::max(0.0, variance)),
            up == 0 ? w.width.rests_on : both(w.width.rests_on, w.width_change.rests_on)};
}

Estimate plane_at(const Survey& survey, std::size_t wall, double v) {
    const Estimate& lean = survey.walls[wall].lean;
    const double up = (v - survey.mid_height) / 1000;
    return {up * lean.value, std::abs(up) * lean.standard_error, lean.rests_on};
}

}  // namespace standproud
