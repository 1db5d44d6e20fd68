// What fills the gaps, and the colours that a job gives. Source of every check: closed form, but where it says
// otherwise. Back wall of `recess`: panels from 13 to 1187 across, 4 to 2396 up, lined first.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "modeler/colour.hpp"
#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"
#include "modeler/parts.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using testing::job_of;
using testing::model_of;
using testing::recess;

/// The recess with a line put before the first of some text.
std::string with(const std::string& before, const std::string& line, std::string text = recess("")) {
    text.insert(text.find(before), line + "\n");
    return text;
}

std::string on_back(const std::string& line) { return with("[walls.studs]", line); }

std::vector<Part> sealant_of_wall(const Model& model, const std::string& wall) {
    std::vector<Part> parts;
    for (auto& part : build_sealant(model)) {
        EXPECT_EQ(part.layer, "sealant");
        if (part.wall == wall) parts.push_back(std::move(part));
    }
    return parts;
}

double filled(const Part& part) { return volume(part) / part.length; }

bool holds(const Profile& shape, Vec2 at) {
    const auto spans = spans_at(shape, at.y);
    return std::any_of(spans.begin(), spans.end(),
                       [&](const auto& span) { return at.x > span.first && at.x < span.second; });
}

bool holds(const Part& part, Vec2 at) {
    return holds(part.outline, at) &&
           std::none_of(part.holes.begin(), part.holes.end(), [&](const Profile& hole) { return holds(hole, at); });
}

TEST(Sealant, FootAndTopOfAWallWhoseEndsLieBehindItsNeighbours) {
    const auto seals = sealant_of_wall(model_of(recess("")), "back");
    ASSERT_EQ(seals.size(), 2u);
    for (const auto& seal : seals) {
        EXPECT_NEAR(filled(seal), 1174.0 * 4, 0.01);
        EXPECT_EQ(seal.length, 6);
        EXPECT_TRUE(seal.holes.empty());
    }
}

TEST(Sealant, AJoinJoinsThemUp) {
    const auto seals =
        sealant_of_wall(model_of(on_back("joins = [{across = 600, from = \"left bare\", gap = 5}]")), "back");
    ASSERT_EQ(seals.size(), 1u);
    EXPECT_NEAR(filled(seals[0]), 2 * 1174.0 * 4 + 2392.0 * 5, 0.02);
}

TEST(Sealant, CrossingJoinsAreCountedOnce) {
    const auto seals = sealant_of_wall(
        model_of(on_back("joins = [{across = 600, from = \"left bare\"}]\nlevel_joins = [{height = 1500, gap = 6}]")),
        "back");
    ASSERT_EQ(seals.size(), 1u);
    EXPECT_NEAR(filled(seals[0]), 2 * 1174.0 * 4 + 2392.0 * 4 + (1174.0 - 4) * 6, 0.03);
}

TEST(Sealant, TheWallLinedSecondIsSealedAgainstTheFaceOfTheFirst) {
    // Back stands 17 out; the left wall's panel keeps 4 from that and ends at 879 of 900.
    const Model model = model_of(recess(""));
    const auto seals = sealant_of_wall(model, "left");
    ASSERT_EQ(seals.size(), 1u);
    EXPECT_NEAR(extent(seals[0].outline)[1], 883, 1e-5);
    EXPECT_NEAR(filled(seals[0]), 2 * 883.0 * 4 + 2392.0 * 4, 0.02);
}

TEST(Sealant, AFreeTopLineHasNone) {
    const auto seals = sealant_of_wall(model_of(with("order = ", "top = 2100")), "back");
    ASSERT_EQ(seals.size(), 1u);
    EXPECT_NEAR(filled(seals[0]), 1174.0 * 4, 0.01);
}

TEST(Sealant, WithoutGapsThereIsNone) { EXPECT_TRUE(build_sealant(model_of(with("order = ", "gap = 0"))).empty()); }

TEST(Sealant, ARingRoundAWindow) {
    const auto seals = sealant_of_wall(
        model_of(on_back("openings = [{id = \"w\", left = 400, right = 800, bottom = 1200, top = 1800}]")), "back");
    ASSERT_EQ(seals.size(), 3u);
    const auto ring = std::find_if(seals.begin(), seals.end(), [](const Part& p) { return !p.holes.empty(); });
    ASSERT_NE(ring, seals.end());
    // Inside corners of the panel, 5 mm round; arcs are chords within 0.02 mm.
    EXPECT_NEAR(filled(*ring), 408.0 * 608 - 400.0 * 600 - (4 - pi) * 25, 0.5);
    EXPECT_NEAR(area(ring->holes[0]), 400.0 * 600, 1e-3);
}

/// Three gaps round a strip of a reveal: what its bed leaves open, its frame's end, and its own ends.
TEST(Sealant, StripsOfARevealAreSealedToo) {
    const Model model = model_of(
        on_back("openings = [{id = \"w\", left = 400, right = 800, bottom = 1200, top = 1800, reveal = 100}]"));
    double sill = 0;
    for (const auto& seal : build_sealant(model)) {
        if (seal.id.rfind("back/sealant-w-sill", 0) == 0) sill += filled(seal);
    }
    // From the face at 17 to 4 short of the frame at -100, between jambs 4 short of the opening's edges.
    EXPECT_NEAR(sill, 400.0 * 117 - 392.0 * 113, 0.01);
}

