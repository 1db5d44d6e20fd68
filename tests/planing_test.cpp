// The least planing that keeps a bed between its bounds. Source beside each check: closed form, GLPK in exact
// arithmetic (support/glpk_planes, which is given the definition and not our shortcut), or brute force.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "modeler/bedding.hpp"
#include "support/glpk_planes.hpp"

namespace standproud {
namespace {

using testing::glpk_least_deepest;
using testing::glpk_least_total;
using testing::glpk_least_total_of_deepest;
using testing::PlaneOpinion;

const Polygon outline{{{0, 0}, {1200, 0}, {1200, 2400}, {0, 2400}}};

BeddingRule rule_with(double bed_max) {
    BeddingRule rule;
    rule.substrate = 10;
    rule.bed_min = 2;
    rule.bed_max = bed_max;
    return rule;
}

Planing planing_of(const std::vector<WallPoint>& spots, const BeddingRule& rule, LeastPlaning least) {
    const PlaningAnswer answer = least_planing(spots, outline, rule, least);
    EXPECT_TRUE(answer.planing) << answer.refused;
    return answer.planing.value_or(Planing{});
}

std::vector<WallPoint> bump_at_the_middle(double high) {
    std::vector<WallPoint> spots;
    for (int i = 0; i <= 2; ++i) {
        for (int j = 0; j <= 2; ++j) spots.push_back({600.0 * i, 1200.0 * j, i == 1 && j == 1 ? high : 0.0});
    }
    return spots;
}

TEST(Planing, OneBumpLosesWhatTheBedIsOver) {
    // Closed form: a bump of 6 mm lifts the bed elsewhere to 8; bed_max 5 takes 3 off it.
    const auto spots = bump_at_the_middle(6);
    for (const auto least : {LeastPlaning::total, LeastPlaning::deepest}) {
        const Planing p = planing_of(spots, rule_with(5), least);
        ASSERT_EQ(p.planed.size(), 1u);
        EXPECT_EQ(p.planed[0].spot, 4u);
        EXPECT_NEAR(p.planed[0].depth, 3, 1e-9);
        EXPECT_NEAR(p.total, 3, 1e-9);
        EXPECT_NEAR(p.bedding.greatest_bed, 5, 1e-9);
        EXPECT_NEAR(p.bedding.spots[4].bed, 2, 1e-9);
    }
    EXPECT_TRUE(planing_of(spots, rule_with(8), LeastPlaning::total).planed.empty());
    EXPECT_TRUE(planing_of(spots, rule_with(8.01), LeastPlaning::total).planed.empty());
    EXPECT_NEAR(planing_of(spots, rule_with(7.99), LeastPlaning::total).total, 0.01, 1e-9);
}

TEST(Planing, ATwistedFaceIsPlanedOnceOrShared) {
    // Closed form. Corners 0, 8, 0, 8 round the sheet: a plane's two diagonals have equal sums, so with a band of
    // 2 mm of bed (2 to 4) the high diagonal must lose 16 - 2 * 2 = 12 mm in all; shared, 6 at each corner.
    const std::vector<WallPoint> twisted{{0, 0, 0}, {1200, 0, 8}, {1200, 2400, 0}, {0, 2400, 8}};
    EXPECT_NEAR(planing_of(twisted, rule_with(4), LeastPlaning::total).total, 12, 1e-9);
    const Planing shared = planing_of(twisted, rule_with(4), LeastPlaning::deepest);
    EXPECT_NEAR(shared.deepest, 6, 1e-9);
    EXPECT_NEAR(shared.total, 12, 1e-9);
    EXPECT_TRUE(planing_of(twisted, rule_with(10), LeastPlaning::total).planed.empty());
}

TEST(Planing, AnotherPlaneMayNeedNone) {
    // A corner bump of 6: the lowest plane tilts 3 mm of bed into two corners and the far one rests; held 2..8.
    // With bed_max 5 the bed over bed_min may be 3: the lowest plane just holds. With 4.99 it is over by 0.01 in both
    // corners; a plane's diagonals have equal sums: (6 + p) + 0 = x + y with x, y <= 2.99 takes 0.02 off.
    const std::vector<WallPoint> corner{{0, 0, 0}, {1200, 0, 0}, {1200, 2400, 6}, {0, 2400, 0}};
    EXPECT_TRUE(planing_of(corner, rule_with(5), LeastPlaning::total).planed.empty());
    EXPECT_NEAR(planing_of(corner, rule_with(4.99), LeastPlaning::total).total, 0.02, 1e-9);
    // Low on the right at mid height only, by 5: the lowest plane at the middle may leave 5 + 2 there; a plane that is
    // turned cannot come lower there without planing, so the right-hand corners lose what is missing.
    const std::vector<WallPoint> hollow{{0, 0, 0},    {1200, 0, 0},    {1200, 1200, -5},
                                        {0, 1200, 0}, {1200, 2400, 0}, {0, 2400, 0}};
    EXPECT_NEAR(planing_of(hollow, rule_with(6), LeastPlaning::total).total, 2, 1e-9);  // 1 mm off both corners
    EXPECT_NEAR(planing_of(hollow, rule_with(6), LeastPlaning::deepest).deepest, 1, 1e-9);
}

TEST(Planing, ALowestPlaneThatIsOverCanGiveWayToOneThatIsNot) {
    // Closed form: held plumb, three spots in a row, faces 0, 0, -9 at u 0, 600, 1200 and 0 at 900. The lowest plane
    // over the middle (600) leaves it 0 there and, of those, the least greatest bed: through (600, 0) and (900, 0): 9
    // over at 1200. None is better; but faces 0, 4, 0 at 0, 900, 1200 with the middle at 600 have a lowest plane
    // through (0, 0) and (900, 4), that stands 16/3 over at 1200; level at 4 it is 4 over everywhere.
    const std::vector<WallPoint> row{{0, 1200, 0}, {900, 1200, 4}, {1200, 1200, 0}};
    BeddingRule rule = rule_with(6);
    rule.plumb = true;
    const auto lowest = bed_as_plane(row, outline, rule).bedding;
    ASSERT_TRUE(lowest);
    EXPECT_NEAR(lowest->greatest_packing, 16.0 / 3, 1e-9);
    EXPECT_FALSE(beds_over(*lowest, 6).empty());
    const Planing p = planing_of(row, rule, LeastPlaning::total);
    EXPECT_TRUE(p.planed.empty());
    EXPECT_NEAR(p.bedding.greatest_bed, 6, 1e-9);
    EXPECT_NEAR(p.bedding.back.at(900, 0), 16, 1e-9);
    EXPECT_NEAR(p.bedding.back_at_middle, 12 + 4, 1e-8);
}

TEST(Planing, BruteForceOverAllVertices) {
    // Brute force: an optimum lies where three spots are at bed_min or bed_max exactly; all such planes are tried.
    constexpr unsigned seed = 20261127;
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> u(0, 1200), v(0, 2400), n(-6, 6);
    int planed = 0, tried = 0;
    for (int i = 0; i < 150; ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed) + " scene " + std::to_string(i));
        std::vector<WallPoint> spots{
            {0, 0, n(random)}, {1200, 0, n(random)}, {1200, 2400, n(random)}, {0, 2400, n(random)}};
        for (int k = 0; k < 5; ++k) spots.push_back({u(random), v(random), n(random)});
        const BeddingRule rule = rule_with(6);
        double best = 1e300;
        const std::size_t count = 2 * spots.size();
        const auto level = [&](std::size_t k) {
            return spots[k / 2].n + rule.substrate + (k % 2 == 0 ? rule.bed_min : *rule.bed_max);
        };
        for (std::size_t a = 0; a < count; ++a) {
            for (std::size_t b = a + 1; b < count; ++b) {
                for (std::size_t c = b + 1; c < count; ++c) {
                    const WallPoint p = spots[a / 2], q = spots[b / 2], r = spots[c / 2];
                    const double det = (q.u - p.u) * (r.v - p.v) - (r.u - p.u) * (q.v - p.v);
                    if (std::abs(det) < 1e-3) continue;
                    const double x = ((level(b) - level(a)) * (r.v - p.v) - (level(c) - level(a)) * (q.v - p.v)) / det;
                    const double y = ((q.u - p.u) * (level(c) - level(a)) - (r.u - p.u) * (level(b) - level(a))) / det;
                    double sum = 0;
                    for (const auto& s : spots) {
                        const double bed = level(a) + x * (s.u - p.u) + y * (s.v - p.v) - s.n - rule.substrate;
                        if (bed > *rule.bed_max + 1e-9) sum = 1e300;
                        sum += std::max(0.0, rule.bed_min - bed);
                    }
                    best = std::min(best, sum);
                    ++tried;
                }
            }
        }
        const Planing p = planing_of(spots, rule, LeastPlaning::total);
        EXPECT_NEAR(p.total, best, 1e-7);
        if (p.total > 0.01) ++planed;
    }
    EXPECT_GT(planed, 100);
    EXPECT_GT(tried, 10000);
}

