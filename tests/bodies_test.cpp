// What passes a hole is there, whatever the catalogue draws; what nobody drew is said to be held against nothing.
// Source of every check: closed form.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "modeler/parts.hpp"
#include "rules/check.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using rules::Finding;
using rules::Verdict;
using testing::findings_of;
using testing::model_of;
using testing::recess;

const Finding* find(const std::vector<Finding>& findings, const std::string& rule, const std::string& subject) {
    for (const auto& finding : findings) {
        if (finding.rule == rule && finding.subject == subject) return &finding;
    }
    return nullptr;
}

/// A fitting at 600 from the left bare corner of the back wall, where a stud of 45 stands; F is 17.
std::string fitting(const std::string& family, const std::string& lengths, const std::string& parts, double across,
                    const std::string& seat) {
    return fmt::format(R"(
[[types]]
id = "t"
name = "t"
family = "{}"
trade = "plumber"
connection = "G 1/2"
{}
{}
[[fittings]]
id = "a"
type = "t"
wall = "back"
across = {}
from = "left bare"
height = 700
{}
)",
                       family, lengths, parts, across, seat);
}

const std::string hole = "holes = [{diameter = 30, passes = 20}]\n";
const std::string spindle = "spindle_length = \"60 +/- 0\"\nproud_min = 0\nproud_max = 60\n";

std::vector<Finding> spindle_at(double across, const std::string& parts,
                                const std::string& seat = "seat = \"-30 +/- 0\"") {
    return findings_of(recess(fitting("spindle", spindle + hole, parts, across, seat)));
}

TEST(Bodies, WhatPassesItsHoleMeetsAStud) {
    // 20 round, from 30 behind the bare face: the stud reaches from 577.5 to 622.5.
    const auto inside = spindle_at(577.5 - 10 + 0.01, "");
    const Finding* clash = find(inside, "clash.timber", "a");
    ASSERT_NE(clash, nullptr);
    EXPECT_NEAR(clash->clash->distance, -0.01, 1e-6);
    EXPECT_EQ(find(spindle_at(577.5 - 10 - 0.01, ""), "clash.timber", "a"), nullptr);
    // In front of the studs it meets none.
    EXPECT_EQ(find(spindle_at(600, "", "seat = \"0 +/- 0\""), "clash.timber", "a"), nullptr);
    EXPECT_NE(find(spindle_at(600, "", "seat = \"-0.01 +/- 0\""), "clash.timber", "a"), nullptr);
}

TEST(Bodies, WhatIsNotDrawnIsUnknown) {
    const std::string body =
        "[[types.parts]]\nrole = \"body\"\nfrom = \"seat\"\ndiameter = 40\nstart = -30\nlength = 30\n";
    const std::string handle =
        "[[types.parts]]\nrole = \"handle\"\nfrom = \"face\"\ndiameter = 40\nstart = 10\nlength = 40\n";
    const auto unknown = [](const std::vector<Finding>& findings, std::size_t missing) {
        const Finding* finding = find(findings, "body.given", "a");
        if (missing == 0) {
            EXPECT_EQ(finding, nullptr);
            return;
        }
        ASSERT_NE(finding, nullptr);
        EXPECT_EQ(finding->verdict, Verdict::unknown);
        EXPECT_EQ(finding->missing.size(), missing);
        EXPECT_NE(finding->action.find("type t"), std::string::npos) << finding->action;
    };
    unknown(spindle_at(300, ""), 2);
    unknown(spindle_at(300, body), 1);
    unknown(spindle_at(300, handle), 1);
    unknown(spindle_at(300, body + handle), 0);
    // No hole in the panel at all: nothing was held against its edges either.
    unknown(findings_of(recess(fitting("spindle", spindle, body + handle, 300, ""))), 1);
    // Nothing tells what passes: a third thing to add.
    unknown(findings_of(recess(fitting("spindle", spindle + "holes = [{diameter = 30}]\n", "", 300, ""))), 3);
}

