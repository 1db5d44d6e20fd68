// Things too near or in each other, and what each rule says of them: just missed and just hit by 0.01 mm.
// Source of every check: closed form, unless said otherwise.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>
#include <tuple>

#include "rules/advise.hpp"
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

TEST(Clash, OtherPairsOfTheSameTwoAreUnderIt) {
    // A tap of two bodies one above the other, both 10 in the other tap's: one finding, the worse pair on top, the
    // other with it.
    std::string text = taps(200, 235);
    const std::string handle = "[[types.parts]]\nrole = \"handle\"";
    text.insert(
        text.find(handle),
        "[[types.parts]]\nrole = \"body\"\nfrom = \"seat\"\nwidth = 36\nheight = 60\nstart = -60\nlength = 25\n");
    const auto findings = findings_of(text);
    const Finding* in = find(findings, "body.apart");
    ASSERT_NE(in, nullptr);
    EXPECT_NEAR(in->clash->distance, -5, 1e-9);
    ASSERT_FALSE(in->clash->also.empty());
    for (const auto& also : in->clash->also) {
        EXPECT_NE(also.find("a/"), also.npos) << also;
        EXPECT_NE(also.find("b/"), also.npos) << also;
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

// ---- the same on a wall that stands at an angle ----

/// The back wall turned in the room: its angle to the left wall, degrees.
std::string turned(std::string text, double angle) {
    const std::string left = "id = \"left\"\nwidth = 900\nheight = 2400\n";
    return text.replace(text.find(left), left.size(), left + "next_angle = " + std::to_string(angle) + "\n");
}

/// A rule, a job that is clear of it by 0.01 mm, and one that is not.
struct Edge {
    const char* rule;
    std::string clear;
    std::string breach;
    double distance;  ///< of the breach
};

std::vector<Edge> edges() {
    const auto upright = [](double u, double n) {
        const std::string at = std::to_string(u);
        const std::string depth = std::to_string(n);
        return "[" + at + ", 1300, " + depth + "], [" + at + ", 1700, " + depth + "]";
    };
    const auto level = [](double v) {
        const std::string at = std::to_string(v);
        return "[300, " + at + ", -60], [580, " + at + ", -60]";
    };
    std::vector<Edge> edges{
        {"body.apart", taps(400, 460.01), taps(400, 459.99), 19.99},
        {"access.handle", taps(400, 470.01), taps(400, 469.99), -0.01},
        {"clash.timber", taps(300, 642.51), taps(300, 642.49), -0.01},
    };
    const auto with = [](const std::string& pipes) { return taps(400, 1000, pipes); };
    edges.push_back({"clash.pipe", with(pipe("p", "cold", upright(369.99, -25))),
                     with(pipe("p", "cold", upright(370.01, -25))), -0.01});
    edges.push_back({"pipe.drill", with(pipe("p", "cold", upright(359.99, -15))),
                     with(pipe("p", "cold", upright(360.01, -15))), 14.99});
    edges.push_back({"pipe.hot", with(pipe("h", "hot", upright(800, -60)) + pipe("c", "cold", upright(845.01, -60))),
                     with(pipe("h", "hot", upright(800, -60)) + pipe("c", "cold", upright(844.99, -60))), 24.99});
    edges.push_back({"clash.pipe", with(pipe("p", "cold", level(500)) + pipe("q", "cold", level(520.01))),
                     with(pipe("p", "cold", level(500)) + pipe("q", "cold", level(519.99))), -0.01});
    return edges;
}

TEST(Clash, EveryEdgeOnAWallAtAnyAngle) {
    for (const double angle : {61.3, 90.0, 117.7, 135.0, 203.9}) {
        for (const Edge& edge : edges()) {
            SCOPED_TRACE(std::string(edge.rule) + " at " + std::to_string(angle));
            EXPECT_EQ(find(findings_of(turned(edge.clear, angle)), edge.rule), nullptr);
            const auto findings = findings_of(turned(edge.breach, angle));
            const Finding* breach = find(findings, edge.rule);
            ASSERT_NE(breach, nullptr);
            EXPECT_NEAR(breach->clash->distance, edge.distance, 2e-6);
        }
    }
}

TEST(Clash, PanelEdgesNeedTheirGap) {
    const auto with = [](const std::string& gaps) {
        std::string text = turned(taps(400, 900), 117.7);
        const std::string order = "order = [\"back\", \"left\", \"right\"]\n";
        text.replace(text.find(order), order.size(), order + gaps);
        const std::string noggins = "[[walls.noggins]]";
        return findings_of(text.insert(text.find(noggins), "[[walls.joins]]\nacross = 650\nfrom = \"left bare\"\n"));
    };
    EXPECT_EQ(find(with("gap = 4"), "panel.gap"), nullptr);
    const auto narrow = with("join_gap = 3.99");
    ASSERT_NE(find(narrow, "panel.gap"), nullptr);
    EXPECT_EQ(find(narrow, "panel.gap")->verdict, Verdict::tight);
    EXPECT_NEAR(find(narrow, "panel.gap")->clash->distance, 3.99, 1e-9);
    const auto corner = with("corner_gap = 3.99");
    ASSERT_NE(find(corner, "panel.gap"), nullptr) << "an acute or blunt corner as well as a square one";
    const auto touching = with("join_gap = 0");
    ASSERT_NE(find(touching, "panel.gap"), nullptr);
    EXPECT_EQ(find(touching, "panel.gap")->verdict, Verdict::tight) << "they touch: nothing overlaps";
    EXPECT_NEAR(find(touching, "panel.gap")->clash->distance, 0, 1e-9);
}

// ---- moves ----

TEST(Moves, TheMoveIsTheLeastThatClears) {
    // Centres 55 apart: the bodies want 60, the handles 70. One move is to clear all that is between the two: 15.
    const auto findings = findings_of(taps(400, 455));
    const Finding* near = find(findings, "body.apart");
    ASSERT_NE(near, nullptr);
    ASSERT_EQ(near->clash->moves.size(), 2u);
    EXPECT_EQ(near->clash->moves[0].id, "a");
    EXPECT_NEAR(near->clash->moves[0].across, -15, 1e-9);
    EXPECT_EQ(near->clash->moves[1].id, "b");
    EXPECT_NEAR(near->clash->moves[1].across, 15, 1e-9);
    EXPECT_EQ(near->action, "Move a 15 mm to the left, or b 15 mm to the right.");
}

TEST(Moves, NoneIntoAnythingElse) {
    // A cold pipe beside a hot one; on its free side a third: it may only go down or up past an end, or deeper.
    const auto run = [](const std::string& id, const std::string& kind, double u) {
        const std::string at = std::to_string(u);
        return pipe(id, kind, "[" + at + ", 400, -30], [" + at + ", 900, -30]");
    };
    const auto free = findings_of(taps(300, 1000, run("h", "hot", 800) + run("c", "cold", 840)));
    ASSERT_NE(find(free, "pipe.hot"), nullptr);
    EXPECT_NEAR(find(free, "pipe.hot")->clash->moves.at(0).across, 5, 1e-9);
    const auto blocked =
        findings_of(taps(300, 1000, run("h", "hot", 800) + run("c", "cold", 840) + run("d", "cold", 861)));
    for (const auto& move : find(blocked, "pipe.hot", "c")->clash->moves) {
        EXPECT_FALSE(move.id == "c" && move.across > 0) << "it would meet d";
    }
}

TEST(Moves, NoDeeperThanTheFrame) {
    // Studs 90 deep. A pipe of 20 at -75 may go in by 5 only, where 20 more are lacking across; at -40 by 40.
    const auto deep = findings_of(taps(
        300, 1000,
        pipe("h", "hot", "[700, 500, -30], [1100, 500, -30]") + pipe("c", "cold", "[900, 300, -70], [900, 900, -70]")));
    const Finding* near = find(deep, "pipe.hot");
    ASSERT_NE(near, nullptr);
    for (const auto& move : near->clash->moves) {
        EXPECT_GE(move.out, -10 - 1e-9) << move.id;
        EXPECT_LE(move.out, 20 + 1e-9) << move.id;
    }
}

TEST(Moves, CarriedOutTheyClear) {
    // Random pairs that are too near: each move that is offered, carried out, leaves no finding between the two; 0.2 mm
    // less leaves one.
    const auto meet = [](const std::string& text) {
        const auto findings = findings_of(text);
        return std::any_of(findings.begin(), findings.end(), [](const Finding& f) {
            return f.clash && (f.subject == "a" || f.subject == "b") &&
                   (f.clash->other == "a" || f.clash->other == "b");
        });
    };
    const unsigned seed = 20261125;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> near(2, 58);
    std::uniform_real_distribution<double> angle(50, 250);
    int tried = 0;
    for (int i = 0; i < 40; ++i) {
        const double apart = near(random);
        const double at = angle(random);
        const auto findings = findings_of(turned(taps(400, 400 + apart), at));
        const Finding* found = find(findings, "body.apart");
        ASSERT_NE(found, nullptr);
        for (const auto& move : found->clash->moves) {
            if (move.across == 0) continue;
            const double a = 400 + (move.id == "a" ? move.across : 0);
            const double b = 400 + apart + (move.id == "b" ? move.across : 0);
            EXPECT_FALSE(meet(turned(taps(a, b), at))) << found->action;
            const double back = move.across > 0 ? -0.2 : 0.2;
            EXPECT_TRUE(meet(turned(taps(a + (move.id == "a" ? back : 0), b + (move.id == "b" ? back : 0)), at)))
                << found->action;
            ++tried;
        }
    }
    EXPECT_GT(tried, 40);
}

// ---- only what changed is measured again ----

TEST(Again, TheSameFindingsAfterAnyEdit) {
    const unsigned seed = 77;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> along(60, 1140);
    std::uniform_int_distribution<int> what(0, 4);
    double a = 300;
    double b = 800;
    double p = 500;
    double stud_angle = 90;
    std::string limit;
    rules::Distances kept;
    std::size_t seen = 0;
    for (int i = 0; i < 150; ++i) {
        switch (what(random)) {
            case 0:
                a = along(random);
                break;
            case 1:
                b = along(random);
                break;
            case 2:
                p = along(random);
                break;
            case 3:
                stud_angle = 60 + along(random) / 10;
                break;
            default:
                limit = limit.empty() ? "body.apart = 40\n" : "";
                break;
        }
        // Every other time a second pipe is there, before the first in the file: things change their place in the list.
        const std::string at = std::to_string(p);
        const Model model =
            model_of(turned(taps(a, b,
                                 limit + (i % 2 == 0 ? pipe("o", "hot", "[100, 700, -30], [500, 700, -30]") : "") +
                                     pipe("p", "cold", "[" + at + ", 1400, -30], [" + at + ", 1700, -30]")),
                            stud_angle));
        Faults faults;
        const auto limits = rules::limits_for(model.job, faults);
        rules::Distances anew;
        auto fresh = rules::check(model, limits, anew);
        auto again = rules::check(model, limits, kept);
        rules::advise(model, limits, anew, fresh);
        rules::advise(model, limits, kept, again);
        ASSERT_EQ(fresh.size(), again.size()) << i;
        for (std::size_t k = 0; k < fresh.size(); ++k) {
            EXPECT_EQ(fresh[k].rule, again[k].rule);
            EXPECT_EQ(fresh[k].says, again[k].says);
            EXPECT_EQ(fresh[k].action, again[k].action);
            EXPECT_EQ(fresh[k].nominal, again[k].nominal) << "to the last bit";
            if (fresh[k].clash) ++seen;
        }
    }
    EXPECT_GT(seen, 20u);
}

TEST(Advice, IsLookedForWhenItIsAskedFor) {
    const Model model = model_of(taps(300, 330));
    Faults faults;
    const auto limits = rules::limits_for(model.job, faults);
    rules::Distances measured;
    auto findings = rules::check(model, limits, measured);
    int clashes = 0;
    for (auto& finding : findings) {
        if (!finding.clash || finding.rule == "pipe.timber") continue;
        ++clashes;
        EXPECT_TRUE(finding.clash->moves.empty() && finding.action.empty()) << finding.says;
        const Finding judged = finding;
        rules::advise(model, limits, measured, finding);
        EXPECT_FALSE(finding.action.empty());
        EXPECT_EQ(finding.says, judged.says);
        EXPECT_EQ(finding.verdict, judged.verdict);
        const std::size_t moves = finding.clash->moves.size();
        rules::advise(model, limits, measured, finding);
        EXPECT_EQ(finding.clash->moves.size(), moves) << "advised once";
    }
    EXPECT_GT(clashes, 1);
}

TEST(Again, OneFittingMovedIsFewThings) {
    const std::string elsewhere =
        "[[fittings]]\nid = \"c\"\ntype = \"t\"\nwall = \"left\"\nacross = 300\nfrom = \"left bare\"\nheight = 900\n"
        "seat = -20\n";
    rules::Distances kept;
    const auto checked = [&](double b) {
        const Model model = model_of(taps(300, b, elsewhere));
        Faults faults;
        (void)rules::check(model, rules::limits_for(model.job, faults), kept);
        return kept.again;
    };
    const std::size_t all = checked(800);
    EXPECT_EQ(checked(800), 0u);
    // Its six parts and rooms, its drill, and the panel that has its hole elsewhere.
    const std::size_t few = checked(810);
    EXPECT_GT(few, 0u);
    EXPECT_LE(few, 8u);
    EXPECT_GE(all, 3 * few);
}

// ---- room ----

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

/// A straight pipe on the back wall, whose studs are 90 deep, past an opening from 400 to 800 across, 1200 to 1800 up.
std::vector<Finding> past_opening(const std::string& points, const std::string& more = "") {
    std::string text =
        recess("[[pipes]]\nid = \"cold\"\nkind = \"cold\"\nwall = \"back\"\ndiameter = 15\nplus_minus = 0\npoints = " +
               points + "\n" + more);
    text.insert(text.find("[walls.studs]"),
                "openings = [{id = \"w\", left = 400, right = 800, bottom = 1200, top = 1800}]\n");
    std::vector<Finding> found;
    for (auto& finding : findings_of(text)) {
        if (finding.rule == "pipe.opening") found.push_back(std::move(finding));
    }
    return found;
}

TEST(Clash, AScrewThatMayMeetACableFails) {
    // The screw's tip is 39 behind the bare face; a cable 8 thick under it. They are good to 2 and to 3: nearer than 5
    // they may meet, and 10 is asked for.
    const auto at = [](double depth) {
        const auto findings = findings_of(recess(fmt::format(
            "[[types]]\nid = \"t\"\nname = \"t\"\nfamily = \"screw\"\ntrade = \"installer\"\n"
            "screw_length = \"60 +/- 0\"\nbase_thickness = \"4 +/- 0\"\nholes = [{{diameter = 14, passes = 6}}]\n"
            "[[fittings]]\nid = \"a\"\ntype = \"t\"\nwall = \"back\"\nacross = 300\nfrom = \"left bare\"\nheight = "
            "700\n"
            "[[pipes]]\nid = \"live\"\nkind = \"cable\"\nwall = \"back\"\ndiameter = 8\nplus_minus = 3\n"
            "points = [[100, 700, {0}], [500, 700, {0}]]\n",
            depth)));
        const Finding* found = find(findings, "pipe.screw", "live");
        return found ? found->verdict : Verdict::clear;
    };
    EXPECT_EQ(at(-39 - 4 - 15.01), Verdict::clear);
    EXPECT_EQ(at(-39 - 4 - 5.01), Verdict::tight);
    EXPECT_EQ(at(-39 - 4 - 4.99), Verdict::fails);
    EXPECT_EQ(at(-39 - 4 + 1), Verdict::fails);
}

TEST(Clash, APipeThroughAnOpening) {
    // Closed form: 300 of it lie in the opening; then what only touches, by how little it comes in, or runs behind the
    // wall.
    const auto through = past_opening("[[500, 1500, -45], [900, 1500, -45]]");
    ASSERT_EQ(through.size(), 1u);
    EXPECT_NEAR(*through[0].nominal, 300, 1e-9);
    EXPECT_EQ(through[0].verdict, Verdict::fails);
    EXPECT_EQ(past_opening("[[700, 1100, -45], [700, 1900, -45]]").size(), 1u);
    EXPECT_TRUE(past_opening("[[100, 1500, -45], [400, 1500, -45]]").empty());
    EXPECT_EQ(past_opening("[[100, 1500, -45], [400.01, 1500, -45]]").size(), 1u);
    EXPECT_TRUE(past_opening("[[100, 1200, -45], [1100, 1200, -45]]").empty());
    EXPECT_EQ(past_opening("[[100, 1200.01, -45], [1100, 1200.01, -45]]").size(), 1u);
    EXPECT_TRUE(past_opening("[[100, 1500, -91], [1100, 1500, -91]]").empty());
    EXPECT_EQ(past_opening("[[100, 1500, 20], [1100, 1500, 20]]").size(), 1u);
}

TEST(Clash, APipeThroughAnOpeningOfAWallWithoutFrame) {
    // Nothing tells how deep the wall is: 400 of it lie in the opening in any case.
    std::string text = recess(
        "[[pipes]]\nid = \"cold\"\nkind = \"cold\"\nwall = \"left\"\ndiameter = 15\nplus_minus = 0\n"
        "points = [[100, 1500, -45], [700, 1500, -45]]\n");
    text.insert(text.find("[[walls]]\nid = \"back\""),
                "openings = [{id = \"w\", left = 200, right = 600, bottom = 1200, top = 1800}]\n");
    const auto findings = findings_of(text);
    ASSERT_NE(find(findings, "pipe.opening", "cold"), nullptr);
    EXPECT_NEAR(*find(findings, "pipe.opening", "cold")->nominal, 400, 1e-9);
}

TEST(Clash, ABodyThroughTheStripOfAReveal) {
    // Bed 2 and panel 6 line the opening from 700 on: a body of 40 round, at 660 it just stays out, at 681 it is in
    // both.
    const auto clashes = [](double across) {
        std::string text = recess(
            "[[types]]\nid = \"tap\"\nname = \"tap\"\nfamily = \"spindle\"\ntrade = \"plumber\"\n[[types.parts]]\n"
            "role = \"body\"\nfrom = \"seat\"\ndiameter = 40\nstart = -30\nlength = 40\n[[fittings]]\nid = \"hot\"\n"
            "type = \"tap\"\nwall = \"back\"\nacross = " +
            std::to_string(across) + "\nfrom = \"left bare\"\nheight = 1500\nseat = \"-20 +/- 0\"\n");
        text.insert(text.find("[walls.studs]"),
                    "openings = [{id = \"w\", left = 700, right = 1000, bottom = 1200, top = 1800, reveal = 80}]\n");
        int count = 0;
        for (const auto& finding : findings_of(text))
            count += finding.rule == "clash.solid" && finding.clash->distance < 0 &&
                             finding.clash->part_b.find("-w-left-jamb") != std::string::npos
                         ? 1
                         : 0;
        return count;
    };
    EXPECT_EQ(clashes(679.9), 0);
    EXPECT_EQ(clashes(681), 1);
    EXPECT_GT(clashes(690), 0);
}

TEST(Clash, NoMoveGoesIntoAnOpening) {
    // A body of 40 round in a noggin that ends at 400: 15 + 20 to the right would clear it, 45 + 20 up or down.
    const auto advice = [](const std::string& openings) {
        std::string text = recess(
            "[[types]]\nid = \"tap\"\nname = \"tap\"\nfamily = \"spindle\"\ntrade = \"plumber\"\n[[types.parts]]\n"
            "role = \"body\"\nfrom = \"seat\"\ndiameter = 40\nstart = -30\nlength = 40\n[[fittings]]\nid = \"hot\"\n"
            "type = \"tap\"\nwall = \"back\"\nacross = 385\nfrom = \"left bare\"\nheight = 1000\nseat = \"-20 +/- "
            "0\"\n");
        text.replace(text.find("right = 600"), 11, "right = 400");
        text.insert(text.find("[walls.studs]"), openings);
        for (const auto& finding : findings_of(text)) {
            if (finding.rule == "clash.timber") return finding.action;
        }
        return std::string("no clash");
    };
    EXPECT_EQ(advice(""), "Move hot 35 mm to the right.");
    const std::string beside = advice("openings = [{id = \"w\", left = 410, right = 700, bottom = 900, top = 1300}]\n");
    EXPECT_NE(beside.find("Move hot 65 mm"), std::string::npos) << beside;
    EXPECT_EQ(advice("openings = [{id = \"w\", left = 420, right = 700, bottom = 900, top = 1300}]\n"),
              "Move hot 35 mm to the right.")
        << "its middle stays at the edge";
}

}  // namespace
}  // namespace standproud
