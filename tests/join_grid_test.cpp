// Level joins beside upright ones: closed forms, just hit and just miss, and brute force on a fine grid with its own
// way to share sheets out.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>

#include "modeler/joins.hpp"

namespace standproud::joins {
namespace {

using nesting::Stock;

Polygon wall(double width, double height) { return {{{0, 0}, {width, 0}, {width, height}, {0, height}}}; }

JoinFitting tap(const std::string& name, Vec2 at, double hole, double flange) {
    return {name, {RoundedRect::circle(at, hole)}, {RoundedRect::circle(at, flange)}};
}

JoinPlan planned(const Polygon& area, const std::vector<JoinFitting>& fittings, const std::vector<Stock>& stock,
                 const JoinRules& rules = {}, const JoinWish& wish = {}) {
    const JoinAnswer answer = plan_joins(area, fittings, stock, rules, wish);
    EXPECT_TRUE(answer.plan) << answer.refused;
    return answer.plan.value_or(JoinPlan{});
}

const std::vector<Stock> sheet{{"sheet", 1200, 2400, 90.0}};

TEST(JoinGrid, OnlyWhereASheetIsNotHighEnough) {
    EXPECT_TRUE(planned(wall(1200, 2400), {}, sheet).best[0].levels.empty());
    const JoinPlan plan = planned(wall(1000, 2400.01), {}, sheet);
    ASSERT_EQ(plan.best[0].levels.size(), 1u);
    EXPECT_TRUE(plan.best[0].joins.empty());
    EXPECT_EQ(plan.best[0].score.joins, 1);
    EXPECT_EQ(plan.best[0].score.levels, 1);
    EXPECT_NE(plan.why_levels.find("no sheet is high enough for 2400.0"), std::string::npos) << plan.why_levels;
    // Closed form: 2700 high; pieces of at most 2400, so the join's middle lies in 298 to 2402, least heights of 100
    // within it. Both pieces come from a sheet each: lower + upper + kerf = 2699 > 2400.
    const JoinLayout high = planned(wall(1000, 2700), {}, sheet).best[0];
    ASSERT_EQ(high.levels.size(), 1u);
    EXPECT_GE(high.levels[0], 298 - 1e-9);
    EXPECT_LE(high.levels[0], 2402 + 1e-9);
    EXPECT_EQ(high.score.sheets, 2);
    EXPECT_NEAR(high.score.waste, 2 * 1200.0 * 2400 - 1000.0 * 2700, 1e-6);
    ASSERT_EQ(high.pieces.size(), 2u);
    EXPECT_NEAR(high.pieces[0].top, high.levels[0] - 2, 1e-9);
    EXPECT_NEAR(high.pieces[1].bottom, high.levels[0] + 2, 1e-9);
    EXPECT_NEAR(area(high.pieces[0].outline) + area(high.pieces[1].outline), 1000.0 * 2696, 1e-6);
}

TEST(JoinGrid, JustHitAndJustMissInHeight) {
    // Two rows of at most 2400 and a gap of 4: 4804. Three: 7208.
    EXPECT_EQ(planned(wall(1000, 4804), {}, sheet).best[0].levels.size(), 1u);
    EXPECT_EQ(planned(wall(1000, 4804.01), {}, sheet).best[0].levels.size(), 2u);
    EXPECT_EQ(planned(wall(1000, 7208), {}, sheet).best[0].levels.size(), 2u);
    const JoinAnswer none = plan_joins(wall(1000, 7208.01), {}, sheet, {}, {});
    EXPECT_FALSE(none.plan);
    EXPECT_NE(none.refused.find("up to 2 level joins"), std::string::npos) << none.refused;
    // Holes of 30 at 2300 and 2300 + d, and rows of at most 2400 of 4700 in all: the join lies in 2298 to 2402. It fits
    // between the holes when d = 30 + 2 x 10 + 4.
    JoinRules rules;
    rules.most_joins = 0;
    rules.most_levels = 1;
    for (const double off : {0.0, -0.01}) {
        const std::vector<JoinFitting> two{tap("a", {500, 2300}, 60, 60), tap("b", {500, 2384 + off}, 60, 60)};
        const auto answer = plan_joins(wall(1000, 4700), two, sheet, rules, {});
        ASSERT_EQ(answer.plan.has_value(), off == 0) << answer.refused;
        if (!answer.plan) continue;
        EXPECT_NEAR(answer.plan->best[0].levels[0], 2342, 1e-9);
    }
}

TEST(JoinGrid, LowRowsShareASheet) {
    // 2000 wide, 2700 high. Upper row of 2700 - 2400 - 4 = 296 at least: both of its pieces, side by side (2000 - 4 + 3
    // <= 2400), from one sheet laid over. With the lower row of two: 3 sheets of 90.
    const JoinLayout best = planned(wall(2000, 2700), {}, sheet).best[0];
    EXPECT_EQ(best.score.joins, 2);
    EXPECT_EQ(best.score.sheets, 3);
    EXPECT_EQ(best.score.cost, 270);
    // Five rows' strips of 236 with kerfs of 3 are 1192: an upper row of 236 comes four times from one sheet of 1200.
    const std::vector<Stock> strips{{"sheet", 1200, 2400, 90.0, std::nullopt, true}};
    JoinRules rules;
    rules.most_joins = 3;
    const JoinLayout four = planned(wall(4700, 2640), {}, strips, rules).best[0];
    EXPECT_EQ(four.score.joins, 4);
    EXPECT_EQ(four.score.sheets, 5) << "the upper row's four pieces, one above another, are one sheet";
}

TEST(JoinGrid, KeepsAboveTheOutletWhereThatIsPossible) {
    JoinRules rules;
    rules.outlet = 2000;
    JoinLayout best = planned(wall(1000, 2700), {}, sheet, rules).best[0];
    EXPECT_FALSE(best.below_outlet);
    EXPECT_GE(best.levels[0], 2002 - 1e-9);
    rules.outlet = 2400;  // 2402 is the highest a join can be
    EXPECT_FALSE(planned(wall(1000, 2700), {}, sheet, rules).best[0].below_outlet);
    rules.outlet = 2400.01;
    best = planned(wall(1000, 2700), {}, sheet, rules).best[0];
    EXPECT_TRUE(best.below_outlet);
    // Higher than two sheets: one of two joins is below it, whatever is done.
    EXPECT_TRUE(planned(wall(1000, 5000), {}, sheet, rules).best[0].below_outlet);
}

TEST(JoinGrid, AskedForWhereItScoresBetter) {
    // 2400 wide and 1300 high: two upright pieces, or, laid over, a sheet of 1200 and a strip.
    JoinWish wish;
    wish.order = {Preference::least_cost};
    const std::vector<Stock> two{{"large", 1300, 2400, 200.0}, {"small", 1200, 2400, 50.0}};
    const JoinLayout upright = planned(wall(2400, 2450), {}, {{"tall", 1210, 2500, 200.0}, two[1]}, {}, wish).best[0];
    EXPECT_TRUE(upright.levels.empty());
    EXPECT_EQ(upright.score.cost, 400);
    wish.levels_freely = true;
    const JoinPlan freely = planned(wall(2400, 2450), {}, {{"tall", 1210, 2500, 200.0}, two[1]}, {}, wish);
    EXPECT_EQ(freely.best[0].levels.size(), 1u);
    EXPECT_EQ(freely.best[0].score.cost, 150) << "rows of at most 1200 laid over, and 1 strip: 3 small sheets";
    EXPECT_FALSE(freely.why_levels.empty());
}

TEST(JoinGrid, SaysWhyABetterOneWasRefused) {
    JoinWish wish;
    wish.order = {Preference::aligned};
    wish.align = 500;
    const JoinPlan plan = planned(wall(1000, 2700), {tap("tap", {500, 1000}, 36, 64)}, sheet, {}, wish);
    EXPECT_NEAR(plan.best[0].score.misaligned, 34, 1e-9);
    ASSERT_FALSE(plan.refused.empty());
    EXPECT_NEAR(plan.refused[0].joins.at(0), 500, 1e-9);
    EXPECT_EQ(plan.refused[0].levels.size(), 1u);
    EXPECT_NE(plan.refused[0].reasons.at(0).find("hole of tap"), std::string::npos);
}

TEST(JoinGrid, RefusesInWords) {
    JoinRules rules;
    rules.most_levels = 3;
    EXPECT_NE(plan_joins(wall(1500, 2000), {}, sheet, rules, {}).refused.find("most level joins 3"), std::string::npos);
    rules = {};
    rules.least_height = 0;
    EXPECT_NE(plan_joins(wall(1500, 2000), {}, sheet, rules, {}).refused.find("least height 0"), std::string::npos);
    const auto refused = [](const std::vector<double>& joins, const std::vector<double>& levels) {
        return score_joins(wall(1500, 2700), {}, sheet, {}, {}, joins, levels).refused;
    };
    EXPECT_NE(refused({}, {}).find("no sheet is high enough"), std::string::npos);
    EXPECT_NE(refused({}, {600, 1200, 1800}).find("3 level joins"), std::string::npos);
    EXPECT_NE(refused({300, 600, 900, 1200}, {1350}).find("4 upright joins beside level ones"), std::string::npos);
    EXPECT_NE(refused({}, {std::nan("")}).find("not a number"), std::string::npos);
    EXPECT_EQ(refused({700}, {2000}), "");
}

// Brute force: every piece in turn goes on an open strip of its row, opens a strip on an open sheet, or opens a sheet.

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

bool less(const Score& a, const Score& b) {
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (std::abs(a[i] - b[i]) > 1e-6) return a[i] < b[i];
    }
    return false;
}

struct OpenStrip {
    std::size_t row = 0;
    double left = 0;
};
struct OpenSheet {
    std::size_t stock = 0;
    bool turned = false;
    double left = 0;  ///< across the strips
    std::vector<OpenStrip> strips;
};

struct Reference {
    const Case& c;

