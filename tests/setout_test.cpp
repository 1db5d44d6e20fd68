// Set-out: marks, pairs, noggins, and the three ways they are written. Source of every check: closed form, and
// RFC 4180 for the CSV.
#include "modeler/setout.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <random>

#include "rules/check.hpp"
#include "rules/words.hpp"
#include "support/jobs.hpp"
#include "support/schema.hpp"
#include "viewer/setout_report.hpp"

namespace standproud {
namespace {

using testing::model_of;
using testing::recess;

constexpr const char* taps = R"(
[[types]]
id = "tap"
name = "tap"
family = "spindle"
trade = "plumber"
[[types.parts]]
role = "body"
from = "seat"
diameter = 40
start = -30
length = 30
[[fittings]]
id = "cold"
name = "cold, \"twin\" tap"
type = "tap"
wall = "back"
across = 300
from = "right finished"
height = 1000
seat = 10
[[fittings]]
id = "hot"
type = "tap"
wall = "back"
across = 300
from = "left finished"
height = 1000
seat = 10
)";

viewer::CheckedJob checked(Model model) {
    Faults faults;
    auto limits = rules::limits_for(model.job, faults);
    auto findings = rules::check(model, limits);
    return {std::move(model), std::move(limits), std::move(findings), std::nullopt};
}

TEST(SetOut, BareMarksCountBothSideLinings) {
    // 300 from a finished corner that stands 17 in from the bare one.
    const auto walls = set_out(model_of(recess(taps)));
    ASSERT_EQ(walls.size(), 1u);
    ASSERT_EQ(walls[0].marks.size(), 2u);
    EXPECT_EQ(walls[0].marks[0].fitting, "hot") << "from left to right";
    EXPECT_NEAR(walls[0].marks[0].left_bare, 317, 1e-9);
    EXPECT_NEAR(walls[0].marks[1].right_bare, 317, 1e-9);
    EXPECT_NEAR(walls[0].marks[1].left_bare, 1200 - 317, 1e-9);
    EXPECT_NEAR(walls[0].marks[0].face, 17, 1e-9);
}

TEST(SetOut, PairsHaveACentreLine) {
    const auto walls = set_out(model_of(recess(taps)));
    ASSERT_EQ(walls[0].pairs.size(), 1u);
    EXPECT_NEAR(walls[0].pairs[0].left_bare, 600, 1e-9);
    EXPECT_NEAR(*walls[0].pairs[0].left_finished, 583, 1e-9);
    EXPECT_NEAR(walls[0].pairs[0].apart, 1200 - 2 * 317, 1e-9);
}

TEST(SetOut, ANogginIsThereOnlyAtItsFaceAndWhereItReaches) {
    // The noggin of the recess: u 0 to 600, v 955 to 1045, face 20 behind. The bodies reach 30 behind their seat.
    const auto walls = set_out(model_of(recess(taps)));
    ASSERT_EQ(walls[0].noggins.size(), 2u);
    EXPECT_TRUE(walls[0].noggins[0].there) << "hot: u 297 to 337";
    EXPECT_NEAR(walls[0].noggins[0].face, -20, 1e-9);
    EXPECT_FALSE(walls[0].noggins[1].there) << "cold: u 863 to 903 is past the noggin";
    EXPECT_EQ(*walls[0].noggins[1].left_stud, 600);
    EXPECT_EQ(*walls[0].noggins[1].right_stud, 1177.5);
    std::string deeper = taps;
    deeper.replace(deeper.rfind("seat = 10"), 9, "seat = 5 ");
    EXPECT_FALSE(set_out(model_of(recess(deeper)))[0].noggins[0].there) << "its back is 25 behind: 5 past the noggin";
}

TEST(SetOut, MarksGoBackToWhereTheyCameFrom) {
    const unsigned seed = 31;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    int seen = 0;
    for (int i = 0; i < 200; ++i) {
        Faults faults;
        const Model model = build_model(testing::random_job(random), faults);
        for (const auto& wall : set_out(model)) {
            for (const auto& mark : wall.marks) {
                const double width = model.job.walls[wall.wall].width;
                EXPECT_NEAR(mark.left_bare + mark.right_bare, width, 1e-9);
                const Across bare{Across::From::left_bare, mark.left_bare, {}};
                EXPECT_NEAR(*along_wall(model.job, model.room, wall.wall, bare, mark.height),
                            model.fittings[mark.placed].u, 1e-9);
                if (mark.right_finished) {
                    const Across finished{Across::From::right_finished, *mark.right_finished, {}};
                    EXPECT_NEAR(*along_wall(model.job, model.room, wall.wall, finished, mark.height), mark.left_bare,
                                1e-9);
                }
                ++seen;
            }
        }
    }
    EXPECT_GT(seen, 500);
}

TEST(SetOut, ASeatMustSuitEveryReachFinding) {
    rules::Finding front;
    front.rule = "reach.plate";
    front.subject = "box";
    front.seat_range = {7.1, 14.9};
    rules::Finding screws = front;
    screws.seat_range = {13.6, 20};
    const auto both = rules::seat_for_all({front, screws}, "box");
    ASSERT_TRUE(both);
    EXPECT_EQ(*both, std::pair(13.6, 14.9));
    EXPECT_FALSE(rules::seat_for_all({front, screws}, "other"));
    screws.seat_range = {14.91, 20};
    EXPECT_FALSE(rules::seat_for_all({front, screws}, "box")) << "no depth suits both";
    screws.seat_range.reset();
    EXPECT_FALSE(rules::seat_for_all({front, screws}, "box")) << "the screws have no depth at all";
}

/// A window left of a hatch, on the wall of the taps; written the other way round.
std::string with_openings() {
    std::string text = recess(taps);
    text.insert(
        text.find("[walls.studs]"),
        "openings = [{id = \"hatch\", left = 700, right = 1000, bottom = 0, top = 700}, {id = \"window\", name = "
        "\"high window\", left = 150, right = 550, bottom = 1700, top = 2100}]\n");
    return text;
}

TEST(SetOut, OpeningsAreToldFromBothBareCorners) {
    const auto job = checked(model_of(with_openings()));
    const auto walls = set_out(job.model);
    ASSERT_EQ(walls.size(), 1u);
    ASSERT_EQ(walls[0].openings.size(), 2u);
    EXPECT_EQ(walls[0].openings[0].opening, "window");
    EXPECT_EQ(walls[0].openings[1].opening, "hatch");
    EXPECT_EQ(walls[0].openings[1].right_bare, 1200 - 1000);
    const std::string text = viewer::text_setout(job, walls, {});
    EXPECT_NE(text.find("high window: 150 from left bare, 400 wide, 650 from right bare; 1700 to 2100 above the datum"),
              std::string::npos)
        << text;
    const auto document = nlohmann::json::parse(viewer::json_setout(job, walls));
    for (const auto& problem : testing::problems(document, "setout")) ADD_FAILURE() << problem;
    EXPECT_EQ(document["walls"][0]["openings"][0]["top"], 2100);
}

TEST(SetOut, ANogginThatAnOpeningCutsIsNotThere) {
    // The body of the hot tap reaches from 297 to 337 across and from 980 to 1020 up.
    const auto there = [](const std::string& openings) {
        std::string text = recess(taps);
        if (!openings.empty()) text.insert(text.find("[walls.studs]"), "openings = [" + openings + "]\n");
        const auto walls = set_out(model_of(text));
        for (const auto& need : walls.at(0).noggins) {
            if (need.fitting == "hot") return need.there;
        }
        ADD_FAILURE() << "no need for the hot tap";
        return false;
    };
    EXPECT_TRUE(there(""));
    EXPECT_TRUE(there("{id = \"o\", left = 100, right = 600, bottom = 1020, top = 1500}"));
    EXPECT_FALSE(there("{id = \"o\", left = 100, right = 600, bottom = 1019.9, top = 1500}"));
}

TEST(SetOut, NoStudThatAnOpeningCutsIsNamedBesideATimber) {
    // Studs at 22.5, 600 and 1177.5; the hot tap's body is 297 to 337 across, 980 to 1020 up.
    const auto need_with = [](const std::string& openings) {
        std::string text = recess(taps);
        text.insert(text.find("[walls.studs]"), "openings = [" + openings + "]\n");
        const auto walls = set_out(model_of(text));
        for (const auto& need : walls.at(0).noggins) {
            if (need.fitting == "hot") return need;
        }
        ADD_FAILURE() << "no need for the hot tap";
        return NogginNeed{};
    };
    const auto clear = need_with("{id = \"o\", left = 500, right = 700, bottom = 1020, top = 1500}");
    EXPECT_EQ(clear.right_stud, 600);
    EXPECT_EQ(clear.in_opening, "");
    const auto cut = need_with("{id = \"o\", left = 500, right = 700, bottom = 1000, top = 1500}");
    EXPECT_EQ(cut.right_stud, 1177.5);
    EXPECT_EQ(cut.in_opening, "");
    EXPECT_EQ(need_with("{id = \"o\", left = 330, right = 700, bottom = 1000, top = 1500}").in_opening, "o");
}

TEST(SetOut, AWallWithOpeningsAloneHasASheet) {
    std::string text = recess("");
    text.insert(text.find("[walls.studs]"),
                "openings = [{id = \"o\", left = 330, right = 700, bottom = 1000, top = 1500}]\n");
    const auto walls = set_out(model_of(text));
    ASSERT_EQ(walls.size(), 1u);
    EXPECT_TRUE(walls[0].marks.empty());
    EXPECT_EQ(walls[0].openings.size(), 1u);
}

/// Held by clamps of 40 at 500 and 1000, 300 from the left finished corner of the back wall: u = 317.
std::string with_screen(const std::string& more, const std::string& wall = "back") {
    return recess("[[screens]]\nid = \"glass\"\nname = \"fixed screen\"\nwall = \"" + wall +
                  "\"\nacross = 300\nfrom = \"left finished\"\nwidth = 700\nthickness = 8\nbottom = 100\ntop = 2000\n" +
                  more + "\n");
}

TEST(SetOut, AScreenIsToldFromBothBareCornersWithTheTimberItNeeds) {
    const auto job = checked(model_of(with_screen("profile = 40\nfixings = [500, 1000]")));
    const auto walls = set_out(job.model);
    ASSERT_EQ(walls.size(), 1u) << "a wall with a screen alone is set out";
    ASSERT_EQ(walls[0].screens.size(), 1u);
    EXPECT_NEAR(walls[0].screens[0].left_bare, 317, 1e-9);
    EXPECT_NEAR(walls[0].screens[0].right_bare, 1200 - 317, 1e-9);
    EXPECT_NEAR(*walls[0].screens[0].left_finished, 300, 1e-9);
    ASSERT_EQ(walls[0].noggins.size(), 2u);
    const auto& low = walls[0].noggins[0];
    EXPECT_EQ(low.purpose, "screen");
    EXPECT_NEAR(low.left, 297, 1e-9);
    EXPECT_NEAR(low.top, 520, 1e-9);
    EXPECT_EQ(low.face, 0);
    EXPECT_EQ(*low.left_stud, 22.5);
    EXPECT_EQ(*low.right_stud, 600);
    EXPECT_FALSE(low.there);
    EXPECT_FALSE(walls[0].noggins[1].there) << "the noggin at 1000 is set back 20";
    const std::string text = viewer::text_setout(job, walls, {});
    for (const char* figure : {"317 from left bare", "883 from right bare", "100 to 2000 above", "500, 1000"})
        EXPECT_NE(text.find(figure), std::string::npos) << figure << "\n" << text;
    const auto document = nlohmann::json::parse(viewer::json_setout(job, walls));
    for (const auto& problem : testing::problems(document, "setout")) ADD_FAILURE() << problem;
    EXPECT_EQ(document["walls"][0]["screens"][0]["profile"], 40);
    EXPECT_EQ(document["walls"][0]["screens"][0]["fixings"], nlohmann::json({500, 1000}));
    EXPECT_EQ(document["walls"][0]["noggins"][0]["purpose"], "screen");
}

TEST(SetOut, TimberBehindAScreenIsThereWhereTheRuleFindsIt) {
    std::string flush = with_screen("profile = 40\nfixings = [1000]");
    flush.replace(flush.find("set_back = 20"), 13, "set_back = 0");
    EXPECT_TRUE(set_out(model_of(flush)).at(0).noggins.at(0).there);
    // A channel needs it all the way up; the stud at 600 is 45 wide.
    const auto channel = [](double across) {
        std::string text = with_screen("profile = 30");
        text.replace(text.find("across = 300"), 12, "across = " + std::to_string(across));
        const auto walls = set_out(model_of(text));
        EXPECT_EQ(walls.at(0).noggins.at(0).bottom, 100);
        EXPECT_EQ(walls.at(0).noggins.at(0).top, 2000);
        return walls[0].noggins[0].there;
    };
    EXPECT_TRUE(channel(583 + 7.49));
    EXPECT_FALSE(channel(583 + 7.51));
    std::string without = with_screen("", "left");
    without.replace(without.find("left finished"), 13, "left bare");
    const auto untold = checked(model_of(without));
    const auto document = nlohmann::json::parse(viewer::json_setout(untold, set_out(untold.model)));
    for (const auto& problem : testing::problems(document, "setout")) ADD_FAILURE() << problem;
    EXPECT_TRUE(document["walls"][0]["screens"][0]["profile"].is_null());
}

TEST(SetOut, CsvIsRfc4180) {
    const auto job = checked(model_of(recess(taps)));
    const std::string csv = viewer::csv_setout(job, set_out(job.model));
    std::size_t lines = 0;
    for (std::size_t at = csv.find("\r\n"); at != std::string::npos; at = csv.find("\r\n", at + 1)) ++lines;
    EXPECT_EQ(lines, 3u);
    EXPECT_EQ(csv.substr(csv.size() - 2), "\r\n");
    EXPECT_NE(
        csv.find("back,cold,\"cold, \"\"twin\"\" tap\",plumber,883.0,317.0,866.0,300.0,1000.0,,,10.0,,,17.0,\r\n"),
        std::string::npos)
        << csv;
}

TEST(SetOut, JsonHoldsToItsSchema) {
    std::mt19937 random(8);
    for (int i = 0; i < 30; ++i) {
        Faults faults;
        const auto job = checked(build_model(testing::random_job(random), faults));
        const auto document = nlohmann::json::parse(viewer::json_setout(job, set_out(job.model)));
        for (const auto& problem : testing::problems(document, "setout")) ADD_FAILURE() << problem;
        auto broken = document;
        broken.erase("datum");
        EXPECT_FALSE(testing::problems(broken, "setout").empty());
    }
}

}  // namespace
}  // namespace standproud
