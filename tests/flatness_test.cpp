// Straightedge, plumb line and the published tolerances. Source beside each check: closed form, brute force, or the
// published table.
#include "rules/flatness.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

namespace standproud {
namespace {

using Line = std::vector<LineReading>;
using rules::allowed_gap;
using rules::flatness_standard;
using rules::FlatnessStandard;
using rules::Scaling;

Straightedge resting(const Line& line, double length) {
    const auto laid = resting_gap(line, length);
    EXPECT_TRUE(laid);
    return laid.value_or(Straightedge{});
}

Straightedge blocks(const Line& line, double length) {
    const auto laid = blocks_gap(line, length);
    EXPECT_TRUE(laid);
    return laid.value_or(Straightedge{});
}

// Closed form: two slopes of 0.01 meeting in a hollow; a straightedge across it has half its length times 0.01 under
// it, wherever its ends come between readings.
TEST(Flatness, HollowBetweenTwoSlopes) {
    const Line hollow{{0, 10}, {1000, 0}, {2000, 10}};
    for (const double length : {1.0, 300.0, 1000.0, 1999.99, 2000.0}) {
        const Straightedge r = resting(hollow, length);
        EXPECT_NEAR(r.gap, 0.005 * length, 1e-9) << length;
        EXPECT_NEAR(r.at, 1000, 1e-9);
        EXPECT_NEAR(r.to - r.from, length, 1e-9);
        EXPECT_NEAR(blocks(hollow, length).gap, 0.005 * length, 1e-9);
        EXPECT_FALSE(blocks(hollow, length).hump);
    }
    EXPECT_NEAR(resting(hollow, 5000).gap, 10, 1e-12);
    EXPECT_NEAR(resting(hollow, 5000).to, 2000, 1e-12);
}

// Closed form: readings every d of the curve k x2, joined. Over the low reading the height of the line between two
// ends L apart is k (L2/4 - s2 + s (d - s)) with the straightedge s off centre: greatest at s = d/4, k (L2/4 + d2/8).
TEST(Flatness, DishReadAtSteps) {
    constexpr double k = 4e-6, d = 200;
    Line dish;
    for (int i = -10; i <= 10; ++i) dish.push_back({d * i, k * d * d * i * i});
    for (const double length : {2 * d, 4 * d, 10 * d}) {
        EXPECT_NEAR(resting(dish, length).gap, k * (length * length / 4 + d * d / 8), 1e-9);
        EXPECT_NEAR(blocks(dish, length).gap, k * (length * length / 4 + d * d / 8), 1e-9);
    }
    EXPECT_NEAR(resting(dish, 4000).gap, k * 2000 * 2000, 1e-9);  // ends on the last readings: no room to shift
}

// Closed form: a hump has no gap under a straightedge that rests on it, and its full height with blocks.
TEST(Flatness, HumpNeedsBlocks) {
    const Line hump{{0, 0}, {1000, 3}, {2000, 0}};
    EXPECT_EQ(resting(hump, 2000).gap, 0);
    const Straightedge b = blocks(hump, 2000);
    EXPECT_NEAR(b.gap, 3, 1e-12);
    EXPECT_TRUE(b.hump);
    EXPECT_NEAR(blocks(hump, 1000).gap, 1.5, 1e-12);
    EXPECT_NEAR(blocks(hump, 3000).to, 2000, 1e-12);  // longer than the readings: from first to last, and says so
}

// Closed form, just hit and just missed: high spots 500 apart, 5 down between them, the face dropping away outside.
// 0.01 shorter, the straightedge is best in the middle with 0.005 to spare at each end, 0.02 x 0.005 lower.
TEST(Flatness, ReachesFromHighSpotToHighSpotOrNot) {
    const Line dip{{0, -50}, {100, 0}, {350, -5}, {600, 0}, {700, -50}};
    EXPECT_NEAR(resting(dip, 500).gap, 5, 1e-9);
    EXPECT_NEAR(resting(dip, 500.01).gap, 5, 1e-9);
    EXPECT_NEAR(resting(dip, 499.99).gap, 4.9999, 1e-9);
    EXPECT_NEAR(resting(dip, 499.99).from, 100.005, 1e-6);
}

TEST(Flatness, AStraightFaceHasNoGapHoweverItLeans) {
    Line line;
    for (int i = 0; i < 30; ++i) line.push_back({37.0 * i, 4 - 0.01 * 37 * i});
    EXPECT_NEAR(resting(line, 400).gap, 0, 1e-12);
    EXPECT_NEAR(blocks(line, 400).gap, 0, 1e-12);
}

TEST(Flatness, TooFewReadingsOrNoNumber) {
    EXPECT_FALSE(resting_gap({}, 2000));
    EXPECT_FALSE(resting_gap({{5, 1}, {5, 3}}, 2000));
    EXPECT_FALSE(blocks_gap({{0, 0}, {1, std::nan("")}}, 2000));
    EXPECT_FALSE(blocks_gap({{0, 0}, {1, 0}}, 0));
    EXPECT_EQ(resting({{0, 0}, {1000, 4}}, 2000).gap, 0);
    EXPECT_NEAR(resting({{2000, 0}, {1000, -3}, {1000, -5}, {0, 0}}, 2000).gap, 4,
                1e-12);  // any order; read twice: mean
}

Line random_line(std::mt19937& random) {
    std::uniform_real_distribution<double> step(40, 400), off(-5, 5);
    Line line;
    double at = 0;
    for (int i = 0; i < 12; ++i) {
        line.push_back({at, off(random)});
        at += step(random);
    }
    return line;
}

/// The joined readings every `step` mm.
std::vector<double> sampled(const Line& line, double step) {
    std::vector<double> heights;
    std::size_t piece = 0;
    for (double x = 0; x <= line.back().along; x += step) {
        while (piece + 2 < line.size() && line[piece + 1].along < x) ++piece;
        const auto& p = line[piece];
        const auto& q = line[piece + 1];
        heights.push_back(p.off + (x - p.along) / (q.along - p.along) * (q.off - p.off));
    }
    return heights;
}

// Brute force: the straightedge laid at every 4 mm on the face cut into 4 mm steps. Never more than the exact answer;
// short of it by no more than the face can fall in the steps, 10 mm in 40 at the worst.
TEST(Flatness, BruteForceLaidEverywhere) {
    constexpr unsigned seed = 20261129;
    constexpr double step = 4;
    constexpr double length = 600;
    constexpr std::size_t reach = 150;  // length / step
    std::mt19937 random(seed);
    int lines = 0, between = 0;
    for (int i = 0; i < 60; ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed) + " line " + std::to_string(i));
        const Line line = random_line(random);
        const auto face = sampled(line, step);
        double hollow = 0, off_line = 0;
        for (std::size_t a = 0; a < face.size(); ++a) {
            for (std::size_t b = a + 2; b < face.size() && b <= a + reach; ++b) {
                for (std::size_t m = a + 1; m < b; ++m) {
                    const double part = static_cast<double>(m - a) / static_cast<double>(b - a);
                    const double over = face[a] + part * (face[b] - face[a]) - face[m];
                    hollow = std::max(hollow, over);
                    if (b == a + reach) off_line = std::max(off_line, std::abs(over));
                }
            }
        }
        const Straightedge r = resting(line, length);
        const Straightedge b = blocks(line, length);
        EXPECT_GE(r.gap, hollow - 1e-9);
        EXPECT_GE(b.gap, off_line - 1e-9);
        EXPECT_NEAR(r.gap, hollow, 0.6);
        EXPECT_NEAR(b.gap, off_line, 0.6);
        EXPECT_LE(r.to - r.from, length + 1e-9);
        EXPECT_NEAR(b.to - b.from, length, 1e-9);
        // What it says it rests on is on the face, and gives the gap it says.
        const auto at = [&](double x) {
            std::size_t k = 0;
            while (k + 2 < line.size() && line[k + 1].along < x) ++k;
            const double part = (x - line[k].along) / (line[k + 1].along - line[k].along);
            return line[k].off + part * (line[k + 1].off - line[k].off);
        };
        const double part = (r.at - r.from) / (r.to - r.from);
        EXPECT_NEAR(at(r.from) + part * (at(r.to) - at(r.from)) - at(r.at), r.gap, 1e-9);
        const auto is_reading = [&](double x) {
            return std::any_of(line.begin(), line.end(), [&](const auto& q) { return std::abs(q.along - x) < 1e-9; });
        };
        if (!is_reading(r.from) || !is_reading(r.to)) ++between;
        // A longer straightedge never sees less.
        EXPECT_GE(resting(line, 1.5 * length).gap, r.gap - 1e-12);
        ++lines;
    }
    EXPECT_EQ(lines, 60);
    EXPECT_GT(between, 10);
}

