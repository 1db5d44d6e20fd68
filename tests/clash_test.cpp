// Things too near or in each other, and what each rule says of them: just missed and just hit by 0.01 mm.
// Source of every check: closed form, unless said otherwise.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>
#include <tuple>

#include "rules/check.hpp"
#include "rules/limits.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using rules::Finding;
using rules::Verdict;
using testing::findings_of;
using testing::model_of;
using testing::recess;

const Finding* find(const std::vector<Finding>& findings, const std::string& rule, const std::string& subject = "") {
    for (const auto& finding : findings) {
        if (finding.rule == rule && (subject.empty() || finding.subject == subject)) return &finding;
    }
    return nullptr;
}

/// Two taps of one type on the back wall; the body is 40 x 60 and 30 deep, the handle sweeps 100 wide.
std::string taps(double left, double right, const std::string& rest = "") {
    return recess(R"(
[[types]]
id = "t"
name = "t"
family = "spindle"
trade = "plumber"
connection = "s"
spindle_length = "60 +/- 0"
proud_min = 0
proud_max = 60
access = [{for = "handle sweep", from = "face", diameter = 100, start = 10, length = 40}]
holes = [{diameter = 30, passes = 20}]
flanges = [{diameter = 60}]
[[types.parts]]
role = "body"
from = "seat"
width = 40
height = 60
start = -30
length = 30
[[types.parts]]
role = "handle"
from = "face"
diameter = 40
start = 10
length = 40
[[fittings]]
id = "a"
type = "t"
wall = "back"
across = )" + std::to_string(left) +
                  R"(
from = "left bare"
height = 1500
seat = "-10 +/- 0"
[[fittings]]
id = "b"
type = "t"
wall = "back"
across = )" + std::to_string(right) +
                  R"(
from = "left bare"
height = 1500
seat = "-10 +/- 0"
[limits]
setout.hole = 0
)" + rest);
}

TEST(Clash, BodiesAtTheirLeastDistance) {
    // body.apart is 20; bodies 40 wide: centres 60 apart.
    EXPECT_EQ(find(findings_of(taps(200, 260.01)), "body.apart"), nullptr);
    const auto near = findings_of(taps(200, 259.99));
    ASSERT_NE(find(near, "body.apart"), nullptr);
    EXPECT_EQ(find(near, "body.apart")->verdict, Verdict::tight) << "advice";
    EXPECT_NEAR(find(near, "body.apart")->clash->distance, 19.99, 1e-9);
    const auto in = findings_of(taps(200, 239.99));
    EXPECT_EQ(find(in, "body.apart")->verdict, Verdict::fails) << "they overlap";
    // 0.01 x 60 x 30 mm3 in common.
    EXPECT_NEAR(*find(in, "body.apart")->clash->volume, 0.01 * 60 * 30, 1e-6);
}

TEST(Clash, HandleSweepAgainstTheOtherHandle) {
    // Sweep radius 50, handle radius 20: centres 70 apart touch.
    EXPECT_EQ(find(findings_of(taps(200, 270.01)), "access.handle"), nullptr);
    const auto in = findings_of(taps(200, 269.99));
    ASSERT_NE(find(in, "access.handle"), nullptr);
    EXPECT_EQ(find(in, "access.handle")->verdict, Verdict::fails);
    EXPECT_NEAR(find(in, "access.handle")->clash->distance, -0.01, 1e-6);
}

TEST(Clash, ToleranceMakesItTight) {
    std::string text = taps(200, 270.5);
    text.replace(text.find("setout.hole = 0"), 15, "setout.hole = 0.4");
    const auto findings = findings_of(text);
    ASSERT_NE(find(findings, "access.handle"), nullptr);
    EXPECT_EQ(find(findings, "access.handle")->verdict, Verdict::tight) << "0.5 apart, each +/- 0.4";
    text.replace(text.find("setout.hole = 0.4"), 17, "setout.hole = 0.2");
    EXPECT_EQ(find(findings_of(text), "access.handle"), nullptr);
}

