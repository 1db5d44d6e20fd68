// The window's panels, on a virtual screen, driven by key presses and mouse clicks: clashes, walls, survey, comparison,
// new jobs, inches, exports.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "support/desk.hpp"
#include "support/picture.hpp"
#include "support/screen.hpp"
#include "viewer/report.hpp"

namespace standproud {
namespace {

using namespace standproud::testing;

// Okabe-Ito, as in viewer/scene/palette.hpp.
constexpr std::array<int, 3> orange{230, 159, 0};
constexpr std::array<int, 3> vermillion{213, 94, 0};
constexpr std::array<int, 3> purple{204, 121, 167};
constexpr std::array<int, 3> light_ink{32, 36, 40};

class Panels : public ::testing::Test {
  protected:
    /// A picture of the 3D view, by its menu's key.
    Picture look(DrivenWindow& window, const std::filesystem::path& file) {
        window.key("ctrl+p");
        window.wait_for("file name");
        window.key("ctrl+a");
        window.type(file.string());
        window.key("Return");
        window.wait_message(file.filename().string());
        return read_picture(file);
    }
    static std::string replaced(std::string text, const std::string& from, const std::string& to) {
        const auto at = text.find(from);
        EXPECT_NE(at, text.npos) << from;
        return at == text.npos ? text : text.replace(at, from.size(), to);
    }
    static void write_number(DrivenWindow& window, const std::string& place, const std::string& number) {
        window.click(place);
        window.key("ctrl+a");
        window.type(number);
        window.key("Return");
    }
    VirtualScreen screen{1280, 800};
};

TEST_F(Panels, AnOverlapIsAHatchedSolid) {
    Desk desk("old-stable.toml");
    DrivenWindow window(screen, desk.job, desk.folder.path());
    EXPECT_LT(pixels_like(look(window, desk.folder / "nothing.png"), orange), 20);
    window.click("finding warmer heat.panel");  // its heat reaches into a panel
    const Picture overlap = look(window, desk.folder / "overlap.png");
    // Its label alone would be some 3000 pixels.
    EXPECT_GT(pixels_like(overlap, orange), 60000) << "what both fill";
    EXPECT_GT(pixels_like(overlap, {16, 18, 20}), 3000) << "strokes over it";
    window.key("Escape");
    EXPECT_LT(pixels_like(look(window, desk.folder / "left.png"), orange), 20);
}

TEST_F(Panels, AClearanceIsADimension) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    const Picture nothing = look(window, desk.folder / "nothing.png");
    window.click("finding cold pipe.hot");  // two pipes that are 9.9 mm apart
    const Picture apart = look(window, desk.folder / "apart.png");
    EXPECT_LT(pixels_like(apart, orange), 20);
    EXPECT_GT(pixels_like(apart, light_ink), pixels_like(nothing, light_ink) + 500) << "the dimension's label";
}

TEST_F(Panels, WallsAreEditedAndJoinsDragged) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("tab Walls");
    window.click("which wall");
    window.click("wall back");
    write_number(window, "layer 1", "12.5");
    window.wait_message("layer 1 12.5");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), replaced(desk.text, "thickness = \"9 +/- 0.3\"", "thickness = \"12.5 +/- 0.3\""));
    window.key("ctrl+z");
    window.wait_message("Undone");
    window.click("drag joins");
    window.drag_from("grip join 1 of back", -60, 0);
    window.wait_message("join 1 of back: left ");
    window.key("ctrl+s");
    window.wait_message("Saved");
    Faults faults;
    const auto moved = viewer::open_job(desk.job.string(), faults);
    ASSERT_TRUE(moved);
    const double across = moved->model.job.walls[1].joins.at(0).distance;
    EXPECT_LT(across, 830) << "dragged to the left";
    EXPECT_EQ(across, std::round(across)) << "whole millimetres";
    EXPECT_EQ(desk.on_disk(), replaced(desk.text, "across = 856", fmt::format("across = {:g}", across)));
    window.click("add join");
    window.wait_message("A join in the middle of back");
    window.key("ctrl+z");
    window.wait_message("Undone: add a join on back");
    window.key("ctrl+z");
    window.wait_message("Undone: move join 1 of back");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), desk.text);
}