TEST(Flatness, LinesAcrossAGrid) {
    // By hand: a grid of 3 by 3 has 3 rows, 3 columns and 2 diagonals.
    std::vector<WallPoint> spots;
    for (int j = 0; j < 3; ++j) {
        for (int i = 0; i < 3; ++i) spots.push_back({600.0 * i, 900.0 * j, 1.0 * i});
    }
    const auto lines = lines_across(spots, 1);
    EXPECT_EQ(lines.size(), 8u);
    for (const auto& line : lines) {
        ASSERT_EQ(line.readings.size(), 3u);
        EXPECT_EQ(line.readings[0].along, 0);
        EXPECT_GT(line.direction.x + line.direction.y * 1e-3, 0);
        const WallPoint last = spots[line.spots[2]];
        EXPECT_NEAR(std::hypot(last.u - line.start.u, last.v - line.start.v), line.readings[2].along, 1e-9);
        EXPECT_EQ(line.readings[2].off, last.n);
    }
    // Just on the line and just off it.
    const std::vector<WallPoint> bent{{0, 0, 0}, {1000, 5, 1}, {2000, 0, 0}};
    EXPECT_EQ(lines_across(bent, 5).size(), 1u);
    EXPECT_EQ(lines_across(bent, 2.49).size(), 0u);
    EXPECT_TRUE(lines_across({{0, 0, 0}, {0, 0, 1}, {5, 5, 0}}, 1).empty());  // two places only
}

