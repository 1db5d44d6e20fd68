// Openings of walls: panels and layers cut round them, gaps beside them, strips in their reveals. Source of every
// check: closed form, but where it says otherwise. Back wall of `recess`: panels from 13 to 1187 across, 4 to 2396 up.
#include "modeler/openings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

#include "modeler/clearance.hpp"
#include "modeler/cut_away.hpp"
#include "modeler/gaps.hpp"
#include "modeler/parts.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using testing::job_of;
using testing::model_of;
using testing::recess;

/// The recess with a list of the back wall's, and with joins there.
std::string with_list(const char* list, const std::string& entries, const std::string& joins) {
    std::string text = recess("");
    std::string keys = std::string(list) + " = [" + entries + "]\n";
    if (!joins.empty()) keys += "joins = [" + joins + "]\n";
    text.insert(text.find("[walls.studs]"), keys);
    return text;
}

std::string with_openings(const std::string& openings, const std::string& joins = "") {
    return with_list("openings", openings, joins);
}

std::string opening(double left, double right, double bottom, double top, const std::string& more = "") {
    return "{id = \"window\", left = " + std::to_string(left) + ", right = " + std::to_string(right) +
           ", bottom = " + std::to_string(bottom) + ", top = " + std::to_string(top) + more + "}";
}

std::vector<Panel> back_panels(const Model& model) {
    std::vector<Panel> found;
    for (const auto& panel : model.panels) {
        if (panel.id.rfind("back-", 0) == 0) found.push_back(panel);
    }
    return found;
}

std::vector<PanelJoint> joints_of_kind(const Model& model, JointKind kind) {
    std::vector<PanelJoint> found;
    for (const auto& joint : panel_joints(model)) {
        if (joint.kind == kind && model.job.walls[joint.wall].id == "back") found.push_back(joint);
    }
    return found;
}

const PanelJoint& named(const std::vector<PanelJoint>& joints, const std::string& name) {
    for (const auto& joint : joints) {
        if (joint.name == name) return joint;
    }
    throw std::runtime_error("no gap " + name);
}

void expect_extent(const Profile& shape, double left, double right, double bottom, double top, double within = 1e-9) {
    const auto e = extent(shape);
    EXPECT_NEAR(e[0], left, within);
    EXPECT_NEAR(e[1], right, within);
    EXPECT_NEAR(e[2], bottom, within);
    EXPECT_NEAR(e[3], top, within);
}

/// What rounding an inside corner leaves on the panel, mm2.
double in_corner(double radius) { return (1 - pi / 4) * radius * radius; }

TEST(Openings, WindowWithinAPanel) {
    const Model model = model_of(with_openings(opening(400, 800, 1200, 1800)));
    const auto panels = back_panels(model);
    ASSERT_EQ(panels.size(), 1u);
    ASSERT_EQ(panels[0].cuts.size(), 1u);
    EXPECT_FALSE(panels[0].cuts[0].notch);
    expect_extent(panels[0].cuts[0].shape, 396, 804, 1196, 1804);
    EXPECT_EQ(panels[0].cuts[0].shape.radius, 5);
    EXPECT_NEAR(cut_area(panels[0]), 1174.0 * 2392 - (408.0 * 608 - 4 * in_corner(5)), 1e-6);
    const auto gaps = joints_of_kind(model, JointKind::opening);
    ASSERT_EQ(gaps.size(), 4u);
    EXPECT_NEAR(named(gaps, "left of window, back-1").length, 608, 1e-9);
    EXPECT_NEAR(named(gaps, "left of window, back-1").from.x, 398, 1e-9);
    EXPECT_NEAR(named(gaps, "left of window, back-1").first_moves, 396 - 600, 1e-9);
    EXPECT_NEAR(named(gaps, "head of window, back-1").length, 408, 1e-9);
    EXPECT_NEAR(named(gaps, "head of window, back-1").from.y, 1802, 1e-9);
    EXPECT_NEAR(named(gaps, "head of window, back-1").first_moves, 1200 - 1804, 1e-9);
    EXPECT_NEAR(named(gaps, "sill of window, back-1").from.y, 1198, 1e-9);
}

