// Mass and the revised NIOSH lifting equation. Source beside each check.
#include "modeler/lifting.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace standproud::lifting {
namespace {

TEST(Lifting, Mass) {
    EXPECT_NEAR(panel_mass(1200.0 * 2400, 6, 1190), 20.56, 0.005);  // closed form
    EXPECT_NEAR(panel_mass(1e6, 1, 1000), 1, 1e-12);                // 1 m2 of 1 mm of water
}

TEST(Lifting, AnIdealLiftIs23Kilograms) {
    // Published: NIOSH 94-110. H 25, V 75, D 25, A 0, good grip, seldom.
    EXPECT_DOUBLE_EQ(recommended_weight(multipliers({25, 75, 25, 0, Grip::good, 1})), 23.0);
}

TEST(Lifting, ExampleFourOfTheManual) {
    // Published: NIOSH 94-110 example 4, origin: 51 x 1.0 x .94 x .87 x 1.0 x .88 x .95 = 34.9 lb.
    const Multipliers m{1.0, 0.94, 0.87, 1.0, 0.88, 0.95};
    EXPECT_NEAR(recommended_weight(m, 51), 34.9, 0.05);
}

TEST(Lifting, MultipliersByClosedForm) {
    // Published formulas, NIOSH 94-110, worked here.
    const Multipliers m = multipliers({50, 105, 90, 45, Grip::poor, 0.75});
    EXPECT_DOUBLE_EQ(m.reach, 0.5);
    EXPECT_NEAR(m.height, 0.91, 1e-12);
    EXPECT_NEAR(m.travel, 0.87, 1e-12);
    EXPECT_NEAR(m.twist, 0.856, 1e-12);
    EXPECT_EQ(m.frequency, 0.75);
    EXPECT_EQ(m.grip, 0.90);  // from memory, table 7
    EXPECT_NEAR(multipliers({25, 45, 25, 0, Grip::good, 1}).height, 0.91, 1e-12);
    EXPECT_EQ(multipliers({25, 74.9, 25, 0, Grip::fair, 1}).grip, 0.95);  // from memory, table 7
    EXPECT_EQ(multipliers({25, 75, 25, 0, Grip::fair, 1}).grip, 1.0);
}

TEST(Lifting, LimitsOfTheEquation) {
    // Published: nothing may be lifted beyond H 63, V 175, D 175 cm, A 135 degrees; below H 25 and D 25 it is 1.
    EXPECT_GT(multipliers({63, 75, 25, 0, Grip::good, 1}).reach, 0);
    EXPECT_EQ(multipliers({63.01, 75, 25, 0, Grip::good, 1}).reach, 0);
    EXPECT_GT(multipliers({25, 175, 25, 0, Grip::good, 1}).height, 0);
    EXPECT_EQ(multipliers({25, 175.01, 25, 0, Grip::good, 1}).height, 0);
    EXPECT_GT(multipliers({25, 75, 175, 0, Grip::good, 1}).travel, 0);
    EXPECT_EQ(multipliers({25, 75, 175.01, 0, Grip::good, 1}).travel, 0);
    EXPECT_GT(multipliers({25, 75, 25, 135, Grip::good, 1}).twist, 0);
    EXPECT_EQ(multipliers({25, 75, 25, 135.01, Grip::good, 1}).twist, 0);
    EXPECT_EQ(multipliers({10, 75, 5, 0, Grip::good, 1}).reach, 1);
    EXPECT_EQ(multipliers({10, 75, 5, 0, Grip::good, 1}).travel, 1);
}

TEST(Lifting, OneOrTwoPeople) {
    const Lift easy{25, 75, 25, 0, Grip::good, 1};
    EXPECT_EQ(judge_lift(23, easy, easy).people, 1);
    EXPECT_EQ(judge_lift(23.01, easy, easy).people, 2);
    EXPECT_EQ(judge_lift(46, easy, easy).people, 2);
    EXPECT_FALSE(judge_lift(46.01, easy, easy).people);
    // A full sheet: at arm's length to 120 cm: 23 x 0.5 x 0.865 x ... one person may not. Closed form.
    const Lift to{50, 120, 60, 0, Grip::fair, 1};
    const LiftAnswer sheet = judge_lift(20.56, easy, to);
    EXPECT_NEAR(sheet.recommended, 23 * 0.5 * 0.865 * 0.895, 1e-9);
    EXPECT_FALSE(sheet.people && *sheet.people == 1);
    // Out of reach altogether.
    const LiftAnswer none = judge_lift(5, easy, {64, 75, 25, 0, Grip::good, 1});
    EXPECT_TRUE(std::isinf(none.index_alone));
    EXPECT_FALSE(none.people);
}

TEST(Lifting, TheHarderEndCounts) {
    const Lift easy{25, 75, 25, 0, Grip::good, 1};
    for (double reach = 25; reach <= 63; reach += 1) {
        for (double height = 0; height <= 175; height += 5) {
            const Lift other{reach, height, 40, 30, Grip::fair, 1};
            const LiftAnswer a = judge_lift(20, easy, other);
            EXPECT_EQ(a.recommended, judge_lift(20, other, easy).recommended);
            EXPECT_LE(a.recommended, load_constant);
            EXPECT_LE(a.recommended, recommended_weight(multipliers(other)));
        }
    }
}

}  // namespace
}  // namespace standproud::lifting