TEST(Clash, HandleSweepAgainstTheReturnWall) {
    // The left wall's finished face is at 17: a sweep of radius 50 at 67.
    EXPECT_EQ(find(findings_of(taps(67.01, 600)), "access.handle"), nullptr);
    const auto in = findings_of(taps(66.99, 600));
    ASSERT_NE(find(in, "access.handle", "a"), nullptr);
    EXPECT_EQ(find(in, "access.handle", "a")->clash->other, "wall left");
}

std::string pipe(const std::string& id, const std::string& kind, const std::string& points, double plus_minus = 0,
                 const std::string& connects = "") {
    return "[[pipes]]\nid = \"" + id + "\"\nkind = \"" + kind +
           "\"\nwall = \"back\"\ndiameter = 20\nplus_minus = " + std::to_string(plus_minus) + "\npoints = [" + points +
           "]\nconnects = [" + connects + "]\n";
}

TEST(Clash, PipeAndBody) {
    // The body's left side is at 180; a pipe of radius 10 rises at 170.
    const auto with = [](double at, const std::string& connects = "") {
        const std::string u = std::to_string(at);
        return findings_of(
            taps(200, 800, pipe("p", "cold", "[" + u + ", 1200, -25], [" + u + ", 1800, -25]", 0, connects)));
    };
    EXPECT_EQ(find(with(169.99), "clash.pipe"), nullptr);
    ASSERT_NE(find(with(170.01), "clash.pipe"), nullptr);
    EXPECT_NEAR(find(with(170.01), "clash.pipe")->clash->distance, -0.01, 1e-6);
    EXPECT_EQ(find(with(180, "\"a\""), "clash.pipe"), nullptr) << "it joins the tap";
}

TEST(Clash, HotPipeNearACable) {
    // pipe.hot_gap 25, both of radius 10: 45 between their middles.
    const auto with = [](double apart) {
        return findings_of(taps(200, 1000,
                                pipe("h", "hot", "[400, 300, -40], [400, 900, -40]") +
                                    pipe("c", "cable",
                                         "[" + std::to_string(400 + apart) + ", 300, -40], [" +
                                             std::to_string(400 + apart) + ", 900, -40]")));
    };
    EXPECT_EQ(find(with(45.01), "pipe.hot"), nullptr);
    EXPECT_EQ(find(with(44.99), "pipe.hot")->verdict, Verdict::tight);
    EXPECT_EQ(find(with(19.99), "pipe.hot")->verdict, Verdict::fails) << "they overlap";
}

TEST(Clash, DrillNearAPipeItDoesNotServe) {
    // The hole of 30 reaches 15 left of 200, the pipe's edge at 185 - 15 (pipe.drill) = 170: its middle at 160. The
    // tool ends 30 behind the panel's back, at -19: a pipe along that depth lies beside it.
    const auto with = [](double at, const std::string& connects = "") {
        const std::string u = std::to_string(at);
        return findings_of(
            taps(200, 800, pipe("p", "cold", "[" + u + ", 1300, -15], [" + u + ", 1700, -15]", 0, connects)));
    };
    EXPECT_EQ(find(with(159.99), "pipe.drill"), nullptr);
    const auto near = with(160.01);
    ASSERT_NE(find(near, "pipe.drill"), nullptr);
    EXPECT_EQ(find(near, "pipe.drill")->verdict, Verdict::tight);
    EXPECT_NE(find(near, "pipe.drill")->says.find("the 30 mm drill or hole saw for a passes 15"), std::string::npos)
        << find(near, "pipe.drill")->says;
    EXPECT_EQ(find(with(160.01, "\"a\""), "pipe.drill"), nullptr);
}