TEST(Openings, ItsGapIsItsOwnElseTheJobs) {
    const Model own = model_of(with_openings(opening(400, 800, 1200, 1800, ", gap = 7, corner_radius = 8")));
    expect_extent(back_panels(own)[0].cuts[0].shape, 393, 807, 1193, 1807);
    EXPECT_EQ(back_panels(own)[0].cuts[0].shape.radius, 8);
    std::string text = with_openings(opening(400, 800, 1200, 1800));
    text.replace(text.find("[panels]"), 8, "[panels]\nopening_gap = 6");
    expect_extent(back_panels(model_of(text))[0].cuts[0].shape, 394, 806, 1194, 1806);
}

TEST(Openings, JustWithinAndJustOverTheEdge) {
    // The gap's edge lies 4 left of the opening's; the panel starts at 13.
    const auto cut = [](double left) {
        return back_panels(model_of(with_openings(opening(left, 800, 1200, 1800)))).at(0).cuts.at(0);
    };
    EXPECT_FALSE(cut(17.01).notch);
    EXPECT_TRUE(cut(16.99).notch);
    EXPECT_NEAR(extent(cut(17.01).shape)[0], 13.01, 1e-9);
    EXPECT_LT(extent(cut(16.99).shape)[0], 13 - 5);  // well beyond: only inside corners are round
}

TEST(Openings, DoorwayIsANotchInTheBase) {
    const Model model = model_of(with_openings(opening(400, 800, 0, 2000)));
    const auto panels = back_panels(model);
    ASSERT_EQ(panels.size(), 1u);
    ASSERT_TRUE(panels[0].cuts.at(0).notch);
    EXPECT_NEAR(cut_area(panels[0]), 1174.0 * 2392 - 408.0 * 2000 + 2 * in_corner(5), 0.2);
    const auto base = joints_of_kind(model, JointKind::base);
    ASSERT_EQ(base.size(), 2u);
    EXPECT_NEAR(named(base, "base of back-1, part 1").length, 396 - 13, 1e-9);
    EXPECT_NEAR(named(base, "base of back-1, part 2").length, 1187 - 804, 1e-9);
    const auto gaps = joints_of_kind(model, JointKind::opening);
    ASSERT_EQ(gaps.size(), 3u);
    EXPECT_NEAR(named(gaps, "left of window, back-1").length, 2000, 1e-9);  // from 4 to 2004
    EXPECT_NEAR(named(gaps, "head of window, back-1").length, 408, 1e-9);
    EXPECT_EQ(joints_of_kind(model, JointKind::ceiling).size(), 1u);
}

TEST(Openings, FromFloorToTopPartsThePanel) {
    const Model model = model_of(with_openings(opening(400, 800, 0, 2400)));
    const auto panels = back_panels(model);
    ASSERT_EQ(panels.size(), 2u);
    expect_extent(panels[0].outline, 13, 396, 4, 2396);
    expect_extent(panels[1].outline, 804, 1187, 4, 2396);
    EXPECT_TRUE(panels[0].cuts.empty());
    EXPECT_FALSE(panels[0].sides.right);
    EXPECT_TRUE(joints_of_kind(model, JointKind::join).empty());
    EXPECT_EQ(joints_of_kind(model, JointKind::base).size(), 2u);
    EXPECT_EQ(joints_of_kind(model, JointKind::opening).size(), 2u);
    // Half a millimetre beside a cut is nothing, a millimetre and a bit is a panel.
    EXPECT_EQ(back_panels(model_of(with_openings(opening(17.5, 800, 0, 2400)))).size(), 1u);
    EXPECT_EQ(back_panels(model_of(with_openings(opening(18.01, 800, 0, 2400)))).size(), 2u);
}