TEST(Bodies, ANicheAcrossAStud) {
    // Its front is 5 behind the bare face; it is 300 wide. What is behind the front is not known.
    const auto niche = [](const std::string& parts) {
        return findings_of(recess(fitting("plate",
                                          "recess_max = 30\nholes = [{width = 312, height = 312, radius = 6, "
                                          "passes_width = 300, passes_height = 300}]\n",
                                          parts, 600, "seat = \"-5 +/- 0\"")));
    };
    const auto findings = niche("");
    EXPECT_NE(find(findings, "clash.timber", "a"), nullptr);
    EXPECT_NE(find(findings, "body.given", "a"), nullptr);
    // Drawn behind its front, nothing is put before it: there is only air.
    const std::string drawn =
        "[[types.parts]]\nrole = \"niche\"\nfrom = \"seat\"\nwidth = 300\nheight = 300\nstart = -90\nlength = 90\n";
    const Model model = model_of(recess(fitting(
        "plate",
        "recess_max = 30\nholes = [{width = 312, height = 312, radius = 6, passes_width = 300, passes_height = 300}]\n",
        drawn, 600, "seat = \"-5 +/- 0\"")));
    int of_it = 0;
    for (const auto& part : build_parts(model)) of_it += part.fitting == "a" ? 1 : 0;
    EXPECT_EQ(of_it, 1);
}

TEST(Bodies, AFlangeIsNoScrew) {
    // As below: the tip is 39 behind the bare face, whatever lies over the hole in front.
    const auto near = [](const std::string& parts, const std::string& passes) {
        return findings_of(
            recess(fitting("screw",
                           "screw_length = \"60 +/- 0\"\nbase_thickness = \"4 +/- 0\"\nembedment_min = 20\n"
                           "holes = [{diameter = 14" +
                               passes + "}]\n",
                           parts, 300, "") +
                   "[[pipes]]\nid = \"cold\"\nkind = \"cable\"\nwall = \"back\"\ndiameter = 8\nplus_minus = 0\n"
                   "points = [[100, 700, -35], [500, 700, -35]]\n"));
    };
    const std::string flange =
        "[[types.parts]]\nrole = \"flange\"\nfrom = \"face\"\ndiameter = 60\nstart = 0\nlength = 5\n";
    EXPECT_NE(find(near("", ", passes = 6"), "pipe.screw", "cold"), nullptr);
    EXPECT_NE(find(near(flange, ", passes = 6"), "pipe.screw", "cold"), nullptr);
    EXPECT_EQ(find(near(flange, ", passes = 6"), "body.given", "a"), nullptr);
    // Nothing says how thick the screw is: it was held against nothing, and that is said.
    EXPECT_NE(find(near(flange, ""), "body.given", "a"), nullptr);
}

TEST(Bodies, AScrewMeetsAPipe) {
    // 60 long under a base of 4: its tip is 60 - 4 - 17 = 39 behind the bare face. The pipe is 15 round.
    const auto near = [](double depth) {
        return findings_of(recess(
            fitting("screw",
                    "screw_length = \"60 +/- 0\"\nbase_thickness = \"4 +/- 0\"\nembedment_min = 20\n"
                    "holes = [{diameter = 14, passes = 6}]\n",
                    "", 300, "") +
            fmt::format("[[pipes]]\nid = \"cold\"\nkind = \"cold\"\nwall = \"back\"\ndiameter = 15\nplus_minus = 0\n"
                        "points = [[100, 700, {}], [500, 700, {}]]\n",
                        depth, depth)));
    };
    // 10 mm apart are asked for, and the screw is set out to +/- 2.
    EXPECT_NE(find(near(-39 - 7.5 - 12 + 0.01), "pipe.screw", "cold"), nullptr);
    EXPECT_EQ(find(near(-39 - 7.5 - 12 - 0.01), "pipe.screw", "cold"), nullptr);
}

TEST(Bodies, ASpindleThatIsDrawnIsNotPutTwice) {
    const auto count = [](const std::string& parts) {
        int of_it = 0;
        const Model model = model_of(recess(fitting("spindle", spindle + hole, parts, 300, "seat = \"-30 +/- 0\"")));
        for (const auto& part : build_parts(model)) of_it += part.fitting == "a" ? 1 : 0;
        return of_it;
    };
    const auto drawn = [](double start, double length) {
        return fmt::format(
            "[[types.parts]]\nrole = \"spindle\"\nfrom = \"seat\"\ndiameter = 10\nstart = {}\nlength = {}\n", start,
            length);
    };
    EXPECT_EQ(count(""), 1);
    EXPECT_EQ(count(drawn(0, 60)), 1);
    EXPECT_EQ(count(drawn(0, 47)), 1);     // to the face: 30 + 17
    EXPECT_EQ(count(drawn(0, 46.99)), 2);  // not quite
    EXPECT_EQ(count(drawn(0.01, 60)), 2);
    EXPECT_EQ(count(drawn(-10, 20) + drawn(10, 40)), 2);  // in two pieces without a break
    EXPECT_EQ(count(drawn(-10, 20) + drawn(10.01, 40)), 3);
}

}  // namespace
}  // namespace standproud