/// Points of panels and sealant, and the gaps as they are told apart elsewhere (gaps.cpp): a relation, over random
/// jobs.
TEST(Sealant, EverySealedGapIsFilledAndNoPanelIs) {
    const unsigned seed = 4242;
    std::mt19937 random(seed);
    int gaps = 0;
    int hidden = 0;
    for (int round = 0; round < 60; ++round) {
        SCOPED_TRACE(::testing::Message() << "seed " << seed << " round " << round);
        Faults faults;
        const Model model = build_model(testing::random_job(random), faults);
        const auto seals = build_sealant(model);
        const auto filled_at = [&](std::size_t wall, Vec2 at) {
            return std::any_of(seals.begin(), seals.end(), [&](const Part& seal) {
                return seal.wall == model.job.walls[wall].id && holds(seal, at);
            });
        };
        for (const auto& joint : panel_joints(model)) {
            if (joint.gap.width <= 0 || joint.length < 10) continue;
            // Outside a corner the next wall's bed fills part of it: not told here.
            const bool outside =
                joint.kind == JointKind::corner &&
                std::any_of(model.room.corners.begin(), model.room.corners.end(), [&](const Corner& c) {
                    const std::size_t left = model.panels[joint.panels.front()].wall;
                    return c.left_wall == left && c.angle > 225;
                });
            if (outside) continue;
            const bool filled = filled_at(joint.wall, 0.5 * (joint.from + joint.to));
            EXPECT_EQ(filled, joint.sealed) << joint.name;
            joint.sealed ? ++gaps : ++hidden;
        }
        for (const auto& panel : model.panels) {
            const auto e = extent(panel.outline);
            for (int k = 0; k < 200; ++k) {
                const Vec2 at{std::uniform_real_distribution<double>(e[0] - 5, e[1] + 5)(random),
                              std::uniform_real_distribution<double>(e[2] - 5, e[3] + 5)(random)};
                if (margin_inside(RoundedRect::circle(at, 0), panel.outline) <= 0.001) continue;
                EXPECT_FALSE(filled_at(panel.wall, at)) << panel.id << ' ' << at.x << ' ' << at.y;
            }
        }
    }
    EXPECT_GT(gaps, 200);
    EXPECT_GT(hidden, 20);
}

// Source: CSS Color Module Level 4, 5.2 (from memory): six digits, upper or lower case, two a channel.
TEST(Colours, AreReadAndWritten) {
    ASSERT_TRUE(read_colour("#d8CFc0"));
    EXPECT_EQ(*read_colour("#d8CFc0"), (Colour{216, 207, 192}));
    EXPECT_EQ(to_string(*read_colour("#d8CFc0")), "#d8cfc0");
    EXPECT_EQ(to_string(Colour{0, 9, 255}), "#0009ff");
    for (const char* not_one :
         {"", "#", "d8cfc0", "#d8cfc", "#d8cfc00", "#d8cfcg", "#-1-1-1", "# 1 1 1", "#+1+1+1", "white", "#0x10x1"})
        EXPECT_FALSE(read_colour(not_one)) << not_one;
}

TEST(Colours, AWallsOwnComeBeforeTheJobs) {
    std::string text = with("order = ", "sealant_colour = \"#102030\"", on_back("sealant_colour = \"clear\""));
    text.replace(text.find("name = \"panel\""), 14, "name = \"panel\"\ncolour = \"#a0b0c0\"");
    const Model model = model_of(text);
    for (const auto& part : build_parts(model)) {
        EXPECT_EQ(part.colour.has_value(), part.layer == "panel") << part.id;
        if (part.colour) {
            EXPECT_EQ(to_string(*part.colour), "#a0b0c0") << part.id;
        }
    }
    for (const auto& part : build_sealant(model)) {
        EXPECT_EQ(part.colour.has_value(), part.wall != "back") << part.id;
        if (part.colour) {
            EXPECT_EQ(to_string(*part.colour), "#102030") << part.id;
        }
    }
}

TEST(Colours, WhatIsNoneIsSaidWithItsPlace) {
    std::string text = with("order = ", "sealant_colour = \"cream\"", on_back("sealant_colour = 7"));
    text.replace(text.find("name = \"panel\""), 14, "name = \"panel\"\ncolour = \"#a0b0\"");
    Faults faults;
    (void)job_of(text, faults);
    ASSERT_EQ(faults.size(), 3u);
    std::string all;
    for (const auto& fault : faults) all += to_string(fault) + "\n";
    for (const char* words :
         {"layers.colour is not a colour (key layers.colour; found \"#a0b0\"; allowed: \"#rrggbb\", as \"#d8cfc0\")",
          "panels.sealant_colour is not a colour of sealant (key panels.sealant_colour; found \"cream\"; allowed: "
          "\"clear\", or \"#rrggbb\", as \"#d8cfc0\")",
          "walls.sealant_colour is not text"})
        EXPECT_NE(all.find(words), std::string::npos) << words << "\nin\n" << all;
}

}  // namespace
}  // namespace standproud
