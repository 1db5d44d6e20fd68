// The installer's bench in the window, on a virtual screen, driven by key presses and mouse clicks.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>

#include "support/desk.hpp"
#include "support/screen.hpp"
#include "viewer/bench_view.hpp"

namespace standproud {
namespace {

using namespace standproud::testing;

class BenchWindow : public ::testing::Test {
  protected:
    static std::string replaced(std::string text, const std::string& from, const std::string& to) {
        const auto at = text.find(from);
        EXPECT_NE(at, text.npos) << from;
        return at == text.npos ? text : text.replace(at, from.size(), to);
    }
    static std::string saved(DrivenWindow& window, const Desk& desk) {
        window.key("ctrl+s");
        window.wait_message("Saved");
        return desk.on_disk();
    }
    static double across(const Desk& desk, std::size_t wall) {
        Faults faults;
        const auto job = viewer::open_job(desk.job.string(), faults);
        EXPECT_TRUE(job);
        return job ? job->model.job.walls[wall].joins.at(0).distance : std::nan("");
    }
    /// The figures shown of a wall's joins are those of the file as it is now saved.
    static void expect_live(DrivenWindow& window, const Desk& desk, const std::string& wall) {
        Faults faults;
        const auto job = viewer::open_job(desk.job.string(), faults);
        ASSERT_TRUE(job);
        const auto scores = viewer::score_job_joins(*job, wall, {});
        ASSERT_TRUE(scores.at(0).answer.scored);
        const auto words = viewer::score_words(scores[0].answer.scored->score, viewer::sheets_priced(*job));
        EXPECT_TRUE(window.has(fmt::format("live {}: {}", wall, words))) << words;
    }
    VirtualScreen screen{1280, 800};
};

const char* const drawn = "across = 0\nfrom = \"centre\"";

TEST_F(BenchWindow, ALayoutIsTakenOverAndUndone) {
    Desk desk("old-stable.toml");
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("tab Joins");
    window.click("joins of");
    window.click("joins of back");
    window.click("take layout 1");
    window.wait_message("back: join at 1000");
    EXPECT_EQ(saved(window, desk), replaced(desk.text, drawn, "across = 1000.03\nfrom = \"left bare\""));
    window.wait_for("take layout 2");
    EXPECT_FALSE(window.has("take layout 1")) << "it is what is drawn";
    // Another wish, another first.
    window.click("wish");
    window.click("wish symmetry");
    window.click("take layout 1");
    window.wait_message("back: join at 742.8");  // the one drawn, at 745.55, is 2.77 off the middle of the panels
    window.key("ctrl+z");
    window.wait_message("Undone: take over a layout of back");
    window.key("ctrl+z");
    window.wait_message("Undone: take over a layout of back");
    EXPECT_EQ(saved(window, desk), desk.text);
}

TEST_F(BenchWindow, JoinsAreDraggedOnTheUnfoldedWalls) {
    Desk desk("old-stable.toml");
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("u");
    window.wait_for("plan");
    EXPECT_FALSE(window.has("view")) << "it is in the place of the 3D view";
    window.drag_from("unfolded join 1 of back", 30, 0);
    window.wait_message("join 1 of back: left ");
    const std::string text = saved(window, desk);
    const double moved = across(desk, 1);
    EXPECT_GT(moved, 40) << "to the right";
    EXPECT_EQ(moved, std::round(moved)) << "whole millimetres";
    EXPECT_EQ(text, replaced(desk.text, "across = 0\n", fmt::format("across = {:g}\n", moved)));
    expect_live(window, desk, "back");
    // The wall that was taken hold of is the one whose layouts are shown.
    window.click("take layout 2");
    window.wait_message("back: join at 790");
    window.key("ctrl+z");
    window.wait_message("Undone: take over");
    window.key("ctrl+z");
    window.wait_message("Undone: move join 1 of back");
    EXPECT_EQ(saved(window, desk), desk.text) << "the drag was one step";
    window.click("view Recess");
    window.wait_for("view");
}

TEST_F(BenchWindow, JoinsAreDraggedIn3DBesideTheirScores) {
    Desk desk("old-stable.toml");
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("j");
    window.wait_for("joins of");
    window.click("joins of");
    window.click("joins of back");
    expect_live(window, desk, "back");
    window.click("drag joins here");
    window.drag_from("grip join 1 of back", 30, 0);
    window.wait_message("join 1 of back: left ");
    EXPECT_NE(saved(window, desk), desk.text);
    expect_live(window, desk, "back");
    EXPECT_GT(across(desk, 1), 20);
}

TEST_F(BenchWindow, SheetsPageByPage) {
    Desk desk("old-stable.toml");
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("t");
    window.wait_for("page shown");
    for (const char* title : {"Wall back, elevation", "Sheet 1, cuts", "Sheet 4, cuts", "Panel back-1, rear"})
        EXPECT_TRUE(window.has(std::string("page ") + title)) << title;
    window.click("page Sheet 2, cuts");
    window.wait_for("page shown: Sheet 2, cuts");
    window.key("Next");
    window.wait_for("page shown: Sheet 3, cuts");
    window.key("Prior");
    window.wait_for("page shown: Sheet 2, cuts");
    // No join on the back wall: its one panel comes out of no sheet, and the drawings are of the new job.
    EXPECT_TRUE(window.has("page Panel back-2, front"));
    window.click("view Panels");
    window.click("tab Walls");
    window.click("which wall");
    window.click("wall back");
    window.click("take out join 1");
    window.wait_message("Join 1 of back taken out");
    window.key("t");
    window.wait_for("page Panel back-1, front");
    EXPECT_FALSE(window.has("page Panel back-2, front"));
    EXPECT_FALSE(window.has("page Sheet 1, cuts"));
}

TEST_F(BenchWindow, AJobWithoutABenchIsAsked) {
    Desk desk("old-stable.toml");
    const auto from = desk.text.find("# Sheets at the merchant's");
    const std::string bare = desk.text.substr(0, from) + desk.text.substr(desk.text.find("# Survey of the bare walls"));
    write_whole(desk.job, bare);
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("u");
    window.wait_for("unfolded join 1 of back");
    EXPECT_FALSE(window.has("take layout 1"));
    window.click("add bench");
    window.wait_for("answers taken");
    window.click("answers taken");
    window.wait_message("still to be answered: name of the stock sheet");
    const std::vector<std::pair<std::string, std::string>> typed{{"sheets.id", "acrylic-1220"},
                                                                 {"sheets.width", "1220"},
                                                                 {"sheets.height", "2440"},
                                                                 {"start", "2026-06-15"},
                                                                 {"kerf", "3"},
                                                                 {"trim", "5"},
                                                                 {"fixed_at", "16"},
                                                                 {"coldest", "8"},
                                                                 {"hottest", "38"},
                                                                 {"fixed_humidity", "60"},
                                                                 {"driest", "45"},
                                                                 {"wettest", "80"},
                                                                 {"sealant_depth", "5"},
                                                                 {"cartridge", "290"},
                                                                 {"waste", "10"},
                                                                 {"reach", "40"}};
    for (const char* choice : {"sheets.turning yes", "saw circular", "sealant_class 25"})
        window.click(std::string("answer ") + choice);
    for (const auto& [key, answer] : typed) {
        window.click("answer " + key);
        window.type(answer);
    }
    window.click("answers taken");
    window.wait_message("Added at the end of the file");
    window.wait_for("take layout 2");
    window.key("ctrl+s");
    window.wait_message("Saved");
    const std::string text = desk.on_disk();
    EXPECT_EQ(text.substr(0, bare.size()), bare);
    EXPECT_NE(text.find("sealant_class = \"25\""), std::string::npos);
    EXPECT_NE(text.find("turning = true"), std::string::npos);
    EXPECT_EQ(text.find("price"), std::string::npos) << "it was left out";
    window.key("ctrl+z");
    window.wait_message("Undone: add [bench] and a sheet");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), bare);
}

}  // namespace
}  // namespace standproud