TEST(Openings, FromSideToSidePartsThePanel) {
    const Model model = model_of(with_openings(opening(0, 1200, 1500, 1800)));
    const auto panels = back_panels(model);
    ASSERT_EQ(panels.size(), 2u);
    expect_extent(panels[0].outline, 13, 1187, 4, 1496);
    expect_extent(panels[1].outline, 13, 1187, 1804, 2396);
    EXPECT_EQ(joints_of_kind(model, JointKind::base).size(), 1u);
    EXPECT_EQ(joints_of_kind(model, JointKind::ceiling).size(), 1u);
    const auto gaps = joints_of_kind(model, JointKind::opening);
    ASSERT_EQ(gaps.size(), 2u);
    EXPECT_NEAR(named(gaps, "sill of window, back-1").length, 1174, 1e-9);
    EXPECT_NEAR(named(gaps, "head of window, back-2").length, 1174, 1e-9);
    // In each corner both panels meet the side wall's one: the sealed gap of the side wall, and the one behind it.
    double sealed = 0;
    int stretches = 0;
    for (const auto& joint : panel_joints(model)) {
        if (joint.kind != JointKind::corner || !joint.sealed || model.job.walls[joint.wall].id != "left") continue;
        sealed += joint.length;
        ++stretches;
    }
    EXPECT_EQ(stretches, 2);
    EXPECT_NEAR(sealed, (1496 - 4) + (2396 - 1804), 1e-9);
}

TEST(Openings, JoinRunsIntoTheWindow) {
    const Model model = model_of(with_openings(opening(400, 800, 1200, 1800), "{across = 600, from = \"left bare\"}"));
    const auto panels = back_panels(model);
    ASSERT_EQ(panels.size(), 2u);
    EXPECT_TRUE(panels[0].cuts.at(0).notch);
    EXPECT_TRUE(panels[1].cuts.at(0).notch);
    const double whole = (598 - 13.0) * 2392 - (598 - 396.0) * 608 + 2 * in_corner(5);
    EXPECT_NEAR(cut_area(panels[0]), whole, 0.2);
    EXPECT_NEAR(cut_area(panels[1]), whole, 0.2);
    const auto joins = joints_of_kind(model, JointKind::join);
    ASSERT_EQ(joins.size(), 2u);
    EXPECT_NEAR(named(joins, "join back-1 / back-2, part 1").length, 1196 - 4, 1e-9);
    EXPECT_NEAR(named(joins, "join back-1 / back-2, part 2").length, 2396 - 1804, 1e-9);
    const auto gaps = joints_of_kind(model, JointKind::opening);
    ASSERT_EQ(gaps.size(), 6u);
    EXPECT_NEAR(named(gaps, "sill of window, back-1").length, 598 - 396, 1e-9);
    EXPECT_NEAR(named(gaps, "right of window, back-2").length, 608, 1e-9);
}

TEST(Openings, StripsOfALinedReveal) {
    // F = 17, bed 2, panel 6, gap 4: the bed takes 2 of the 4 that the wall's panel stays back.
    const Model model = model_of(with_openings(opening(400, 800, 1200, 1800, ", reveal = 90")));
    expect_extent(back_panels(model)[0].cuts.at(0).shape, 398, 802, 1198, 1802);
    ASSERT_EQ(model.reveals.size(), 4u);
    const auto size = [&](std::size_t i) {
        const auto e = extent(model.reveals[i].outline);
        return Vec2{e[1] - e[0], e[3] - e[2]};
    };
    EXPECT_EQ(model.reveals[0].id, "back-window-sill");
    EXPECT_NEAR(size(0).x, 400 - 8, 1e-9);
    EXPECT_NEAR(size(0).y, 17 + 90 - 4, 1e-9);
    EXPECT_EQ(model.reveals[1].id, "back-window-left-jamb");
    EXPECT_NEAR(size(1).x, 17 + 90 - 4, 1e-9);
    EXPECT_NEAR(size(1).y, 600 - 2 * (2 + 6 + 4), 1e-9);
    EXPECT_EQ(model.reveals[3].id, "back-window-head");
    // Fronts are flush with the wall's panels, and they look into the opening.
    const Frame& wall = model.room.walls[1];
    for (const auto& strip : model.reveals) {
        double front = -1e9;
        for (const Vec2 p : strip.outline.points)
            front = std::max(front, wall.from_room(strip.place.to_room(p.x, p.y, 0))[2]);
        EXPECT_NEAR(front, 17, 1e-9) << strip.id;
        const auto in = wall.from_room(strip.place.to_room(extent(strip.outline)[0], extent(strip.outline)[2], 6));
        const auto out = wall.from_room(strip.place.to_room(extent(strip.outline)[0], extent(strip.outline)[2], 0));
        const Vec2 middle{600, 1500};
        EXPECT_LT(norm(Vec2{in[0], in[1]} - middle), norm(Vec2{out[0], out[1]} - middle)) << strip.id;
    }
    // A doorway has no sill; its jambs stand on the gap under the panels.
    const Model door = model_of(with_openings(opening(400, 800, 0, 2000, ", reveal = 90")));
    ASSERT_EQ(door.reveals.size(), 3u);
    expect_extent(door.reveals[0].outline, -17, 86, 4, 2000 - 12);
}