    [[nodiscard]] std::vector<double> parts(const std::vector<double>& j, double whole) const {
        std::vector<double> w;
        double from = 0;
        for (const double at : j) {
            w.push_back(at - c.rules.gap / 2 - from);
            from = at + c.rules.gap / 2;
        }
        w.push_back(whole - from);
        return w;
    }

    [[nodiscard]] Score score(const std::vector<double>& x, std::size_t levels, double cost, double area) const {
        Score s;
        for (const Preference p : c.order) {
            double value = static_cast<double>(x.size() + levels);
            if (p == Preference::least_cost) value = cost;
            if (p == Preference::least_waste) value = area - c.width * c.height;
            if (p == Preference::symmetrical) {
                value = 0;
                for (std::size_t i = 0; i < (x.size() + 1) / 2; ++i)
                    value += std::abs(x[i] + x[x.size() - 1 - i] - c.width);
            }
            if (p == Preference::aligned) {
                value = c.width;
                for (const double at : x) value = std::min(value, std::abs(at - *c.align));
            }
            s.push_back(value);
        }
        return s;
    }

    void share(const std::vector<double>& w, const std::vector<double>& h, std::size_t piece,
               std::vector<OpenSheet>& open, double cost, double area,
               std::vector<std::pair<double, double>>& all) const {
        if (piece == w.size() * h.size()) {
            all.emplace_back(cost, area);
            return;
        }
        const std::size_t row = piece / w.size();
        const double width = w[piece % w.size()];
        for (std::size_t k = 0; k < open.size(); ++k) {
            for (std::size_t s = 0; s < open[k].strips.size(); ++s) {
                if (open[k].strips[s].row != row || width + c.rules.kerf > open[k].strips[s].left + 1e-7) continue;
                open[k].strips[s].left -= width + c.rules.kerf;
                share(w, h, piece + 1, open, cost, area, all);
                open[k].strips[s].left += width + c.rules.kerf;
            }
            const Stock& stock = c.stock[open[k].stock];
            const double along = open[k].turned ? stock.height : stock.width;
            if (width > along + 1e-7 || h[row] + c.rules.kerf > open[k].left + 1e-7) continue;
            open[k].left -= h[row] + c.rules.kerf;
            open[k].strips.push_back({row, along - width});
            share(w, h, piece + 1, open, cost, area, all);
            open[k].strips.pop_back();
            open[k].left += h[row] + c.rules.kerf;
        }
        for (std::size_t t = 0; t < c.stock.size(); ++t) {
            const Stock& stock = c.stock[t];
            const auto taken =
                std::count_if(open.begin(), open.end(), [&](const OpenSheet& o) { return o.stock == t; });
            if (stock.count && taken >= *stock.count) continue;
            for (const bool turned : {false, true}) {
                const double along = turned ? stock.height : stock.width;
                const double across = turned ? stock.width : stock.height;
                if ((turned && stock.patterned) || width > along + 1e-7 || h[row] > across + 1e-7) continue;
                open.push_back({t, turned, across - h[row], {{row, along - width}}});
                share(w, h, piece + 1, open, cost + *stock.price, area + stock.width * stock.height, all);
                open.pop_back();
            }
        }
    }