TEST_F(Panels, SealantHasAColourAndIsSeen) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("tab Walls");
    window.click("wall gaps");
    window.click("wall sealant");  // it starts as the panels are
    window.wait_message("Sealed in a colour");
    window.click("wall sealant");
    window.key("ctrl+a");
    window.type("#c00040");
    window.key("Return");
    window.wait_message("wall sealant: #c00040");
    window.key("ctrl+s");
    window.wait_message("Saved");
    Faults faults;
    const auto job = viewer::open_job(desk.job.string(), faults);
    ASSERT_TRUE(job);
    ASSERT_TRUE(job->model.job.walls[0].sealant);
    ASSERT_TRUE(job->model.job.walls[0].sealant->colour);
    EXPECT_EQ(to_string(*job->model.job.walls[0].sealant->colour), "#c00040");
    window.click("no wall sealant");
    window.wait_message("sealant as the job");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), desk.text);
}

TEST_F(Panels, LayersComeAndGo) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("tab Walls");
    window.click("add layer");
    window.click("form name");
    window.type("ply");
    window.click("form thickness");
    window.type("900");
    window.click("form add");
    window.wait_message("out of range");  // 200 mm at most: the form says so and stays
    window.click("form thickness");
    window.key("ctrl+a");
    window.type("12");
    window.click("form add");
    window.wait_message("Layer added");
    window.key("ctrl+s");
    window.wait_message("Saved");
    const std::string board = "thickness = \"9 +/- 0.3\"\n";
    EXPECT_EQ(desk.on_disk(),
              replaced(desk.text, board, board + "[[layers]]\nkind = \"board\"\nname = \"ply\"\nthickness = 12\n"));
    window.click("take out layer 2");
    window.wait_message("ply taken out");
    window.click("own layers");
    window.wait_message("layers of its own now");
    window.key("ctrl+z");
    window.wait_message("Undone");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), desk.text);
}

TEST_F(Panels, AWallIsEditedWithTheKeyboardAlone) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("ctrl+2");
    window.wait_for("wall width");
    window.key("Tab");
    window.key("ctrl+a");
    window.type("905");
    window.key("Return");
    window.wait_message("wall width 905");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), replaced(desk.text, "id = \"left\"\nwidth = 900", "id = \"left\"\nwidth = 905"));
    window.key("ctrl+4");
    window.wait_for("cut level");
    window.key("ctrl+1");
    window.wait_for("fitting hot-tap");
}

/// Dark and light ends of the map, cividis.
std::array<int, 2> map_ends(const Picture& picture) {
    return {pixels_like(picture, {0, 34, 78}, 16), pixels_like(picture, {254, 232, 56}, 30)};
}

TEST_F(Panels, TheSurveyIsSeen) {
    Desk desk("old-stable.toml");
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("tab Show");
    const auto before = map_ends(look(window, desk.folder / "before.png"));
    EXPECT_LT(before[0], 100);
    window.click("tab Survey");
    window.click("survey times");
    window.wait_message("Lean and hollows x");
    const Picture seen = look(window, desk.folder / "survey.png");
    EXPECT_GT(map_ends(seen)[0], 1000);
    EXPECT_GT(map_ends(seen)[1], 1000);
    EXPECT_GT(pixels_like(seen, vermillion), 200) << "the blunder is marked";
    window.click("reading values");
    const Picture without = look(window, desk.folder / "without.png");
    EXPECT_LT(pixels_like(without, light_ink), pixels_like(seen, light_ink)) << "no readings but the blunder";
    EXPECT_GT(pixels_like(without, vermillion), 200);
    window.click("tab Show");
    EXPECT_LT(map_ends(look(window, desk.folder / "after.png"))[0], 100) << "gone with its panel";
}

TEST_F(Panels, AJobWithoutSurveyHasNoSurveyPanel) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    EXPECT_TRUE(window.has("tab Walls"));
    EXPECT_FALSE(window.has("tab Survey"));
}