TEST(Openings, NoTwoPartsOverlap) {
    for (const std::string& one :
         {opening(400, 800, 1200, 1800, ", reveal = 90"), opening(400, 800, 0, 2000, ", reveal = 60"),
          opening(0, 1200, 1500, 1800), opening(100, 1000, 0, 2400), opening(2, 60, 1000, 1100)}) {
        const Model model = model_of(with_openings(one, "{across = 650, from = \"left bare\"}"));
        const auto parts = build_parts(model);
        const auto bodies = make_bodies(parts);
        EXPECT_GT(bodies.size(), 10u);
        for (const auto& near : near_pairs(bodies, {})) {
            EXPECT_FALSE(overlaps(near)) << one << ": " << parts[near.a].id << " and " << parts[near.b].id << " by "
                                         << near.distance;
        }
    }
}

TEST(Openings, BoardsStudsAndMasonryEndAtTheEdge) {
    const Model model = model_of(with_openings(opening(400, 800, 1200, 1800)));
    double stud = 0;
    for (const auto& part : build_parts(model)) {
        if (part.id == "back/board-1") {
            EXPECT_NEAR(volume(part), (1200.0 * 2400 - 400.0 * 600) * 9, 1);
        }
        if (part.id.rfind("back/stud-", 0) != 0) continue;
        const auto e = extent(part.outline);
        if (e[0] >= 400 && e[1] <= 800) stud += e[3] - e[2];
        EXPECT_TRUE(e[1] <= 400 || e[0] >= 800 || e[3] <= 1200 || e[2] >= 1800 || e[0] < 400 || e[1] > 800) << part.id;
    }
    EXPECT_GT(stud, 0);  // a stud in the opening is left above and below it
    EXPECT_NEAR(std::fmod(stud, 1800), 0, 1e-9);
}

std::string with_levels(const std::string& levels, const std::string& joins = "") {
    return with_list("level_joins", levels, joins);
}

TEST(Openings, InsideCornersKeepOffTheFrameAndTheStrips) {
    const auto refused = [](const std::string& more) {
        Faults faults;
        (void)build_model(job_of(with_openings(opening(400, 800, 1200, 1800, more)), faults), faults);
        return faults.empty() ? std::string() : faults[0].key + ": " + faults[0].allowed;
    };
    // Unlined, gap 4: 4 / (1 - sqrt 1/2) = 13.66.
    EXPECT_EQ(refused(", corner_radius = 13.65"), "");
    EXPECT_EQ(refused(", corner_radius = 13.67"), "walls.openings.corner_radius: up to 13.6 mm, or a wider gap");
    // Lined: the panel stays 2 back, the strip starts 6 along: 8 + sqrt 24 = 12.90.
    EXPECT_EQ(refused(", reveal = 90, corner_radius = 12.89"), "");
    EXPECT_NE(refused(", reveal = 90, corner_radius = 12.91"), "");
    // As the solids have it: the strip's bed is free of the panel just below that, and not above it.
    for (const double radius : {12.85, 13.2}) {
        Job job = model_of(with_openings(opening(400, 800, 1200, 1800, ", reveal = 90"))).job;
        for (Wall& wall : job.walls) {
            for (auto& one : wall.openings) one.corner_radius = radius;
        }
        Faults faults;
        const auto parts = build_parts(build_model(job, faults));
        const auto near = near_pairs(make_bodies(parts), {});
        const bool meets =
            std::any_of(near.begin(), near.end(),
                        [&](const Separation& s) { return overlaps(s) && parts[s.a].layer == "panel"; }) ||
            std::any_of(near.begin(), near.end(),
                        [&](const Separation& s) { return overlaps(s) && parts[s.b].layer == "panel"; });
        EXPECT_EQ(meets, radius > 12.9) << radius;
    }
}

