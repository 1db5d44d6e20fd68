// The join planner: closed forms, and brute force on a fine grid with its own scoring.
#include "modeler/joins.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>

#include "support/rounds.hpp"

namespace standproud::joins {
namespace {

using nesting::Stock;

Polygon wall(double width, double height, double left = 0) {
    return {{{left, 0}, {left + width, 0}, {left + width, height}, {left, height}}};
}

JoinFitting tap(const std::string& name, double u, double hole, double flange) {
    return {name, {RoundedRect::circle({u, 1000}, hole)}, {RoundedRect::circle({u, 1000}, flange)}};
}

JoinPlan planned(const Polygon& area, const std::vector<JoinFitting>& fittings, const std::vector<Stock>& stock,
                 const JoinRules& rules = {}, const JoinWish& wish = {}) {
    const JoinAnswer answer = plan_joins(area, fittings, stock, rules, wish);
    EXPECT_TRUE(answer.plan) << answer.refused;
    return answer.plan.value_or(JoinPlan{});
}

const std::vector<Stock> sheet{{"sheet", 1200, 2400, 90.0}};

TEST(Joins, NoneWhereOneSheetCovers) {
    const JoinPlan plan = planned(wall(1200, 2400), {}, sheet);
    EXPECT_TRUE(plan.best[0].joins.empty());
    EXPECT_TRUE(plan.refused.empty());
    EXPECT_EQ(plan.best[0].score.cost, 90);
    // Just too wide by 0.01 mm.
    EXPECT_EQ(planned(wall(1200.01, 2400), {}, sheet).best[0].joins.size(), 1u);
    JoinRules upright;
    upright.most_levels = 0;
    EXPECT_NE(plan_joins(wall(1000, 2400.01), {}, sheet, upright, {}).refused.find("no sheet is high enough"),
              std::string::npos);
}

TEST(Joins, KeepOffHolesByTheirEdgeDistance) {
    // Closed form: both pieces are at most 1200, so the join lies in 298 to 1202. A hole of 36 at 750
    // keeps it off 750 -+ (18 + 10 + 2); the flange of 64 keeps it off 750 -+ (32 + 2).
    JoinWish wish;
    wish.order = {Preference::aligned};
    wish.align = 750;
    JoinLayout best = planned(wall(1500, 2000), {tap("tap", 750, 36, 64)}, sheet, {}, wish).best[0];
    EXPECT_NEAR(best.score.misaligned, 34, 1e-9);
    best = planned(wall(1500, 2000), {tap("tap", 750, 36, 40)}, sheet, {}, wish).best[0];
    EXPECT_NEAR(best.score.misaligned, 30, 1e-9);
    // And says why the better place was refused.
    const JoinPlan plan = planned(wall(1500, 2000), {tap("tap", 750, 36, 64)}, sheet, {}, wish);
    ASSERT_FALSE(plan.refused.empty());
    EXPECT_NEAR(plan.refused[0].joins[0], 750, 1e-9);
    EXPECT_NE(plan.refused[0].reasons[0].find("hole of tap"), std::string::npos);
    EXPECT_NE(plan.refused[0].reasons[1].find("flange of tap"), std::string::npos);
}

TEST(Joins, JustHitAndJustMissBetweenTwoFittings) {
    // Holes of 30 at 700 and 700 + d; the join fits when d = 30 + 2 x 10 + 4.
    JoinRules rules;
    rules.least_piece = 690;
    rules.most_levels = 0;
    for (const double off : {0.0, -0.01}) {
        const std::vector<JoinFitting> two{tap("a", 700, 30, 30), tap("b", 754 + off, 30, 30)};
        const auto answer = plan_joins(wall(1454, 2000), two, sheet, rules, {});
        ASSERT_EQ(answer.plan.has_value(), off == 0) << answer.refused;
        if (!answer.plan) continue;
        EXPECT_NEAR(answer.plan->best[0].joins[0], 727, 1e-9);
        EXPECT_NEAR(answer.plan->best[0].room, 0, 1e-9);
    }
}

TEST(Joins, KeepOffTheWettestLineWhereThatIsPossible) {
    JoinRules rules;
    rules.wettest = 750;
    JoinWish wish;
    wish.order = {Preference::fewest_joins, Preference::symmetrical};
    JoinLayout best = planned(wall(1500, 2000), {}, sheet, rules, wish).best[0];
    EXPECT_FALSE(best.on_wettest);
    EXPECT_NEAR(std::abs(best.joins[0] - 750), 102, 1e-9);
    rules.wettest_clear = 460;  // 750 -+ 462 leaves nothing of 298 to 1202
    rules.most_joins = 1;
    best = planned(wall(1500, 2000), {}, sheet, rules, wish).best[0];
    EXPECT_TRUE(best.on_wettest);
    EXPECT_NEAR(best.joins[0], 750, 1e-9);
}

TEST(Joins, PreferencesDiffer) {
    // 1700 wide. Fewest joins: one. Cheapest: with sheets of 600 at 20 the wall takes three of them (3 x 600 > 1700 +
    // ...) for 60 and two joins, against 180 for two of 1200.
    const std::vector<Stock> both{{"wide", 1200, 2400, 90.0}, {"narrow", 600, 2400, 20.0}};
    EXPECT_EQ(planned(wall(1700, 2300), {}, both).best[0].score.joins, 1);
    JoinWish wish;
    wish.order = {Preference::least_cost};
    const JoinLayout cheap = planned(wall(1700, 2300), {}, both, {}, wish).best[0];
    EXPECT_EQ(cheap.score.joins, 2);
    EXPECT_EQ(cheap.score.cost, 60);
    // Two strips of one sheet: 1190 wide needs 593 + 593 with a kerf of 3 between: one sheet of 1200 is enough.
    JoinRules rules;
    rules.least_piece = 590;
    JoinWish middle;
    middle.order = {Preference::aligned};
    middle.align = 595;
    const JoinLayout shared = planned(wall(1190, 2300), {}, sheet, rules, middle).best[0];
    ASSERT_EQ(shared.pieces.size(), 2u);
    EXPECT_EQ(shared.score.sheets, 1);
    EXPECT_EQ(shared.pieces[0].sheet, shared.pieces[1].sheet);
}

TEST(Joins, SymmetricalOnRequest) {
    // Closed form: 2800 wide, sheets 1200: three pieces, the joins as far from both ends.
    JoinWish wish;
    wish.order = {Preference::fewest_joins, Preference::symmetrical};
    const JoinLayout best = planned(wall(2800, 2300), {}, sheet, {}, wish).best[0];
    ASSERT_EQ(best.joins.size(), 2u);
    EXPECT_NEAR(best.score.asymmetry, 0, 1e-9);
    EXPECT_NEAR(best.joins[0] + best.joins[1], 2800, 1e-9);
}

TEST(Joins, AStockThatRunsOutIsSeen) {
    std::vector<Stock> few = sheet;
    few[0].count = 1;
    EXPECT_FALSE(plan_joins(wall(1500, 2000), {}, few, {}, {}).plan);
    few.push_back({"offcut", 400, 2100, 0.0, 1, false, true, 0.0});
    const JoinLayout best = planned(wall(1500, 2000), {}, few).best[0];
    EXPECT_EQ(best.score.sheets, 1);
    EXPECT_EQ(best.score.cost, 90);
    // Patterned sheets are not turned: 2000 wide by 1100 high would fit turned.
    std::vector<Stock> patterned = sheet;
    EXPECT_TRUE(planned(wall(2000, 1100), {}, patterned).best[0].joins.empty());
    patterned[0].patterned = true;
    EXPECT_EQ(planned(wall(2000, 1100), {}, patterned).best[0].joins.size(), 1u);
}

TEST(Joins, PiecesOfACrookedWallCoverItLessTheGaps) {
    const Polygon crooked{{{-6, 3}, {1812, -2}, {1805, 2310}, {4, 2290}}};
    const JoinLayout best = planned(crooked, {tap("t", 900, 36, 60)}, {{"s", 1220, 2440, 50.0}}).best[0];
    double covered = 0;
    for (const JoinPiece& p : best.pieces) {
        covered += area(p.outline);
        EXPECT_LE(p.to - p.from, 1220 + 1e-9);
    }
    // Closed form: the gap's strip has the area of its middle height, as the edges are straight.
    const double u = best.joins[0];
    const double at_u = (2290 + 20 * (u - 4) / 1801) - (3 - 5 * (u + 6) / 1818);
    EXPECT_NEAR(area(crooked) - covered, 4 * at_u, 1e-6);
}

// Brute force on a half-millimetre grid, with its own scoring.

struct Case {
    double width = 0;
    double height = 0;
    std::vector<Stock> stock;
    JoinRules rules;
    std::vector<Preference> order;
    std::optional<double> align;
    std::vector<JoinFitting> fittings;
};

using Score = std::vector<double>;

struct Reference {
    const Case& c;
    std::map<std::vector<double>, std::vector<Score>> known;

