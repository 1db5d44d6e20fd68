// The plane of a panel's back over a crooked face, and planing. Source beside each check: closed form, or GLPK in exact
// arithmetic (support/glpk_planes), or brute force.
#include "modeler/bedding.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>

#include "support/glpk_planes.hpp"

namespace standproud {
namespace {

using testing::glpk_least_greatest_bed;
using testing::glpk_lowest;
using testing::PlaneOpinion;
using Kind = BeddingDoubt::Kind;

constexpr double width = 1200;
constexpr double height = 2400;
constexpr double bed_min = 2;
constexpr double substrate = 10;

Polygon sheet(double left = 0, double bottom = 0, double w = width, double h = height) {
    return {{{left, bottom}, {left + w, bottom}, {left + w, bottom + h}, {left, bottom + h}}};
}

/// Spots every 300 mm over the sheet.
std::vector<WallPoint> grid(const std::function<double(double, double)>& face) {
    std::vector<WallPoint> spots;
    for (int i = 0; i <= 4; ++i) {
        for (int j = 0; j <= 8; ++j) spots.push_back({300.0 * i, 300.0 * j, face(300.0 * i, 300.0 * j)});
    }
    return spots;
}

BeddingRule plain() {
    BeddingRule rule;
    rule.substrate = substrate;
    rule.bed_min = bed_min;
    return rule;
}

Bedding bedded(const std::vector<WallPoint>& spots, const BeddingRule& rule = plain(),
               const Polygon& outline = sheet()) {
    const BeddingAnswer answer = bed_as_plane(spots, outline, rule);
    EXPECT_TRUE(answer.bedding) << answer.refused;
    return answer.bedding.value_or(Bedding{});
}

void expect_plane(const BackPlane& plane, double a, double b, double c) {
    EXPECT_NEAR(plane.a, a, 1e-8);
    EXPECT_NEAR(plane.b, b, 1e-11);
    EXPECT_NEAR(plane.c, c, 1e-11);
}

// Closed forms.

TEST(Bedding, FollowsTheFace) { EXPECT_DOUBLE_EQ(bed_following(-3.5, 10, 2), 8.5); }

TEST(Bedding, OverALeaningPlaneTheBedIsLeastEverywhere) {
    const Bedding b = bedded(grid([](double u, double v) { return -4 + 0.003 * u - 0.002 * v; }));
    expect_plane(b.back, -4 + substrate + bed_min, 0.003, -0.002);
    EXPECT_EQ(b.rests_on.size(), b.spots.size());
    EXPECT_NEAR(b.greatest_packing, 0, 1e-9);
    EXPECT_EQ(b.unsurveyed, 0);
    EXPECT_TRUE(b.assumed.empty());
}

TEST(Bedding, OverADishItRestsOnTheFourCorners) {
    const auto spots =
        grid([](double u, double v) { return 5e-6 * (std::pow(u - width / 2, 2) + std::pow(v - height / 2, 2)); });
    const double rim = 5e-6 * (600 * 600 + 1200 * 1200);
    const Bedding b = bedded(spots);
    expect_plane(b.back, rim + substrate + bed_min, 0, 0);
    EXPECT_EQ(b.rests_on, (std::vector<std::size_t>{0, 8, 36, 44}));
    EXPECT_NEAR(b.greatest_packing, rim, 1e-9);
    EXPECT_NEAR(b.greatest_bed, rim + bed_min, 1e-9);
    EXPECT_EQ(b.spots[b.thickest].spot.u, width / 2);
    EXPECT_EQ(b.spots[b.thickest].spot.v, height / 2);
    // Mean of the squares of -2..2 and -4..4 steps of 300 mm: 2 and 20/3.
    EXPECT_NEAR(b.mean_packing, rim - 5e-6 * 90000 * (2 + 20.0 / 3), 1e-9);
}

TEST(Bedding, OverABulgeItRestsOnTheMiddleAndIsHeldLevel) {
    const Bedding b = bedded(
        grid([](double u, double v) { return -5e-6 * (std::pow(u - width / 2, 2) + std::pow(v - height / 2, 2)); }));
    expect_plane(b.back, substrate + bed_min, 0, 0);
    EXPECT_EQ(b.rests_on, (std::vector<std::size_t>{22}));
    EXPECT_NEAR(b.greatest_packing, 5e-6 * (600 * 600 + 1200 * 1200), 1e-9);
}

// A bump of 6 mm at P on a flat face. Balance: the middle M lies between P and the far edge Q, so the back's height at
// M is 6 |MQ| / |PQ|.
TEST(Bedding, OverOneBumpTheHeightIsALever) {
    const auto bump = [](double at_u, double at_v) {
        return bedded(grid([=](double u, double v) { return u == at_u && v == at_v ? 6.0 : 0.0; }));
    };
    EXPECT_NEAR(bump(600, 1200).back_at_middle, substrate + bed_min + 6, 1e-9);
    EXPECT_NEAR(bump(900, 1200).back_at_middle, substrate + bed_min + 6 * 600.0 / 900, 1e-9);
    EXPECT_NEAR(bump(600, 2100).back_at_middle, substrate + bed_min + 6 * 1200.0 / 2100, 1e-9);
    EXPECT_NEAR(bump(1200, 1200).back_at_middle, substrate + bed_min + 3, 1e-9);
    // On a corner: it rests there and on the corner across; of the planes through both, the one that leaves the other
    // two corners 3 mm each.
    const Bedding corner = bedded({{0, 0, 0}, {width, 0, 0}, {width, height, 6}, {0, height, 0}});
    expect_plane(corner.back, substrate + bed_min, 3 / width, 3 / height);
    EXPECT_EQ(corner.rests_on, (std::vector<std::size_t>{0, 2}));
    EXPECT_NEAR(corner.greatest_packing, 3, 1e-9);
    // With spots 300 mm from the bump along both edges those are worst: 6 - 300 b and 6 - 300 c, least when b = c.
    expect_plane(bump(1200, 2400).back, substrate + bed_min, 6.0 / 3600, 6.0 / 3600);
    EXPECT_NEAR(bump(1200, 2400).greatest_packing, 5.5, 1e-9);
}

TEST(Bedding, PlumbAndSquareTakeTheLeanAsPacking) {
    const auto spots = grid([](double u, double v) { return 0.004 * u + 0.0025 * v; });
    BeddingRule rule = plain();
    rule.plumb = true;
    Bedding b = bedded(spots, rule);
    expect_plane(b.back, 0.0025 * height + substrate + bed_min, 0.004, 0);
    EXPECT_NEAR(b.greatest_packing, 0.0025 * height, 1e-9);
    rule.turn = 0.001;
    b = bedded(spots, rule);
    expect_plane(b.back, 0.003 * width + 0.0025 * height + substrate + bed_min, 0.001, 0);
    EXPECT_EQ(b.rests_on, (std::vector<std::size_t>{44}));
    rule.plumb = false;
    b = bedded(spots, rule);
    expect_plane(b.back, 0.003 * width + substrate + bed_min, 0.001, 0.0025);
}

TEST(Bedding, OverItsMaximumByAHundredth) {
    // A trough 4 mm deep down the middle: bed there is bed_min + 4.
    const Bedding b = bedded(grid([](double u, double) { return u == 600 ? -4.0 : 0.0; }));
    EXPECT_TRUE(beds_over(b, bed_min + 4).empty());
    EXPECT_TRUE(beds_over(b, bed_min + 4.01).empty());
    const auto over = beds_over(b, bed_min + 3.99);
    ASSERT_EQ(over.size(), 9u);
    EXPECT_NEAR(over.front().over, 0.01, 1e-9);
    EXPECT_EQ(b.spots[over.front().spot].spot.u, 600);
}

TEST(Bedding, SpotsOffThePanelCountAsFarAsAsked) {
    auto spots = grid([](double, double) { return 0.0; });
    spots.push_back({1300, 1200, 13});  // 100 mm off the right edge; lever: 13 * 600 / 1300
    BeddingRule rule = plain();
    EXPECT_NEAR(bedded(spots, rule).back_at_middle, substrate + bed_min + 6, 1e-9);
    rule.count_within = 100;
    EXPECT_NEAR(bedded(spots, rule).back_at_middle, substrate + bed_min + 6, 1e-9);
    rule.count_within = 99.99;
    const Bedding without = bedded(spots, rule);
    EXPECT_NEAR(without.back_at_middle, substrate + bed_min, 1e-9);
    EXPECT_FALSE(without.spots.back().counted);
    EXPECT_NEAR(without.spots.back().bed, bed_min - 13, 1e-9);
}

TEST(Bedding, SaysHowFarThePanelReachesBeyondTheSurvey) {
    const auto spots = grid([](double, double) { return 0.0; });
    EXPECT_NEAR(bedded(spots, plain(), sheet(-30, -40)).unsurveyed, 50, 1e-9);
    EXPECT_NEAR(bedded(spots, plain(), sheet(4, 4, 1192, 2392)).unsurveyed, 0, 1e-9);
}

// What the spots do not tell.

std::vector<Kind> doubts_of(const std::vector<WallPoint>& spots, const BeddingRule& rule) {
    const BeddingAnswer answer = bed_as_plane(spots, sheet(), rule);
    EXPECT_FALSE(answer.bedding);
    EXPECT_FALSE(answer.refused.empty());
    std::vector<Kind> kinds;
    for (const auto& doubt : answer.doubts) kinds.push_back(doubt.kind);
    BeddingRule assume = rule;
    assume.assume = true;
    EXPECT_EQ(bedded(spots, assume).assumed.size(), kinds.size());
    return kinds;
}

TEST(Bedding, RefusesOrSaysWhatItAssumes) {
    BeddingRule assume = plain();
    assume.assume = true;
    const std::vector<WallPoint> one{{600, 1200, 3}, {600, 1200, 5}};
    EXPECT_EQ(doubts_of(one, plain()), (std::vector<Kind>{Kind::one_spot}));
    expect_plane(bedded(one, assume).back, 5 + substrate + bed_min, 0, 0);

    const std::vector<WallPoint> upright{{600, 0, 0}, {600, 1800, 9}, {600, 2400, 12}};
    EXPECT_EQ(doubts_of(upright, plain()), (std::vector<Kind>{Kind::one_line}));
    expect_plane(bedded(upright, assume).back, substrate + bed_min, 0, 0.005);

    // Two spots below the middle: on a line, and short of the middle. Lowest over the nearer one, and of those planes
    // the one with the least greatest bed: through both.
    const std::vector<WallPoint> low{{600, 0, 0}, {600, 1000, 4}};
    EXPECT_EQ(doubts_of(low, plain()), (std::vector<Kind>{Kind::one_line, Kind::middle_outside}));
    expect_plane(bedded(low, assume).back, substrate + bed_min, 0, 0.004);

    // A row at one height cannot tell the lean; held plumb it need not.
    const std::vector<WallPoint> row{{0, 1000, 0}, {600, 1000, 2}, {1200, 1000, 6}};
    EXPECT_EQ(doubts_of(row, plain()), (std::vector<Kind>{Kind::one_line}));
    BeddingRule rule = plain();
    rule.plumb = true;
    expect_plane(bedded(row, rule).back, substrate + bed_min, 0.005, 0);
    // A column held plumb cannot tell the turn; square as well, it need not.
    EXPECT_EQ(doubts_of(upright, rule), (std::vector<Kind>{Kind::one_line}));
    rule.turn = 0;
    expect_plane(bedded(upright, rule).back, 12 + substrate + bed_min, 0, 0);
}

TEST(Bedding, AMiddleOutsideTheSurveyIsNotGuessed) {
    // Surveyed up to 1 000 only, the middle at 1 200. By a hundredth: at 1 199.99 outside, at 1 200 not.
    const auto up_to = [](double top) {
        return std::vector<WallPoint>{{0, 0, 0}, {width, 0, 0}, {0, top, 0}, {width, top, 0}};
    };
    EXPECT_EQ(doubts_of(up_to(1000), plain()), (std::vector<Kind>{Kind::middle_outside}));
    EXPECT_EQ(doubts_of(up_to(1199.99), plain()), (std::vector<Kind>{Kind::middle_outside}));
    expect_plane(bedded(up_to(1200)).back, substrate + bed_min, 0, 0);
    BeddingRule rule = plain();
    rule.assume = true;
    const Bedding b = bedded(up_to(1000), rule);
    expect_plane(b.back, substrate + bed_min, 0, 0);
    EXPECT_NE(b.assumed.at(0).says.find("200.0 mm outside"), std::string::npos) << b.assumed.at(0).says;
}

TEST(Bedding, RefusesWhatIsNoRuleOrOutline) {
    const auto refusal = [](const std::vector<WallPoint>& spots, const Polygon& outline, const BeddingRule& rule) {
        const auto answer = bed_as_plane(spots, outline, rule);
        EXPECT_FALSE(answer.bedding);
        return answer.refused;
    };
    const auto spots = grid([](double, double) { return 0.0; });
    EXPECT_EQ(refusal({}, sheet(), plain()), "there are no surveyed spots");
    BeddingRule rule = plain();
    rule.count_within = 10;
    EXPECT_EQ(refusal(spots, sheet(5000, 0), rule), "none of the 45 surveyed spots is within 10 mm of the panel");
    EXPECT_NE(refusal({{0, 0, std::nan("")}}, sheet(), plain()).find("spot 1"), std::string::npos);
    const Polygon clockwise{{{0, 0}, {0, 1}, {1, 1}, {1, 0}}};
    const Polygon dented{{{0, 0}, {9, 0}, {3, 3}, {0, 9}}};
    for (const auto& outline : {clockwise, dented, Polygon{}, Polygon{{{0, 0}, {1, 0}, {2, 0}}}}) {
        EXPECT_NE(refusal(spots, outline, plain()).find("convex"), std::string::npos);
    }
    rule = plain();
    rule.bed_max = 1.99;
    EXPECT_NE(refusal(spots, sheet(), rule).find("bed_max is 1.99"), std::string::npos);
    rule.bed_max = 2;
    EXPECT_TRUE(refusal(spots, sheet(5000, 0), rule).find("outside") != std::string::npos);
    rule = plain();
    rule.bed_min = -0.01;
    EXPECT_NE(refusal(spots, sheet(), rule).find("bed_min"), std::string::npos);
    EXPECT_NE(least_planing(spots, sheet(), plain()).refused.find("bed_max"), std::string::npos);
}

// Random faces.

struct Scene {
    std::vector<WallPoint> spots;
    Polygon outline;
    Vec2 middle;
    BeddingRule rule;
    int kind = 0;
};

/// Kinds: 0 anywhere; 1 on a grid in whole mm, so that many planes tie; 2 the same with spots read twice; 3 all but one
/// on a line, or all of them and the middle of the panel too; 4 very few; 5 mostly off the panel.
Scene random_scene(std::mt19937& random) {
    const auto whole = [&](int from, int to) { return std::uniform_int_distribution<int>(from, to)(random); };
    const auto any = [&](double from, double to) {  // in sixteenths, which GLPK takes exactly
        return std::round(16 * std::uniform_real_distribution<double>(from, to)(random)) / 16;
    };
    Scene s;
    s.kind = whole(0, 5);
    const bool ties = s.kind == 1 || s.kind == 2;
    const bool lined = whole(0, 1) == 0;
    const int count = s.kind == 4 ? whole(1, 4) : whole(5, 40);
    for (int i = 0; i < count; ++i) {
        WallPoint spot{any(0, 3000), any(0, 2700), any(-15, 15)};
        if (ties) spot = {300.0 * whole(0, 8), 300.0 * whole(0, 8), 1.0 * whole(-3, 3)};
        if (s.kind == 3 && (i > 0 || lined)) spot = {1500.0 - 10 * i, 600.0 + 25 * i, spot.n};
        s.spots.push_back(spot);
    }
    if (s.kind == 2) s.spots.insert(s.spots.end(), s.spots.begin(), s.spots.begin() + 3);
    const double left = ties ? 300.0 * whole(0, 5) : any(0, 1500);
    const double w = ties ? 300.0 * whole(1, 4) : any(300, 1500);
    const double bottom = ties ? 300.0 * whole(0, 3) : any(0, 400);
    const double h = ties ? 300.0 * whole(1, 8) : any(600, 2300);
    const double shift = s.kind == 5 ? 1200 : 0;
    s.outline = sheet(left + shift, bottom, w, h);
    s.middle = {left + shift + w / 2, bottom + h / 2};
    if (s.kind == 3 && lined) {
        s.middle = {1480, 650};
        s.outline = sheet(s.middle.x - w / 2, s.middle.y - h / 2, w, h);
    }
    s.rule.substrate = ties ? whole(0, 20) : any(0, 20);
    s.rule.bed_min = ties ? whole(0, 4) : any(0, 4);
    s.rule.plumb = whole(0, 3) == 0;
    if (whole(0, 3) == 0) s.rule.turn = ties ? 0 : any(-160, 160) / 16384;
    return s;
}

constexpr unsigned seed = 20261126;

TEST(Bedding, AgreesWithGlpkOnRandomFaces) {
    std::mt19937 random(seed);
    int planes = 0, refused = 0, assumed = 0, steep = 0;
    std::array<int, 6> kinds{};
    double worst = 0;
    for (int i = 0; i < 4000; ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed) + " scene " + std::to_string(i));
        Scene s = random_scene(random);
        const BeddingAnswer answer = bed_as_plane(s.spots, s.outline, s.rule);
        const PlaneOpinion outside = glpk_lowest(s.spots, s.middle, s.rule);
        ASSERT_NE(outside.state, PlaneOpinion::State::none);
        if (outside.state == PlaneOpinion::State::unbounded) {
            ++refused;
            EXPECT_FALSE(answer.bedding);
            EXPECT_FALSE(answer.doubts.empty());
            continue;
        }
        if (!answer.bedding && answer.refused.find("steep") != std::string::npos) {
            ++steep;
            EXPECT_GT(std::hypot(outside.plane.b, outside.plane.c), 0.9);  // GLPK's may be another of the lowest
            continue;
        }
        std::optional<Bedding> bedding = answer.bedding;
        if (!bedding) {  // bounded, but a tilt is not told: with none assumed there, as low as any
            for (const auto& doubt : answer.doubts) EXPECT_NE(doubt.kind, Kind::middle_outside);
            s.rule.assume = true;
            bedding = bed_as_plane(s.spots, s.outline, s.rule).bedding;
            ++assumed;
        }
        ASSERT_TRUE(bedding) << answer.refused;
        ++planes;
        ++kinds[static_cast<std::size_t>(s.kind)];
        EXPECT_NEAR(bedding->back_at_middle, outside.value, 1e-7);
        worst = std::max(worst, std::abs(bedding->back_at_middle - outside.value));
        EXPECT_FALSE(bedding->rests_on.empty());
        for (const auto& spot : bedding->spots) EXPECT_GE(spot.bed, s.rule.bed_min - 1e-9);
    }
    printf("seed %u: %d planes as GLPK's, worst difference %.1e mm; %d with a tilt assumed; %d unbounded, %d steep\n",
           seed, planes, worst, assumed, refused, steep);
    EXPECT_LT(steep, 100);
    EXPECT_GT(planes, 2000);
    EXPECT_GT(refused, 300);
    EXPECT_GT(assumed, 3);
    for (const int kind : kinds) EXPECT_GT(kind, 50);
}