TEST(Flatness, OutOfPlumb) {
    const std::vector<WallPoint> spots{{10, 0, 0}, {12, 1200, -3}, {10, 2400, 5}, {900, 2400, 40}, {900, 2400, 41}};
    const auto worst = most_out_of_plumb(spots, 2);
    ASSERT_TRUE(worst);
    EXPECT_NEAR(worst->offset, 8, 1e-12);
    EXPECT_EQ(worst->rise, 1200);
    EXPECT_TRUE(worst->inwards);
    EXPECT_EQ(worst->lower, 1u);
    EXPECT_EQ(worst->upper, 2u);
    EXPECT_EQ(plumb_pairs(spots, 2).size(), 3u);
    EXPECT_EQ(plumb_pairs(spots, 1.99).size(), 1u);
    EXPECT_FALSE(most_out_of_plumb({{0, 5, 0}, {0, 5, 3}}, 10));
}

// The published tables. DIN 18202 table 3 at its own lengths; between them, the worked table of the German screed
// handbook (Zentralverband Deutsches Baugewerbe, "Tabelle 3, erweitert"), which interpolates and rounds to whole mm.
TEST(FlatnessRules, Din18202AsPublished) {
    const std::array<double, 5> at{100, 1000, 4000, 10000, 15000};
    const std::array<double, 5> row6{3, 5, 10, 20, 25};
    const std::array<double, 5> row7{2, 3, 8, 15, 20};
    for (std::size_t i = 0; i < at.size(); ++i) {
        for (const Scaling scaling : {Scaling::interpolate, Scaling::never_below}) {
            EXPECT_DOUBLE_EQ(allowed_gap("din18202.row6", at[i], scaling).value(), row6[i]);
            EXPECT_DOUBLE_EQ(allowed_gap("din18202.row7", at[i], scaling).value(), row7[i]);
        }
    }
    struct Worked {
        double length, row6, row7;
    };
    const std::vector<Worked> handbook{{600, 4, 3},  {1500, 6, 4}, {2000, 7, 5},   {2500, 8, 6},
                                       {3000, 8, 6}, {3500, 9, 7}, {6000, 13, 10}, {8000, 17, 13}};
    for (const auto& w : handbook) {  // row 7 at 0.6 m: the handbook prints 2, its own rule gives 2.56
        EXPECT_EQ(std::round(allowed_gap("din18202.row6", w.length, Scaling::interpolate).value()), w.row6) << w.length;
        EXPECT_EQ(std::round(allowed_gap("din18202.row7", w.length, Scaling::interpolate).value()), w.row7) << w.length;
    }
    EXPECT_NEAR(allowed_gap("din18202.row6", 2000, Scaling::interpolate).value(), 5 + 5.0 / 3, 1e-12);
    EXPECT_NEAR(allowed_gap("din18202.row7", 2500, Scaling::interpolate).value(), 5.5, 1e-12);
    // Not published: nothing is made up.
    EXPECT_FALSE(allowed_gap("din18202.row6", 15000.01, Scaling::interpolate));
    EXPECT_FALSE(allowed_gap("din18202.row6", 99.99, Scaling::interpolate));
    EXPECT_DOUBLE_EQ(allowed_gap("din18202.row6", 99.99, Scaling::never_below).value(), 3);
    EXPECT_DOUBLE_EQ(allowed_gap("din18202.row6", 1000.01, Scaling::never_below).value(), 10);
    EXPECT_FALSE(allowed_gap("din18202.row6", 0, Scaling::never_below));
    EXPECT_FALSE(allowed_gap("din18202.row5", 1000, Scaling::interpolate));
}

