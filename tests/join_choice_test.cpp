// Layouts of several walls together: closed forms, and every combination nested by the test itself.
#include "modeler/join_choice.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace standproud::joins {
namespace {

using nesting::Piece;
using nesting::Stock;

const std::vector<Stock> sheet{{"sheet", 1200, 2400, 90.0}};

std::vector<Piece> strips(const std::vector<double>& widths, double height = 2300) {
    std::vector<Piece> pieces;
    for (const double width : widths) pieces.push_back({"p", width, height, true});
    return pieces;
}

TEST(JoinChoice, TwoWallsFillOneAnothersSheets) {
    // By themselves both walls of 1500 take two sheets, however they are joined. Together, no two of 750 come from one
    // sheet of 1200, but 447 of the right wall beside 750 of the left, with a kerf of 3: three sheets.
    const std::vector<WallLayouts> walls{{"left", {strips({750, 750})}},
                                         {"right", {strips({750, 750}), strips({1053, 447})}}};
    nesting::NestingRules rules;
    rules.kerf = 3;
    const auto answer = choose_together(walls, sheet, rules, 0);
    ASSERT_TRUE(answer.choice) << answer.refused;
    const JobChoice& choice = *answer.choice;
    EXPECT_EQ(choice.own.layouts, (std::vector<std::size_t>{0, 0}));
    EXPECT_EQ(choice.own.answer.nesting->new_sheets, 4);
    EXPECT_EQ(choice.best.layouts, (std::vector<std::size_t>{0, 1}));
    EXPECT_EQ(choice.best.answer.nesting->new_sheets, 3);
    EXPECT_TRUE(choice.proved);
    EXPECT_EQ(choice.combinations, 2);
    EXPECT_EQ(choice.nested, 2);
    // 0.01 mm too wide: no better than each wall's own best, which then stands.
    auto wide = walls;
    wide[1].layouts[1][1].width = 447.01;
    const auto other = choose_together(wide, sheet, rules, 0);
    EXPECT_EQ(other.choice->best.layouts, other.choice->own.layouts);
    EXPECT_EQ(other.choice->best.answer.nesting->new_sheets, 4);
    EXPECT_TRUE(other.choice->proved);
}

TEST(JoinChoice, AreaLeavesCombinationsOut) {
    // Each wall is a whole sheet: two sheets are needed by area alone, so nothing else is nested.
    const std::vector<WallLayouts> walls{{"left", {strips({1200}, 2400), strips({600, 590}, 2400)}},
                                         {"right", {strips({1200}, 2400), strips({300, 890}, 2400)}}};
    const auto answer = choose_together(walls, sheet, {}, 0);
    EXPECT_EQ(answer.choice->nested, 1);
    EXPECT_EQ(answer.choice->left_out, 3);
    EXPECT_TRUE(answer.choice->proved);
}

TEST(JoinChoice, BoundsOfAnArea) {
    // Closed forms: sheets of 2.88 m2 and 2 m2, the small one once and free.
    const std::vector<Stock> stock{{"large", 1200, 2400, 90.0}, {"small", 1000, 2000, 0.0, 1, false, true}};
    EXPECT_EQ(bound_of_area(2e6, stock).sheets, 0);
    EXPECT_EQ(bound_of_area(2e6, stock).price, 0);
    EXPECT_EQ(bound_of_area(2e6 + 2.88e6, stock).sheets, 1);
    EXPECT_NEAR(bound_of_area(2e6 + 2.88e6, stock).price, 90, 1e-9);
    EXPECT_EQ(bound_of_area(2e6 + 2.88e6 + 1e4, stock).sheets, 2);
    EXPECT_EQ(bound_of_area(2e6 + 2.88e6 + 1e4, stock).price, 180) << "a part of a sheet is a sheet";
}

TEST(JoinChoice, RefusesInWords) {
    EXPECT_NE(choose_together({{"left", {}}}, sheet, {}, 0).refused.find("wall left"), std::string::npos);
    std::vector<Stock> few = sheet;
    few[0].count = 1;
    const std::vector<WallLayouts> walls{{"left", {strips({1200})}}, {"right", {strips({1200})}}};
    const auto none = choose_together(walls, few, {}, 0);
    EXPECT_FALSE(none.choice);
    EXPECT_FALSE(none.refused.empty());
    const std::vector<WallLayouts> many(12, {"w", {strips({1}), strips({2})}});
    EXPECT_NE(choose_together(many, sheet, {}, 0).refused.find("2000"), std::string::npos);
}

/// Own best that cannot be cut, as two walls ask for the same last sheet, while another combination can.
TEST(JoinChoice, WhatTheWallsAskForTwice) {
    const std::vector<Stock> stock{{"sheet", 1200, 2400, 90.0, 1}, {"narrow", 700, 2400, 60.0, 2}};
    const std::vector<WallLayouts> walls{{"left", {strips({1200}), strips({700})}},
                                         {"right", {strips({1200}), strips({600, 596})}}};
    const auto answer = choose_together(walls, stock, {}, 0);
    ASSERT_TRUE(answer.choice) << answer.refused;
    EXPECT_FALSE(answer.choice->own.answer.nesting);
    EXPECT_TRUE(answer.choice->best.answer.nesting);
    EXPECT_EQ(answer.choice->best.answer.nesting->new_sheets, 2);
}

/// No combination that the test nests itself is better, and what was left out could not be.
TEST(JoinChoice, AgainstEveryCombination) {
    const unsigned seed = 6701;
    std::mt19937 random(seed);
    const auto pick = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    int improved = 0;
    int left_out = 0;
    for (int round = 0; round < 60; ++round) {
        std::vector<WallLayouts> walls;
        for (int w = pick(2, 3); w > 0; --w) {
            WallLayouts wall{"w", {}};
            const int whole = pick(800, 2200);
            for (int i = pick(1, 3); i > 0; --i) {
                const int first = pick(std::max(100, whole - 1200), std::min(1200, whole - 100));
                wall.layouts.push_back(strips({double(first), double(whole - 4 - first)}, pick(1800, 2390)));
            }
            walls.push_back(wall);
        }
        std::vector<Stock> stock = sheet;
        if (pick(0, 1) == 0) stock.push_back({"narrow", 600, 2400, 50.0});
        if (pick(0, 1) == 0) stock.push_back({"off", 500, 2400, 0.0, 1, false, true});
        nesting::NestingRules rules;
        rules.kerf = 3;
        rules.aim = pick(0, 1) == 0 ? nesting::Aim::cheapest : nesting::Aim::fewest_sheets;
        const auto answer = choose_together(walls, stock, rules, 0);
        ASSERT_TRUE(answer.choice) << answer.refused;
        const auto& best = *answer.choice->best.answer.nesting;
        EXPECT_EQ(answer.choice->nested + answer.choice->left_out, answer.choice->combinations);
        left_out += static_cast<int>(answer.choice->left_out);
        std::vector<std::size_t> at(walls.size(), 0);
        while (true) {
            std::vector<Piece> pieces;
            for (std::size_t w = 0; w < walls.size(); ++w)
                pieces.insert(pieces.end(), walls[w].layouts[at[w]].begin(), walls[w].layouts[at[w]].end());
            const auto here = nesting::nest(pieces, stock, rules);
            ASSERT_TRUE(here.nesting);
            EXPECT_TRUE(here.nesting->cost_proved);
            EXPECT_GE(here.nesting->found, best.found - 1e-6) << "seed " << seed << " round " << round;
            std::size_t w = 0;
            while (w < walls.size() && ++at[w] == walls[w].layouts.size()) at[w++] = 0;
            if (w == walls.size()) break;
        }
        EXPECT_TRUE(answer.choice->proved) << "seed " << seed << " round " << round;
        improved += answer.choice->own.answer.nesting->found > best.found + 1e-6 ? 1 : 0;
    }
    EXPECT_GT(improved, 5);
    EXPECT_GT(left_out, 5);
}

}  // namespace
}  // namespace standproud::joins
