// Joins that somebody drew, scored: closed forms, just hit and just miss, and against the planner's own scores.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "modeler/joins.hpp"

namespace standproud::joins {
namespace {

using nesting::Stock;

Polygon wall(double width, double height) { return {{{0, 0}, {width, 0}, {width, height}, {0, height}}}; }

JoinFitting tap(const std::string& name, double u, double hole, double flange) {
    return {name, {RoundedRect::circle({u, 1000}, hole)}, {RoundedRect::circle({u, 1000}, flange)}};
}

ScoredJoins score(const Polygon& area, const std::vector<JoinFitting>& fittings, const std::vector<Stock>& stock,
                  const std::vector<double>& joins, const JoinRules& rules = {}, const JoinWish& wish = {}) {
    const ScoreAnswer answer = score_joins(area, fittings, stock, rules, wish, joins);
    EXPECT_TRUE(answer.scored) << answer.refused;
    return answer.scored.value_or(ScoredJoins{});
}

const std::vector<Stock> sheet{{"sheet", 1200, 2400, 90.0}};

TEST(ScoreJoins, ClosedForms) {
    // 2000 wide, one join at 900: pieces of 898 and 1098 from two sheets; its middle is 100 off the wall's, counted
    // twice; waste is two sheets less the wall.
    const ScoredJoins one = score(wall(2000, 2100), {}, sheet, {900});
    EXPECT_TRUE(one.broken.empty());
    ASSERT_TRUE(one.cut_from_sheets);
    EXPECT_EQ(one.score.joins, 1);
    EXPECT_EQ(one.score.sheets, 2);
    EXPECT_EQ(one.score.cost, 180);
    EXPECT_NEAR(one.score.waste, 2 * 1200.0 * 2400 - 2000.0 * 2100, 1e-6);
    EXPECT_NEAR(one.score.asymmetry, 200, 1e-9);
    ASSERT_EQ(one.pieces.size(), 2u);
    EXPECT_NEAR(one.pieces[0].to - one.pieces[0].from, 898, 1e-9);
    EXPECT_NEAR(one.pieces[1].to - one.pieces[1].from, 1098, 1e-9);
    EXPECT_NEAR(area(one.pieces[1].outline), 1098.0 * 2100, 1e-6);
    // Three joins, in any order: the outer pair's sum is 10 off, the middle one stands on the middle.
    const ScoredJoins three = score(wall(2000, 2100), {}, sheet, {1510, 500, 1000});
    EXPECT_NEAR(three.score.asymmetry, 10, 1e-9);
    EXPECT_EQ(three.joins, (std::vector<double>{500, 1000, 1510}));
    // Pieces of 498, 496, 506, 488 with 3 of saw between: two to a sheet.
    EXPECT_EQ(three.score.sheets, 2);
    JoinWish wish;
    wish.align = 930;
    EXPECT_NEAR(score(wall(2000, 2100), {}, sheet, {500, 1000}, {}, wish).score.misaligned, 70, 1e-9);
}

TEST(ScoreJoins, MoreJoinsThanAreProposed) {
    // 6000 wide in five pieces of 1196 or 1198: a sheet each.
    const ScoredJoins wide = score(wall(6000, 2100), {}, sheet, {1200, 2400, 3600, 4800});
    EXPECT_TRUE(wide.broken.empty());
    EXPECT_EQ(wide.score.sheets, 5);
    EXPECT_EQ(wide.score.cost, 450);
    EXPECT_NEAR(wide.score.asymmetry, 0, 1e-9);
    // 1800 wide in six: 298 and four of 296 and 298; four of them and three kerfs are at most 1197, so two sheets.
    const ScoredJoins narrow = score(wall(1800, 2100), {}, sheet, {300, 600, 900, 1200, 1500});
    EXPECT_EQ(narrow.score.sheets, 2);
    EXPECT_NEAR(narrow.score.waste, 2 * 1200.0 * 2400 - 1800.0 * 2100, 1e-6);
}

TEST(ScoreJoins, JustHitAndJustMiss) {
    // A hole of 36 at 750 keeps a join off 750 -+ (18 + 10 + 2).
    for (const auto& [at, breaks] : std::vector<std::pair<double, bool>>{
             {720, false}, {720.01, true}, {780, false}, {779.99, true}, {750, true}}) {
        const ScoredJoins one = score(wall(1500, 2000), {tap("tap", 750, 36, 20)}, sheet, {at});
        EXPECT_EQ(one.broken.size(), breaks ? (at == 750 ? 2u : 1u) : 0u) << at;
        EXPECT_TRUE(one.cut_from_sheets) << "a broken rule is no reason not to count the sheets";
        EXPECT_EQ(one.score.sheets, 2);
    }
    // The widest piece is 1200, so the join of 1500 lies in 298 to 1202.
    EXPECT_TRUE(score(wall(1500, 2000), {}, sheet, {298}).cut_from_sheets);
    const ScoredJoins wide = score(wall(1500, 2000), {}, sheet, {297.99});
    EXPECT_FALSE(wide.cut_from_sheets);
    ASSERT_EQ(wide.broken.size(), 1u);
    EXPECT_NE(wide.broken[0].find("piece 2 would be 1200.01 mm wide, the widest that a sheet gives is 1200.00"),
              std::string::npos)
        << wide.broken[0];
    // The least piece of 100: 102 to the join's middle.
    EXPECT_TRUE(score(wall(1300, 2000), {}, sheet, {102}).broken.empty());
    EXPECT_EQ(score(wall(1300, 2000), {}, sheet, {101.99}).broken.size(), 1u);
}

TEST(ScoreJoins, TheWettestLineIsAWish) {
    JoinRules rules;
    rules.wettest = 750;
    for (const auto& [at, on] : std::vector<std::pair<double, bool>>{{648, false}, {648.01, true}, {852, false}}) {
        const ScoredJoins one = score(wall(1500, 2000), {}, sheet, {at}, rules);
        EXPECT_EQ(one.on_wettest, on) << at;
        EXPECT_TRUE(one.broken.empty()) << at;
    }
}

TEST(ScoreJoins, OffTheWallAndOnOneAnother) {
    const ScoredJoins off = score(wall(1500, 2000), {}, sheet, {-10, 750});
    EXPECT_FALSE(off.cut_from_sheets);
    ASSERT_FALSE(off.broken.empty());
    EXPECT_NE(off.broken[0].find("piece 1 would be -12.0 mm wide"), std::string::npos) << off.broken[0];
    EXPECT_FALSE(score(wall(1500, 2000), {}, sheet, {750, 750}).cut_from_sheets);
    std::vector<Stock> few = sheet;
    few[0].count = 1;
    const ScoredJoins none = score(wall(1500, 2000), {}, few, {750});
    ASSERT_EQ(none.broken.size(), 1u);
    EXPECT_NE(none.broken[0].find("not enough sheets"), std::string::npos);
}

TEST(ScoreJoins, RefusesInWords) {
    const auto refused = [](const std::vector<double>& joins, const Polygon& area = wall(1500, 2000)) {
        return score_joins(area, {}, sheet, {}, {}, joins).refused;
    };
    EXPECT_NE(refused({200, 400, 600, 800, 1000, 1200, 1400}).find("7 joins on one wall; up to 6"), std::string::npos);
    EXPECT_NE(refused({std::nan("")}).find("not a number"), std::string::npos);
    EXPECT_NE(refused({}, wall(1500, 2500)).find("no sheet is high enough"), std::string::npos);
    EXPECT_NE(refused({}, {}).find("0 corners"), std::string::npos);
    EXPECT_EQ(refused({}), "");
}

/// The relation that makes scores comparable: what the planner gives is what its joins score.
TEST(ScoreJoins, AsThePlannerScoresItsOwn) {
    const unsigned seed = 6510;
    std::mt19937 random(seed);
    const auto pick = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    int layouts = 0;
    int refused = 0;
    int joined = 0;
    for (int round = 0; round < 300; ++round) {
        const double width = pick(700, 2600);
        const Polygon area{
            {{0, 0}, {width, double(pick(-9, 9))}, {width + pick(-9, 9), 2100}, {double(pick(-9, 9)), 2090}}};
        std::vector<Stock> stock;
        for (int i = pick(1, 3); i > 0; --i) {
            Stock one{"s", double(pick(500, 1300)), double(pick(2150, 2500)), double(pick(20, 200))};
            one.patterned = pick(0, 1) == 0;
            one.offcut = pick(0, 3) == 0;
            if (pick(0, 2) == 0) one.count = pick(1, 3);
            one.edge_trim = pick(0, 5);
            stock.push_back(one);
        }
        std::vector<JoinFitting> fittings;
        for (int i = pick(0, 3); i > 0; --i)
            fittings.push_back(tap("f", pick(50, static_cast<int>(width) - 50), pick(10, 60), pick(40, 120)));
        JoinRules rules;
        if (pick(0, 1) == 0) rules.wettest = pick(100, static_cast<int>(width) - 100);
        JoinWish wish;
        wish.order = {pick(0, 1) == 0 ? Preference::symmetrical : Preference::least_waste};
        if (pick(0, 1) == 0) wish.align = pick(0, static_cast<int>(width));
        const JoinAnswer answer = plan_joins(area, fittings, stock, rules, wish);
        if (!answer.plan) continue;
        const auto same = [&](const JoinScore& a, const JoinScore& b) {
            EXPECT_EQ(a.joins, b.joins) << "seed " << seed << " round " << round;
            EXPECT_EQ(a.sheets, b.sheets) << "seed " << seed << " round " << round;
            EXPECT_EQ(a.cost, b.cost) << "seed " << seed << " round " << round;
            EXPECT_EQ(a.waste, b.waste) << "seed " << seed << " round " << round;
            EXPECT_EQ(a.asymmetry, b.asymmetry) << "seed " << seed << " round " << round;
            EXPECT_EQ(a.misaligned, b.misaligned) << "seed " << seed << " round " << round;
        };
        for (const JoinLayout& layout : answer.plan->best) {
            const ScoredJoins again = score(area, fittings, stock, layout.joins, rules, wish);
            same(again.score, layout.score);
            EXPECT_TRUE(again.cut_from_sheets);
            EXPECT_TRUE(again.broken.empty()) << "seed " << seed << " round " << round << ' ' << again.broken.front();
            EXPECT_TRUE(layout.on_wettest || !again.on_wettest) << "seed " << seed << " round " << round;
            for (std::size_t i = 0; i < layout.pieces.size(); ++i) {
                EXPECT_EQ(again.pieces.at(i).from, layout.pieces[i].from);
                EXPECT_EQ(again.pieces.at(i).stock, layout.pieces[i].stock);
                EXPECT_EQ(again.pieces.at(i).sheet, layout.pieces[i].sheet);
            }
            ++layouts;
            joined += layout.joins.empty() ? 0 : 1;
        }
        for (const RefusedLayout& layout : answer.plan->refused) {
            const ScoredJoins again = score(area, fittings, stock, layout.joins, rules, wish);
            same(again.score, layout.score);
            EXPECT_TRUE(!again.broken.empty() || again.on_wettest) << "what was refused breaks something";
            ++refused;
        }
    }
    EXPECT_GT(layouts, 200);
    EXPECT_GT(joined, 100);
    EXPECT_GT(refused, 20);
}

}  // namespace
}  // namespace standproud::joins