TEST(Clash, PipeThroughAStudSaysWhatTimberIsLeft) {
    // Stud 45 x 90 at 600, its face on the bare face: a level pipe at -40 leaves 40 - 10 before it and 50 - 10 behind.
    const auto findings = findings_of(taps(200, 1000, pipe("p", "cold", "[400, 700, -40], [800, 700, -40]")));
    const Finding* hole = find(findings, "pipe.timber");
    ASSERT_NE(hole, nullptr);
    EXPECT_NEAR(*hole->nominal, 30, 1e-9);
    EXPECT_EQ(hole->verdict, Verdict::tight) << "it is never for us to say that it may be drilled";
    EXPECT_EQ(hole->trade, Trade::builder);
    const auto notch = findings_of(taps(200, 1000, pipe("p", "cold", "[400, 700, -9.99], [800, 700, -9.99]")));
    EXPECT_EQ(find(notch, "pipe.timber")->verdict, Verdict::fails);
    EXPECT_NE(find(notch, "pipe.timber")->says.find("notch"), std::string::npos);
}

TEST(Clash, DoorSwing) {
    const auto with = [](double width) {
        return findings_of(
            taps(200, 800,
                 "[[screens]]\nid = \"door\"\nwall = \"left\"\nacross = 300\nfrom = \"right finished\"\nwidth = " +
                     std::to_string(width) + "\nthickness = 8\nbottom = 100\ntop = 2000\nswing_right = 20\n"));
    };
    // Hinge at u = 900 - 17 - 300 of the left wall, on its face. The tap b's handle: centre 800 - 17 out from that
    // face, its front edge 50 in front of the back face, 250 from the hinge line: half a handle nearer along.
    const double out = 800 - 17 - 20;
    const double reach = std::hypot(out, 300 - 50);
    EXPECT_EQ(find(with(reach - 0.01), "access.swing"), nullptr);
    const auto in = with(reach + 0.5);
    ASSERT_NE(find(in, "access.swing"), nullptr);
    EXPECT_EQ(find(in, "access.swing")->clash->other, "b");
}

TEST(Clash, WhatBelongsTogetherIsNoClash) {
    // A body on its noggin, in its wall, behind its panel with a hole: nothing to say.
    for (const auto& finding : findings_of(taps(300, 800))) {
        EXPECT_FALSE(finding.clash) << finding.rule << ": " << finding.says;
    }
}

TEST(Clash, BodyInAStud) {
    // The stud at 600 spans 577.5 to 622.5; the body reaches 20 to each side.
    EXPECT_EQ(find(findings_of(taps(200, 642.51)), "clash.timber"), nullptr);
    const auto in = findings_of(taps(200, 642.49));
    ASSERT_NE(find(in, "clash.timber"), nullptr);
    EXPECT_NEAR(find(in, "clash.timber")->clash->distance, -0.01, 1e-9);
    EXPECT_EQ(find(in, "clash.timber")->subject, "b");
}

TEST(Clash, WitnessIsToldFromTheFinishedCorner) {
    const auto in = findings_of(taps(200, 239));
    const Finding* f = find(in, "body.apart");
    ASSERT_NE(f, nullptr);
    // In common: u 219 to 220, v 1470 to 1530, n -40 to -10; the corner at 17, the face at 17.
    EXPECT_NEAR(f->clash->on_wall.u, 219.5 - 17, 0.5 + 1e-6);
    EXPECT_NEAR(f->clash->on_wall.n, -25 - 17, 15 + 1e-6);
    EXPECT_TRUE(f->clash->finished_corner);
}

TEST(Clash, OneFindingForTwoThings) {
    const auto in = findings_of(taps(200, 215));
    int about = 0;
    for (const auto& finding : in) {
        if (finding.clash && finding.rule == "clash.solid") ++about;
    }
    EXPECT_LE(about, 1);
    std::set<std::tuple<std::string, std::string, std::string>> seen;
    for (const auto& finding : in) {
        if (!finding.clash) continue;
        EXPECT_TRUE(seen.insert({finding.rule, finding.subject, finding.clash->other}).second) << finding.says;
    }
}