    /// Cost and waste of every way to share the pieces out: each piece opens a sheet or joins one that is open.
    void ways(const std::vector<double>& w, std::size_t i, std::vector<std::pair<std::size_t, double>> open,
              std::vector<double> room, double cost, double used, std::vector<Score>& all) {
        if (i == w.size()) {
            all.push_back({cost, used - c.width * c.height});
            return;
        }
        for (std::size_t k = 0; k < open.size(); ++k) {
            if (w[i] + c.rules.kerf > room[k] + 1e-9) continue;
            auto r = room;
            r[k] -= w[i] + c.rules.kerf;
            ways(w, i + 1, open, r, cost, used, all);
        }
        for (std::size_t t = 0; t < c.stock.size(); ++t) {
            const Stock& s = c.stock[t];
            const auto taken = std::count_if(open.begin(), open.end(), [&](const auto& o) { return o.first == t; });
            if (s.count && taken >= *s.count) continue;
            for (const bool turned : {false, true}) {
                if (turned && s.patterned) continue;
                const double along = turned ? s.height : s.width;
                if (c.height > (turned ? s.width : s.height) || w[i] > along + 1e-9) continue;
                auto o = open;
                auto r = room;
                o.emplace_back(t, along);
                r.push_back(along - w[i]);
                ways(w, i + 1, o, r, cost + *s.price, used + s.width * s.height, all);
            }
        }
    }

