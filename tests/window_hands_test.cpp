// The window under a user's hands, on a virtual screen: keys that let go and act, rows that stay, windows that stay on
// screen, letters and columns on small and fine screens.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "support/desk.hpp"
#include "support/screen.hpp"

namespace standproud {
namespace {

using namespace standproud::testing;

class Hands : public ::testing::Test {
  protected:
    static double width(const std::array<double, 4>& box) { return box[2] - box[0]; }
    static double height(const std::array<double, 4>& box) { return box[3] - box[1]; }
    static void expect_inside(const std::array<double, 4>& box, double width, double height) {
        EXPECT_GE(box[0], 0);
        EXPECT_GE(box[1], 0);
        EXPECT_LE(box[2], width);
        EXPECT_LE(box[3], height);
    }
    VirtualScreen screen{1280, 800};
};

TEST_F(Hands, EscapeTakesOneStepAtATime) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("finding hot-tap reach.spindle");
    window.click("tab Walls");
    window.click("add layer");
    window.click("form kind");
    EXPECT_TRUE(window.has("form kind: board"));
    window.key("Escape");
    EXPECT_FALSE(window.has("form kind: board")) << "the list is closed";
    ASSERT_TRUE(window.has("form add")) << "the form is not";
    window.key("Escape");
    EXPECT_FALSE(window.has("form add"));
    ASSERT_TRUE(window.has("cure item")) << "the finding is still chosen";
    window.key("Escape");
    EXPECT_FALSE(window.has("cure item"));
    window.wait_message("Nothing is chosen");
    // A menu is a list, too.
    window.click("finding hot-tap reach.spindle");
    window.click("menu Edit");
    EXPECT_TRUE(window.has("entry Add a fitting..."));
    window.key("Escape");
    EXPECT_FALSE(window.has("entry Add a fitting..."));
    EXPECT_TRUE(window.has("cure item"));
    window.key("F1");
    EXPECT_TRUE(window.has("window keys"));
    window.key("Escape");
    EXPECT_FALSE(window.has("window keys"));
    EXPECT_TRUE(window.has("cure item"));
}

TEST_F(Hands, EnterAndSpaceActOnAFramedRow) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    for (const char* act : {"Return", "space", "KP_Enter"}) {
        window.key("ctrl+f");
        for (const char* key : {"Down", "Down", "Down", act, "Down", act}) window.key(key);
        EXPECT_TRUE(window.has("detail")) << act;
        window.key("Escape");
        EXPECT_FALSE(window.has("detail")) << act;
    }
    // A list that drops down.
    window.click("tab Walls");
    window.click("which wall");
    window.key("Down");
    window.key("Return");
    EXPECT_FALSE(window.has("wall back")) << "it closes on the row that was taken";
}

TEST_F(Hands, EnterInAFormsListIsNotForTheForm) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("tab Walls");
    window.click("add layer");
    window.click("form name");
    window.type("ply");
    window.click("form thickness");
    window.type("12");
    window.click("form kind");
    window.key("Down");
    window.key("Return");
    EXPECT_FALSE(window.has("form kind: board"));
    ASSERT_TRUE(window.has("form add")) << "the row was taken, not the form";
    window.click("form name");
    window.key("Return");
    EXPECT_FALSE(window.has("form add")) << "in a field it is for the form";
}

TEST_F(Hands, CtrlYDoesAgain) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    for (const char* keys : {"ctrl+y", "ctrl+shift+z"}) {
        window.click("finding hot-tap reach.spindle");
        window.click("cure item");
        window.key("ctrl+z");
        window.wait_message("Undone");
        window.key(keys);
        window.wait_message("Done again");
        window.key("ctrl+z");
        window.wait_message("Undone");
    }
}

