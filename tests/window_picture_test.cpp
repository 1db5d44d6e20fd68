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
    const auto places = window.places("");
    ASSERT_TRUE(places.count("view") && places.count("box of all")) << how;
    const auto view = places.at("view");
    const auto box = places.at("box of all");
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

Picture picture_of(const VirtualScreen& screen, const Folder& folder, const std::string& job, const std::string& look,
                   const std::string& size) {
    const auto out = folder / "seen.png";
    const Outcome outcome = run_program(
        {STANDPROUD_PROGRAM, "view", (std::filesystem::path(STANDPROUD_SOURCE_DIR) / "models" / job).string(),
         "--snapshot", out.string(), "--size", size, "--look", look},
        {"DISPLAY=" + screen.display()});
    EXPECT_EQ(outcome.status, 0) << outcome.output;
    return read_picture(out);
}

int level_of(const std::array<int, 3>& pixel) { return pixel[0] + pixel[1] + pixel[2]; }

/// Pixels inside what linings cover that are darker in one picture than in another. Lines along their rims, three
/// pixels wide, are left out: a frame ends there.
int darker(const Picture& with, const Picture& without, const Picture& bare) {
    const auto lined = [&](int x, int y) {
        const auto at = static_cast<std::size_t>(y * with.width + x);
        return std::abs(level_of(without.pixels[at]) - level_of(bare.pixels[at])) > 12;
    };
    int count = 0;
    constexpr int rim = 3;
    for (int y = rim; y + rim < with.height; ++y) {
        for (int x = rim; x + rim < with.width; ++x) {
            bool inside = true;
            for (const int by : {-rim, 0, rim}) inside = inside && lined(x + by, y) && lined(x, y + by);
            const auto at = static_cast<std::size_t>(y * with.width + x);
            count += inside && level_of(with.pixels[at]) + 24 < level_of(without.pixels[at]) ? 1 : 0;
        }
    }
    return count;
}

/// The same picture with and without the studs behind the linings. In the smallest ones, lines of studs stood out most.
TEST(View, NoStudShowsThroughALining) {
    const VirtualScreen screen(640, 480);
    const Folder folder;
    for (const std::string job : {"corner-mixer.toml", "twin-taps.toml", "level-entry.toml"}) {
        for (const std::string size : {"240x150", "400x250", "800x500"}) {
            const Picture with = picture_of(screen, folder, job, "no-flags", size);
            const Picture without = picture_of(screen, folder, job, "no-flags,hide=frame", size);
            const Picture bare = picture_of(screen, folder, job, "no-flags,hide=frame,hide=board,hide=panel", size);
            ASSERT_EQ(with.pixels.size(), bare.pixels.size());
            EXPECT_EQ(darker(with, without, bare), 0) << job << " " << size;
        }
    }
    // Joins are still there, and so are studs behind nothing.
    const Picture joined = picture_of(screen, folder, "corner-mixer.toml", "no-flags", "800x500");
    const Picture no_edges = picture_of(screen, folder, "corner-mixer.toml", "no-flags,no-edges", "800x500");
    const Picture bare =
        picture_of(screen, folder, "corner-mixer.toml", "no-flags,no-edges,hide=board,hide=panel", "800x500");
    EXPECT_GT(darker(joined, no_edges, bare), 500) << "four joins of some 300 pixels";
}

}  // namespace
}  // namespace standproud