TEST(LevelJoins, PartTheColumns) {
    const Model model = model_of(with_levels("{height = 1500, gap = 6}", "{across = 600, from = \"left bare\"}"));
    const auto panels = back_panels(model);
    ASSERT_EQ(panels.size(), 4u);
    expect_extent(panels[0].outline, 13, 598, 4, 1497);
    expect_extent(panels[1].outline, 13, 598, 1503, 2396);
    expect_extent(panels[2].outline, 602, 1187, 4, 1497);
    EXPECT_EQ(panels[3].column, 1u);
    EXPECT_EQ(panels[3].row, 1u);
    const auto joins = joints_of_kind(model, JointKind::join);
    ASSERT_EQ(joins.size(), 4u);
    const PanelJoint& level = named(joins, "level join back-1 / back-2");
    EXPECT_NEAR(level.length, 598 - 13, 1e-9);
    EXPECT_NEAR(level.from.y, 1500, 1e-9);
    EXPECT_EQ(level.gap.width, 6);
    EXPECT_NEAR(level.first_moves, (1497 - 4) / 2.0, 1e-9);
    EXPECT_NEAR(level.second_moves, (2396 - 1503) / 2.0, 1e-9);
    EXPECT_NEAR(named(joins, "join back-1 / back-3").length, 1497 - 4, 1e-9);
    EXPECT_NEAR(named(joins, "join back-2 / back-4").length, 2396 - 1503, 1e-9);
    EXPECT_EQ(joints_of_kind(model, JointKind::base).size(), 2u);
    EXPECT_EQ(joints_of_kind(model, JointKind::ceiling).size(), 2u);
    // Out of the panels: refused, at its line.
    Faults faults;
    (void)build_model(job_of(with_levels("{height = 2397}"), faults), faults);
    ASSERT_FALSE(faults.empty());
    EXPECT_NE(faults[0].says.find("no size left"), std::string::npos);
}

/// Over random recesses at any angles: nothing overlaps, and no panel is counted twice.
TEST(Openings, NoPartsOverlapOverRandomRecesses) {
    const unsigned seed = 20261126;
    std::mt19937 random(seed);
    int looked = 0;
    for (int round = 0; round < 60; ++round) {
        Job job = testing::random_job(random);
        std::uniform_real_distribution<double> part(0, 1);
        Wall& wall = job.walls[round % job.walls.size()];
        WallOpening opening;
        opening.id = opening.name = "window";
        opening.left = wall.width * (0.1 + 0.4 * part(random));
        opening.right = opening.left + wall.width * 0.3;
        opening.bottom = part(random) < 0.3 ? 0 : wall.height * (0.3 + 0.2 * part(random));
        opening.top = opening.bottom + wall.height * 0.35;
        if (part(random) < 0.5) opening.reveal = 40 + 60 * part(random);
        wall.openings = {opening};
        if (part(random) < 0.5) wall.level_joins = {{wall.height * (0.3 + 0.4 * part(random)), {}, {}}};
        Faults faults;
        const Model model = build_model(job, faults);
        if (!faults.empty()) continue;  // a fitting lies in it
        ++looked;
        std::vector<Part> parts;
        for (auto& one : build_parts(model)) {
            if (one.fitting.empty() && one.layer != "tray" && one.layer != "frame") parts.push_back(std::move(one));
        }
        for (const auto& near : near_pairs(make_bodies(parts), {})) {
            // Walls that do not meet in a corner may cross in a random recess.
            const auto at = [&](std::size_t i) { return wall_index(job, parts[i].wall); };
            const std::size_t apart = std::max(at(near.a), at(near.b)) - std::min(at(near.a), at(near.b));
            if (apart > 1) continue;
            EXPECT_FALSE(overlaps(near)) << "seed " << seed << " round " << round << ": " << parts[near.a].id << " and "
                                         << parts[near.b].id << " by " << near.distance;
        }
    }
    EXPECT_GT(looked, 10);
}

