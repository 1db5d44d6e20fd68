// Panel outlines, corners at every angle, and parts that never overlap. Source of every check: closed form.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>
#include <stdexcept>

#include "modeler/gaps.hpp"
#include "modeler/parts.hpp"
#include "support/apart.hpp"
#include "support/jobs.hpp"
#include "support/leaning.hpp"

namespace standproud {
namespace {

using testing::apart;
using testing::model_of;
using testing::recess;

const Panel& panel_named(const Model& model, const std::string& id) {
    for (const auto& panel : model.panels) {
        if (panel.id == id) return panel;
    }
    throw std::runtime_error("no panel " + id);
}

TEST(Panels, ThreeWallsByHand) {
    // Back lined first: runs to the side walls' boards (9) less 4. Sides stop 4 short of the back panel's face (17).
    const Model model = model_of(recess(""));
    const auto back = extent(panel_named(model, "back-1").outline);
    EXPECT_NEAR(back[0], 13, same_length);
    EXPECT_NEAR(back[1], 1200 - 13, same_length);
    EXPECT_NEAR(back[2], 4, same_length);
    EXPECT_NEAR(back[3], 2396, same_length);
    const auto left = extent(panel_named(model, "left-1").outline);
    EXPECT_NEAR(left[0], 0, same_length);
    EXPECT_NEAR(left[1], 900 - 21, same_length);
    EXPECT_DOUBLE_EQ(panel_named(model, "left-1").place.origin.x, 11);
}

TEST(Panels, JoinLeavesItsGapAboutItsCentre) {
    std::string text = recess("");
    text.insert(text.find("[walls.studs]"), "joins = [{across = 500, from = \"left finished\"}]\n");
    const Model model = model_of(text);
    EXPECT_NEAR(extent(panel_named(model, "back-1").outline)[1], 515, same_length);
    EXPECT_NEAR(extent(panel_named(model, "back-2").outline)[0], 519, same_length);
}

TEST(Panels, TrayAndTopLine) {
    std::string text = recess(
        "[tray]\nname = \"tray\"\nwall = \"back\"\nwidth = 1200\ndepth = 900\nbase = 0\nrim = 60\nwalls = "
        "[\"back\"]\n");
    text.replace(text.find("[panels]"), 8, "[panels]\ntop = 2100\ntop_gap = 0\ntray_gap = 5");
    const Model model = model_of(text);
    EXPECT_NEAR(extent(panel_named(model, "back-1").outline)[2], 65, same_length);
    EXPECT_NEAR(extent(panel_named(model, "back-1").outline)[3], 2100, same_length);
    EXPECT_NEAR(extent(panel_named(model, "left-1").outline)[2], 5, same_length);
}

/// The recess with lines of its own under wall back.
std::string with_back(const std::string& lines) {
    std::string text = recess("");
    return text.insert(text.find("[walls.studs]"), lines);
}

TEST(PanelGaps, FourOfAWallOfItsOwn) {
    const Model model = model_of(with_back("[walls.gaps]\nleft = 1.5\nright = 2\nbottom = 3.25\ntop = 5\n"));
    const auto back = extent(panel_named(model, "back-1").outline);
    EXPECT_NEAR(back[0], 9 + 1.5, same_length);
    EXPECT_NEAR(back[1], 1200 - 9 - 2, same_length);
    EXPECT_NEAR(back[2], 3.25, same_length);
    EXPECT_NEAR(back[3], 2400 - 5, same_length);
    // The others keep the job's 4.
    const auto left = extent(panel_named(model, "left-1").outline);
    EXPECT_NEAR(left[1], 900 - 17 - 4, same_length);
    EXPECT_NEAR(left[2], 4, same_length);
}

TEST(PanelGaps, EachSideOfACornerKeepsItsOwn) {
    std::string text = recess("");
    text.insert(text.find("[[walls]]\nid = \"back\""), "[walls.gaps]\nright = 7\n");
    const Model model = model_of(text);
    // Left is lined second: 7 from the face (17) of back, which still runs to 4 from left's board (9).
    EXPECT_NEAR(extent(panel_named(model, "left-1").outline)[1], 900 - 17 - 7, same_length);
    EXPECT_NEAR(extent(panel_named(model, "back-1").outline)[0], 13, same_length);
}

TEST(PanelGaps, JoinsTheirOwnTheWallsAndTheJobs) {
    const std::string joins =
        "joins = [{across = 300, from = \"left bare\", gap = 10}, {across = 700, from = \"left bare\"}]\n";
    const Model model = model_of(with_back(joins + "gaps = {join = 6}\n"));
    EXPECT_NEAR(extent(panel_named(model, "back-1").outline)[1], 295, same_length);
    EXPECT_NEAR(extent(panel_named(model, "back-2").outline)[0], 305, same_length);
    EXPECT_NEAR(extent(panel_named(model, "back-2").outline)[1], 697, same_length);
    EXPECT_NEAR(extent(panel_named(model, "back-3").outline)[0], 703, same_length);
    const Model plain = model_of(with_back(joins));
    EXPECT_NEAR(extent(panel_named(plain, "back-2").outline)[1], 698, same_length);
}

TEST(PanelGaps, AFreeEndHasNoneButItsOwn) {
    std::string text = recess("");
    EXPECT_NEAR(extent(panel_named(model_of(text), "left-1").outline)[0], 0, same_length);
    text.insert(text.find("[[walls]]\nid = \"back\""), "[walls.gaps]\nleft = 2.5\n");
    const Model model = model_of(text);
    EXPECT_NEAR(extent(panel_named(model, "left-1").outline)[0], 2.5, same_length);
    for (const auto& part : build_parts(model)) {
        if (part.id == "left/board-1") {
            EXPECT_NEAR(extent(part.outline)[0], 0, same_length) << "boards run to the end";
        }
    }
}

/// The three walls, back leaning by `lean` mm per m about its middle height, beds following.
Model leaning_back(const std::string& text, double lean) {
    Faults faults;
    const Job job = testing::job_of(text, faults);
    Model model = build_model(job, testing::survey_with_leans(job, {0, lean, 0}), faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    return model;
}

// A panel's plane leans by the angle of the wall; its edges keep their gaps through bed and panel.
TEST(PanelGaps, OfALeaningWall) {
    for (const double lean : {10.0, -10.0}) {
        SCOPED_TRACE(lean);
        std::string text = with_back("[walls.gaps]\nbottom = 3\ntop = 5\n");
        text.insert(text.find("[panels]") + 9, "top = 2000\n");
        const Model model = leaning_back(text, lean);
        const Panel& panel = panel_named(model, "back-1");
        const double tan = lean / 1000;
        const double cos = 1 / std::sqrt(1 + tan * tan);
        const double sin = tan * cos;
        // The plane's origin is 11 (board, bed) in front of the bare plane, where that plane crosses level 0.
        const double down = -11 * sin;
        const auto e = extent(panel.outline);
        EXPECT_NEAR(e[2], (3 - down + (lean > 0 ? 6 : -2) * sin) / cos, 1e-9);
        EXPECT_NEAR(e[3], (2000 - 5 - down + (lean > 0 ? -2 : 6) * sin) / cos, 1e-9);
    }
}

TEST(PanelGaps, AgainstALeaningWall) {
    std::string text = recess("");
    text.insert(text.find("[[walls]]\nid = \"back\""), "[walls.gaps]\nright = 7\nbottom = 3\n");
    const double tan = 0.01;
    const double cos = 1 / std::sqrt(1 + tan * tan);
    const Model model = leaning_back(text, 10);
    // Left stands upright and stops 7 mm, square to the leaning face (17), short of it: further at the top.
    double checked = 0;
    for (const Vec2 p : panel_named(model, "left-1").outline.points) {
        if (p.x < 450) continue;
        ++checked;
        EXPECT_NEAR(p.x, 900 - (17 + 7 + (p.y - 1200) * tan * cos) / cos, 1e-9) << p.y;
    }
    EXPECT_EQ(checked, 2);
    EXPECT_NEAR(extent(panel_named(model, "left-1").outline)[2], 3, 1e-9);
}

TEST(PanelGaps, AMitredCornerHasHalfOfEach) {
    for (const double own : {0.0, 4.0, 9.0}) {
        Faults faults;
        Job job = testing::job_of(recess(""), faults);
        job.walls.resize(2);
        job.walls[0].next_angle = 180;
        job.walls[0].gaps.right = EdgeGap{own, {}};
        job.walls[1].layers = job.walls[0].layers;
        const Model model = build_model(job, faults);
        EXPECT_NEAR(extent(panel_named(model, "left-1").outline)[1], 900 - own / 2, same_length);
        EXPECT_NEAR(extent(panel_named(model, "back-1").outline)[0], 2, same_length);
        for (const auto& joint : panel_joints(model)) {
            if (joint.kind == JointKind::corner) {
                EXPECT_NEAR(joint.gap.width, own / 2 + 2, same_length);
            }
        }
    }
}

TEST(PanelJoints, EveryGapWithItsWidthLengthAndWhatMoves) {
    std::string text =
        with_back("joins = [{across = 600, from = \"left bare\", gap = 5}]\ngaps = {left = 3, bottom = 8, top = 2}\n");
    text.insert(text.find("[[walls]]\nid = \"back\""), "[walls.gaps]\nright = 7\n");
    const Model model = model_of(text);
    const auto joints = panel_joints(model);
    const auto named = [&](const std::string& name) {
        const auto found = std::find_if(joints.begin(), joints.end(), [&](const auto& j) { return j.name == name; });
        if (found == joints.end()) throw std::runtime_error("no joint " + name);
        return *found;
    };
    EXPECT_EQ(joints.size(), 4u + 4u + 1u + 2u * 2u);
    EXPECT_EQ(named("base of back-1").gap.width, 8);
    EXPECT_NEAR(named("base of back-1").first_moves, (2400 - 8 - 2) / 2.0, same_length);
    EXPECT_NEAR(named("base of back-1").length, 597.5 - 12, same_length);
    EXPECT_EQ(named("top of back-2").gap.width, 2);
    EXPECT_EQ(named("top of left-1").gap.width, 4);
    const auto join = named("join back-1 / back-2");
    EXPECT_EQ(join.gap.width, 5);
    EXPECT_NEAR(join.first_moves, (597.5 - 12) / 2, same_length);
    EXPECT_NEAR(join.second_moves, (1187 - 602.5) / 2, same_length);
    EXPECT_NEAR(join.from.x, 600, same_length);
    const auto corner = named("corner left-1 / back-1");
    EXPECT_EQ(corner.gap.width, 7);
    EXPECT_TRUE(corner.sealed);
    EXPECT_NEAR(corner.first_moves, (900 - 24) / 2.0, same_length);
    EXPECT_EQ(corner.second_moves, 0);
    const auto behind = named("edge of back-1 behind left-1");
    EXPECT_EQ(behind.gap.width, 3);
    EXPECT_FALSE(behind.sealed);
    EXPECT_NEAR(behind.first_moves, (597.5 - 12) / 2, same_length);
}

TEST(LiningOrder, TheWallThatFacesTheWayInFirst) {
    Faults faults;
    const Model model = build_model(testing::job_of(recess(""), faults), faults);
    EXPECT_EQ(propose_order(model.job, model.room).walls, (std::vector<std::string>{"back", "left", "right"}));
    // Two walls at a right angle face the middle between their free ends alike: the wider first.
    Job two = model.job;
    two.walls.resize(2);
    EXPECT_EQ(propose_order(two, lay_out(two)).walls, (std::vector<std::string>{"back", "left"}));
    two.walls[0].width = 1200.01;
    EXPECT_EQ(propose_order(two, lay_out(two)).walls, (std::vector<std::string>{"left", "back"}));
    // A splay at 135 degrees faces it less than the back wall does, and more than the left one.
    Job splayed = model.job;
    splayed.walls[1].next_angle = 135;
    EXPECT_EQ(propose_order(splayed, lay_out(splayed)).walls, (std::vector<std::string>{"back", "right", "left"}));
    // Walls without panels have no place in it.
    two.walls[1].layers.clear();
    EXPECT_EQ(propose_order(two, lay_out(two)).walls, (std::vector<std::string>{"left"}));
    EXPECT_TRUE(same_corners(model.job, model.room, {"back", "left", "right"}, {"back", "right", "left"}));
    EXPECT_FALSE(same_corners(model.job, model.room, {"back", "left", "right"}, {"left", "back", "right"}));
}

struct PlanPart {
    const Part* part;
    Polygon outline;
};

std::vector<PlanPart> in_plan(const std::vector<Part>& parts, double v) {
    const Frame plan{{0, 0, 0}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}};
    std::vector<PlanPart> cut;
    for (const auto& piece : cut_level(parts, plan, v)) cut.push_back({&parts[piece.part], piece.outline});
    return cut;
}

Job corner_of(double angle, bool left_first, double board_a, double board_b) {
    Job job;
    for (const char* id : {"a", "b"}) {
        Wall wall;
        wall.id = id;
        wall.width = 1500;
        wall.height = 2400;
        wall.next_angle = angle;
        const double board = *id == 'a' ? board_a : board_b;
        wall.layers = {{LayerKind::board, "board", {board, 0.3, {}}, {}},
                       {LayerKind::membrane, "membrane", {1, 0.1, {}}, {}},
                       {LayerKind::bed, "bed", {2, 0.5, {}}, {}},
                       {LayerKind::panel, "panel", {6, 0.3, {}}, {}}};
        wall.masonry = Masonry{100, {}};
        job.walls.push_back(wall);
    }
    job.panels.order = left_first ? std::vector<std::string>{"a", "b"} : std::vector<std::string>{"b", "a"};
    return job;
}

TEST(Panels, NothingOverlapsAtACornerOfAnyAngle) {
    int pairs = 0;
    for (double angle = 45; angle <= 315; angle += 2.5) {
        for (const bool left_first : {true, false}) {
            Faults faults;
            const Model model = build_model(corner_of(angle, left_first, 9, 14), faults);
            const auto parts = build_parts(model);
            const auto plan = in_plan(parts, 1000);
            for (std::size_t i = 0; i < plan.size(); ++i) {
                for (std::size_t j = i + 1; j < plan.size(); ++j) {
                    // Two walls in line but for a degree or two are mitred about different faces; see is_straight.
                    ++pairs;
                    EXPECT_GE(apart(plan[i].outline, plan[j].outline), -1e-6)
                        << angle << " degrees, " << plan[i].part->id << " and " << plan[j].part->id;
                }
            }
        }
    }
    EXPECT_GT(pairs, 1000);
}

TEST(Panels, PanelsKeepTheirGapAtACornerOfAnyAngle) {
    for (double angle = 45; angle <= 315; angle += 2.5) {
        for (const bool left_first : {true, false}) {
            Faults faults;
            const Model model = build_model(corner_of(angle, left_first, 9, 9), faults);
            const auto parts = build_parts(model);
            std::vector<Polygon> panels;
            for (const auto& cut : in_plan(parts, 1000)) {
                if (cut.part->layer == "panel") panels.push_back(cut.outline);
            }
            ASSERT_EQ(panels.size(), 2u);
            EXPECT_GE(apart(panels[0], panels[1]), 4 - 1e-9) << angle;
            if (angle == 90 || angle == 270) {
                EXPECT_NEAR(apart(panels[0], panels[1]), 4, 1e-9) << angle;
            }
        }
    }
}

/// Outside, the first one's edge stays behind the bed of the second and its packing: closed form, with the panels'
/// backs of the second wall a plane 7 mm out at the datum, and 7 + tilt x 2400 at 2400.
TEST(PanelJoints, OutsideACornerThePackingOpensTheGap) {
    for (const auto& [gap, packing, tilt, narrowest] : std::vector<std::array<double, 4>>{{4, 7, 0, 9},
                                                                                          {4, 0, 0, 4},
                                                                                          {4, 2, 0, 4},
                                                                                          {4, 2.01, 0, 4.01},
                                                                                          {12, 7, 0, 12},
                                                                                          {4, 7, 0.001, 9},
                                                                                          {0.5, 0, 0.001, 2}}) {
        for (const bool left_first : {true, false}) {
            Job job = corner_of(270, left_first, 9, 9);
            job.panels.gaps.corner = EdgeGap{gap, {}};
            job.panels.gaps.tray = EdgeGap{0, {}};
            Faults faults;
            Model model = build_model(job, faults);
            const std::size_t second = left_first ? 1 : 0;
            Bedding bedding;
            bedding.back = {9 + 1 + 2 + packing, 0, tilt};
            bedding.greatest_bed = 2 + packing + tilt * 2400;
            model.room.faces[second].bedding = bedding;
            model.panels = lay_panels(model.job, model.room);
            const auto joints = panel_joints(model);
            const auto found = std::find_if(joints.begin(), joints.end(),
                                            [](const auto& j) { return j.kind == JointKind::corner && j.sealed; });
            ASSERT_NE(found, joints.end());
            EXPECT_NEAR(found->gap.width, narrowest, tilt > 0 ? 0.01 : 1e-9) << gap << ' ' << packing;
            // The panels keep so far apart, too.
            const std::string first = left_first ? "a-1" : "b-1";
            const auto e = extent(panel_named(model, first).outline);
            const double bare = 1500 + 9 + 1;  // the first wall's boards and its own run to those of the second
            if (tilt > 0) continue;
            EXPECT_NEAR(e[1] - e[0], bare + 2 + packing - narrowest, 1e-9) << gap << ' ' << packing;
        }
    }
}

TEST(PanelJoints, ASquareCutEdgeLeavesMoreAtTheFaceByItsOwnDepth) {
    // Closed form: from the back of its bed of 2 to the face of its own panel, and so much a mm as the corner leans.
    for (const double angle : {60.0, 90.0, 100.0, 120.0, 134.0}) {
        for (const bool left_first : {true, false}) {
            SCOPED_TRACE(angle);
            Job job = corner_of(angle, left_first, 9, 9);
            job.walls[0].layers.back().thickness.value = 6;
            job.walls[1].layers.back().thickness.value = 10;
            Faults faults;
            const auto joints = panel_joints(build_model(job, faults));
            const auto found = std::find_if(joints.begin(), joints.end(),
                                            [](const auto& j) { return j.kind == JointKind::corner && j.sealed; });
            ASSERT_NE(found, joints.end());
            const double cosine = angle == 90 ? 0 : std::cos(angle * pi / 180);
            const double own = left_first ? 10 : 6;  // of the wall lined second
            EXPECT_NEAR(found->at_face, found->gap.width + (2 + own) * std::max(0.0, -cosine), 1e-9);
            EXPECT_NEAR(found->widens, cosine, 1e-9);
        }
    }
}

TEST(PanelJoints, AWallWithoutPanelsIsMetWithAGapThatIsSealed) {
    for (const double angle : {60.0, 90.0, 120.0, 150.0, 180.0, 210.0, 240.0}) {
        for (const bool left_first : {true, false}) {
            SCOPED_TRACE(angle);
            Job job = corner_of(angle, left_first, 9, 9);
            job.walls[1].layers.clear();
            job.walls[0].gaps.right = EdgeGap{5, {}};
            Faults faults;
            const Model model = build_model(job, faults);
            std::vector<PanelJoint> ends;
            for (const auto& joint : panel_joints(model)) {
                if (joint.kind == JointKind::end) ends.push_back(joint);
                EXPECT_NE(joint.kind, JointKind::corner);
            }
            // Outside a corner nothing stands in its way.
            ASSERT_EQ(ends.size(), angle > 225 ? 0u : 1u);
            const auto seals = build_sealant(model);
            const auto reaches = [&](double beyond) {
                const double edge = extent(model.panels.at(0).outline)[1];
                return std::any_of(seals.begin(), seals.end(), [&](const Part& seal) {
                    return !spans_at(seal.outline, 1200).empty() &&
                           std::abs(spans_at(seal.outline, 1200).back().second - edge - beyond) < 1e-5;
                });
            };
            const double share = std::abs(std::sin((std::abs(angle - 180) < 45 ? angle / 2 : angle) * pi / 180));
            EXPECT_EQ(reaches(5 / share), !ends.empty());
            if (ends.empty()) continue;
            const auto e = extent(model.panels.at(0).outline);
            EXPECT_EQ(ends[0].gap.width, 5);
            EXPECT_TRUE(ends[0].sealed);
            EXPECT_NEAR(ends[0].length, e[3] - e[2], 1e-9);
            EXPECT_NEAR(ends[0].from.x, e[1] + 2.5, 1e-9);
            EXPECT_EQ(ends[0].second_moves, 0);
            EXPECT_NEAR(ends[0].first_moves, (e[1] - e[0]) / 2 * share, 1e-9);
            // The panel ends so far from the bare neighbour, square to it, through its whole depth.
            if (angle == 90) {
                EXPECT_NEAR(e[1], model.job.walls[0].width - 5, 1e-9);
            }
        }
    }
}

TEST(PanelJoints, CornersOfAnyAngleKeepTheGapOfTheWallThatLeavesIt) {
    for (const double angle : {60.0, 90.0, 120.0, 134.0, 150.0, 180.0, 210.0, 240.0, 270.0, 300.0}) {
        for (const bool left_first : {true, false}) {
            SCOPED_TRACE(angle);
            Job job = corner_of(angle, left_first, 9, 9);
            job.walls[0].gaps.right = EdgeGap{5, {}};
            job.walls[1].gaps.left = EdgeGap{1, {}};
            Faults faults;
            const Model model = build_model(job, faults);
            const auto joints = panel_joints(model);
            const auto found = std::find_if(joints.begin(), joints.end(),
                                            [](const auto& j) { return j.kind == JointKind::corner && j.sealed; });
            ASSERT_NE(found, joints.end());
            const double of_first = left_first ? 5 : 1;
            const double of_second = left_first ? 1 : 5;
            const bool mitred = std::abs(angle - 180) < 45;
            // Outside, the first one's edge stays behind the second's bed of 2 as well.
            const double gap = mitred ? 3 : angle < 180 ? of_second : std::max(of_first, 2.0);
            EXPECT_NEAR(found->gap.width, gap, same_length);
            const auto width = [&](const std::string& id) {
                const auto e = extent(panel_named(model, id).outline);
                return e[1] - e[0];
            };
            const bool inside = angle < 180;
            const std::string moving = left_first == inside ? "b-1" : "a-1";
            if (mitred) {
                const double share = std::sin(angle / 2 * pi / 180);
                EXPECT_NEAR(found->first_moves + found->second_moves, (width("a-1") + width("b-1")) / 2 * share, 1e-9);
            } else {
                EXPECT_NEAR(found->first_moves, width(moving) / 2 * std::abs(std::sin(angle * pi / 180)), 1e-9);
                EXPECT_EQ(found->second_moves, 0);
            }
            std::vector<Polygon> panels;
            const auto parts = build_parts(model);
            for (const auto& cut : in_plan(parts, 1000)) {
                if (cut.part->layer == "panel") panels.push_back(cut.outline);
            }
            ASSERT_EQ(panels.size(), 2u);
            EXPECT_GE(apart(panels[0], panels[1]), gap - 1e-9);
            if (angle == 90 || angle == 270) {
                EXPECT_NEAR(apart(panels[0], panels[1]), gap, 1e-9);
            }
        }
    }
}

TEST(Parts, IdsAreUniqueAndVolumesPositive) {
    const unsigned seed = 3;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    std::size_t seen = 0;
    for (int i = 0; i < 100; ++i) {
        Faults faults;
        const Model model = build_model(testing::random_job(random), faults);
        const auto parts = build_parts(model);
        std::set<std::string> ids;
        for (const auto& part : parts) {
            EXPECT_TRUE(ids.insert(part.id).second) << part.id;
            EXPECT_GT(volume(part), 0) << part.id;
            EXPECT_FALSE(part.trade.empty());
            ++seen;
        }
    }
    EXPECT_GT(seen, 1000u);
}

TEST(Parts, PanelVolumeIsItsAreaLessItsHoles) {
    const Model model = model_of(recess(R"(
[[types]]
id = "t"
name = "t"
family = "spindle"
trade = "plumber"
[[types.holes]]
diameter = 35
[[fittings]]
id = "a"
type = "t"
wall = "back"
across = 300
from = "left bare"
height = 1000
)"));
    for (const auto& part : build_parts(model)) {
        if (part.id != "back/panel-1") continue;
        EXPECT_NEAR(volume(part), ((1200 - 26) * (2400 - 8) - pi * 35 * 35 / 4) * 6, 1e-6);
        EXPECT_EQ(part.source.line, 13) << "made from its layer in the file";
        return;
    }
    FAIL() << "no panel";
}

TEST(Parts, LevelCutOfAPanelStopsAtItsHole) {
    const Model model = model_of(recess(R"(
[[types]]
id = "t"
name = "t"
family = "spindle"
trade = "plumber"
[[types.holes]]
diameter = 40
[[fittings]]
id = "a"
type = "t"
wall = "back"
across = 300
from = "left bare"
height = 1000
)"));
    const auto parts = build_parts(model);
    std::vector<double> ends;
    for (const auto& piece : cut_level(parts, model.room.walls[1], 1012)) {
        if (parts[piece.part].layer != "panel" || parts[piece.part].wall != "back") continue;
        const auto e = extent(piece.outline);
        ends.push_back(e[0]);
        ends.push_back(e[1]);
    }
    // A chord of the 40 mm hole 12 mm above its middle: half is sqrt(400 - 144) = 16.
    ASSERT_EQ(ends.size(), 4u);
    EXPECT_NEAR(ends[1], 284, 1e-9);
    EXPECT_NEAR(ends[2], 316, 1e-9);
}

}  // namespace
}  // namespace standproud