TEST(Bedding, AmongEquallyLowPlanesTheGreatestBedIsLeast) {
    std::mt19937 random(seed + 1);
    int compared = 0, rocking = 0;
    for (int i = 0; i < 1500; ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed + 1) + " scene " + std::to_string(i));
        const Scene s = random_scene(random);
        const auto bedding = bed_as_plane(s.spots, s.outline, s.rule).bedding;
        if (!bedding) continue;
        const auto outside = glpk_least_greatest_bed(s.spots, s.middle, s.rule);
        ASSERT_EQ(outside.state, PlaneOpinion::State::solved);
        EXPECT_NEAR(bedding->greatest_bed, outside.value, 1e-7);
        ++compared;
        // How often it matters: any lowest plane, GLPK's first, may leave a thicker bed.
        const BackPlane any = glpk_lowest(s.spots, s.middle, s.rule).plane;
        double thickest = 0;
        for (const auto& p : s.spots) thickest = std::max(thickest, any.at(p.u, p.v) - p.n - s.rule.substrate);
        if (thickest > bedding->greatest_bed + 0.01) ++rocking;
    }
    EXPECT_GT(compared, 700);
    EXPECT_GT(rocking, 10);
}

// Ill-conditioned on purpose, in no rounded numbers: spots in a strip of a millimetre, the panel beside them, all far
// from the wall's corner. Whatever is answered holds at every spot; whatever is not says why.
TEST(Bedding, HoldsOverThinStripsFarAway) {
    std::mt19937 random(seed + 3);
    const auto any = [&](double from, double to) { return std::uniform_real_distribution<double>(from, to)(random); };
    int held = 0, steep = 0;
    for (int i = 0; i < 4000; ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed + 3) + " scene " + std::to_string(i));
        std::vector<WallPoint> spots;
        for (int k = 0; k < 3 + i % 40; ++k) {
            const double along = any(0, 2500);
            const double across = any(-0.8, 0.8);
            spots.push_back({17000 + 0.37 * along + across, along, 0.05 * along + any(-3, 3)});
            if (i % 2 == 0) spots.back().n = 0.05 * along - 0.01 * across;
        }
        BeddingRule rule = plain();
        rule.assume = true;
        rule.bed_max = any(2, 12);
        const Polygon outline = sheet(17000 + any(-900, 900), any(0, 900));
        const BeddingAnswer answer = bed_as_plane(spots, outline, rule);
        if (!answer.bedding) {
            ++steep;
            EXPECT_NE(answer.refused.find("steep"), std::string::npos) << answer.refused;
            continue;
        }
        ++held;
        for (const auto& spot : answer.bedding->spots) EXPECT_GE(spot.bed, bed_min - 1e-9);
        for (const auto least : {LeastPlaning::total, LeastPlaning::deepest}) {
            const PlaningAnswer planing = least_planing(spots, outline, rule, least);
            if (!planing.planing) {
                EXPECT_NE(planing.refused.find("steep"), std::string::npos) << planing.refused;
                continue;
            }
            for (const auto& spot : planing.planing->bedding.spots) {
                EXPECT_GE(spot.bed, bed_min - 1e-9);
                EXPECT_LE(spot.bed, *rule.bed_max + 1e-9);
            }
        }
    }
    EXPECT_GT(held, 1000);
    EXPECT_GT(steep, 100);
}

