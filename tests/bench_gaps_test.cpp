// The gaps of a job on its bench: closed forms, and the findings of `check`.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "support/bench_jobs.hpp"

namespace standproud::viewer {
namespace {

/// Of two openings whose names start alike, each strip has the gap of its own. Closed form: the frame's gap is the
/// opening's.
TEST(BenchReport, StripsHaveTheGapOfTheirOwnOpening) {
    Faults faults;
    Job job = testing::job_of(small_job(), faults);
    for (Wall& wall : job.walls) {
        if (wall.id != "back") continue;
        for (const auto& [id, left, gap] : {std::tuple{"hatch-top", 100.0, 9.0}, std::tuple{"hatch", 700.0, 5.0}}) {
            WallOpening opening;
            opening.id = opening.name = id;
            opening.left = left;
            opening.right = left + 200;
            opening.bottom = 2000;
            opening.top = 2200;
            opening.reveal = 100;
            opening.gap = EdgeGap{gap, {}};
            wall.openings.push_back(opening);
        }
    }
    const Bench bench = work_out_bench({checked(std::move(job))});
    int found = 0;
    for (const auto& joint : bench.joints) {
        if (!joint.in_reveal) continue;
        EXPECT_EQ(joint.gap, joint.name.find("hatch-top") != std::string::npos ? 9 : 5) << joint.name;
        ++found;
    }
    EXPECT_EQ(found, 2 * (4 + 4)) << "each strip along the frame, each jamb at both ends";
}

TEST(Bench, MovementOfPanelsGapsAndHoles) {
    const auto job = checked(small_job());
    const Bench bench = work_out_bench({job});
    const auto& panel = panel_of_wall(bench, "back");
    EXPECT_NEAR(panel.grows_across, growth * panel.width, 1e-9);
    EXPECT_NEAR(panel.shrinks_up, shrinkage * panel.height, 1e-9);
    const auto& base = joint_named(bench, "base of " + panel.id);
    EXPECT_NEAR(base.moved.narrowest, 4 - growth * panel.height / 2, 1e-9);
    EXPECT_NEAR(base.moved.widest, 4 + shrinkage * panel.height / 2, 1e-9);
    // Class 20: the width of which the movement is 20 %.
    EXPECT_NEAR(base.needed, growth * panel.height / 2 / 0.2, 1e-9);
    EXPECT_FALSE(base.within);
    EXPECT_NEAR(base.seal.volume, 4 * 5 * panel.width, 1e-6);
    EXPECT_NEAR(base.depth, 2 + 6, 1e-9);
    ASSERT_EQ(panel.holes.size(), 1u);
    const auto& model_panel = job.model.panels[static_cast<std::size_t>(&panel - bench.panels.data())];
    const auto size = extent(model_panel.outline);
    const double away = std::hypot(model_panel.holes[0].opening.centre.x - (size[0] + size[1]) / 2,
                                   model_panel.holes[0].opening.centre.y - (size[2] + size[3]) / 2);
    EXPECT_NEAR(panel.holes[0].moved.moves, growth * away, 1e-9);
    EXPECT_NEAR(panel.holes[0].moved.spare, 40 - 30 - 2 * (growth * away + 2), 1e-9);
}

TEST(Bench, EveryGapOfARecessIsThereOnce) {
    const Bench bench = work_out_bench({checked(small_job())});
    std::map<JointKind, int> count;
    for (const auto& joint : bench.joints) ++count[joint.kind];
    EXPECT_EQ(count[JointKind::base], 3);
    EXPECT_EQ(count[JointKind::corner], 2);
    EXPECT_EQ(count[JointKind::join], 0);
    std::set<std::string> names;
    for (const auto& joint : bench.joints) names.insert(joint.name);
    EXPECT_EQ(names.size(), bench.joints.size());
}

/// Closed form: a wall lined second against one at 135 degrees. Its edge is cut square, so the gap of 4, kept at the
/// back of the bed of 2, is wider by cos 45 a mm of the 2 + 6 out to the face; sealant of 5 fills a trapezium.
TEST(Bench, InACornerThatIsNotSquareTheGapIsWiderAtTheFace) {
    std::string text = small_job();
    const std::string left = "id = \"left\"\nwidth = 900\nheight = 2400\n";
    text.replace(text.find(left), left.size(), left + "next_angle = 135\n");
    const Bench bench = work_out_bench({checked(text)});
    const double wide = 4 + 8 * std::sqrt(0.5);
    int found = 0;
    for (const auto& joint : bench.joints) {
        if (joint.name != "corner left-1 / back-1") {
            EXPECT_EQ(joint.at_face, joint.gap) << joint.name;
            continue;
        }
        ++found;
        EXPECT_NEAR(joint.gap, 4, 1e-9);
        EXPECT_NEAR(joint.at_face, wide, 1e-9);
        EXPECT_NEAR(joint.seal.volume, (wide + wide - 5 * std::sqrt(0.5)) / 2 * 5 * joint.length, 1e-6);
    }
    EXPECT_EQ(found, 1);
    const std::string said = flat(text_bench(bench, {}));
    EXPECT_NE(said.find("9.7 mm at the face"), std::string::npos) << said;
}

TEST(Bench, FiguresAreThoseOfTheFindings) {
    int compared = 0;
    for (const char* name : {"twin-taps", "corner-mixer", "bath-renovation", "level-entry", "old-stable"}) {
        Faults faults;
        const auto job = open_job(std::string(STANDPROUD_SOURCE_DIR "/models/") + name + ".toml", faults);
        const Bench bench = work_out_bench({*job});
        for (const auto& finding : job->findings) {
            if (finding.rule != "panel.movement") continue;
            for (const auto& joint : bench.joints) {
                if (finding.says.rfind(joint.name + ":", 0) != 0) continue;
                ++compared;
                const bool cold = finding.quantity.find("cold") != std::string::npos;
                EXPECT_NEAR(*finding.nominal, cold ? joint.moved.cold_and_dry : joint.moved.hot_and_wet, 1e-9)
                    << name << " " << joint.name;
                if (joint.within) {
                    EXPECT_NE(finding.verdict, rules::Verdict::fails) << finding.says;
                } else {
                    EXPECT_NE(finding.verdict, rules::Verdict::clear) << finding.says;
                }
            }
        }
        for (const auto& panel : bench.panels) {
            for (const auto& hole : panel.holes) {
                const auto found = std::find_if(job->findings.begin(), job->findings.end(), [&](const auto& f) {
                    return f.rule == "hole.size" && f.subject == hole.name.substr(0, hole.name.find(' '));
                });
                ASSERT_NE(found, job->findings.end()) << hole.name;
                ++compared;
                // The finding is of the fitting's worst hole.
                EXPECT_LE(*found->nominal - *found->need_low, hole.moved.spare + 1e-9) << name << " " << hole.name;
                EXPECT_TRUE(hole.moved.spare >= -1e-9 || found->verdict == rules::Verdict::fails);
            }
        }
    }
    EXPECT_GT(compared, 30);
}

TEST(Bench, ANarrowJoinIsNamed) {
    std::string text = small_job();
    text.insert(text.find("[walls.studs]"), "joins = [{across = 620, from = \"left bare\", gap = 5.99}]\n");
    const std::string words = "is below the least of a sealed join, 6 mm (published, architectural detailing";
    EXPECT_NE(text_bench(work_out_bench({checked(text)}), {}).find("join back-1 / back-2: 5.99 mm " + words),
              text.npos);
    text.replace(text.find("5.99"), 4, "6.00");
    EXPECT_EQ(text_bench(work_out_bench({checked(text)}), {}).find(words), text.npos);
}

TEST(Bench, EachGapHasItsOwnSealant) {
    // Closed form: gap x depth 5 x length.
    std::string text = small_job();
    text.insert(text.find("[walls.studs]"),
                "joins = [{across = 600, from = \"left bare\", gap = 7}]\ngaps = {bottom = 9, top = 3}\n");
    text.insert(text.find("[[walls]]\nid = \"back\""), "[walls.gaps]\nright = 6\n");
    const Bench bench = work_out_bench({checked(text)});
    const double high = 2400 - 9 - 3;
    EXPECT_NEAR(joint_named(bench, "join back-1 / back-2").seal.volume, 7 * 5 * high, 1e-6);
    EXPECT_NEAR(joint_named(bench, "base of back-1").seal.volume, 9 * 5 * (596.5 - 13), 1e-6);
    EXPECT_NEAR(joint_named(bench, "corner left-1 / back-1").seal.volume, 6 * 5 * high, 1e-6);
    EXPECT_NEAR(joint_named(bench, "corner back-2 / right-1").seal.volume, 4 * 5 * high, 1e-6);
    EXPECT_NEAR(joint_named(bench, "corner left-1 / back-1").moved.narrowest, 6 - growth * (900 - 17 - 6) / 2, 1e-9);
}

}  // namespace
}  // namespace standproud::viewer
