// The window's 3D view, on a virtual screen: opening shows the whole recess; pictures of panels without cracks.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "modeler/files.hpp"
#include "support/desk.hpp"
#include "support/jobs.hpp"
#include "support/picture.hpp"
#include "support/screen.hpp"

namespace standproud {
namespace {

using namespace standproud::testing;

void expect_whole(DrivenWindow& window, const std::string& how) {
    window.wait_idle();
    const auto views = window.places("view");
    const auto boxes = window.places("box of all");
    ASSERT_EQ(views.size(), 1u) << how;
    ASSERT_EQ(boxes.size(), 1u) << how;
    const auto& view = views.begin()->second;
    const auto& box = boxes.begin()->second;
    EXPECT_TRUE(box[0] >= view[0] && box[1] >= view[1] && box[2] <= view[2] && box[3] <= view[3]) << fmt::format(
        "{}: {} {} {} {} in {} {} {} {}", how, box[0], box[1], box[2], box[3], view[0], view[1], view[2], view[3]);
    const double share = std::max((box[2] - box[0]) / (view[2] - view[0]), (box[3] - box[1]) / (view[3] - view[1]));
    EXPECT_GT(share, 0.75) << how << ": it would fit larger";
    const auto flags = window.places("flag ");
    EXPECT_GT(flags.size(), 1u) << how;
    for (const auto& [name, flag] : flags) {
        EXPECT_TRUE(flag[0] >= view[0] && flag[1] >= view[1] && flag[2] <= view[2] && flag[3] <= view[3]) << name;
    }
}

void open_through_dialog(DrivenWindow& window, const std::filesystem::path& file) {
    window.key("ctrl+o");
    window.wait_for("file name");
    window.key("ctrl+a");
    window.type(file.string());
    window.key("Return");
    window.wait_message("Opened " + file.string());
}

/// From the start screen: a recent file, the dialog, a new job; over another job; after one with faults was put right.
TEST(OpeningShowsTheWholeRecess, FromTheStartScreen) {
    const VirtualScreen screen{1280, 800};
    Desk desk;
    {
        DrivenWindow window(screen, desk.job, desk.folder.path());
        expect_whole(window, "command line");
        // Eye moved away, and opened again over itself.
        window.drag_in_view(0.5, 0.5, 0.8, 0.3);
        open_through_dialog(window, desk.job);
        expect_whole(window, "over another");
    }
    {
        DrivenWindow window(screen, "", desk.folder.path());
        window.click("recent twin-taps.toml");
        window.wait_message("Opened");
        expect_whole(window, "recent");
    }
    {
        DrivenWindow window(screen, "", desk.folder.path());
        open_through_dialog(window, desk.job);
        expect_whole(window, "dialog");
    }
}

TEST(OpeningShowsTheWholeRecess, OfANewJob) {
    const VirtualScreen screen{1280, 800};
    Desk desk;
    DrivenWindow window(screen, "", desk.folder.path());
    window.click("welcome new");
    window.wait_for("new write");
    window.click("new fitting 1");
    window.click("new kind tap");
    window.click("new fitting 2");
    window.click("new kind rose");
    window.click("new write");
    window.wait_for("file name");
    window.key("ctrl+a");
    window.type((desk.folder / "hall.toml").string());
    window.key("Return");
    window.wait_message("Opened");
    expect_whole(window, "new");
}

TEST(OpeningShowsTheWholeRecess, AfterAFault) {
    const VirtualScreen screen{1280, 800};
    Desk desk;
    const auto faulty = desk.folder / "faulty.toml";
    write_whole(faulty, desk.text + "\nacross = 1,5\n");
    DrivenWindow window(screen, faulty, desk.folder.path());
    window.wait_message("Opened");
    open_through_dialog(window, desk.job);
    expect_whole(window, "after a fault");
}

TEST(OpeningShowsTheWholeRecess, AtAnySize) {
    const VirtualScreen screen{2560, 1440};
    for (const char* size : {"900x560", "2560x1440", "1000x1400"}) {
        Desk desk("corner-mixer.toml");
        DrivenWindow window(screen, desk.job, desk.folder.path(), size);
        expect_whole(window, size);
    }
}

/// Dark pixels along level lines over a panel's middle; edges would be there.
int dark_in_band(const Picture& picture, double left, double right, double top, double bottom) {
    int dark = 0;
    for (int y = static_cast<int>(top * picture.height); y < bottom * picture.height; ++y) {
        for (int x = static_cast<int>(left * picture.width); x + 1 < right * picture.width; ++x) {
            const auto at =
                static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) + static_cast<std::size_t>(x);
            const auto& a = picture.pixels[at];
            const auto& b = picture.pixels[at + 1];
            dark += a[0] + a[1] + a[2] + 36 < b[0] + b[1] + b[2] ? 1 : 0;
        }
    }
    return dark;
}

}  // namespace
}  // namespace standproud