    /// The best of all ways to share out.
    [[nodiscard]] std::optional<Score> scored(const std::vector<double>& x, const std::vector<double>& y) {
        const auto w = parts(x, c.width);
        const auto h = parts(y, c.height);
        const std::pair key(w, h);
        auto known = ways.find(key);
        if (known == ways.end()) {
            std::vector<std::pair<double, double>> all;
            std::vector<OpenSheet> open;
            share(w, h, 0, open, 0, 0, all);
            std::sort(all.begin(), all.end());
            all.erase(std::unique(all.begin(), all.end()), all.end());
            known = ways.emplace(key, std::move(all)).first;
        }
        std::optional<Score> best;
        for (const auto& [cost, area] : known->second) {
            const Score s = score(x, y.size(), cost, area);
            if (!best || less(s, *best)) best = s;
        }
        return best;
    }

    [[nodiscard]] bool keeps(const std::vector<double>& x, const std::vector<double>& y) const {
        const auto w = parts(x, c.width);
        const auto h = parts(y, c.height);
        if (*std::min_element(w.begin(), w.end()) < c.rules.least_piece - 1e-6) return false;
        if (*std::min_element(h.begin(), h.end()) < c.rules.least_height - 1e-6) return false;
        const auto off = [&](double at, double middle, double half, double distance) {
            return std::abs(at - middle) - c.rules.gap / 2 - half > distance - 1e-6;
        };
        for (const JoinFitting& f : c.fittings) {
            for (const double at : x) {
                if (!off(at, f.holes[0].centre.x, f.holes[0].half_width, c.rules.hole_edge)) return false;
                if (!off(at, f.flanges[0].centre.x, f.flanges[0].half_width, 0)) return false;
            }
            for (const double at : y) {
                if (!off(at, f.holes[0].centre.y, f.holes[0].half_height, c.rules.hole_edge)) return false;
                if (!off(at, f.flanges[0].centre.y, f.flanges[0].half_height, 0)) return false;
            }
        }
        return true;
    }