TEST_F(Panels, ComparedWithAnEarlierFile) {
    Desk desk;
    write_whole(desk.folder / "earlier.toml",
                replaced(replaced(desk.text, "across = 100\n", "across = 250\n"), "seat = -14  ", "seat = -7  "));
    DrivenWindow window(screen, desk.job, desk.folder.path());
    EXPECT_LT(pixels_like(look(window, desk.folder / "alone.png"), purple), 20);
    window.key("ctrl+shift+c");
    window.wait_for("file name");
    window.type((desk.folder / "earlier.toml").string());
    window.key("Return");
    window.wait_message("Compared with earlier.toml: 1 moved");
    window.wait_for("changed cold-tap reach.spindle");
    window.click("moved cold-tap");
    EXPECT_GT(pixels_like(look(window, desk.folder / "compared.png"), purple), 300) << "its old place";
    window.click("end comparison");
    window.wait_message("No longer compared");
    EXPECT_FALSE(window.has("moved cold-tap"));
    EXPECT_LT(pixels_like(look(window, desk.folder / "ended.png"), purple), 20);
    EXPECT_EQ(desk.on_disk(), desk.text);
}

TEST_F(Panels, ANewJobFromAFewAnswers) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("ctrl+n");
    window.wait_for("new write");
    write_number(window, "new back", "1310");
    window.click("new fitting 1");
    window.click("new kind tap");
    window.click("new fitting 2");
    window.click("new kind rose");
    window.click("new write");
    window.wait_for("file name");
    window.key("ctrl+a");
    const auto file = desk.folder / "hall.toml";
    window.type(file.string());
    window.key("Return");
    window.wait_message("Opened");
    window.wait_for("finding tap reach.spindle");
    Faults faults;
    const auto job = viewer::open_job(file.string(), faults);
    ASSERT_TRUE(job) << to_string(faults.front());
    EXPECT_EQ(job->model.job.walls.at(1).width, 1310);
    ASSERT_EQ(job->model.fittings.size(), 2u);
    EXPECT_EQ(job->model.job.fittings[1].id, "rose");
    EXPECT_EQ(desk.on_disk(), desk.text) << "the job that was open is as it was";
    window.key("ctrl+q");
    EXPECT_EQ(window.wait_end(), 0);
}

TEST_F(Panels, InchesBesideMillimetres) {
    Desk desk;
    {
        DrivenWindow window(screen, desk.job, desk.folder.path());
        window.key("i");
        window.wait_message("Inches are shown beside mm");
        window.key("ctrl+q");
        EXPECT_EQ(window.wait_end(), 0);
    }
    // Remembered.
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("finding cold-tap reach.spindle");
    window.click("drag");
    window.drag_in_view(0.5, 0.5, 0.42, 0.5);
    window.wait_message(" in) bare / ");
    const std::string message = window.message();
    double mm = 0;
    double inch = 0;
    const auto at = message.find("height ");
    ASSERT_NE(at, message.npos) << message;
    ASSERT_EQ(std::sscanf(message.c_str() + at, "height %lf mm (%lf in)", &mm, &inch), 2) << message;
    EXPECT_NEAR(inch, mm / 25.4, 0.005 + 1e-9) << message;
}

TEST_F(Panels, ReportAndSetOutSheets) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.wait_idle();
    window.key("ctrl+shift+p");
    window.wait_for("file name");
    window.key("Return");
    window.wait_message("48 findings");
    EXPECT_NE(read_whole(desk.folder / "twin-taps.txt").find("TO DO: plumber"), std::string::npos);
    window.key("ctrl+shift+p");
    window.wait_for("file name");
    window.key("ctrl+a");
    window.type((desk.folder / "report.json").string());
    window.key("Return");
    window.wait_message("report.json");
    EXPECT_NE(read_whole(desk.folder / "report.json").find("standproud-report/1"), std::string::npos);
    window.key("ctrl+shift+o");
    window.wait_for("file name");
    window.type("sheets");
    window.key("Return");
    window.wait_message("3 set-out sheets");
    for (const char* name : {"setout-left.pdf", "setout-back.svg", "setout-right.png"}) {
        EXPECT_TRUE(std::filesystem::exists(desk.folder / "sheets" / name)) << name;
    }
}

TEST_F(Panels, TheBodyIsMovedWithOneClick) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("finding cold-tap reach.spindle");
    window.click("cure body");
    window.wait_message("Done: Set the body 2 mm further out");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), replaced(desk.text, "seat = -14  ", "seat = -12  "));
    window.key("ctrl+z");
    window.wait_message("Undone");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), desk.text);
}

}  // namespace
}  // namespace standproud
