// Two states of a job set side by side. Source of every check: closed form.
#include "rules/compare.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "support/jobs.hpp"

namespace standproud::rules {
namespace {

using testing::findings_of;

struct State {
    Model model;
    std::vector<Finding> findings;
};

State state_of(const Job& job) {
    Faults faults;
    Model model = build_model(job, faults);
    auto findings = findings_of(model);
    return {std::move(model), std::move(findings)};
}

Comparison compared(const Job& a, const Job& b) {
    const State old_state = state_of(a);
    const State new_state = state_of(b);
    return compare(old_state.model, old_state.findings, new_state.model, new_state.findings);
}

TEST(Compare, AJobWithItselfChangesNothing) {
    std::mt19937 random(1);
    for (int i = 0; i < 50; ++i) {
        const Job job = testing::random_job(random);
        const Comparison same = compared(job, job);
        EXPECT_TRUE(same.fittings.empty());
        EXPECT_TRUE(same.verdicts.empty());
        EXPECT_FALSE(same.worse());
    }
}

TEST(Compare, SaysWhatMovedAndByHowMuch) {
    std::mt19937 random(2);
    const Job job = testing::random_job(random);
    Job other = job;
    other.fittings[0].height += 7;
    other.fittings[1].seat = Length{-99, 1.0, {}};
    other.fittings.pop_back();
    Fitting more = job.fittings[2];
    more.id = "more";
    other.fittings.push_back(more);
    const Comparison changes = compared(job, other);
    ASSERT_EQ(changes.fittings.size(), 4u);
    EXPECT_NEAR(changes.fittings[0].up, 7, 1e-9);
    EXPECT_EQ(changes.fittings[1].new_seat, -99);
    EXPECT_EQ(changes.fittings[2].kind, FittingChange::Kind::appeared);
    EXPECT_EQ(changes.fittings[3].kind, FittingChange::Kind::vanished);
}

TEST(Compare, SaysWhichOpeningsCameWentAndHaveOtherEdges) {
    std::mt19937 random(3);
    Job job = testing::random_job(random);
    job.walls[0].openings = {{"hatch", "hatch", 300, 600, 900, 1200, 80.0, {}, 5, {}},
                             {"slot", "slot", 300, 600, 1500, 1800, {}, {}, 5, {}}};
    EXPECT_TRUE(compared(job, job).openings.empty());
    Job other = job;
    other.walls[0].openings[0].left -= 40;
    other.walls[0].openings[0].top += 25;
    other.walls[0].openings[0].reveal.reset();
    other.walls[0].openings[1].id = "gap";
    const auto changes = compared(job, other).openings;
    ASSERT_EQ(changes.size(), 3u);
    EXPECT_EQ(changes[0].opening, "hatch");
    EXPECT_EQ(changes[0].kind, FittingChange::Kind::moved);
    EXPECT_NEAR(changes[0].left, -40, 1e-9);
    EXPECT_EQ(changes[0].right, 0);
    EXPECT_EQ(changes[0].bottom, 0);
    EXPECT_NEAR(changes[0].top, 25, 1e-9);
    EXPECT_EQ(changes[0].old_reveal, 80);
    EXPECT_FALSE(changes[0].new_reveal);
    EXPECT_EQ(changes[1].opening, "gap");
    EXPECT_EQ(changes[1].kind, FittingChange::Kind::appeared);
    EXPECT_EQ(changes[2].opening, "slot");
    EXPECT_EQ(changes[2].kind, FittingChange::Kind::vanished);
    // A hair under what counts as the same number, and over it.
    Job near = job;
    near.walls[0].openings[1].right += 0.9e-9;
    EXPECT_TRUE(compared(job, near).openings.empty());
    near.walls[0].openings[1].right += 0.01;
    EXPECT_EQ(compared(job, near).openings.size(), 1u);
}

TEST(Compare, SwappingOldAndNewSwapsBetterAndWorse) {
    const unsigned seed = 3;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    int seen = 0;
    for (int i = 0; i < 100; ++i) {
        const Job job = testing::random_job(random);
        Job other = job;
        for (auto& fitting : other.fittings) {
            if (fitting.seat) fitting.seat->value += 8;
        }
        const auto count = [](const Comparison& c, bool worse) {
            return std::count_if(c.verdicts.begin(), c.verdicts.end(),
                                 [&](const auto& v) { return worse ? v.worse() : v.better(); });
        };
        const Comparison there = compared(job, other);
        const Comparison back = compared(other, job);
        EXPECT_EQ(count(there, true), count(back, false));
        EXPECT_EQ(count(there, false), count(back, true));
        seen += static_cast<int>(there.verdicts.size());
    }
    EXPECT_GT(seen, 50);
}

TEST(AsBuilt, MeasuredFiguresReplaceTheDesigns) {
    std::mt19937 random(4);
    Job job = testing::random_job(random);
    EXPECT_FALSE(has_as_built(job));
    AsBuilt fixed;
    fixed.seat = Length{-31, 0.5, {}};
    fixed.height = 1234;
    job.fittings[0].as_built = fixed;
    EXPECT_TRUE(has_as_built(job));
    const Job used = as_fixed(job);
    EXPECT_EQ(used.fittings[0].seat->value, -31);
    EXPECT_EQ(*used.fittings[0].seat->tolerance, 0.5);
    EXPECT_EQ(used.fittings[0].height, 1234);
    EXPECT_EQ(used.fittings[0].across.distance, job.fittings[0].across.distance) << "what was not measured stays";
}

}  // namespace
}  // namespace standproud::rules