TEST_F(Hands, AClickedRowStaysUnderThePointer) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    for (const char* row : {"finding wall back panel.movement", "fitting rail", "fitting cold-tap"}) {
        const auto before = window.box(row);
        window.click(row);
        EXPECT_EQ(window.box(row), before) << row;
        window.key("Escape");
        EXPECT_EQ(window.box(row), before) << row;
    }
    // What is chosen elsewhere is brought into sight.
    const auto first = window.box("finding hot-tap reach.spindle");
    EXPECT_GT(window.box("finding stop reach.spindle")[3], 362) << "below the list's end";
    window.click("fitting stop");
    EXPECT_LT(window.box("finding stop reach.spindle")[3], 362);
    EXPECT_GE(window.box("finding stop reach.spindle")[1], first[1]) << "not under the head";
}

TEST_F(Hands, OneVerdictIsNotVerdicts) {
    Desk desk;
    std::string text = desk.text;
    const std::string mine = "seat = -14  ";
    text.replace(text.find(mine), mine.size(), "seat = -7  ");
    write_whole(desk.folder / "earlier.toml", text);
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("ctrl+shift+c");
    window.wait_for("file name");
    window.type((desk.folder / "earlier.toml").string());
    window.key("Return");
    window.wait_message("1 verdict changed");
}

TEST_F(Hands, FloatingWindowsStayOnScreen) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("s");
    window.key("F1");
    const auto help = window.box("window keys");
    EXPECT_GT(width(help), 300);
    window.resize(900, 560);
    expect_inside(window.box("window keys"), 900, 560);
    expect_inside(window.box("window section"), 900, 560);
    window.key("Escape");
    window.key("Escape");
    window.key("ctrl+n");
    expect_inside(window.box("window form"), 900, 560);
}

TEST_F(Hands, LargeLettersInASmallWindow) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path(), "900x560", {"--scale", "2"});
    for (const char* keys : {"ctrl+n", "ctrl+o", "ctrl+shift+a"}) {
        window.key(keys);
        expect_inside(window.box("window form"), 900, 560);
        window.key("Escape");
        EXPECT_FALSE(window.has("window form"));
    }
    window.key("F1");
    expect_inside(window.box("window keys"), 900, 560);
}

TEST_F(Hands, ThePictureKeepsHalfOfASmallWindow) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path(), "900x560");
    EXPECT_GE(width(window.box("view")), 450);
    window.click("finding cold-tap reach.spindle");
    EXPECT_TRUE(window.has("detail"));
    window.click("tab Walls");
    EXPECT_FALSE(window.has("filter"));
    window.key("ctrl+f");
    EXPECT_TRUE(window.has("filter")) << "the tab of findings comes to the front";
    window.resize(1280, 800);
    window.click("tab Walls");
    EXPECT_TRUE(window.has("filter")) << "a column of its own where there is room";
}

TEST(Lettering, FollowsTheScreenAndTheSettingsWin) {
    const VirtualScreen fine(1600, 1000, {"-dpi", "192"});
    const VirtualScreen plain(1600, 1000, {"-dpi", "96"});
    const auto letters = [](const VirtualScreen& screen, Desk& desk) {
        DrivenWindow window(screen, desk.job, desk.folder.path(), "1600x1000");
        const auto box = window.box("filter");
        return box[3] - box[1];
    };
    Desk desk;
    const double usual = letters(plain, desk);
    EXPECT_NEAR(letters(fine, desk), 2 * usual, 1);
    write_whole(desk.folder / ".Xdefaults", "Xft.dpi: 144\n");  // what a display that has no resources is asked for
    EXPECT_NEAR(letters(plain, desk), 1.5 * usual, 1);
    std::filesystem::create_directories(desk.folder / "config/standproud");
    write_whole(desk.folder / "config/standproud/window", "scale 1\n");
    EXPECT_NEAR(letters(fine, desk), usual, 0.5);
}

TEST(Lettering, AWindowIsAsLargeAsItsLettersNeed) {
    const VirtualScreen screen(3840, 2160, {"-dpi", "192"});
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path(), "");
    EXPECT_GT(window.box("tab Show")[2], 1900) << "2560 wide, for 1280 at plain size";
}

}  // namespace
}  // namespace standproud