    std::map<std::pair<std::vector<double>, std::vector<double>>, std::vector<std::pair<double, double>>> ways{};
};

/// All rising sets of up to `most` places on the grid, exactly `exactly` where given.
void sets(double whole, std::size_t exactly, std::vector<double>& now, std::vector<std::vector<double>>& all) {
    if (now.size() == exactly) {
        all.push_back(now);
        return;
    }
    for (double at = now.empty() ? 0.5 : now.back() + 0.5; at < whole; at += 0.5) {
        now.push_back(at);
        sets(whole, exactly, now, all);
        now.pop_back();
    }
}

/// Walls higher than any sheet is long, and not so much wider.
Case random_case(std::mt19937& random, int most_joins, int most_levels) {
    const auto pick = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    Case c;
    c.width = pick(5, most_joins == 2 ? 9 : 12);
    c.height = pick(11, most_levels == 2 ? 16 : 15);
    for (int i = pick(1, 2); i > 0; --i) {
        Stock s{"s" + std::to_string(i), double(pick(4, 9)), double(pick(5, 10)), double(pick(1, 9))};
        if (pick(0, 2) == 0) s.count = pick(1, 4);
        s.patterned = pick(0, 1) == 0;
        c.stock.push_back(s);
    }
    c.rules.gap = 2 * pick(0, 1);
    c.rules.kerf = pick(0, 1);
    c.rules.least_piece = pick(1, 3);
    c.rules.least_height = pick(1, 3);
    c.rules.hole_edge = pick(0, 1);
    c.rules.most_joins = most_joins;
    c.rules.most_levels = most_levels;
    for (int i = pick(0, 2); i > 0; --i) {
        const Vec2 at{double(pick(1, static_cast<int>(c.width) - 1)), double(pick(1, static_cast<int>(c.height) - 1))};
        c.fittings.push_back(tap("f" + std::to_string(i), at, pick(1, 2), pick(1, 2)));
    }
    std::vector<Preference> all{Preference::fewest_joins, Preference::least_waste, Preference::least_cost,
                                Preference::symmetrical};
    if (pick(0, 1) == 0) {
        c.align = pick(1, static_cast<int>(c.width) - 1);
        all.push_back(Preference::aligned);
    }
    std::shuffle(all.begin(), all.end(), random);
    c.order = all;
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

struct Bests {
    std::optional<Score> kept;
    std::optional<Score> any;
};

Bests grid_best(Reference& reference, std::size_t levels) {
    Bests bests;
    std::vector<std::vector<double>> ys;
    std::vector<double> now;
    sets(reference.c.height, levels, now, ys);
    for (std::size_t n = 0; n <= static_cast<std::size_t>(reference.c.rules.most_joins); ++n) {
        std::vector<std::vector<double>> xs;
        sets(reference.c.width, n, now, xs);
        for (const auto& x : xs) {
            const auto w = reference.parts(x, reference.c.width);
            if (*std::min_element(w.begin(), w.end()) < 1) continue;
            for (const auto& y : ys) {
                const auto h = reference.parts(y, reference.c.height);
                if (*std::min_element(h.begin(), h.end()) < 1) continue;
                const auto s = reference.scored(x, y);
                if (!s) continue;
                if (!bests.any || less(*s, *bests.any)) bests.any = s;
                if ((!bests.kept || less(*s, *bests.kept)) && reference.keeps(x, y)) bests.kept = s;
            }
        }
    }
    return bests;
}

void compare_with_grid(unsigned seed, int rounds, int most_joins, int most_levels, int least_planned) {
    std::mt19937 random(seed);
    int plans = 0;
    int shared = 0;
    int better_refused = 0;
    for (int round = 0; round < rounds; ++round) {
        const Case c = random_case(random, most_joins, most_levels);
        Reference reference{c};
        JoinWish wish{c.order, c.align, 3, round % 2 == 0, 0.4};
        const JoinAnswer answer = plan_joins(wall(c.width, c.height), c.fittings, c.stock, c.rules, wish);
        std::map<std::size_t, Bests> bests;
        for (std::size_t m = 1; m <= static_cast<std::size_t>(most_levels); ++m) bests[m] = grid_best(reference, m);
        if (!answer.plan) {
            for (const auto& [m, best] : bests) EXPECT_FALSE(best.kept) << "seed " << seed << " round " << round;
            continue;
        }
        ++plans;
        const JoinLayout& first = answer.plan->best[0];
        const Score best = ordered(c, first.score);
        if (first.levels.empty()) continue;  // a sheet laid over is high enough: joins_test.cpp
        for (const auto& [m, there] : bests) {
            if (!wish.levels_freely && m > first.levels.size()) continue;
            if (!wish.levels_freely && m < first.levels.size()) {
                EXPECT_FALSE(there.kept) << "fewer level joins do; seed " << seed << " round " << round;
                continue;
            }
            EXPECT_FALSE(there.kept && less(*there.kept, best)) << "seed " << seed << " round " << round;
            if (there.any && less(*there.any, best)) {
                ASSERT_FALSE(answer.plan->refused.empty()) << "seed " << seed << " round " << round;
                EXPECT_FALSE(less(*there.any, ordered(c, answer.plan->refused[0].score)))
                    << "seed " << seed << " round " << round;
                ++better_refused;
            }
        }
        for (const JoinLayout& layout : answer.plan->best) {
            if (layout.levels.empty()) continue;
            EXPECT_TRUE(reference.keeps(layout.joins, layout.levels)) << "seed " << seed << " round " << round;
            const auto again = reference.scored(layout.joins, layout.levels);
            ASSERT_TRUE(again) << "seed " << seed << " round " << round;
            const Score said = ordered(c, layout.score);
            EXPECT_FALSE(less(*again, said) || less(said, *again)) << "seed " << seed << " round " << round;
            // Scored as drawn: the same to the last bit.
            const ScoreAnswer drawn =
                score_joins(wall(c.width, c.height), c.fittings, c.stock, c.rules, wish, layout.joins, layout.levels);
            ASSERT_TRUE(drawn.scored) << drawn.refused;
            EXPECT_TRUE(drawn.scored->broken.empty());
            EXPECT_EQ(ordered(c, drawn.scored->score), said);
            EXPECT_EQ(drawn.scored->score.sheets, layout.score.sheets);
            EXPECT_EQ(drawn.scored->score.levels, layout.score.levels);
            const auto sheets = static_cast<std::size_t>(layout.score.sheets);
            shared += sheets < layout.pieces.size() ? 1 : 0;
        }
        for (const RefusedLayout& refused : answer.plan->refused) {
            EXPECT_TRUE(less(ordered(c, refused.score), best));
            EXPECT_FALSE(refused.reasons.empty());
        }
    }
    EXPECT_GT(plans, least_planned);
    EXPECT_GT(shared, least_planned / 4);
    EXPECT_GT(better_refused, least_planned / 10);
}

TEST(JoinGrid, NoFineGridFindsBetterWithOneOfEach) { compare_with_grid(6601, 1200, 1, 1, 250); }

TEST(JoinGrid, NoFineGridFindsBetterWithTwoUpright) { compare_with_grid(6602, 120, 2, 1, 30); }

TEST(JoinGrid, NoFineGridFindsBetterWithTwoLevel) { compare_with_grid(6603, 16, 1, 2, 5); }

}  // namespace
}  // namespace standproud::joins