    [[nodiscard]] bool keeps_rules(const std::vector<double>& j) const {
        for (const double at : j) {
            for (const JoinFitting& f : c.fittings) {
                for (const RoundedRect& h : f.holes) {
                    const double off = std::abs(at - h.centre.x) - c.rules.gap / 2 - h.half_width;
                    if (off < c.rules.hole_edge - 1e-9) return false;
                }
                for (const RoundedRect& h : f.flanges) {
                    if (std::abs(at - h.centre.x) - c.rules.gap / 2 - h.half_width < -1e-9) return false;
                }
            }
        }
        return true;
    }

    [[nodiscard]] std::vector<double> widths(const std::vector<double>& j) const {
        std::vector<double> w;
        double from = 0;
        for (const double at : j) {
            w.push_back(at - c.rules.gap / 2 - from);
            from = at + c.rules.gap / 2;
        }
        w.push_back(c.width - from);
        return w;
    }

    [[nodiscard]] Score score(const std::vector<double>& j, const Score& cost) const {
        Score s;
        for (const Preference p : c.order) {
            double value = static_cast<double>(j.size());
            if (p == Preference::least_cost) value = cost[0];
            if (p == Preference::least_waste) value = cost[1];
            if (p == Preference::symmetrical) {
                value = 0;
                for (std::size_t i = 0; i < (j.size() + 1) / 2; ++i) {
                    value += std::abs(j[i] + j[j.size() - 1 - i] - c.width);
                }
            }
            if (p == Preference::aligned) {
                value = c.width;
                for (const double at : j) value = std::min(value, std::abs(at - *c.align));
            }
            s.push_back(value);
        }
        return s;
    }

    static bool less(const Score& a, const Score& b) {
        for (std::size_t i = 0; i < a.size(); ++i) {
            if (std::abs(a[i] - b[i]) > 1e-6) return a[i] < b[i];
        }
        return false;
    }

