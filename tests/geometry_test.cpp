// Areas, margins and gaps of the plain outlines. Source of every check: closed form, or brute force beside it.
#include "modeler/geometry.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace standproud {
namespace {

TEST(Geometry, AreasAreClosedForms) {
    EXPECT_DOUBLE_EQ(area(RoundedRect::circle({3, 4}, 35)), pi * 35 * 35 / 4);
    EXPECT_DOUBLE_EQ(area(RoundedRect::rect({0, 0}, 80, 50)), 4000);
    EXPECT_NEAR(area(RoundedRect::rect({0, 0}, 80, 50, 10)), 4000 - (4 - pi) * 100, 1e-9);
    EXPECT_DOUBLE_EQ(area(Polygon{{{0, 0}, {4, 0}, {4, 3}}}), 6);
}

TEST(Geometry, MarginOfCircleInCircle) {
    const auto outer = RoundedRect::circle({0, 0}, 60);
    EXPECT_NEAR(margin_inside(RoundedRect::circle({3, 4}, 35), outer), 30 - 17.5 - 5, 1e-12);
    EXPECT_NEAR(margin_inside(outer, RoundedRect::circle({0, 0}, 35)), -12.5, 1e-12);
}

TEST(Geometry, MarginOfPlateAndCutOut) {
    const auto plate = RoundedRect::rect({0, 0}, 86, 146);
    EXPECT_NEAR(margin_inside(RoundedRect::rect({2, 0}, 70, 120, 5), plate), 6, 1e-12);
    // A square-cornered rectangle in a disc: its far corner decides.
    EXPECT_NEAR(margin_inside(RoundedRect::rect({0, 0}, 60, 80), RoundedRect::circle({0, 0}, 110)), 5, 1e-12);
}

double support(const RoundedRect& s, double angle) {
    const double c = std::cos(angle);
    const double n = std::sin(angle);
    return s.centre.x * c + s.centre.y * n + (s.half_width - s.radius) * std::abs(c) +
           (s.half_height - s.radius) * std::abs(n) + s.radius;
}

RoundedRect random_shape(std::mt19937& random) {
    std::uniform_real_distribution<double> place(-20, 20);
    std::uniform_real_distribution<double> half(1, 60);
    RoundedRect s{{place(random), place(random)}, half(random), half(random), 0};
    s.radius = std::uniform_real_distribution<double>(0, std::min(s.half_width, s.half_height))(random);
    return s;
}

TEST(Geometry, MarginIsTheLeastDifferenceOfSupports) {
    const unsigned seed = 20261124;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    for (int i = 0; i < 300; ++i) {
        const auto a = random_shape(random);
        const auto b = random_shape(random);
        double least = 1e300;
        for (int k = 0; k < 20000; ++k) {
            const double angle = 2 * pi * k / 20000;
            least = std::min(least, support(b, angle) - support(a, angle));
        }
        const double margin = margin_inside(a, b);
        EXPECT_LE(margin, least + 1e-9);
        EXPECT_NEAR(margin, least, 0.05);  // the sampled directions miss the least one by a little
    }
}

TEST(Geometry, MarginInPolygonIsTheLeastEdgeDistance) {
    const Polygon panel{{{0, 0}, {100, 0}, {100, 200}, {0, 200}}};
    EXPECT_NEAR(margin_inside(RoundedRect::circle({30, 100}, 35), panel), 12.5, 1e-12);
    EXPECT_NEAR(margin_inside(RoundedRect::rect({50, 100}, 60, 120, 8), panel), 20, 1e-12);
    const Polygon lean{{{0, 0}, {100, 0}, {140, 200}, {0, 200}}};
    EXPECT_NEAR(margin_inside(RoundedRect::circle({90, 100}, 10), lean), 30 * 200 / std::hypot(40, 200) - 5, 1e-9);
}

TEST(Geometry, GapBetweenShapes) {
    EXPECT_NEAR(gap_between(RoundedRect::circle({0, 0}, 10), RoundedRect::circle({30, 40}, 20)), 50 - 5 - 10, 1e-12);
    EXPECT_NEAR(gap_between(RoundedRect::rect({0, 0}, 10, 10), RoundedRect::rect({20, 0}, 10, 30)), 10, 1e-12);
    EXPECT_LE(gap_between(RoundedRect::circle({0, 0}, 10), RoundedRect::circle({9.99, 0}, 10)), 0);
    EXPECT_GT(gap_between(RoundedRect::circle({0, 0}, 10), RoundedRect::circle({10.01, 0}, 10)), 0);
}

TEST(Geometry, SpansMakeUpTheArea) {
    const Profile shape = RoundedRect::rect({5, 7}, 80, 50, 12);
    double sum = 0;
    constexpr int slices = 20000;
    for (int i = 0; i < slices; ++i) {
        for (const auto& [from, to] : spans_at(shape, 7 - 25 + 50 * (i + 0.5) / slices)) sum += to - from;
    }
    EXPECT_NEAR(sum * 50 / slices, area(shape), 1e-2);
    EXPECT_TRUE(spans_at(shape, 32.01).empty());
    EXPECT_EQ(spans_at(shape, 31.99).size(), 1u);
}

TEST(Geometry, FrameGoesThereAndBack) {
    const Frame frame{{10, 20, 30}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}};
    const auto local = frame.from_room(frame.to_room(WallPoint{1, 2, 3}));
    EXPECT_NEAR(local[0], 1, 1e-12);
    EXPECT_NEAR(local[1], 2, 1e-12);
    EXPECT_NEAR(local[2], 3, 1e-12);
}

}  // namespace
}  // namespace standproud
