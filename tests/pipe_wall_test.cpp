// pipe.wall: pipes and cables that leave their wall, just missed and just hit by 0.01 mm.
// Source of every check: closed form, unless said otherwise. The back wall's studs are 90 deep, F = 17, pipes are 20
// thick.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "modeler/surface.hpp"
#include "rules/check.hpp"
#include "support/jobs.hpp"
#include "support/leaning.hpp"

namespace standproud {
namespace {

using rules::Finding;
using rules::Verdict;
using testing::findings_of;
using testing::model_of;
using testing::recess;

std::string pipe(const std::string& points, double plus_minus = 0, const std::string& more = "",
                 const std::string& wall = "back") {
    return fmt::format(
        "[[pipes]]\nid = \"p\"\nkind = \"cold\"\nwall = \"{}\"\ndiameter = 20\nplus_minus = {}\npoints = [{}]\n{}\n",
        wall, plus_minus, points, more);
}

/// A level run of a metre at one depth.
std::string level(double n, double plus_minus = 0, const std::string& more = "") {
    return pipe(fmt::format("[100, 700, {0}], [1100, 700, {0}]", n), plus_minus, more);
}

std::vector<Finding> of_rule(std::vector<Finding> findings, const std::string& rule = "pipe.wall") {
    std::erase_if(findings, [&](const Finding& finding) { return finding.rule != rule; });
    return findings;
}

std::vector<Finding> found(const std::string& rest) { return of_rule(findings_of(recess(rest))); }

/// Whether the one finding fails by so much, and says so much of the length.
void expect_fails(const std::vector<Finding>& findings, double by, const std::string& says) {
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_EQ(findings[0].verdict, Verdict::fails);
    EXPECT_NEAR(*findings[0].nominal, by, 1e-6);
    EXPECT_NE(findings[0].says.find(says), std::string::npos) << findings[0].says;
}

TEST(PipeWall, InFrontOfThePanelsForAMetre) {
    const auto findings = found(level(17 + 30 + 10));
    expect_fails(findings, 17 + 30 + 20, "1000 mm of its length, from 100 / 700 to 1100 / 700");
    EXPECT_NE(findings[0].says.find("50 mm in front of the finished face"), std::string::npos) << findings[0].says;
    EXPECT_NE(findings[0].action.find("10 to 80 mm behind the bare face"), std::string::npos) << findings[0].action;
    EXPECT_EQ(findings[0].trade, Trade::plumber);
}

/// The back wall at an angle to the left one.
std::string turned(const std::string& rest, double angle) {
    std::string text = recess(rest);
    const std::string left = "id = \"left\"\nwidth = 900\nheight = 2400\n";
    return text.replace(text.find(left), left.size(), fmt::format("{}next_angle = {}\n", left, angle));
}

TEST(PipeWall, BareFaceAndBackAtAnyAngle) {
    for (const double angle : {61.3, 90.0, 117.7, 135.0, 203.9}) {
        SCOPED_TRACE(angle);
        const auto at = [&](double n) { return of_rule(findings_of(turned(level(n), angle))); };
        EXPECT_TRUE(at(-10).empty()) << "it touches the lining";
        expect_fails(at(-9.99), 0.01, "1000 mm");
        EXPECT_TRUE(at(-80).empty()) << "level with the back of the studs";
        expect_fails(at(-80.01), 0.01, "behind its back");
    }
}

TEST(PipeWall, PlusMinusMakesItTight) {
    EXPECT_TRUE(found(level(-12, 2)).empty());
    const auto tight = found(level(-12, 2.01));
    ASSERT_EQ(tight.size(), 1u);
    EXPECT_EQ(tight[0].verdict, Verdict::tight);
    EXPECT_NEAR(*tight[0].high, 0.01, 1e-9);
    EXPECT_EQ(found(level(-78, 2.01)).at(0).verdict, Verdict::tight);
    EXPECT_EQ(found(level(-9.99, 5)).at(0).verdict, Verdict::fails);
}

TEST(PipeWall, TheStudsMayStandBackFromTheBareFace) {
    std::string text = recess(level(-99.99));
    text.insert(text.find("depth = 90"), "set_back = 20\n");
    EXPECT_TRUE(of_rule(findings_of(text)).empty());
    text = recess(level(-100.01));
    text.insert(text.find("depth = 90"), "set_back = 20\n");
    expect_fails(of_rule(findings_of(text)), 0.01, "to the back");
}

TEST(PipeWall, WhereItCrossesOnlyThePartOutsideCounts) {
    // From 40 behind to 40 in front over 800: half of the pipe's thickness along n is 10 cos, so that it is out from
    // n = -10 cos on. Both ends are told.
    const double length = std::hypot(800, 80);
    const double half = 10 * 800 / length;
    const double out = (40 + half) / 80 * length;
    const auto findings = found(pipe("[100, 700, -40], [900, 700, 40]"));
    expect_fails(findings, 40 + half, fmt::format("{:g} mm of its length", std::round(out * 10) / 10));
    // There and back: two stretches.
    const auto twice = found(pipe("[100, 700, -40], [300, 700, 0], [500, 700, -40], [700, 700, 0], [900, 700, -40]"));
    ASSERT_EQ(twice.size(), 1u);
    EXPECT_NE(twice[0].says.find(" and from "), std::string::npos) << twice[0].says;
}

TEST(PipeWall, ABendCutsTheCorner) {
    // A bump of 50 over 300 and down again, its corner 5 in front of the face. Bent to a radius of 900 the middle line
    // passes the corner by 900 (1 / cos - 1).
    const std::string bump = "[300, 700, -45], [300, 1000, 5], [300, 1300, -45]";
    const double past = 900 * (std::hypot(50, 300) / 300 - 1);
    const auto bent = found(pipe(bump, 0, "bend_radius = 900"));
    ASSERT_EQ(bent.size(), 1u);
    EXPECT_NEAR(*bent[0].nominal, 5 - past + 10, 0.002);
    ASSERT_EQ(found(pipe(bump)).size(), 1u);
    EXPECT_GT(*found(pipe(bump))[0].nominal, 5 + 9.8);
}

TEST(PipeWall, ExposedIsMeantToBeSeenAndStillInTheWay) {
    EXPECT_TRUE(found(level(57, 0, "exposed = true")).empty());
    EXPECT_TRUE(found(level(-120, 0, "exposed = true")).empty());
    const std::string other =
        "[[pipes]]\nid = \"q\"\nkind = \"cold\"\nwall = \"back\"\ndiameter = 20\nplus_minus = 0\n"
        "exposed = true\npoints = [[600, 500, 57], [600, 900, 57]]\n";
    EXPECT_EQ(of_rule(findings_of(recess(level(57, 0, "exposed = true") + other)), "clash.pipe").size(), 1u);
}

/// A tap at 300 / 1200 with a hole of 30, or none.
std::string tap(bool hole) {
    return std::string("[[types]]\nid = \"t\"\nname = \"t\"\nfamily = \"spindle\"\ntrade = \"plumber\"\n") +
           (hole ? "holes = [{diameter = 30, passes = 20}]\n" : "") +
           "[[fittings]]\nid = \"a\"\ntype = \"t\"\nwall = \"back\"\nacross = 300\nfrom = \"left bare\"\nheight = "
           "1200\n";
}

TEST(PipeWall, ItsOwnWayOutThroughAFittingsHole) {
    const auto stub = [](double u, const std::string& more, bool hole = true) {
        return found(tap(hole) + pipe(fmt::format("[{0}, 700, -45], [{0}, 1200, -45], [{0}, 1200, 30]", u), 0, more));
    };
    const std::string own = "connects = [\"a\"]";
    EXPECT_TRUE(stub(300, own).empty());
    EXPECT_TRUE(stub(305, own).empty()) << "20 thick in a hole of 30";
    expect_fails(stub(305.01, own), 30, "30 mm of its length");
    expect_fails(stub(300, ""), 30, "30 mm of its length");
    EXPECT_TRUE(stub(310, own, false).empty()) << "over the spot of a fitting without holes";
    EXPECT_FALSE(stub(310.01, own, false).empty());
    // To the back nothing is its own way.
    expect_fails(found(tap(true) + pipe("[300, 1200, -45], [300, 1200, -100]", 0, own)), 10, "10 mm of its length");
}

TEST(PipeWall, AWallOfUnknownDepthIsSaidSo) {
    const auto in_left = [](double n, const std::string& wall = "") {
        std::string text = recess(pipe(fmt::format("[100, 700, {0}], [500, 700, {0}]", n), 0, "", "left"));
        const std::string left = "id = \"left\"\nwidth = 900\nheight = 2400\n";
        text.insert(text.find(left) + left.size(), wall);
        return of_rule(findings_of(text));
    };
    const auto unknown = in_left(-45);
    ASSERT_EQ(unknown.size(), 1u);
    EXPECT_EQ(unknown[0].verdict, Verdict::unknown);
    ASSERT_EQ(unknown[0].missing.size(), 1u);
    EXPECT_NE(unknown[0].action.find("[walls.masonry]"), std::string::npos);
    EXPECT_TRUE(in_left(-45, "[walls.masonry]\nthickness = 55\n").empty());
    EXPECT_EQ(in_left(-45, "[walls.masonry]\nthickness = 54.99\n").at(0).verdict, Verdict::fails);
    // In front of the wall its depth is not asked for.
    expect_fails(in_left(30), 40, "400 mm");
}

TEST(PipeWall, RoundAnInsideCornerItIsInTheNextWall) {
    const auto round = [](double depth, double u) {
        std::string text = recess(pipe(fmt::format("[300, 700, -45], [{0}, 700, -45], [{0}, 700, 400]", u)));
        const std::string left = "id = \"left\"\nwidth = 900\nheight = 2400\n";
        text.insert(text.find(left) + left.size(), fmt::format("[walls.masonry]\nthickness = {}\n", depth));
        return of_rule(findings_of(text));
    };
    EXPECT_TRUE(round(100, -45).empty());
    EXPECT_TRUE(round(55, -45).empty());
    // Behind the left wall's back by 0.01; and before its face.
    expect_fails(round(54.99, -45), 0.01, "to the front");
    EXPECT_TRUE(round(100, -10).empty());
    expect_fails(round(100, -9.99), 0.01, "to the front");
    // The left wall does not say how deep it is.
    const auto unknown = found(pipe("[300, 700, -45], [-45, 700, -45], [-45, 700, 400]"));
    ASSERT_EQ(unknown.size(), 1u);
    EXPECT_EQ(unknown[0].verdict, Verdict::unknown);
    EXPECT_EQ(unknown[0].wall, "left");
}

TEST(PipeWall, PastAnOutsideCornerItStandsInTheRoom) {
    const auto past = [](double u) {
        std::string text = recess(pipe(fmt::format("[300, 700, -45], [{}, 700, -45]", u)));
        const std::string back = "id = \"back\"\nwidth = 1200\nheight = 2400\n";
        text.insert(text.find(back) + back.size(), "next_angle = 270\n");
        return of_rule(findings_of(text));
    };
    EXPECT_TRUE(past(1200).empty());
    expect_fails(past(1200.01), 0.01, "to the front");
    expect_fails(past(1300), 100, "100 mm of its length");
}

TEST(PipeWall, UnderTheFloorAndUnderTheTrayIsNoWall) {
    const auto out = [](double v, const std::string& more = "") {
        return found(pipe(fmt::format("[600, {0}, -45], [600, {0}, 500]", v)) + more);
    };
    const std::string floor =
        "[survey]\n[[survey.widths]]\nwall = \"back\"\nheight = 300\nvalue = 1200\n[[survey.floors]]\nwall = "
        "\"back\"\nacross = 600\nvalue = 0\n";
    EXPECT_TRUE(out(-10, floor).empty());
    EXPECT_EQ(out(-9.99, floor).size(), 1u);
    expect_fails(out(-9.99), 500, "500 mm of its length");
    // Nobody read where the floor is: below the datum it may be under it, or stand in the room.
    const auto open = out(-10);
    ASSERT_EQ(open.size(), 1u);
    EXPECT_EQ(open[0].verdict, Verdict::unknown);
    EXPECT_NE(open[0].missing.at(0).find("survey.floors"), std::string::npos);
    const std::string tray =
        "[tray]\nname = \"t\"\nwall = \"back\"\nwidth = 1200\ndepth = 900\nbase = 0\nrim = 150\nwalls = [\"back\"]\n";
    EXPECT_TRUE(out(140, tray).empty());
    EXPECT_EQ(out(140.01, tray).size(), 1u);
}

TEST(PipeWall, NoMoveBringsAPipeOutOfItsWall) {
    // p lies 14 before q and needs 20 + its +/-: 6 + x further out. It can go 36 - 10 - x.
    const auto out = [](double x) {
        const std::string q =
            "[[pipes]]\nid = \"q\"\nkind = \"cold\"\nwall = \"back\"\ndiameter = 20\nplus_minus = 0\n"
            "points = [[800, 300, -50], [800, 1100, -50]]\n";
        const auto clashes = of_rule(findings_of(recess(level(-36, x) + q)), "clash.pipe");
        for (const auto& move : clashes.at(0).clash->moves) {
            if (move.id == "p" && move.out > 0) return move.out;
        }
        return 0.0;
    };
    EXPECT_NEAR(out(9.9), 15.9, 0.11);
    EXPECT_EQ(out(10.2), 0);
}

TEST(PipeWall, DepthCountsFromACrookedFaceThere) {
    // Kriging, by surface_test: a spot read without error is kept. Between its ends, 10 behind the face where they are
    // read, the pipe runs straight; the face lies 4 further back in the middle.
    Model model = model_of(recess(level(-12)));
    Surface plane;
    plane.level = 1200;
    plane.unevenness = 3;
    plane.reach = 600;
    const auto spot = [](double u, double off) { return OffPlane{{{u, 700}}, {1}, off, 1e-12}; };
    const auto with = [&](double middle) {
        model.room.faces[1].bare = make_surface(plane, {spot(100, 1), spot(600, 1 + middle), spot(1100, 1)});
        return of_rule(findings_of(model));
    };
    EXPECT_TRUE(with(0.0).empty());
    EXPECT_TRUE(with(-1.99).empty());
    const auto out = with(-2.01);
    ASSERT_EQ(out.size(), 1u);
    EXPECT_NEAR(*out[0].nominal, 0.01, 1e-4);
    EXPECT_NEAR(out[0].spot->x, 600, 20);
    EXPECT_NEAR(*with(-6)[0].nominal, 4, 1e-3);
}

TEST(PipeWall, ALeaningWallIsNoOtherThanAPlumbOne) {
    const unsigned seed = 71;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    int held = 0;
    for (int i = 0; i < 40; ++i) {
        Faults faults;
        const Job job = testing::job_of(turned("", std::uniform_real_distribution<double>(70, 160)(random)), faults);
        const Survey survey = testing::leaning_survey(job, random, 10, 0);
        for (const double n : {-10.0, -9.99, -80.0, -80.01}) {
            Job with = job;
            PipeRun run;
            run.id = run.name = "p";
            run.wall = "back";
            run.diameter = 20;
            run.points = {{300, 900, n}, {900, 900, n}};
            with.pipes.push_back(run);
            Model model = build_model(with, survey, faults);
            ASSERT_TRUE(faults.empty()) << to_string(faults.front());
            model.survey.reset();  // the faces stay; there are no readings to judge
            EXPECT_EQ(of_rule(findings_of(model)).size(), n == -10 || n == -80 ? 0u : 1u) << n;
            ++held;
        }
    }
    EXPECT_EQ(held, 160);
}

}  // namespace
}  // namespace standproud