/// Seen in a mirror a recess has the same panels, the other way round.
TEST(Openings, MirroredAlike) {
    const unsigned seed = 20261127;
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> part(0, 1);
    const auto sizes = [](const Model& model) {
        std::vector<std::pair<double, double>> all;
        for (const auto* panels : {&model.panels, &model.reveals}) {
            for (const auto& panel : *panels) all.emplace_back(cut_area(panel), extent(panel.outline)[3]);
        }
        std::sort(all.begin(), all.end());
        return all;
    };
    int looked = 0;
    for (int round = 0; round < 60; ++round) {
        Job job = testing::random_job(random);
        Wall& wall = job.walls[0];
        WallOpening opening;
        opening.id = opening.name = "window";
        opening.left = std::round(wall.width * 0.5 * part(random));
        opening.right = opening.left + std::round(wall.width * 0.4);
        opening.bottom = part(random) < 0.3 ? 0 : 1100;
        opening.top = opening.bottom + 600;
        opening.reveal = 70;
        wall.openings = {opening};
        wall.level_joins = {{1300, {}, {}}};
        Faults faults;
        const auto ours = sizes(build_model(job, faults));
        const auto theirs = sizes(build_model(testing::mirrored(job), faults));
        if (!faults.empty()) continue;
        ++looked;
        ASSERT_EQ(ours.size(), theirs.size()) << "seed " << seed << " round " << round;
        for (std::size_t i = 0; i < ours.size(); ++i) {
            EXPECT_NEAR(ours[i].first, theirs[i].first, 1e-4) << "seed " << seed << " round " << round;
            EXPECT_NEAR(ours[i].second, theirs[i].second, 1e-6) << "seed " << seed << " round " << round;
        }
    }
    EXPECT_GT(looked, 10);
}

TEST(Openings, AreasAddUpOverRandomOpenings) {
    // Panels less what the opening takes, counted as rectangles, and the rounding that stays in each inside corner.
    const unsigned seed = 20261125;
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::round(std::uniform_real_distribution<double>(low, high)(random));
    };
    int looked = 0;
    for (int round = 0; round < 300; ++round) {
        const double left = between(0, 1100);
        const double right = std::min(1200.0, left + between(60, 900));
        const double bottom = between(0, 2300);
        const double top = std::min(2400.0, bottom + between(60, 2400));
        if (right - left < 50 || top - bottom < 50) continue;
        const double join = between(150, 1050);
        const Model model = model_of(with_openings(opening(left, right, bottom, top),
                                                   "{across = " + std::to_string(join) + ", from = \"left bare\"}"));
        double expected = 0;
        int rounded = 0;
        bool sliver = false;
        for (const auto& [from, to] : {std::pair{13.0, join - 2}, std::pair{join + 2, 1187.0}}) {
            const double a = std::max(from, left - 4);
            const double b = std::min(to, right + 4);
            const double c = std::max(4.0, bottom - 4);
            const double d = std::min(2396.0, top + 4);
            expected += (to - from) * 2392;
            if (b <= a || d <= c) continue;
            sliver |= b - a < 5 || d - c < 5;  // a corner's arc would run out of the panel
            expected -= (b - a) * (d - c);
            for (const double beside : {a - from, to - b, c - 4, 2396 - d}) sliver |= beside > 0 && beside < 1.5;
            const bool parted = (a == from && b == to) || (c == 4 && d == 2396);
            const int inside = (a > from && c > 4) + (a > from && d < 2396) + (b < to && c > 4) + (b < to && d < 2396);
            if (parted) continue;
            expected += inside * in_corner(5);
            rounded += inside;
        }
        if (sliver) continue;
        ++looked;
        double made = 0;
        for (const auto& panel : back_panels(model)) made += cut_area(panel);
        // Chords within 0.02 mm of a quarter circle of radius 5 leave two thirds of 0.02 x 7.85 mm2 more, at most.
        EXPECT_GE(made, expected - 1e-6) << "seed " << seed << ", round " << round << ": " << left << " " << right
                                         << " " << bottom << " " << top << " " << join;
        EXPECT_LE(made, expected + 0.11 * rounded + 1e-6) << "seed " << seed << ", round " << round << ": " << left
                                                          << " " << right << " " << bottom << " " << top << " " << join;
    }
    EXPECT_GT(looked, 200);
}

