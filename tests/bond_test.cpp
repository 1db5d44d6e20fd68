// Bond and seal: closed forms, and relations over random panels. Source beside each check.
#include "modeler/bond.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace standproud::bond {
namespace {

Polygon rectangle(double w, double h) { return {{{0, 0}, {w, 0}, {w, h}, {0, h}}}; }

PanelBond laid(const Polygon& outline, const std::vector<RoundedRect>& holes, const BondRules& rules = {}) {
    const BondAnswer answer = lay_bond(outline, holes, rules);
    EXPECT_TRUE(answer.bond) << answer.refused;
    return answer.bond.value_or(PanelBond{});
}

TEST(Bond, TapeStripsByClosedForm) {
    // 20 in from the edges, 12 wide: middles 26 .. 1174, 1148 apart: four lanes of 287.
    const PanelBond b = laid(rectangle(1200, 2400), {});
    ASSERT_EQ(b.tape.size(), 5u);
    for (std::size_t i = 0; i < 5; ++i) {
        EXPECT_NEAR(b.tape[i].x, 26 + 287.0 * static_cast<double>(i), 1e-9);
        EXPECT_NEAR(b.tape[i].from, 20, 1e-9);
        EXPECT_NEAR(b.tape[i].to, 2380, 1e-9);
    }
    EXPECT_NEAR(b.tape_length, 5 * 2360, 1e-6);
    EXPECT_NEAR(b.widest_spacing, 287, 1e-9);
    // 300 exactly is not too far: 952 wide has middles 900 apart, three lanes; 952.01 has four.
    EXPECT_EQ(laid(rectangle(952, 2000), {}).tape.size(), 4u);
    EXPECT_EQ(laid(rectangle(952.01, 2000), {}).tape.size(), 5u);
}

/// Edges that lean by so much have a strip, too: as far out as lets it run the whole height, or nearly.
TEST(Bond, ALeaningEdgeHasItsStrip) {
    const double h = 2100;
    for (const double lean : {0.1, 3.3, 9.9, 14.0}) {
        SCOPED_TRACE(lean);
        const PanelBond b = laid({{{0, 0}, {900, 0}, {900 - lean, h}, {lean, h}}}, {});
        // Closed form: 20 off the leaning edge, at the tape's upper end (20 under the top), 6 from there to its middle.
        const double slope = lean / h;
        const double left = lean - 20 * slope + 20 * std::sqrt(1 + slope * slope) + 6;
        EXPECT_NEAR(b.tape.front().x, left, 0.01);
        EXPECT_NEAR(b.tape.back().x, 900 - left, 0.01);
        for (const TapeStrip& tape : b.tape) {
            EXPECT_NEAR(tape.from, 20, 1e-6);
            EXPECT_NEAR(tape.to, h - 20, 0.02);
        }
        EXPECT_LE(b.widest_spacing, 300);
    }
    // Far from upright: the strip keeps nineteen twentieths of one 100 mm further in, and no strip is left out.
    const PanelBond b = laid({{{0, 0}, {900, 0}, {900, h}, {60, h}}}, {});
    EXPECT_EQ(b.tape.front().strip, 0u);
    EXPECT_GT(b.tape.front().to - b.tape.front().from, 0.94 * (h - 40));
    EXPECT_LT(b.tape.front().x, 26 + 60);
    // A top that slopes does not push the strips in.
    const PanelBond sloping = laid({{{0, 0}, {900, 0}, {900, 1900}, {0, h}}}, {});
    EXPECT_NEAR(sloping.tape.front().x, 26, 1e-6);
    EXPECT_NEAR(sloping.tape.back().x, 874, 1e-6);
}

TEST(Bond, AStripIsMovedClearOfAHole) {
    // The strip at 313 would meet the hole at 330: moved to 330 - 18 - 20 - 6 = 286.
    const PanelBond b = laid(rectangle(1200, 2400), {RoundedRect::circle({330, 1000}, 36)});
    EXPECT_NEAR(b.tape[1].x, 286, 1e-9);
    EXPECT_NEAR(b.tape[1].moved, -27, 1e-9);
    EXPECT_EQ(b.tape.size(), 5u);
}

TEST(Bond, AStripIsNotMovedOntoItsNeighbour) {
    // 150 wide: strips at 26 and 124. A hole in the way of the first leaves it no place but beside the second.
    BondRules rules;
    rules.tape_shift_most = 100;
    const PanelBond b = laid(rectangle(150, 1000), {RoundedRect::circle({62, 500}, 44)}, rules);
    ASSERT_EQ(b.tape.front().strip, 0u);
    EXPECT_GE(b.thinnest_lane, rules.tape_width);
    EXPECT_EQ(b.tape.size(), 3u);
}

TEST(Bond, AStripIsBrokenWhereItCannotBeMoved) {
    // A cut-out 200 wide: broken over 100 + 20 either way of its middle, as its sides are straight there.
    const PanelBond b = laid(rectangle(1200, 2400), {RoundedRect::rect({313, 1000}, 200, 200, 10)});
    std::vector<TapeStrip> second;
    std::copy_if(b.tape.begin(), b.tape.end(), std::back_inserter(second),
                 [](const TapeStrip& t) { return t.strip == 1; });
    ASSERT_EQ(second.size(), 2u);
    EXPECT_NEAR(second[0].to, 880, 1e-9);
    EXPECT_NEAR(second[1].from, 1120, 1e-9);
    EXPECT_EQ(second[0].moved, 0);
    // Low down, the bit below is too short to keep: 20 to 60.
    const PanelBond low = laid(rectangle(1200, 2400), {RoundedRect::rect({313, 180}, 200, 200, 10)});
    EXPECT_EQ(std::count_if(low.tape.begin(), low.tape.end(), [](const TapeStrip& t) { return t.strip == 1; }), 1);
}

TEST(Bond, NothingInANotchAndTapeBesideIt) {
    // A doorway 400 to 800 across and 2000 high in a panel 1200 x 2400: no tape within 20 of it, no bead within 13, and
    // a strip along each of its sides, 26 off, up to its head. Closed form.
    const RoundedRect door = RoundedRect::rect({600, 900}, 400, 2200, 5);
    const auto answer = lay_bond(rectangle(1200, 2400), {}, {}, {door});
    ASSERT_TRUE(answer.bond) << answer.refused;
    const PanelBond& b = *answer.bond;
    const auto e = extent(door);
    int beside = 0;
    for (const TapeStrip& t : b.tape) {
        const bool clear = t.x + 6 <= e[0] - 20 + 1e-6 || t.x - 6 >= e[1] + 20 - 1e-6 || t.from >= e[3] + 20 - 1e-6;
        EXPECT_TRUE(clear) << t.x << " " << t.from;
        if (std::abs(t.x - 374) < 1e-9 || std::abs(t.x - 826) < 1e-9) {
            ++beside;
            EXPECT_NEAR(t.from, 20, 1e-9);
            EXPECT_NEAR(t.to, 2000, 1e-9);
        }
    }
    // Strips at 313 and 887 are within a third of 300 of those places: they serve.
    EXPECT_EQ(beside, 0);
    EXPECT_EQ(std::count_if(b.tape.begin(), b.tape.end(), [](const TapeStrip& t) { return t.from < 1000; }), 4);
    for (const Bead& bead : b.beads) {
        for (const Vec2 p : bead.path)
            EXPECT_TRUE(p.x <= e[0] - 13 + 1e-6 || p.x >= e[1] + 13 - 1e-6 || p.y >= e[3] + 13 - 1e-6);
    }
    EXPECT_NEAR(b.scuffed_area, 1200.0 * 2400 - 400.0 * 2000 + 2 * (1 - pi / 4) * 25, 0.5);
    for (const double x : b.spacers) EXPECT_TRUE(x <= 400 || x >= 800);
    // A wider one has no strip near its sides: they get their own.
    const RoundedRect wide = RoundedRect::rect({600, 900}, 660, 2200, 5);
    const auto other = lay_bond(rectangle(1200, 2400), {}, {}, {wide});
    ASSERT_TRUE(other.bond);
    for (const double x : {600 - 330 - 26.0, 600 + 330 + 26.0}) {
        const auto found = std::find_if(other.bond->tape.begin(), other.bond->tape.end(),
                                        [&](const TapeStrip& t) { return std::abs(t.x - x) < 1e-9; });
        ASSERT_NE(found, other.bond->tape.end()) << x;
        EXPECT_NEAR(found->from, 20, 1e-9);
        EXPECT_NEAR(found->to, 2000, 1e-9);
    }
    for (const Bead& bead : other.bond->beads) {
        for (const Vec2 p : bead.path) EXPECT_FALSE(p.y < 2000 && std::abs(p.x - 244) < 6 + 13 - 1e-6) << p.x;
    }
}

PanelBond notched(double width, const RoundedRect& notch, const BondRules& rules = {}) {
    const auto answer = lay_bond(rectangle(width, 1847), {}, rules, {notch});
    EXPECT_TRUE(answer.bond) << answer.refused;
    return answer.bond.value_or(PanelBond{});
}

std::vector<Bead> in_legs(const PanelBond& bond) {
    std::vector<Bead> found;
    std::copy_if(bond.beads.begin(), bond.beads.end(), std::back_inserter(found),
                 [](const Bead& bead) { return bead.in_leg; });
    return found;
}

TEST(Bond, ALegBesideAWindowHasABead) {
    // A window 249.5 wide and 753 high at the left edge of a panel 320 wide: the leg is 70.5 wide, its tape 288 to 300.
    // Closed form: the bead in the middle between window and tape, as high as the window.
    const RoundedRect window = RoundedRect::rect({124.75, 1326}, 249.5, 753, 5);
    const PanelBond b = notched(320, window);
    ASSERT_EQ(in_legs(b).size(), 1u);
    const Bead bead = in_legs(b).front();
    EXPECT_NEAR(bead.path.front().x, (249.5 + 288) / 2, 1e-9);
    EXPECT_NEAR(bead.path.back().x, (249.5 + 288) / 2, 1e-9);
    EXPECT_NEAR(bead.path.front().y, 1326 - 376.5, 1e-9);
    EXPECT_NEAR(bead.path.back().y, 1326 + 376.5, 1e-9);
    EXPECT_NEAR(bead.length, 753, 1e-9);
    EXPECT_NEAR(b.leg_length, 753, 1e-9);
    double waves = 0;
    for (const Bead& one : b.beads) waves += one.in_leg ? 0 : one.length;
    EXPECT_GT(waves, 0);
    EXPECT_NEAR(b.bead_length, waves + 753, 1e-6);
    EXPECT_NEAR(b.adhesive_volume, pi * 9 * (waves + 753), 1e-3);
    EXPECT_TRUE(b.dry.empty());
    // At the right edge it is the same, mirrored; one in the top corner ends its bead under the top edge's clearance.
    const PanelBond right = notched(320, RoundedRect::rect({320 - 124.75, 1326}, 249.5, 753, 5));
    ASSERT_EQ(in_legs(right).size(), 1u);
    EXPECT_NEAR(in_legs(right).front().path.front().x, 320 - (249.5 + 288) / 2, 1e-9);
    EXPECT_NEAR(right.leg_length, 753, 1e-9);
    EXPECT_NEAR(notched(320, RoundedRect::rect({124.75, 1500}, 249.5, 753, 5)).leg_length, 1847 - 13 - 1123.5, 1e-9);
    // Where the waves come by, no bead is added.
    EXPECT_EQ(notched(900, window).leg_length, 0);
    EXPECT_EQ(laid(rectangle(320, 1847), {}).leg_length, 0);
}

TEST(Bond, ABeadInALegJustFits) {
    // Closed form: 20 and 12 of tape, then 10, 6 and 10 of bead: 58.
    const auto leg = [](double wide) { return RoundedRect::rect({(320 - wide) / 2, 1000}, 320 - wide, 600, 5); };
    const PanelBond fits = notched(320, leg(58));
    EXPECT_NEAR(fits.leg_length, 600, 1e-9);
    EXPECT_TRUE(fits.dry.empty());
    const PanelBond misses = notched(320, leg(57.99));
    EXPECT_EQ(misses.leg_length, 0);
    ASSERT_EQ(misses.dry.size(), 1u);
    EXPECT_TRUE(misses.dry[0].taped);
    EXPECT_NEAR(misses.dry[0].left, 262.01, 1e-9);
    EXPECT_NEAR(misses.dry[0].right, 320, 1e-9);
    EXPECT_NEAR(misses.dry[0].bottom, 700, 1e-9);
    EXPECT_NEAR(misses.dry[0].top, 1300, 1e-9);
    // 20, 12 and 20 hold tape; less does not, and is named as well.
    EXPECT_TRUE(notched(320, leg(52)).dry.at(0).taped);
    EXPECT_FALSE(notched(320, leg(51.99)).dry.at(0).taped);
    // Tape 26 from the edge leaves room on its outer side, 25.99 does not.
    BondRules rules;
    rules.tape_inset = 26;
    EXPECT_NEAR(notched(320, leg(26 + 12 + 26), rules).leg_length, 2 * 600, 1e-9);
    rules.tape_inset = 25.99;
    EXPECT_NEAR(notched(320, leg(26 + 12 + 26), rules).leg_length, 600, 1e-9);
}

TEST(Bond, ALegBetweenTwoNotches) {
    // From 130 to 188: tape beside the left notch, 150 to 162, and a bead in the 26 that are left. Closed form: as high
    // as both notches are beside each other.
    for (const double up : {0.0, 200.0}) {
        const RoundedRect left = RoundedRect::rect({65, 1000}, 130, 600, 5);
        const RoundedRect right = RoundedRect::rect({254, 1000 + up}, 132, 600, 5);
        const auto answer = lay_bond(rectangle(320, 1847), {}, {}, {left, right});
        ASSERT_TRUE(answer.bond) << answer.refused;
        const auto beads = in_legs(*answer.bond);
        ASSERT_EQ(beads.size(), 1u) << up;
        EXPECT_NEAR(beads[0].path.front().x, 175, 1e-9);
        EXPECT_NEAR(beads[0].path.front().y, 700 + up, 1e-9);
        EXPECT_NEAR(beads[0].length, 600 - up, 1e-9);
        EXPECT_TRUE(answer.bond->dry.empty());
    }
}

TEST(Bond, ARingGluesAShortLeg) {
    // A leg 70 wide and 120 high, with a 20 mm hole in its middle, whose ring is 18 to its middle: 42 is left above and
    // below, less than the shortest bit of tape. Without the hole it has its bead, 120 long. Closed form.
    const RoundedRect notch = RoundedRect::rect({125, 760}, 250, 120, 5);
    const auto answer = lay_bond(rectangle(320, 1847), {RoundedRect::circle({285, 760}, 20)}, {}, {notch});
    ASSERT_TRUE(answer.bond) << answer.refused;
    EXPECT_EQ(answer.bond->leg_length, 0);
    EXPECT_TRUE(answer.bond->dry.empty());
    EXPECT_NEAR(notched(320, notch).leg_length, 120, 1e-9);
}

TEST(Bond, AWavesLengthIsAnEllipticIntegral) {
    // Closed form: over whole waves of swing a and length L, with b = 2 pi a / L: (2 L / pi) sqrt(1 + b2) E(b / sqrt(1
    // + b2)).
    BondRules rules;
    rules.wave_length = 200;
    const double height = 13 + 13 + 200 * 10;  // bead_clear + bead / 2 at either end, ten waves
    const PanelBond b = laid(rectangle(1200, height), {}, rules);
    ASSERT_EQ(b.beads.size(), 4u);
    const double k = 2 * pi * 60 / 200;
    const double wave = 2 * 200 / pi * std::sqrt(1 + k * k) * std::comp_ellint_2(k / std::sqrt(1 + k * k));
    for (const Bead& bead : b.beads) EXPECT_NEAR(bead.length / (10 * wave), 1, 1e-3);
    EXPECT_NEAR(b.adhesive_volume, pi * 9 * b.bead_length, 1e-6);  // 6 mm bead
}

TEST(Bond, RingsByClosedForm) {
    const PanelBond b =
        laid(rectangle(1200, 2400), {RoundedRect::circle({600, 1000}, 36), RoundedRect::rect({600, 1600}, 100, 60, 8)});
    ASSERT_EQ(b.rings.size(), 2u);
    EXPECT_NEAR(b.rings[0].length, pi * 52, 1e-9);
    EXPECT_NEAR(b.rings[1].length, 2 * 84 + 2 * 44 + 2 * pi * 16, 1e-9);
    EXPECT_FALSE(b.rings[0].reduced);
    // 10 mm from the edge the ring runs in the middle of what is left.
    const PanelBond edge = laid(rectangle(1200, 2400), {RoundedRect::circle({28, 1000}, 36)});
    EXPECT_TRUE(edge.rings[0].reduced);
    EXPECT_NEAR(edge.rings[0].path.radius, 18 + 5, 1e-9);
}

TEST(Bond, ScuffedAreaIsThePlateLessItsHoles) {
    // Closed form from the plate 1200 x 900 x 6 with a 35 mm hole: 6474227.3235 mm3.
    EXPECT_NEAR(6 * laid(rectangle(1200, 900), {RoundedRect::circle({600, 450}, 35)}).scuffed_area, 6474227.3235, 1e-4);
}

TEST(Bond, SpacersUnderTheBase) {
    const PanelBond b = laid(rectangle(1200, 2400), {});
    EXPECT_EQ(b.spacers, (std::vector<double>{50, 50 + 1100.0 / 3, 50 + 2200.0 / 3, 1150}));
}

TEST(Seal, VolumeIsGapTimesDepthTimesLength) {
    // Closed form: 4 x 8 x 2400 = 76 800 mm3 = 76.8 ml.
    const JointSeal shallow = seal_joint({"join", 4, 8, 2400}, 10);
    EXPECT_DOUBLE_EQ(shallow.volume, 76'800);
    EXPECT_EQ(shallow.backing_length, 0);
    const JointSeal deep = seal_joint({"join", 4, 18, 2400}, 10);
    EXPECT_DOUBLE_EQ(deep.volume, 96'000);
    EXPECT_EQ(deep.backing_length, 2400);
    EXPECT_EQ(seal_joint({"join", 4, 10, 2400}, 10).backing_length, 0);
    EXPECT_EQ(seal_joint({"join", 4, 10.01, 2400}, 10).backing_length, 2400);
}

TEST(Seal, CartridgesWithTheWasteShown) {
    // Closed form: 620 ml and 10 % is 682 ml: three cartridges of 310 ml, 248 ml left over.
    const Purchase p = buy(620'000, 310'000, 0.1);
    EXPECT_DOUBLE_EQ(p.waste, 62'000);
    EXPECT_DOUBLE_EQ(p.with_waste, 682'000);
    EXPECT_EQ(p.units, 3);
    EXPECT_NEAR(p.left_over, 248'000, 1e-6);
    EXPECT_EQ(buy(620'000, 310'000, 0).units, 2);
    EXPECT_EQ(buy(620'000.01, 310'000, 0).units, 3);
    EXPECT_EQ(buy(0, 310'000, 0.1).units, 0);
}

TEST(Seal, PaintBehindAJoin) {
    const PaintStrip s = paint_behind(600, 4, 10, 2010, 25);
    EXPECT_DOUBLE_EQ(s.from, 573);
    EXPECT_DOUBLE_EQ(s.to, 627);
    EXPECT_DOUBLE_EQ(s.area, 54 * 2000);
}

/// Distance from a point to a rounded rectangle's edge; negative inside. Written afresh.
double away(const RoundedRect& s, Vec2 p) {
    const double dx = std::abs(p.x - s.centre.x) - (s.half_width - s.radius);
    const double dy = std::abs(p.y - s.centre.y) - (s.half_height - s.radius);
    return std::hypot(std::max(dx, 0.0), std::max(dy, 0.0)) + std::min(std::max(dx, dy), 0.0) - s.radius;
}

/// Distance from a point to the nearest edge of a convex outline, positive inside.
double within(const Polygon& outline, Vec2 p) {
    double least = 1e9;
    for (std::size_t i = 0; i < outline.points.size(); ++i) {
        const Vec2 a = outline.points[i];
        const Vec2 along = outline.points[(i + 1) % outline.points.size()] - a;
        least = std::min(least, cross(along, p - a) / norm(along));
    }
    return least;
}

TEST(Bond, NothingLiesOverAHoleOrTheEdge) {
    const unsigned seed = 6601;
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> part(0, 1);
    int broken = 0;
    int moved = 0;
    for (int round = 0; round < 400; ++round) {
        const double w = 250 + 950 * part(random);
        const double h = 600 + 1800 * part(random);
        const auto off = [&] { return 15 * part(random); };
        const Polygon outline{{{off(), off()}, {w - off(), off()}, {w - off(), h - off()}, {off(), h - off()}}};
        std::vector<RoundedRect> holes;
        for (int i = 0; i < 3; ++i) {
            const double size = 20 + 130 * part(random);
            const Vec2 at{w * (0.35 + 0.3 * part(random)), h * (0.2 + 0.3 * i)};
            holes.push_back(part(random) < 0.5 ? RoundedRect::circle(at, size)
                                               : RoundedRect::rect(at, size, size * 0.8, size * 0.1));
        }
        const BondRules rules;
        const PanelBond b = laid(outline, holes, rules);
        for (const TapeStrip& t : b.tape) {
            if (t.moved != 0) ++moved;
            EXPECT_LE(std::abs(t.moved), rules.tape_shift_most + 1e-9);
            EXPECT_GE(t.to - t.from, rules.tape_shortest - 1e-9);
            for (double y = t.from; y <= t.to; y += 5) {
                for (const double x : {t.x - rules.tape_width / 2, t.x, t.x + rules.tape_width / 2}) {
                    EXPECT_GE(within(outline, {x, y}), rules.tape_inset - 1e-5)
                        << "seed " << seed << " round " << round;
                    for (const RoundedRect& hole : holes) {
                        EXPECT_GE(away(hole, {x, y}), rules.tape_clear - 1e-4) << "seed " << seed << " round " << round;
                    }
                }
            }
        }
        for (std::size_t i = 0; i + 1 < b.tape.size(); ++i) broken += b.tape[i].strip == b.tape[i + 1].strip ? 1 : 0;
        for (const Bead& bead : b.beads) {
            for (const Vec2 p : bead.path) {
                EXPECT_GE(within(outline, p), rules.bead_clear + rules.bead / 2 - 1e-6);
                for (const Ring& ring : b.rings) {
                    EXPECT_GE(away(ring.path, p), rules.bead + rules.bead_clear - 1e-6) << seed << ' ' << round;
                }
                for (const TapeStrip& t : b.tape) {
                    EXPECT_GE(std::abs(p.x - t.x), rules.tape_width / 2 + rules.bead_clear + rules.bead / 2 - 1e-6);
                }
            }
        }
        // Upside down, the tape is the same.
        Polygon over;
        for (const Vec2& p : outline.points) over.points.push_back({w - p.x, h - p.y});
        std::vector<RoundedRect> over_holes = holes;
        for (RoundedRect& hole : over_holes) hole.centre = Vec2{w, h} - hole.centre;
        EXPECT_NEAR(laid(over, over_holes, rules).tape_length, b.tape_length, 1e-3)
            << "seed " << seed << " round " << round;
    }
    EXPECT_GT(broken, 50);
    EXPECT_GT(moved, 50);
}

/// In legs beside notches beads keep clear, also between the points of their paths; no leg is left without adhesive and
/// without a word; and what has no notch has no straight bead.
TEST(Bond, NoLegIsLeftDryInSilence) {
    const unsigned seed = 6602;
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> part(0, 1);
    const BondRules rules;
    int straight = 0;
    int dry = 0;
    int beside_ring = 0;
    for (int round = 0; round < 400; ++round) {
        SCOPED_TRACE(testing::Message() << "seed " << seed << " round " << round);
        const double w = 200 + 500 * part(random);
        const double h = 900 + 1500 * part(random);
        const auto off = [&] { return 6 * part(random); };
        const Polygon outline{{{off(), off()}, {w - off(), off()}, {w - off(), h - off()}, {off(), h - off()}}};
        const double leg = 30 + 120 * part(random);
        const double from = h * (0.1 + 0.4 * part(random));
        const double to = from + h * (0.2 + 0.2 * part(random));
        const bool right = part(random) < 0.5;
        const RoundedRect notch =
            RoundedRect::rect({right ? (leg + w) / 2 : (w - leg) / 2, (from + to) / 2}, w - leg, to - from, 5);
        const double left_end = right ? 0 : w - leg;
        std::vector<RoundedRect> holes;
        if (part(random) < 0.5 && leg > 60)
            holes.push_back(RoundedRect::circle({left_end + leg * (0.4 + 0.2 * part(random)), (from + to) / 2}, 20));
        const auto answer = lay_bond(outline, holes, rules, {notch});
        ASSERT_TRUE(answer.bond) << answer.refused;
        const PanelBond& b = *answer.bond;
        for (const Bead& bead : in_legs(b)) {
            ++straight;
            const double x = bead.path.front().x;
            EXPECT_GT(x, left_end);
            EXPECT_LT(x, left_end + leg);
            EXPECT_NEAR(bead.length, bead.path.back().y - bead.path.front().y, 1e-9);
            EXPECT_GE(bead.length, rules.tape_shortest);
            for (double y = bead.path.front().y; y <= bead.path.back().y; y += 1) {
                EXPECT_GE(within(outline, {x, y}), rules.bead_clear + rules.bead / 2 - 1e-4);
                EXPECT_GE(away(notch, {x, y}), rules.bead_clear + rules.bead / 2 - 1e-6);
                for (const Ring& ring : b.rings)
                    EXPECT_GE(away(ring.path, {x, y}), rules.bead + rules.bead_clear - 1e-6);
                for (const TapeStrip& t : b.tape) {
                    const Vec2 over{std::abs(x - t.x) - rules.tape_width / 2, std::max(t.from - y, y - t.to)};
                    EXPECT_GE(std::max(over.x, over.y), rules.bead_clear + rules.bead / 2 - 1e-6);
                }
            }
            beside_ring += b.rings.empty() ? 0 : 1;
        }
        dry += static_cast<int>(b.dry.size());
        // By heights, written afresh: a whole wave of leg without adhesive is named.
        double last = from;
        for (double y = from; y <= to; y += 1) {
            const auto at_height = [&](Vec2 p) {
                return std::abs(p.y - y) < 2.5 && p.x > left_end && p.x < left_end + leg;
            };
            bool stuck = std::any_of(b.rings.begin(), b.rings.end(), [&](const Ring& ring) {
                return std::abs(ring.path.centre.y - y) <= ring.path.half_height + rules.bead + rules.bead_clear;
            });
            for (const Bead& bead : b.beads) {
                stuck = stuck || std::any_of(bead.path.begin(), bead.path.end(), at_height) ||
                        (bead.in_leg && y >= bead.path.front().y && y <= bead.path.back().y);
            }
            for (const DryLeg& named : b.dry) stuck = stuck || (y >= named.bottom && y <= named.top);
            if (stuck) last = y;
            EXPECT_LE(y - last, rules.wave_length + 30);
        }
        EXPECT_EQ(laid(outline, {}).leg_length, 0);
        EXPECT_TRUE(laid(outline, {}).dry.empty());
    }
    EXPECT_GT(straight, 50);
    EXPECT_GT(beside_ring, 20);
    EXPECT_GT(dry, 50);
}

TEST(Bond, RefusesInWords) {
    BondRules rules;
    rules.bead = 0;
    EXPECT_NE(lay_bond(rectangle(900, 900), {}, rules).refused.find("bead 0"), std::string::npos);
    EXPECT_NE(lay_bond(rectangle(63, 900), {}, {}).refused.find("too narrow"), std::string::npos);
    EXPECT_TRUE(lay_bond(rectangle(64, 900), {}, {}).bond);
    EXPECT_NE(lay_bond(rectangle(900, 900), {RoundedRect::circle({10, 450}, 36)}, {}).refused.find("hole 1"),
              std::string::npos);
    EXPECT_NE(lay_bond(rectangle(900, 900), {RoundedRect::circle({std::nan(""), 450}, 36)}, {}).refused.find("hole 1"),
              std::string::npos);
    rules = {};
    rules.tape_width = 300;
    EXPECT_NE(lay_bond(rectangle(900, 900), {}, rules).refused.find("tape width 300"), std::string::npos);
    EXPECT_FALSE(lay_bond({{{0, 0}, {0, 900}, {900, 0}}}, {}, {}).bond);
}

}  // namespace
}  // namespace standproud::bond