TEST(Planing, AgreesWithGlpkOnRandomFaces) {
    constexpr unsigned seed = 20261128;
    std::mt19937 random(seed);
    const auto any = [&](double from, double to) {  // in sixteenths, which GLPK takes exactly
        return std::round(16 * std::uniform_real_distribution<double>(from, to)(random)) / 16;
    };
    const auto whole = [&](int from, int to) { return std::uniform_int_distribution<int>(from, to)(random); };
    int planed = 0, none = 0;
    double worst = 0;
    for (int i = 0; i < 2000; ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed) + " scene " + std::to_string(i));
        const bool ties = i % 2 == 0;
        std::vector<WallPoint> spots{{0, 0, 0}, {1200, 0, 0}, {1200, 2400, 0}, {0, 2400, 0}};
        for (int k = whole(0, 16); k > 0; --k) {
            spots.push_back(ties ? WallPoint{300.0 * whole(0, 4), 300.0 * whole(0, 8), 0.0}
                                 : WallPoint{any(-100, 1300), any(-100, 2500), 0});
        }
        for (auto& spot : spots) spot.n = ties ? whole(-3, 3) : any(-6, 6);
        BeddingRule rule = rule_with(ties ? whole(2, 12) : any(2, 14));
        rule.plumb = whole(0, 3) == 0;
        if (whole(0, 3) == 0) rule.turn = ties ? 0 : any(-80, 80) / 16384;
        const Planing total = planing_of(spots, rule, LeastPlaning::total);
        const Planing shared = planing_of(spots, rule, LeastPlaning::deepest);
        const PlaneOpinion sum = glpk_least_total(spots, rule);
        const PlaneOpinion depth = glpk_least_deepest(spots, rule);
        ASSERT_EQ(sum.state, PlaneOpinion::State::solved);
        ASSERT_EQ(depth.state, PlaneOpinion::State::solved);
        EXPECT_NEAR(total.total, sum.value, 1e-7);
        EXPECT_NEAR(shared.deepest, depth.value, 1e-7);
        worst = std::max({worst, std::abs(total.total - sum.value), std::abs(shared.deepest - depth.value)});
        const PlaneOpinion then = glpk_least_total_of_deepest(spots, rule);
        ASSERT_EQ(then.state, PlaneOpinion::State::solved);
        EXPECT_NEAR(shared.total, then.value, 1e-7);
        EXPECT_LE(total.total, shared.total + 1e-7);
        EXPECT_LE(shared.deepest, total.deepest + 1e-7);
        for (const Planing* p : {&total, &shared}) {
            // Planed by hand, the face has its bed within bounds everywhere.
            auto face = spots;
            for (const auto& cut : p->planed) face[cut.spot].n -= cut.depth;
            for (const auto& s : face) {
                const double bed = p->bedding.back.at(s.u, s.v) - s.n - rule.substrate;
                EXPECT_GE(bed, rule.bed_min - 1e-9);
                EXPECT_LE(bed, *rule.bed_max + 1e-9);
            }
            p->planed.empty() ? ++none : ++planed;
        }
    }
    printf("seed %u: %d planed, %d need none, worst difference from GLPK %.1e mm\n", seed, planed, none, worst);
    EXPECT_GT(planed, 1000);
    EXPECT_GT(none, 300);
}

TEST(Planing, RefusesWhatBeddingRefuses) {
    const PlaningAnswer answer = least_planing({{600, 1200, 3}}, outline, rule_with(6));
    EXPECT_FALSE(answer.planing);
    ASSERT_EQ(answer.doubts.size(), 1u);
    BeddingRule rule = rule_with(6);
    rule.assume = true;
    EXPECT_TRUE(planing_of({{600, 1200, 3}}, rule, LeastPlaning::total).planed.empty());
    // Two readings of one spot 5 mm apart cannot both have a bed of 2 to 6: one loses 1 mm.
    EXPECT_NEAR(planing_of({{600, 1200, 3}, {600, 1200, 8}}, rule, LeastPlaning::total).total, 1, 1e-9);
}

}  // namespace
}  // namespace standproud