// NHBC Standards 2020, 9.1.3: +/-3 mm on 2 m with equal offsets, 8 mm from plumb up to 3 m. NZS 3604 table 2.1: 5
// in 2.4 m.
TEST(FlatnessRules, OneLengthStandards) {
    for (const Scaling scaling : {Scaling::interpolate, Scaling::never_below}) {
        EXPECT_DOUBLE_EQ(allowed_gap("nhbc9.1.flat", 2000, scaling).value(), 3);
        EXPECT_DOUBLE_EQ(allowed_gap("nhbc9.1.plumb", 3000, scaling).value(), 8);
        EXPECT_DOUBLE_EQ(allowed_gap("nzs3604.plumb", 2400, scaling).value(), 5);
        EXPECT_FALSE(allowed_gap("nhbc9.1.plumb", 3000.01, scaling));
    }
    EXPECT_DOUBLE_EQ(allowed_gap("nhbc9.1.flat", 1000, Scaling::interpolate).value(), 1.5);
    EXPECT_DOUBLE_EQ(allowed_gap("nhbc9.1.flat", 1000, Scaling::never_below).value(), 3);
    EXPECT_DOUBLE_EQ(allowed_gap("nzs3604.plumb", 1200, Scaling::interpolate).value(), 2.5);
    EXPECT_DOUBLE_EQ(allowed_gap("nzs3604.plumb", 1200, Scaling::never_below).value(), 5);
}

TEST(FlatnessRules, EveryStandardIsWholeAndTheWordsGoBothWays) {
    EXPECT_EQ(rules::flatness_standards().size(), 5u);
    for (const auto& s : rules::flatness_standards()) {
        EXPECT_EQ(s.lengths.size(), s.allows.size()) << s.name;
        EXPECT_TRUE(std::is_sorted(s.lengths.begin(), s.lengths.end())) << s.name;
        EXPECT_TRUE(std::is_sorted(s.allows.begin(), s.allows.end())) << s.name;
        EXPECT_NE(s.source.find("published"), std::string::npos) << s.name;
        EXPECT_FALSE(s.says.empty());
    }
    EXPECT_EQ(flatness_standard("nhbc9.1.flat")->laid, FlatnessStandard::Laid::blocks);
    EXPECT_EQ(flatness_standard("din18202.row6")->laid, FlatnessStandard::Laid::resting);
    EXPECT_EQ(flatness_standard("nzs3604.plumb")->measure, FlatnessStandard::Measure::plumb);
    EXPECT_EQ(flatness_standard("none"), nullptr);
    for (const Scaling s : {Scaling::interpolate, Scaling::never_below}) {
        EXPECT_EQ(rules::scaling_named(rules::word_of(s)), s);
    }
    EXPECT_EQ(rules::scaling_named("never below the table's length"), Scaling::never_below);
    EXPECT_FALSE(rules::scaling_named("always"));
}

