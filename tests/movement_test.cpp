// Thermal and moisture movement. Source beside each check.
#include "modeler/movement.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

namespace standproud::movement {
namespace {

TEST(Movement, ThermalChange) {
    EXPECT_DOUBLE_EQ(thermal_change(70e-6, 1200, 30), 2.52);  // closed form
    EXPECT_DOUBLE_EQ(thermal_change(70e-6, 2400, 30), 5.04);  // closed form
    EXPECT_DOUBLE_EQ(thermal_change(9e-6, 1000, 50), 0.45);   // closed form; soda-lime glass 9e-6 published
}

TEST(Movement, MoistureCurve) {
    const Material m = acrylic();
    // Published points: a maker's text for extruded acrylic sheet.
    EXPECT_DOUBLE_EQ(moisture_growth(m, 60), 0.002);
    EXPECT_DOUBLE_EQ(moisture_growth(m, 80), 0.003);
    EXPECT_DOUBLE_EQ(moisture_growth(m, 100), 0.006);
    // Closed form: straight between them. 0.3 % of 1200 mm is 3.6 mm, more than a 30 K swing.
    EXPECT_NEAR(1200 * moisture_growth(m, 80), 3.6, 1e-12);
    EXPECT_GT(1200 * moisture_growth(m, 80), thermal_change(m.expansion, 1200, 30));
    EXPECT_NEAR(moisture_growth(m, 70), 0.0025, 1e-15);
    EXPECT_NEAR(moisture_growth(m, 30), 0.001, 1e-15);
    EXPECT_NEAR(moisture_growth(m, 90), 0.0045, 1e-15);
    EXPECT_EQ(moisture_growth(m, 0), 0);
    EXPECT_EQ(moisture_growth({70e-6, {}}, 80), 0);
}

TEST(Movement, StrainFromWhenItWasFixed) {
    const Climate climate{20, 5, 45, 60, 30, 80};
    const Strain s = strain(acrylic(), climate);
    EXPECT_NEAR(s.thermal_growth, 25 * 70e-6, 1e-15);
    EXPECT_NEAR(s.thermal_shrinkage, 15 * 70e-6, 1e-15);
    EXPECT_NEAR(s.moisture_growth, 0.001, 1e-15);
    EXPECT_NEAR(s.moisture_shrinkage, 0.001, 1e-15);
    // Relation: fixed at the hottest and wettest it cannot grow.
    const Strain hot = strain(acrylic(), {45, 5, 45, 80, 30, 80});
    EXPECT_EQ(hot.growth(), 0);
    EXPECT_NEAR(hot.shrinkage(), s.growth() + s.shrinkage(), 1e-15);
}

TEST(Movement, AGapClosesByTheHalvesOfItsPanels) {
    // Closed form: two 1200 mm panels, 30 K: each edge moves 1.26, the 4 mm gap keeps 1.48.
    Strain s;
    s.thermal_growth = 30 * 70e-6;
    s.thermal_shrinkage = 10 * 70e-6;
    const GapMovement m = move_gap({4, 600, 600}, s);
    EXPECT_NEAR(m.narrowest, 1.48, 1e-12);
    EXPECT_NEAR(m.closing_thermal, 2.52, 1e-12);
    EXPECT_NEAR(m.compression, 0.63, 1e-12);
    EXPECT_NEAR(m.widest, 4.84, 1e-12);
    EXPECT_NEAR(m.tension, 0.21, 1e-12);
    // Against a wall only one side moves.
    EXPECT_NEAR(move_gap({4, 600, 0}, s).narrowest, 4 - 1.26, 1e-12);
    // Moisture alone can use the gap up: 1200 + 1200 at 0.3 % is 7.2 mm of growth, 3.6 in the gap... and 0.4 is left.
    Strain wet;
    wet.moisture_growth = 0.003;
    EXPECT_NEAR(move_gap({4, 600, 600}, wet).narrowest, 0.4, 1e-12);
    EXPECT_NEAR(move_gap({4, 600, 600}, wet).closing_moisture, 3.6, 1e-12);
}

TEST(Movement, SealantClasses) {
    // Published: ISO 11600 classes are plus or minus per cent of the width; on 4 mm 1.0, 0.8, 0.5, 0.3 mm.
    EXPECT_DOUBLE_EQ(4 * capability(SealantClass::c25), 1.0);
    EXPECT_DOUBLE_EQ(4 * capability(SealantClass::c20), 0.8);
    EXPECT_DOUBLE_EQ(4 * capability(SealantClass::c12_5), 0.5);
    EXPECT_DOUBLE_EQ(4 * capability(SealantClass::c7_5), 0.3);
    // Just on and just off by 0.01 mm of opening on 4 mm.
    Strain s;
    s.thermal_shrinkage = 1.0 / 1000;
    EXPECT_TRUE(within_class(move_gap({4, 500, 500}, s), SealantClass::c25));
    s.thermal_shrinkage = 1.01 / 1000;
    EXPECT_FALSE(within_class(move_gap({4, 500, 500}, s), SealantClass::c25));
    s = {};
    s.moisture_growth = 0.8 / 1000;
    EXPECT_TRUE(within_class(move_gap({4, 500, 500}, s), SealantClass::c20));
    s.moisture_growth = 0.81 / 1000;
    EXPECT_FALSE(within_class(move_gap({4, 500, 500}, s), SealantClass::c20));
}

TEST(Movement, WidthNeededIsWhereTheClassIsJustKept) {
    const unsigned seed = 6301;
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> part(0, 1);
    for (int round = 0; round < 2000; ++round) {
        Strain s{part(random) * 2e-3, part(random) * 3e-3, part(random) * 2e-3, part(random) * 3e-3};
        Gap gap{4, 100 + 1200 * part(random), 1200 * part(random)};
        for (const SealantClass c : {SealantClass::c25, SealantClass::c20, SealantClass::c12_5, SealantClass::c7_5}) {
            gap.width = width_needed(gap, s, c);
            EXPECT_TRUE(within_class(move_gap(gap, s), c)) << "seed " << seed << " round " << round;
            gap.width -= 0.01;
            EXPECT_FALSE(within_class(move_gap(gap, s), c)) << "seed " << seed << " round " << round;
        }
    }
}

TEST(Movement, JointWidthFormula) {
    // Published worked input, Cornell ARCH 262: L 240 in, e 3.6e-6 per F, dT 95 F, M 0.0002 L + 1/8 in, X 50, t 1/8 in;
    // result computed 0.63516 in.
    EXPECT_NEAR(joint_width(3.6e-6, 240, 95, 0.0002 * 240 + 0.125, 50, 0.125), 0.63516, 5e-6);
    // Relation: with no other movement and no tolerance it is the width needed, +/- counted from the middle.
    Strain s;
    s.thermal_growth = 70e-6 * 30;
    EXPECT_NEAR(joint_width(70e-6, 1200, 30, 0, 25, 0), width_needed({4, 600, 600}, s, SealantClass::c25), 1e-9);
}

TEST(Movement, HolesMoveByTheirDistanceFromTheMiddle) {
    Strain s;
    s.thermal_growth = 70e-6 * 30;
    s.thermal_shrinkage = 70e-6 * 10;
    // Closed form: at 1000 mm it moves 2.1 mm; a 30 mm part with 1 mm allowance needs 36.2.
    const HoleMovement m = move_hole(1000, 30, 36.2, 1, s);
    EXPECT_NEAR(m.moves, 2.1, 1e-12);
    EXPECT_NEAR(m.needed_diameter, 36.2, 1e-12);
    EXPECT_NEAR(m.spare, 0, 1e-12);
    EXPECT_NEAR(move_hole(1000, 30, 36.19, 1, s).spare, -0.01, 1e-12);
    EXPECT_EQ(move_hole(0, 30, 32, 1, s).moves, 0);
    // Cold and dry counts when it is the greater.
    s.thermal_shrinkage = 70e-6 * 40;
    EXPECT_NEAR(move_hole(-1000, 30, 36, 0, s).moves, 2.8, 1e-12);
}

TEST(Movement, RefusesInWords) {
    EXPECT_TRUE(refusal(acrylic(), {}).empty());
    Material m = acrylic();
    m.expansion = -1;
    EXPECT_NE(refusal(m, {}).find("expansion -1"), std::string::npos);
    m = acrylic();
    m.moisture[1].humidity = 50;
    EXPECT_NE(refusal(m, {}).find("moisture at 50"), std::string::npos);
    Climate climate;
    climate.hottest = std::numeric_limits<double>::quiet_NaN();
    EXPECT_NE(refusal(acrylic(), climate).find("hottest"), std::string::npos);
    climate = {};
    climate.wettest = 101;
    EXPECT_NE(refusal(acrylic(), climate).find("wettest"), std::string::npos);
}

}  // namespace
}  // namespace standproud::movement