TEST(Clash, LargerClearancesNeverTakeAFindingAway) {
    const unsigned seed = 41;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    int found = 0;
    std::uniform_real_distribution<double> along(60, 1140);
    for (int i = 0; i < 40; ++i) {
        Faults faults;
        const double at = along(random);
        const Model model = model_of(taps(
            at, along(random), pipe("p", "hot", "[100, 1400, -30], [" + std::to_string(at + 60) + ", 1400, -30]")));
        rules::Limits limits = rules::limits_for(model.job, faults);
        const auto count = [&] {
            std::set<std::string> bad;
            for (const auto& f : rules::check(model, limits)) {
                if (f.clash) bad.insert(f.rule + f.subject + f.clash->other);
            }
            return bad;
        };
        const auto before = count();
        for (const char* name : {"body.apart", "flange.corner", "pipe.hot_gap", "pipe.drill"})
            limits.at(name).value += 30;
        const auto after = count();
        for (const auto& name : before) EXPECT_TRUE(after.count(name)) << name;
        found += static_cast<int>(after.size());
    }
    EXPECT_GT(found, 20);
}

// ---- zones, room, heights ----

TEST(Zones, DistanceFromTheFixedOutlet) {
    // Published: IEC 60364-7-701 as in BS 7671:2008: zone 1 reaches 1.20 m from the outlet of a shower without basin.
    const auto with =
        [](double across) {
            return findings_of(recess(R"(
[[types]]
id = "o"
name = "o"
family = "thread"
trade = "plumber"
use = "water outlet"
[[types]]
id = "e"
name = "e"
family = "plate"
trade = "electrician"
use = "electrical"
[[fittings]]
id = "out"
type = "o"
wall = "back"
across = 0
from = "left finished"
height = 2000
[[fittings]]
id = "fan"
type = "e"
wall = "back"
across = )" + std::to_string(across) + R"(
from = "left finished"
height = 2200
)"));
        };
    const auto inside = with(1100);
    const Finding* zone = find(inside, "zone.electrical", "fan");
    ASSERT_NE(zone, nullptr);
    EXPECT_EQ(zone->verdict, Verdict::fails);
    EXPECT_NEAR(*zone->nominal, -100, 1e-9);
    EXPECT_EQ(zone->trade, Trade::electrician);
    EXPECT_NE(zone->action.find("Ask the electrician"), std::string::npos);
}

TEST(Rooms, LargestCircleAndArea) {
    // A tray makes it a shower. Between finished faces: 1200 - 34 wide; deep 900 - 17 to the line between the free
    // ends.
    const auto findings = findings_of(recess(
        "[tray]\nname = \"t\"\nwall = \"back\"\nwidth = 1200\ndepth = 900\nbase = 0\nrim = 50\nwalls = [\"back\"]\n"));
    const Finding* circle = find(findings, "room.circle");
    ASSERT_NE(circle, nullptr);
    EXPECT_NEAR(*circle->nominal, 883, 1e-9);
    EXPECT_EQ(circle->verdict, Verdict::clear);
    EXPECT_NEAR(*find(findings, "room.area")->nominal, (1200.0 - 34) * 883, 1e-6);
}

TEST(Rooms, JustTooNarrowOnceLined) {
    // Published: IRC P2708.1, a circle of 762 mm (30 in) between finished faces.
    const auto with = [](double width) {
        std::string text = recess(
            "[tray]\nname = \"t\"\nwall = \"back\"\nwidth = 700\ndepth = 900\nbase = 0\nrim = 50\nwalls = "
            "[\"back\"]\n");
        const auto at = text.find("width = 1200");
        text.replace(at, 12, "width = " + std::to_string(width));
        const auto studs = text.find("centres = [22.5, 600, 1177.5]");
        if (studs != std::string::npos) text.replace(studs, 29, "centres = [22.5, 400]");
        return *find(findings_of(text), "room.circle");
    };
    EXPECT_EQ(with(762 + 34 + 0.01).verdict, Verdict::clear);
    EXPECT_EQ(with(762 + 34 - 0.01).verdict, Verdict::tight);
}

}  // namespace
}  // namespace standproud
