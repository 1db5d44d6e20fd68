// The bare face between the spots that were read. Sources beside the checks.
#include "modeler/surface.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace standproud {
namespace {

Surface plane(double lean = 0) {
    Surface surface;
    surface.lean = lean;
    surface.level = 1200;
    surface.unevenness = 2;
    surface.reach = 600;
    return surface;
}

OffPlane spot(double u, double v, double off, double variance) { return {{{u, v}}, {1}, off, variance}; }

/// Matern correlation, nu = 3/2 (closed form; Rasmussen and Williams 2006, equation 4.17, from memory).
double matern(double d, double reach) {
    const double a = std::sqrt(3.0) * d / reach;
    return (1 + a) * std::exp(-a);
}

TEST(Surface, WithoutSpotsIsThePlane) {
    Surface p = plane(0.005);
    p.lean_error = 0.001;
    const Surface surface = make_surface(p, {});
    EXPECT_DOUBLE_EQ(surface.at(300, 2200).n, 5);
    // Closed form: unevenness 2 and a lean known to 1 mm per m, 1 m up.
    EXPECT_DOUBLE_EQ(surface.at(300, 2200).standard_error, std::sqrt(4.0 + 1.0));
}

TEST(Surface, OneSpotIsShrunkByItsOwnErrorAndFades) {
    // Closed form of simple kriging with one reading: C(d) / (C(0) + s^2) of it; variance C(0) - C(d)^2 / (C(0) + s^2).
    const Surface surface = make_surface(plane(), {spot(500, 1200, 6, 1)});
    for (const double d : {0.0, 100.0, 400.0, 1500.0}) {
        const double c = 4 * matern(d, 600);
        EXPECT_NEAR(surface.at(500 + d, 1200).n, 6 * c / 5, 1e-12) << d;
        EXPECT_NEAR(surface.at(500, 1200 + d).standard_error, std::sqrt(4 - c * c / 5), 1e-12) << d;
    }
}

TEST(Surface, TwoSpotsByHand) {
    // Closed form: the inverse of a 2 x 2 matrix.
    const double c = 4 * matern(300, 600);
    const double s = 4 + 0.25;
    const double det = s * s - c * c;
    const Surface surface = make_surface(plane(), {spot(0, 1200, 3, 0.25), spot(300, 1200, -1, 0.25)});
    const double a = 4 * matern(150, 600);
    EXPECT_NEAR(surface.at(150, 1200).n, a * (s - c) * (3 - 1) / det, 1e-12);
    EXPECT_NEAR(surface.at(150, 1200).standard_error, std::sqrt(4 - 2 * a * a * (s - c) / det), 1e-12);
}

TEST(Surface, SpotsReadExactlyAreKept) {
    const unsigned seed = 21;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> at(0, 2000);
    std::normal_distribution<double> off(0, 3);
    std::vector<OffPlane> spots;
    for (int i = 0; i < 40; ++i) spots.push_back(spot(at(random), at(random), off(random), 1e-10));
    const Surface surface = make_surface(plane(0.003), spots);
    for (const auto& s : spots) {
        const FaceDepth depth = surface.at(s.at[0].x, s.at[0].y);
        EXPECT_NEAR(depth.n, surface.plane(s.at[0].y) + s.off, 1e-3);
        EXPECT_LT(depth.standard_error, 1e-3);
    }
}

TEST(Surface, AReadingNeverMakesASpotLessKnown) {
    const unsigned seed = 22;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> at(0, 2000);
    std::vector<OffPlane> spots;
    double before = 1e9;
    for (int i = 0; i < 25; ++i) {
        const Surface surface = make_surface(plane(), spots);
        const double now = surface.at(900, 1100).standard_error;
        EXPECT_LE(now, before + 1e-9);
        before = now;
        spots.push_back(spot(at(random), at(random), 1, 0.5));
    }
    EXPECT_LT(before, 2);
}

TEST(Surface, AGapUnderAStraightedgeIsAHollow) {
    // Closed form: h = off(m) - (off(a) + off(b)) / 2 with ends 500 apart from the middle; C = 4 matern.
    const double end = matern(500, 600);
    const double far = matern(1000, 600);
    const double variance = 4 * (1 + 0.5 * (1 + far) - 2 * end);
    const Surface surface =
        make_surface(plane(), {{{{1000, 1200}, {500, 1200}, {1500, 1200}}, {1, -0.5, -0.5}, -5, 0.25}});
    EXPECT_NEAR(surface.at(1000, 1200).n, -5 * 4 * (1 - end) / (variance + 0.25), 1e-12);
    EXPECT_LT(surface.at(1000, 1200).n, 0);
    EXPECT_GT(surface.at(500, 1200).n, 0) << "its ends then stand out of the plane";
}

TEST(Surface, CoversWhatItPredicts) {
    // Fields drawn from the model itself, read at 12 spots: 95 % of places lie within two standard errors (normal
    // distribution: 95.45 %).
    const unsigned seed = 23;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0, 1);
    std::uniform_real_distribution<double> at(0, 1500);
    int inside = 0;
    constexpr int runs = 2000;
    for (int run = 0; run < runs; ++run) {
        std::vector<Vec2> places;
        for (int i = 0; i < 13; ++i) places.push_back({at(random), at(random)});
        // Cholesky factor of the field's covariance at these places.
        std::vector<std::vector<double>> lower(13, std::vector<double>(13, 0));
        std::vector<double> field(13, 0);
        std::vector<double> draw(13);
        for (auto& d : draw) d = normal(random);
        for (std::size_t i = 0; i < 13; ++i) {
            for (std::size_t j = 0; j <= i; ++j) {
                double sum = 4 * matern(norm(places[i] - places[j]), 600) + (i == j ? 1e-9 : 0);
                for (std::size_t k = 0; k < j; ++k) sum -= lower[i][k] * lower[j][k];
                lower[i][j] = i == j ? std::sqrt(sum) : sum / lower[j][j];
                field[i] += lower[i][j] * draw[j];
            }
        }
        std::vector<OffPlane> spots;
        for (std::size_t i = 0; i < 12; ++i) {
            spots.push_back(spot(places[i].x, places[i].y, field[i] + 0.5 * normal(random), 0.25));
        }
        const FaceDepth depth = make_surface(plane(), spots).at(places[12].x, places[12].y);
        inside += std::abs(depth.n - field[12]) <= 2 * depth.standard_error ? 1 : 0;
    }
    RecordProperty("inside", inside);
    EXPECT_NEAR(inside / static_cast<double>(runs), 0.9545, 0.015);
}

}  // namespace
}  // namespace standproud