TEST(Bedding, RelationsOverRandomFaces) {
    std::mt19937 random(seed + 2);
    int compared = 0, higher = 0, unique = 0, moves = 0;
    for (int i = 0; i < 2000; ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed + 2) + " scene " + std::to_string(i));
        const Scene s = random_scene(random);
        BeddingRule rule = s.rule;
        const auto before = bed_as_plane(s.spots, s.outline, rule).bedding;
        if (!before) continue;
        ++compared;
        const double middle = before->back_at_middle;
        // Raising a spot never lowers the back at the middle; lowering never raises it.
        auto spots = s.spots;
        auto& moved = spots[random() % spots.size()];
        moved.n += 2.5;
        if (const auto raised = bed_as_plane(spots, s.outline, rule).bedding) {
            EXPECT_GE(raised->back_at_middle, middle - 1e-9);
            ++moves;
        }
        moved.n -= 5;
        if (const auto lowered = bed_as_plane(spots, s.outline, rule).bedding) {
            EXPECT_LE(lowered->back_at_middle, middle + 1e-9);
            ++moves;
        }
        // A constant added to the face, or to the substrate, is added to a, and nothing else moves.
        spots = s.spots;
        for (auto& spot : spots) spot.n += 7.25;
        const Bedding lifted = bedded(spots, rule, s.outline);
        EXPECT_NEAR(lifted.back_at_middle, middle + 7.25, 1e-9);
        EXPECT_NEAR(lifted.greatest_bed, before->greatest_bed, 1e-6);
        rule.substrate += 3;
        EXPECT_NEAR(bedded(s.spots, rule, s.outline).back_at_middle, middle + 3, 1e-9);
        // A tilt added to the face is added to a free plane: the beds stay.
        rule = s.rule;
        if (!rule.plumb && !rule.turn) {
            spots = s.spots;
            for (auto& spot : spots) spot.n += 0.004 * spot.u - 0.003 * spot.v;
            const Bedding tilted = bedded(spots, rule, s.outline);
            EXPECT_NEAR(tilted.greatest_bed, before->greatest_bed, 1e-6);
            EXPECT_NEAR(tilted.back_at_middle, middle + 0.004 * s.middle.x - 0.003 * s.middle.y, 1e-8);
            ++unique;
        }
        // Holding it plumb never lowers it.
        BeddingRule plumb = rule;
        plumb.plumb = true;
        if (const auto held = bed_as_plane(s.spots, s.outline, plumb).bedding) {
            EXPECT_GE(held->back_at_middle, middle - 1e-9);
            if (held->back_at_middle > middle + 0.01) ++higher;
        }
    }
    EXPECT_GT(compared, 1000);
    EXPECT_GT(higher, 200);
    EXPECT_GT(unique, 400);
    EXPECT_GT(moves, 2000);
}

}  // namespace
}  // namespace standproud
