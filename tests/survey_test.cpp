// The survey on recesses of known truth: exact readings give the truth back, noisy ones within their standard errors,
// blunders are named, and what was assumed is said.
#include "modeler/survey.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <map>

#include "support/jobs.hpp"
#include "support/rounds.hpp"
#include "support/true_recess.hpp"

namespace standproud {
namespace {

using testing::figures_of;
using testing::full_survey;
using testing::Noise;
using testing::true_recess;
using testing::TrueRecess;
using testing::widths_only;

constexpr unsigned seed = 20261125;

/// Standard deviation of a spot against its wall that readings are reckoned with when the job says nothing:
/// half of "uneven" in modeler/survey/instruments.toml.
constexpr double uneven = 1;

Job recess_job() {
    Faults faults;
    Job job = testing::job_of(testing::recess(""), faults);
    EXPECT_TRUE(faults.empty());
    return job;
}

Job job_of_angles(const std::vector<double>& widths, const std::vector<double>& angles, bool closed) {
    Job job;
    job.closed = closed;
    for (std::size_t w = 0; w < widths.size(); ++w) {
        Wall wall;
        wall.id = "w" + std::to_string(w);
        wall.width = widths[w];
        wall.height = 2400;
        wall.next_angle = angles[w];
        job.walls.push_back(wall);
    }
    return job;
}

/// A figure of the result, the truth, and its name.
struct Pair {
    std::string name;
    Estimate estimate;
    double truth = 0;
};

std::vector<Pair> pairs_of(const Survey& survey, const Job& job, const TrueRecess& truth) {
    std::vector<Pair> pairs;
    const double mid = survey.mid_height;
    Vec2 meant{0, 1};
    double heading = 90;
    for (std::size_t w = 0; w < survey.walls.size(); ++w) {
        const WallSurvey& wall = survey.walls[w];
        pairs.push_back({wall.wall + " width", wall.width, truth.width(w, mid)});
        pairs.push_back({wall.wall + " width at 2000", width_at(survey, w, 2000), truth.width(w, 2000)});
        pairs.push_back(
            {wall.wall + " width change", wall.width_change, truth.width(w, mid + 500) - truth.width(w, mid - 500)});
        pairs.push_back({wall.wall + " lean", wall.lean, 1000 * truth.walls[w].lean});
        pairs.push_back({wall.wall + " plane at 100", plane_at(survey, w, 100), (100 - mid) * truth.walls[w].lean});
        const Vec2 along = truth.walls[w].along;
        if (w > 0) {
            pairs.push_back(
                {wall.wall + " turn", wall.turn, 1000 * dot(along, {meant.y, -meant.x}) / dot(along, meant)});
        }
        if (wall.height) pairs.push_back({wall.wall + " height", *wall.height, truth.walls[w].top});
        if (wall.fall) pairs.push_back({wall.wall + " fall", *wall.fall, 1000 * truth.walls[w].fall});
        heading -= 180 - job.walls[w].next_angle;
        meant = {std::cos(heading * pi / 180), std::sin(heading * pi / 180)};
    }
    for (const auto& corner : survey.corners) {
        pairs.push_back(
            {"angle after " + job.walls[corner.left_wall].id, corner.angle, truth.angles[corner.left_wall]});
    }
    return pairs;
}

// Closed form: readings without error, on recesses of many shapes, give back the recess that they were taken on.
TEST(Survey, ExactReadingsGiveTheTruth) {
    std::mt19937 random(seed);
    const std::vector<Job> jobs{recess_job(),
                                job_of_angles({1500}, {90}, false),
                                job_of_angles({1000, 1400}, {135, 90}, false),
                                job_of_angles({900, 1200, 500, 800}, {90, 270, 90, 90}, false),
                                job_of_angles({800, 900, 1000, 900, 700}, {120, 100, 80, 130, 90}, false),
                                job_of_angles({900, 1200, 900, 1200}, {90, 90, 90, 90}, true)};
    int compared = 0;
    for (Job job : jobs) {
        for (int run = 0; run < 10; ++run) {
            const TrueRecess truth = true_recess(job, random, 15, 1.5, 6);
            job.survey = full_survey(job, truth, {}, random);
            const Survey survey = adjust_survey(job);
            ASSERT_TRUE(survey.converged);
            EXPECT_TRUE(survey.suspects.empty());
            EXPECT_TRUE(survey.assumptions.empty()) << survey.assumptions.front().says;
            for (const auto& pair : pairs_of(survey, job, truth)) {
                // Widths bend a little with height where corners are not square: the change is that at mid height.
                const double allowed = pair.name.find("2000") != std::string::npos ? 0.05 : 1e-4;
                EXPECT_NEAR(pair.estimate.value, pair.truth, allowed) << pair.name;
                EXPECT_GT(pair.estimate.standard_error, 0) << pair.name;
                ++compared;
            }
            const std::size_t last = job.walls.size() - 1;
            EXPECT_NEAR(norm(survey.plan[last].at - truth.left(last, survey.mid_height)), 0, 1e-3);
            const Vec2 drift = truth.left(last, survey.mid_height + 1000) - truth.left(last, survey.mid_height);
            EXPECT_NEAR(norm(survey.plan[last].per_metre - drift), 0, 0.05);
        }
    }
    EXPECT_GT(compared, 500);
}

/// How often |estimate - truth| stays within 1.96 standard errors, by name of the figure.
std::map<std::string, int> covered(Job job, int runs, double width, double angle, double lean, bool full) {
    std::mt19937 random(seed);
    std::map<std::string, int> inside;
    for (int run = 0; run < runs; ++run) {
        const TrueRecess truth = true_recess(job, random, width, angle, lean);
        std::vector<double> surfaces;
        job.survey = full ? full_survey(job, truth, {1, uneven}, random, &surfaces)
                          : widths_only(job, truth, 1200, {1, uneven}, random);
        const Survey survey = adjust_survey(job);
        EXPECT_TRUE(survey.converged);
        for (const auto& pair : pairs_of(survey, job, truth)) {
            inside[pair.name] += std::abs(pair.estimate.value - pair.truth) <= 1.96 * pair.estimate.standard_error;
        }
        std::size_t spot = 0;
        for (const auto& wall : survey.walls) {
            for (const auto& point : wall.points) {
                const bool within = std::abs(point.n - surfaces.at(spot)) <= 1.96 * point.standard_error;
                inside["spot " + std::to_string(spot++)] += within;
            }
        }
        EXPECT_EQ(spot, surfaces.size());
    }
    return inside;
}

void expect_coverage(const std::map<std::string, int>& inside, int runs) {
    // Binomial: four standard deviations of a share of 0.95 over so many runs.
    const double allowed = 4 * std::sqrt(0.95 * 0.05 / runs);
    ASSERT_FALSE(inside.empty());
    double all = 0;
    double least = 1;
    double most = 0;
    for (const auto& [name, count] : inside) {
        const double share = static_cast<double>(count) / runs;
        EXPECT_NEAR(share, 0.95, allowed) << name;
        all += share / static_cast<double>(inside.size());
        least = std::min(least, share);
        most = std::max(most, share);
    }
    std::printf("seed %u: %d runs, %zu figures: within 1.96 standard errors %.2f %% (least %.2f, most %.2f)\n", seed,
                runs, inside.size(), 100 * all, 100 * least, 100 * most);
}

// Normal distribution: 95 % lie within 1.96 standard errors.
TEST(Survey, StandardErrorsCoverTheTruth) {
    constexpr int runs = testing::rounds(2000, 500);
    expect_coverage(covered(recess_job(), runs, 15, 1.5, 6, true), runs);
}

// The same where nearly all is assumed: walls off plumb and square as the assumptions' +/- have it (4 mm per m,
// 1 degree, each two standard errors).
TEST(Survey, StandardErrorsCoverTheTruthWithAssumptions) {
    constexpr int runs = testing::rounds(2000, 500);
    expect_coverage(covered(recess_job(), runs, 15, 0.5, 2, false), runs);
}

TEST(Survey, IsDeterministic) {
    Job job = recess_job();
    std::mt19937 random(seed);
    job.survey = full_survey(job, true_recess(job, random, 15, 1.5, 6), {1, uneven}, random);
    const Survey a = adjust_survey(job);
    const Survey b = adjust_survey(job);
    ASSERT_EQ(a.readings.size(), b.readings.size());
    for (std::size_t i = 0; i < a.readings.size(); ++i) EXPECT_EQ(a.readings[i].residual, b.readings[i].residual);
    for (std::size_t w = 0; w < a.walls.size(); ++w) EXPECT_EQ(a.walls[w].lean.value, b.walls[w].lean.value);
}

// Closed form: with every other reading exact, a blunder of 11 mm disagrees by 11 mm.
TEST(Survey, NamesABlunderInWords) {
    Job job = recess_job();
    std::mt19937 random(seed);
    const TrueRecess truth = true_recess(job, random, 15, 1.5, 6);
    job.survey = full_survey(job, truth, {}, random);
    job.survey->widths[5].height = 1800;
    job.survey->widths[5].reading.value = truth.width(1, 1800) + 11;
    const Survey survey = adjust_survey(job);
    ASSERT_EQ(survey.suspects.size(), 1u);
    EXPECT_EQ(survey.suspects[0].says,
              "the width at 1800 on wall back disagrees with the other readings by 11 mm: measure it again");
    EXPECT_EQ(survey.readings[survey.suspects[0].reading].name, "the width at 1800 on wall back");
    EXPECT_NEAR(survey.suspects[0].misses_by, 11, 0.01);
    EXPECT_GT(survey.s0, 0.5);
}

// A digit lost in writing: 120 for some 1200.
TEST(Survey, NamesALostDigit) {
    Job job = recess_job();
    std::mt19937 random(seed);
    job.survey = full_survey(job, true_recess(job, random, 15, 1.5, 6), {1, uneven}, random);
    job.survey->widths[3].reading.value = 120;
    const Survey survey = adjust_survey(job);
    EXPECT_TRUE(survey.converged);
    ASSERT_EQ(survey.suspects.size(), 1u);
    EXPECT_EQ(survey.readings[survey.suspects[0].reading].name, "the width at 240 on wall back");
}

// Two blunders in one survey are both named, the larger first.
TEST(Survey, NamesTwoBlunders) {
    Job job = recess_job();
    std::mt19937 random(seed);
    job.survey = full_survey(job, true_recess(job, random, 15, 1.5, 6), {}, random);
    job.survey->widths[0].reading.value += 20;
    job.survey->offsets[1].points[4].value -= 30;
    const Survey survey = adjust_survey(job);
    ASSERT_EQ(survey.suspects.size(), 2u);
    EXPECT_EQ(survey.suspects[0].says,
              "the offset at 600, 1200 on wall back disagrees with the other readings by 30 mm: measure it again, or "
              "look for a hump or hollow there");
    EXPECT_EQ(survey.readings[survey.suspects[1].reading].name, "the width at 240 on wall left");
}

// Two readings of one thing and nothing else: either may be wrong, and that is said.
TEST(Survey, SaysWhenBlundersCannotBeToldApart) {
    Job job = job_of_angles({1200}, {90}, false);
    job.survey.emplace();
    for (const double value : {1200.0, 1215.0}) {
        WidthReading width;
        width.wall = "w0";
        width.height = value == 1200 ? 1000 : 1001;
        width.reading.value = value;
        job.survey->widths.push_back(width);
    }
    const Survey survey = adjust_survey(job);
    ASSERT_EQ(survey.suspects.size(), 1u);
    ASSERT_EQ(survey.suspects[0].or_else.size(), 1u);
    EXPECT_EQ(survey.suspects[0].says,
              "the width at 1000 on wall w0 disagrees with the other readings by 15 mm: measure it again; it could as "
              "well be the width at 1001 on wall w0");
}

/// Found: the first suspect is the blunder, or says that it could as well be.
bool found(const Survey& survey, std::size_t blunder) {
    if (survey.suspects.empty()) return false;
    const Suspect& first = survey.suspects.front();
    return first.reading == blunder || std::count(first.or_else.begin(), first.or_else.end(), blunder) > 0;
}

TEST(Survey, FindsBlundersAndRaisesFewFalseAlarms) {
    Job job = recess_job();
    std::mt19937 random(seed);
    constexpr int runs = 400;
    int alarms = 0;
    std::size_t readings = 0;
    std::map<int, int> hits;
    for (int run = 0; run < runs; ++run) {
        const TrueRecess truth = true_recess(job, random, 15, 1.5, 6);
        const SurveyReadings clean = full_survey(job, truth, {1, uneven}, random);
        job.survey = clean;
        const Survey good = adjust_survey(job);
        alarms += !good.suspects.empty();
        readings = good.readings.size();
        for (const int size : {10, 15, 20, 30}) {
            job.survey = clean;
            const auto figures = figures_of(*job.survey);
            ASSERT_EQ(figures.size(), readings);
            std::size_t blunder = 0;
            do blunder = random() % figures.size();
            while (good.readings[blunder].unit != "mm");
            *figures[blunder] += random() % 2 ? size : -size;
            hits[size] += found(adjust_survey(job), blunder);
        }
    }
    std::printf("seed %u: %d runs of %zu readings: false alarms %.1f %%; found:", seed, runs, readings,
                100.0 * alarms / runs);
    for (const auto& [size, count] : hits) std::printf(" %d mm %.1f %%", size, 100.0 * count / runs);
    std::printf("\n");
    // Each good reading is suspected once in 1000: over this many independent ones that is 1 - 0.999^n, about 7 %.
    // Residuals hang together, so it is a little less. Four binomial standard deviations above; and not none.
    const double expected = 1 - std::pow(0.999, static_cast<double>(readings));
    EXPECT_LT(static_cast<double>(alarms) / runs, expected + 4 * std::sqrt(expected * (1 - expected) / runs));
    EXPECT_GT(alarms, 0);
    EXPECT_GT(hits[10], 0.80 * runs);
    EXPECT_GT(hits[15], 0.95 * runs);
    EXPECT_GT(hits[20], 0.98 * runs);
    EXPECT_GT(hits[30], 0.99 * runs);
}

const Assumption* assumption(const Survey& survey, const std::string& says) {
    for (const auto& each : survey.assumptions) {
        if (each.says == says) return &each;
    }
    return nullptr;
}

TEST(Survey, SaysWhatItAssumed) {
    Job job = recess_job();
    std::mt19937 random(seed);
    job.survey = widths_only(job, true_recess(job, random, 0, 0, 0), 1200, {}, random);
    const Survey survey = adjust_survey(job);
    ASSERT_TRUE(survey.converged);
    for (const char* says : {"wall left is plumb", "wall back is plumb", "wall right is plumb",
                             "the left end of wall left is plumb", "the right end of wall right is plumb",
                             "the corner of left and back is square", "the corner of back and right is square"}) {
        const Assumption* made = assumption(survey, says);
        ASSERT_TRUE(made) << says;
        EXPECT_GT(made->plus_minus, 0);
        EXPECT_FALSE(made->source.empty());
        EXPECT_FALSE(made->results.empty());
    }
    EXPECT_EQ(survey.assumptions.size(), 7u);
    // Read at mid height, the widths rest on nothing; everything else does, and nothing checks a single reading.
    EXPECT_TRUE(survey.walls[1].width.rests_on.empty());
    EXPECT_EQ(survey.walls[1].lean.rests_on.size(), 1u);
    EXPECT_EQ(survey.walls[1].width_change.rests_on.size(), 2u);
    EXPECT_EQ(survey.corners[0].angle.rests_on.size(), 1u);
    EXPECT_EQ(survey.assumptions[survey.walls[1].lean.rests_on[0]].says, "wall back is plumb");
    EXPECT_EQ(width_at(survey, 1, 2000).rests_on.size(), 2u);
    EXPECT_EQ(survey.unchecked.size(), 3u);
    EXPECT_EQ(survey.redundancy, 0);
    EXPECT_NEAR(survey.corners[0].angle.standard_error, 0.5, 1e-6);  // half of +/- 1 degree
    EXPECT_NEAR(survey.walls[1].lean.standard_error, 2, 1e-6);       // half of +/- 4 mm per m
    EXPECT_TRUE(is_known(survey, survey.walls[1].lean));
    job.survey->assume = SurveyReadings::Assume::unknown;
    const Survey strict = adjust_survey(job);
    EXPECT_FALSE(is_known(strict, strict.walls[1].lean));
    EXPECT_TRUE(is_known(strict, strict.walls[1].width));
}

// Two walls in one line: their corner is where the widths put it, and nothing breaks.
TEST(Survey, WallsInOneLine) {
    Job job = job_of_angles({900, 700, 800}, {180, 90, 90}, false);
    job.survey.emplace();
    for (const auto& wall : job.walls) {
        for (const double height : {200.0, 2200.0}) {
            WidthReading width;
            width.wall = wall.id;
            width.height = height;
            width.reading.value = wall.width + 4;
            job.survey->widths.push_back(width);
        }
    }
    const Survey survey = adjust_survey(job);
    ASSERT_TRUE(survey.converged);
    EXPECT_TRUE(assumption(survey, "the corner of w0 and w1 has 180 degrees"));
    for (std::size_t w = 0; w < 3; ++w) EXPECT_NEAR(survey.walls[w].width.value, job.walls[w].width + 4, 1e-6);
    EXPECT_NEAR(survey.corners[0].angle.value, 180, 1e-9);
}

// A wall without a width takes the job's and says so; a diagonal in its place makes the assumption go.
TEST(Survey, AssumesNoMoreThanItMust) {
    Job job = recess_job();
    std::mt19937 random(seed);
    const TrueRecess truth = true_recess(job, random, 0, 0, 0);
    job.survey = widths_only(job, truth, 1200, {}, random);
    job.survey->widths.erase(job.survey->widths.begin() + 1);
    const Survey without = adjust_survey(job);
    EXPECT_TRUE(assumption(without, "wall back is 1200 wide, as the job says"));
    EXPECT_NEAR(without.walls[1].width.standard_error, 10, 1e-6);
    PlanDiagonalReading diagonal;
    diagonal.from = {"left", Side::left};
    diagonal.to = {"back", Side::right};
    diagonal.height = 1200;
    diagonal.reading.value = std::hypot(900, 1200);
    job.survey->diagonals.push_back(diagonal);
    const Survey with = adjust_survey(job);
    EXPECT_FALSE(assumption(with, "wall back is 1200 wide, as the job says"));
    EXPECT_TRUE(assumption(with, "the corner of left and back is square"));
    EXPECT_NEAR(with.walls[1].width.value, 1200, 1e-6);
}

// A plane of light that is not plumb shows humps and hollows, but no lean.
TEST(Survey, AnUnplumbPlaneTellsFlatnessOnly) {
    Job job = recess_job();
    std::mt19937 random(seed);
    const TrueRecess truth = true_recess(job, random, 0, 0, 6);
    SurveyReadings full = full_survey(job, truth, {}, random);
    full.offsets[1].points[4].value -= 3;  // a hump of 3 mm in the middle of the back wall
    for (const bool plumb : {true, false}) {
        job.survey.emplace();
        job.survey->offsets = full.offsets;
        for (auto& set : job.survey->offsets) set.plumb = plumb;
        const Survey survey = adjust_survey(job);
        const WallSurvey& back = survey.walls[1];
        ASSERT_EQ(back.points.size(), 9u);
        // Closed form: a plane through 3 x 3 spots takes a ninth of a step in the middle one.
        EXPECT_NEAR(back.points[4].off_plane, 3.0 * 8 / 9, 1e-6);
        EXPECT_NEAR(back.points[0].off_plane, -3.0 / 9, 1e-6);
        EXPECT_EQ(assumption(survey, "wall back is plumb") == nullptr, plumb);
        EXPECT_NEAR(back.lean.value, plumb ? 1000 * truth.walls[1].lean : 0, 1e-6);
        EXPECT_NEAR(back.points[0].n - back.points[0].off_plane, back.lean.value * (240 - 1200) / 1000, 1e-9);
    }
}

// A dished wall is an uneven wall, not a list of blunders; and its standard errors grow.
TEST(Survey, ACrookedWallIsNoBlunder) {
    Job job = recess_job();
    std::mt19937 random(seed);
    const TrueRecess truth = true_recess(job, random, 0, 0, 0);
    job.survey = full_survey(job, truth, {}, random);
    const double before = adjust_survey(job).walls[1].lean.standard_error;
    for (auto& point : job.survey->offsets[1].points) {
        const double across = (point.u - 600) / 600;
        point.value += 12 * across * across - 6 * std::cos(point.v / 400);
    }
    const Survey survey = adjust_survey(job);
    EXPECT_TRUE(survey.suspects.empty()) << survey.suspects.front().says;
    EXPECT_GT(survey.walls[1].unevenness, 2 * uneven);
    EXPECT_EQ(survey.walls[0].unevenness, uneven);
    EXPECT_GT(survey.walls[1].lean.standard_error, 1.2 * before);
}

// A stated +/- weighs: of two widths the one held to +/- 1 pulls four times as much as one of +/- 2 (flat walls).
TEST(Survey, AStatedUncertaintyWeighs) {
    Job job = job_of_angles({1200}, {90}, false);
    job.survey.emplace();
    job.survey->unevenness = 0;
    for (const double off : {1.0, 2.0}) {
        WidthReading width;
        width.wall = "w0";
        width.height = 1200;
        width.reading.value = 1200 + (off == 2 ? 5 : 0);
        width.reading.plus_minus = off;
        job.survey->widths.push_back(width);
    }
    const Survey survey = adjust_survey(job);
    EXPECT_NEAR(survey.walls[0].width.value, 1201, 1e-6);
    EXPECT_NEAR(survey.walls[0].width.standard_error, 0.5 * 2 / std::sqrt(5.0), 1e-9);
}

}  // namespace
}  // namespace standproud