// Just hit and just missed by 0.01 mm; the tolerance from the published value, the face a closed form.
TEST(FlatnessRules, JudgedByAHundredth) {
    const FlatnessStandard& nhbc = *flatness_standard("nhbc9.1.flat");
    for (const double deep : {-3.0, 3.0}) {
        const auto hit = judge_flatness({{0, 0}, {1000, deep}, {2000, 0}}, nhbc, Scaling::never_below, 2000);
        const auto miss = judge_flatness({{0, 0}, {1000, 1.01 * deep}, {2000, 0}}, nhbc, Scaling::never_below, 2000);
        ASSERT_TRUE(hit && miss);
        EXPECT_LE(hit->over(), same_length);
        EXPECT_NEAR(miss->over(), 0.03, 1e-9);
        EXPECT_EQ(miss->laid.hump, deep > 0);
    }
    const FlatnessStandard& din = *flatness_standard("din18202.row6");
    // A short dip, 4 deep between high spots 200 apart, passes at 2 m (6.67) and fails at 200 mm (3.22).
    const Line dip{{0, 0}, {900, 0}, {1000, -4}, {1100, 0}, {2000, 0}};
    const auto judged = judge_flatness(dip, din, Scaling::interpolate, 2000);
    ASSERT_TRUE(judged);
    EXPECT_NEAR(judged->length, 200, 1e-9);
    EXPECT_NEAR(judged->over(), 4 - (3 + 2 * 100.0 / 900), 1e-9);
    EXPECT_LT(resting(dip, 2000).gap, allowed_gap(din, 2000, Scaling::interpolate).value());
    for (const double off : {-0.01, 0.0, 0.01}) {
        const double allowed = 3 + 2 * 100.0 / 900;
        const auto near = judge_flatness({{0, 0}, {100, -allowed - off}, {200, 0}}, din, Scaling::interpolate, 2000);
        ASSERT_TRUE(near);
        EXPECT_EQ(near->over() > same_length, off > 0) << near->over();
    }
    EXPECT_FALSE(judge_flatness(dip, *flatness_standard("nzs3604.plumb"), Scaling::interpolate, 2000));
    EXPECT_FALSE(judge_flatness({{0, 0}, {50, 1}, {90, 0}}, din, Scaling::interpolate, 2000));  // under 0.1 m
}

TEST(FlatnessRules, PlumbJudgedByAHundredth) {
    const FlatnessStandard& nzs = *flatness_standard("nzs3604.plumb");
    const FlatnessStandard& nhbc = *flatness_standard("nhbc9.1.plumb");
    const auto over = [](const FlatnessStandard& standard, double rise, double offset, Scaling scaling) {
        const auto judged = judge_plumb({{5, 0, 0}, {5, rise, offset}}, standard, scaling, 10);
        return judged ? std::optional(judged->over()) : std::nullopt;
    };
    EXPECT_LE(over(nzs, 2400, 5, Scaling::interpolate).value(), same_length);
    EXPECT_NEAR(over(nzs, 2400, -5.01, Scaling::interpolate).value(), 0.01, 1e-9);
    EXPECT_LE(over(nhbc, 3000, 8, Scaling::never_below).value(), same_length);
    EXPECT_NEAR(over(nhbc, 1500, 8.01, Scaling::never_below).value(), 0.01, 1e-9);
    EXPECT_NEAR(over(nhbc, 1500, 4.01, Scaling::interpolate).value(), 0.01, 1e-9);
    EXPECT_FALSE(over(nhbc, 3001, 8, Scaling::never_below));
    EXPECT_FALSE(judge_plumb({{5, 0, 0}, {5, 9, 1}}, *flatness_standard("din18202.row6"), Scaling::interpolate, 10));
}

}  // namespace
}  // namespace standproud