    /// The best score with rules, and without.
    void search(std::vector<double>& j, std::optional<Score>& kept, std::optional<Score>& any) {
        const auto w = widths(j);
        if (*std::min_element(w.begin(), w.end()) > 1e-9) {
            auto sorted = w;
            std::sort(sorted.begin(), sorted.end());
            auto at = known.find(sorted);
            if (at == known.end()) {
                std::vector<Score> all;
                ways(sorted, 0, {}, {}, 0, 0, all);
                at = known.emplace(sorted, all).first;
            }
            const bool rules = keeps_rules(j) && sorted[0] >= c.rules.least_piece - 1e-9;
            for (const Score& cost : at->second) {
                const Score s = score(j, cost);
                if (sorted[0] >= 1 - 1e-9 && (!any || less(s, *any))) any = s;
                if (rules && (!kept || less(s, *kept))) kept = s;
            }
        }
        if (j.size() == static_cast<std::size_t>(c.rules.most_joins)) return;
        const double start = j.empty() ? 0.5 : j.back() + 0.5;
        for (double at = start; at < c.width; at += 0.5) {
            j.push_back(at);
            search(j, kept, any);
            j.pop_back();
        }
    }
};

/// `narrow`: sheets so narrow that three joins are needed and strips share sheets.
Case random_case(std::mt19937& random, int most_joins, bool narrow = false) {
    const auto pick = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    Case c;
    c.width = pick(14, most_joins == 3 ? 26 : 40);
    c.height = pick(8, 12);
    for (int i = pick(1, 3); i > 0; --i) {
        Stock s{"s" + std::to_string(i), double(narrow ? pick(9, 13) : pick(7, 20)), double(pick(narrow ? 12 : 8, 24)),
                double(pick(0, 9))};
        if (pick(0, 2) == 0) s.count = pick(1, 3);
        s.patterned = narrow || pick(0, 1) == 0;
        c.stock.push_back(s);
    }
    c.rules.gap = 2 * pick(0, 1);
    c.rules.kerf = pick(0, 1);
    c.rules.least_piece = pick(1, 5);
    c.rules.hole_edge = pick(0, 2);
    c.rules.most_joins = most_joins;
    for (int i = pick(0, 2); i > 0; --i) {
        c.fittings.push_back(
            tap("f" + std::to_string(i), pick(2, static_cast<int>(c.width) - 2), 2 * pick(1, 2), 2 * pick(1, 3)));
    }
    std::vector<Preference> all{Preference::fewest_joins, Preference::least_waste, Preference::least_cost,
                                Preference::symmetrical};
    if (pick(0, 1) == 0) {
        c.align = pick(1, static_cast<int>(c.width) - 1);
        all.push_back(Preference::aligned);
    }
    std::shuffle(all.begin(), all.end(), random);
    c.order = all;
    if (narrow) c.order.insert(c.order.begin(), Preference::least_cost);
    return c;
}

Score ordered(const Case& c, const JoinScore& s) {
    Score values;
    for (const Preference p : c.order) {
        values.push_back(p == Preference::fewest_joins  ? s.joins
                         : p == Preference::least_cost  ? s.cost
                         : p == Preference::least_waste ? s.waste
                         : p == Preference::symmetrical ? s.asymmetry
                                                        : s.misaligned);
    }
    return values;
}

void compare_with_grid(unsigned seed, int rounds, int most_joins, int least_planned, bool narrow = false) {
    std::mt19937 random(seed);
    int plans = 0;
    int better_refused = 0;
    for (int round = 0; round < rounds; ++round) {
        const Case c = random_case(random, most_joins, narrow);
        Reference reference{c, {}};
        std::optional<Score> kept;
        std::optional<Score> any;
        std::vector<double> j;
        reference.search(j, kept, any);
        const JoinWish wish{c.order, c.align, 3, false, 0.4};
        const JoinAnswer answer = plan_joins(wall(c.width, c.height), c.fittings, c.stock, c.rules, wish);
        ASSERT_EQ(answer.plan.has_value(), kept.has_value())
            << "seed " << seed << " round " << round << ' ' << answer.refused;
        if (!kept) continue;
        ++plans;
        const Score best = ordered(c, answer.plan->best[0].score);
        EXPECT_FALSE(Reference::less(*kept, best) || Reference::less(best, *kept))
            << "seed " << seed << " round " << round << ' ' << ::testing::PrintToString(best) << ' '
            << ::testing::PrintToString(*kept);
        for (const JoinLayout& layout : answer.plan->best) {
            EXPECT_TRUE(reference.keeps_rules(layout.joins)) << "seed " << seed << " round " << round;
        }
        const bool better = Reference::less(*any, *kept);
        EXPECT_EQ(!answer.plan->refused.empty(), better) << "seed " << seed << " round " << round;
        if (!answer.plan->refused.empty()) {
            ++better_refused;
            const Score first = ordered(c, answer.plan->refused[0].score);
            EXPECT_FALSE(Reference::less(*any, first))
                << "seed " << seed << " round " << round << ' ' << ::testing::PrintToString(*any) << ' '
                << ::testing::PrintToString(first) << " width " << c.width << " gap " << c.rules.gap << " order "
                << static_cast<int>(c.order[0]) << static_cast<int>(c.order[1]) << static_cast<int>(c.order[2]);
            EXPECT_FALSE(answer.plan->refused[0].reasons.empty());
        }
    }
    EXPECT_GT(plans, least_planned);
    EXPECT_GT(better_refused, least_planned / 10);
}

TEST(Joins, AgreesWithTheGridUpToTwoJoins) {
    compare_with_grid(6501, testing::rounds(600, 120), 2, testing::rounds(250, 40));
}

TEST(Joins, AgreesWithTheGridUpToThreeJoins) {
    compare_with_grid(6502, testing::rounds(70, 10), 3, testing::rounds(30, 3));
}

TEST(Joins, AgreesWithTheGridOnNarrowSheets) {
    compare_with_grid(6504, testing::rounds(300, 40), 3, testing::rounds(60, 5), true);
}

/// Walls so long for their sheets that four or five joins are needed, or nearly.
Case long_case(std::mt19937& random, int most_joins) {
    const auto pick = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    Case c = random_case(random, most_joins, true);
    c.width = pick(13, most_joins == 5 ? 16 : 20);
    for (Stock& s : c.stock) {
        s.width = pick(2, 5) + (most_joins == 4 ? 1 : 0);
        if (s.count) s.count = pick(2, 4);
    }
    c.rules.gap = pick(0, 3) == 0 ? 2 : 0;
    c.rules.least_piece = pick(1, 2);
    c.fittings.clear();
    for (int i = pick(0, 2); i > 0; --i)
        c.fittings.push_back(tap("f" + std::to_string(i), pick(2, static_cast<int>(c.width) - 2), 1, pick(1, 2)));
    c.rules.hole_edge = pick(0, 1);
    return c;
}

void compare_long_with_grid(unsigned seed, int rounds, int most_joins, int least_long) {
    std::mt19937 random(seed);
    int long_ones = 0;
    int better_refused = 0;
    for (int round = 0; round < rounds; ++round) {
        const Case c = long_case(random, most_joins);
        Reference reference{c, {}};
        std::optional<Score> kept;
        std::optional<Score> any;
        std::vector<double> j;
        reference.search(j, kept, any);
        const JoinAnswer answer =
            plan_joins(wall(c.width, c.height), c.fittings, c.stock, c.rules, {c.order, c.align, 3, false, 0.4});
        // The grid may be too coarse for a layout, but never finds a better one.
        if (!answer.plan) {
            EXPECT_FALSE(kept) << "seed " << seed << " round " << round << ' ' << answer.refused;
            continue;
        }
        const JoinLayout& first = answer.plan->best[0];
        const Score best = ordered(c, first.score);
        EXPECT_FALSE(kept && Reference::less(*kept, best)) << "seed " << seed << " round " << round;
        if (first.score.joins >= 4) ++long_ones;
        for (const JoinLayout& layout : answer.plan->best) {
            // Scored by the reference at the planner's own places: it is what it says, and keeps the rules.
            EXPECT_TRUE(reference.keeps_rules(layout.joins)) << "seed " << seed << " round " << round;
            const auto w = reference.widths(layout.joins);
            EXPECT_GE(*std::min_element(w.begin(), w.end()), c.rules.least_piece - 1e-6);
            std::vector<Score> all;
            reference.ways(w, 0, {}, {}, 0, 0, all);
            std::optional<Score> again;
            for (const Score& cost : all) {
                const Score s = reference.score(layout.joins, cost);
                if (!again || Reference::less(s, *again)) again = s;
            }
            ASSERT_TRUE(again) << "seed " << seed << " round " << round;
            const Score said = ordered(c, layout.score);
            EXPECT_FALSE(Reference::less(*again, said) || Reference::less(said, *again))
                << "seed " << seed << " round " << round;
        }
        const bool better = any && Reference::less(*any, best);
        EXPECT_FALSE(better && answer.plan->refused.empty()) << "seed " << seed << " round " << round;
        if (answer.plan->refused.empty()) continue;
        ++better_refused;
        const Score refused = ordered(c, answer.plan->refused[0].score);
        EXPECT_TRUE(Reference::less(refused, best)) << "seed " << seed << " round " << round;
        EXPECT_FALSE(any && Reference::less(*any, refused)) << "seed " << seed << " round " << round;
        EXPECT_FALSE(answer.plan->refused[0].reasons.empty());
    }
    EXPECT_GT(long_ones, least_long);
    EXPECT_GT(better_refused, least_long / 5);
}

TEST(Joins, NoGridFindsBetterThanFourJoins) { compare_long_with_grid(6505, 60, 4, 10); }

TEST(Joins, NoGridFindsBetterThanFiveJoins) { compare_long_with_grid(6506, 20, 5, 3); }

TEST(Joins, FiveJoinsOnALongWall) {
    // 7000 wide, sheets of 1200: 6 x 1200 + 5 x 4 = 7220 is enough, 5 x 1200 + 4 x 4 = 6016 is not.
    JoinWish wish;
    wish.order = {Preference::fewest_joins, Preference::symmetrical};
    const JoinLayout best = planned(wall(7000, 2300), {tap("tap", 1200, 36, 60)}, sheet, {}, wish).best[0];
    ASSERT_EQ(best.joins.size(), 5u);
    EXPECT_EQ(best.score.sheets, 6);
    EXPECT_NEAR(best.score.asymmetry, 0, 1e-6);
    // 6 x 1200 + 5 x 4 just covers 7220: every join has one place, 1204 apart.
    const JoinLayout tight = planned(wall(7220, 2300), {}, sheet).best[0];
    ASSERT_EQ(tight.joins.size(), 5u);
    for (std::size_t i = 0; i < 5; ++i) EXPECT_NEAR(tight.joins[i], 1202 + 1204.0 * static_cast<double>(i), 1e-6);
    JoinRules upright;
    upright.most_levels = 0;
    EXPECT_FALSE(plan_joins(wall(7220.01, 2300), {}, sheet, upright, {}).plan);
}

TEST(Joins, MirroringTheWallMirrorsTheScore) {
    const unsigned seed = 6503;
    std::mt19937 random(seed);
    int plans = 0;
    for (int round = 0; round < 300; ++round) {
        Case c = random_case(random, 2);
        const JoinWish wish{c.order, c.align, 1, false, 0.4};
        const auto answer = plan_joins(wall(c.width, c.height), c.fittings, c.stock, c.rules, wish);
        JoinWish mirrored = wish;
        if (mirrored.align) mirrored.align = c.width - *mirrored.align;
        for (JoinFitting& f : c.fittings) {
            for (auto* list : {&f.holes, &f.flanges}) {
                for (RoundedRect& r : *list) r.centre.x = c.width - r.centre.x;
            }
        }
        const auto other = plan_joins(wall(c.width, c.height), c.fittings, c.stock, c.rules, mirrored);
        ASSERT_EQ(answer.plan.has_value(), other.plan.has_value());
        if (!answer.plan) continue;
        ++plans;
        EXPECT_EQ(ordered(c, answer.plan->best[0].score), ordered(c, other.plan->best[0].score)) << round;
    }
    EXPECT_GT(plans, 100);
}

TEST(Joins, RefusesInWords) {
    JoinRules rules;
    rules.gap = -1;
    EXPECT_NE(plan_joins(wall(1500, 2000), {}, sheet, rules, {}).refused.find("gap -1"), std::string::npos);
    rules = {};
    rules.most_joins = 6;
    EXPECT_NE(plan_joins(wall(1500, 2000), {}, sheet, rules, {}).refused.find("most joins 6"), std::string::npos);
    rules.most_joins = 0;
    rules.most_levels = 0;
    EXPECT_NE(plan_joins(wall(1500, 2000), {}, sheet, rules, {}).refused.find("no layout with up to 0 joins"),
              std::string::npos);
    EXPECT_NE(plan_joins({{{0, 0}, {1, 1}}}, {}, sheet, {}, {}).refused.find("2 corners"), std::string::npos);
    EXPECT_NE(plan_joins(wall(1500, 2000), {tap("odd", std::nan(""), 36, 60)}, sheet, {}, {}).refused.find("odd"),
              std::string::npos);
    JoinWish none;
    none.layouts = 0;
    EXPECT_FALSE(plan_joins(wall(1500, 2000), {}, sheet, {}, none).plan);
}

}  // namespace
}  // namespace standproud::joins