TEST(Openings, CutAwayAgainstShapesByHand) {
    const Polygon square{{{0, 0}, {100, 0}, {100, 100}, {0, 100}}};
    // A corner taken off, one inside corner of radius 10: chords leave at most 0.02 less than the arc.
    const Polygon corner = cut_away(square, {RoundedRect::rect({110, 110}, 100, 100, 10)});
    EXPECT_NEAR(area(corner), 10000 - 1600 + in_corner(10), 0.4);
    EXPECT_GT(corner.points.size(), 6u);
    EXPECT_EQ(cut_away(square, {RoundedRect::rect({110, 110}, 100, 100, 0)}).points.size(), 6u);
    EXPECT_EQ(cut_away(square, {RoundedRect::rect({300, 50}, 100, 100, 0)}).points.size(), 4u);
    EXPECT_TRUE(cut_away(square, {RoundedRect::rect({50, 50}, 200, 200, 0)}).points.empty());
    // Two notches opposite each other leave a waist; meeting, they leave the larger half.
    const auto notch = [](double x, double width) { return RoundedRect::rect({x, 60}, width, 20, 0); };
    EXPECT_NEAR(area(cut_away(square, {notch(0, 90), notch(100, 90)})), 10000 - 2 * 45 * 20, 1e-9);
    EXPECT_NEAR(area(cut_away(square, {notch(0, 110), notch(100, 110)})), 100 * 50, 1e-9);
}

TEST(Openings, WhatTheReaderRefuses) {
    const auto refused = [](const std::string& openings) {
        Faults faults;
        (void)job_of(with_openings(openings), faults);
        std::string all;
        for (const auto& fault : faults) all += fault.key + ": " + fault.says + "; " + fault.allowed + "\n";
        return all;
    };
    EXPECT_EQ(refused(opening(400, 450, 1200, 1250)), "");
    EXPECT_NE(refused(opening(400, 449.9, 1200, 1300)).find("under 50 mm wide"), std::string::npos);
    EXPECT_NE(refused(opening(400, 500, 1200, 1249)).find("50 mm more than bottom"), std::string::npos);
    EXPECT_EQ(refused(opening(400, 1200, 1200, 2400)), "");
    EXPECT_NE(refused(opening(400, 1200.1, 1200, 2400)).find("reaches outside wall \"back\""), std::string::npos);
    EXPECT_NE(refused(opening(400, 800, 1200, 2400.1))
                  .find("walls.openings.top: opening \"window\" reaches outside wall "
                        "\"back\"; up to 2400 mm"),
              std::string::npos);
    const std::string second = ", {id = \"hatch\", left = 820, right = 900, bottom = 1200, top = 1300}";
    EXPECT_EQ(refused(opening(400, 800, 1200, 1800) + second), "");
    EXPECT_NE(refused(opening(400, 800.1, 1200, 1800) + second).find("overlap or nearly touch"), std::string::npos);
    EXPECT_NE(refused(opening(100, 200, 100, 200) + ", " + opening(400, 500, 100, 200)).find("two openings"),
              std::string::npos);
    EXPECT_NE(refused(opening(400, 800, 1200, 1800, ", depth = 3")).find("depth"), std::string::npos);
    EXPECT_NE(refused(opening(400, 800, 1200, 1800, ", corner_radius = 0")).find("corner_radius"), std::string::npos);
}

std::vector<std::string> faults_with(const std::string& one) {
    Faults faults;
    (void)build_model(job_of(with_openings(one), faults), faults);
    std::vector<std::string> said;
    for (const auto& fault : faults) said.push_back(fault.key + ": " + fault.says);
    return said;
}

TEST(Openings, CornersAreNoRounderThanTheCutOut) {
    // 100 + 2 x 30 = 160 wide, so up to 80.
    EXPECT_TRUE(faults_with(opening(400, 500, 1000, 1100, ", gap = 30, corner_radius = 80")).empty());
    EXPECT_EQ(faults_with(opening(400, 500, 1000, 1100, ", gap = 30, corner_radius = 80.1")).size(), 1u);
}

TEST(Openings, ARevealThatLeavesNoStripsIsAFault) {
    // Face 17: a strip ends 17 + reveal - gap from the frame.
    const auto shallow = faults_with(opening(400, 800, 1200, 1800, ", reveal = 1, gap = 18, corner_radius = 5"));
    ASSERT_EQ(shallow.size(), 1u);
    EXPECT_EQ(shallow[0],
              "walls.openings.reveal: the gaps of opening \"window\" of wall \"back\" leave no strips to line it");
    EXPECT_TRUE(faults_with(opening(400, 800, 1200, 1800, ", reveal = 1.1, gap = 18, corner_radius = 5")).empty());
}

}  // namespace
}  // namespace standproud
