// The window itself, on a virtual screen, driven by key presses and mouse clicks; and pictures without a window.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <array>
#include <cmath>
#include <cstdlib>

#include "modeler/files.hpp"
#include "support/desk.hpp"
#include "support/jobs.hpp"
#include "support/picture.hpp"
#include "support/screen.hpp"
#include "viewer/report.hpp"

namespace standproud {
namespace {

using namespace standproud::testing;

const std::filesystem::path models = std::filesystem::path(STANDPROUD_SOURCE_DIR) / "models";

class Window : public ::testing::Test {
  protected:
    VirtualScreen screen{1280, 800};
};

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    EXPECT_NE(at, text.npos) << from;
    return at == text.npos ? text : text.replace(at, from.size(), to);
}

rules::Finding finding_on_disk(const std::filesystem::path& job, const std::string& subject, const std::string& rule) {
    Faults faults;
    const auto opened = viewer::open_job(job.string(), faults);
    EXPECT_TRUE(opened) << (faults.empty() ? "" : to_string(faults.front()));
    for (const auto& finding : opened->findings) {
        if (finding.subject == subject && finding.rule == rule) return finding;
    }
    ADD_FAILURE() << "no finding " << rule << " of " << subject;
    return {};
}

TEST_F(Window, ChooseRemedyUndoSave) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("finding hot-tap reach.spindle");
    window.click("cure item");
    window.wait_message("Done: Fit 15 mm spindle extension");
    window.key("ctrl+s");
    window.wait_message("Saved");
    // The one line is added behind the fitting's last own key; everything else is as it was.
    EXPECT_EQ(desk.on_disk(),
              replaced(desk.text, "front of the noggin\n", "front of the noggin\nwith = \"spline-ext-15\"\n"));
    EXPECT_EQ(finding_on_disk(desk.job, "hot-tap", "reach.spindle").verdict, rules::Verdict::clear);
    window.key("ctrl+z");
    window.wait_message("Undone");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), desk.text);
    window.key("ctrl+shift+z");
    window.wait_message("Done again");
    window.key("ctrl+q");
    window.click("answer Save");
    EXPECT_EQ(window.wait_end(), 0);
    EXPECT_NE(desk.on_disk().find("with = \"spline-ext-15\""), std::string::npos);
}

TEST_F(Window, TypeADepth) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("fitting cold-tap");
    window.click("number seat");
    window.key("ctrl+a");
    window.type("-7");
    window.key("Return");
    window.wait_message("seat -7");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), replaced(desk.text, "seat = -14  ", "seat = -7  "));
    EXPECT_EQ(finding_on_disk(desk.job, "cold-tap", "reach.spindle").verdict, rules::Verdict::clear);
}

TEST_F(Window, DragAFitting) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("finding cold-tap reach.spindle");  // the eye flies there: its spindle is in the middle
    window.click("drag");
    window.drag_in_view(0.5, 0.5, 0.42, 0.5);
    window.wait_message("cold-tap: left ");
    window.key("ctrl+s");
    window.wait_message("Saved");
    Faults faults;
    const auto before = viewer::open_job((models / "twin-taps.toml").string(), faults);
    const auto after = viewer::open_job(desk.job.string(), faults);
    ASSERT_TRUE(before && after);
    EXPECT_NE(before->model.fittings[1].u, after->model.fittings[1].u);
    EXPECT_EQ(std::round(after->model.fittings[1].u), after->model.fittings[1].u) << "whole millimetres";
    for (const std::size_t other : {0, 2, 3, 4, 5}) {
        EXPECT_EQ(before->model.fittings[other].u, after->model.fittings[other].u);
        EXPECT_EQ(before->model.fittings[other].v, after->model.fittings[other].v);
    }
    window.key("ctrl+z");
    window.wait_message("Undone: move cold-tap");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_EQ(desk.on_disk(), desk.text);
}

TEST_F(Window, FilterAndKeys) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.key("ctrl+f");
    window.type("rail");
    window.wait_for("finding rail reach.screw");
    EXPECT_FALSE(window.has("finding hot-tap reach.spindle"));
    window.key("ctrl+a");
    window.key("BackSpace");
    window.wait_for("finding hot-tap reach.spindle");
    window.click("tab Show");
    window.wait_for("apart");
    window.click("cut level");
    window.wait_for("cut slider");
}

/// Waits until the window uses next to no processor for so many seconds: first it makes its solids, which takes as long
/// as it takes. Gives what it used in the last of them, s.
double at_rest(const DrivenWindow& window, unsigned seconds) {
    double used = 1;
    for (int tries = 0; tries < 60 && used > 0.05; ++tries) {
        const double before = window.processor_time();
        ::usleep(seconds * 1000000);
        used = window.processor_time() - before;
    }
    return used;
}

TEST_F(Window, ExportsBesideTheWindow) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    (void)at_rest(window, 1);  // one piece of work at a time: solids are being made
    window.key("ctrl+e");
    window.wait_for("file name");
    window.key("Return");
    window.wait_message("solids");
    const std::string step = read_whole(desk.folder / "twin-taps.step");
    EXPECT_EQ(step.rfind("ISO-10303-21;", 0), 0u);
    EXPECT_NE(step.find("END-ISO-10303-21;"), std::string::npos);
    window.key("ctrl+p");
    window.wait_for("file name");
    window.key("Return");
    window.wait_message("pixels");
    EXPECT_EQ(read_whole(desk.folder / "twin-taps.png").substr(1, 3), "PNG");
}

TEST_F(Window, KilledAndRecovered) {
    Desk desk;
    {
        DrivenWindow window(screen, desk.job, desk.folder.path());
        window.click("finding hot-tap reach.spindle");
        window.click("cure item");
        const auto kept = desk.folder / ".twin-taps.toml.unsaved";
        for (int i = 0; i < 600 && !std::filesystem::exists(kept); ++i) ::usleep(100000);
        ASSERT_TRUE(std::filesystem::exists(kept));
        window.kill();
    }
    EXPECT_EQ(desk.on_disk(), desk.text);
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.click("answer Take them over");
    window.wait_message("Changes taken over");
    window.key("ctrl+s");
    window.wait_message("Saved");
    EXPECT_NE(desk.on_disk().find("with = \"spline-ext-15\""), std::string::npos);
    EXPECT_FALSE(std::filesystem::exists(desk.folder / ".twin-taps.toml.unsaved"));
}

TEST_F(Window, AnIdleWindowRests) {
    Desk desk;
    DrivenWindow window(screen, desk.job, desk.folder.path());
    ASSERT_GT(window.processor_time(), 0);
    const double used = at_rest(window, 3);
    EXPECT_LE(used, 0.05) << "s of processor in 3 s: it never came to rest";
}

TEST_F(Window, AFileWithFaultsOpens) {
    Desk desk;
    write_whole(desk.job, desk.text + "\nacross = 1,5\n");
    DrivenWindow window(screen, desk.job, desk.folder.path());
    window.wait_message("Opened");
    EXPECT_FALSE(window.has("filter")) << "there is no job to list findings of";
    window.key("ctrl+q");
    EXPECT_EQ(window.wait_end(), 0);
}

/// Share of the pixels that differ by more than a third of the whole range in any colour.
double share_of_others(const Picture& a, const Picture& b) {
    std::size_t others = 0;
    for (std::size_t i = 0; i < a.pixels.size(); ++i) {
        for (std::size_t c = 0; c < 3; ++c) {
            if (std::abs(a.pixels[i][c] - b.pixels[i][c]) <= 85) continue;
            ++others;
            break;
        }
    }
    return static_cast<double>(others) / static_cast<double>(a.pixels.size());
}

/// Pictures against those in tests/data/pictures. What was seen is left beside the test programs.
TEST(View, PicturesAreAsTheyWere) {
    const VirtualScreen screen(640, 480);
    const auto references = std::filesystem::path(STANDPROUD_SOURCE_DIR) / "tests" / "data" / "pictures";
    struct Case {
        const char* name;
        std::vector<std::string> words;
    };
    std::vector<Picture> seen;
    for (const Case& each :
         {Case{"recess", {}}, Case{"wall", {"--wall", "back"}}, Case{"finding", {"--finding", "1"}},
          Case{"dark", {"--finding", "2", "--dark"}}, Case{"look", {"--look", "apart=60,cut=level:1000,no-flags"}}}) {
        const auto out = std::filesystem::current_path() / fmt::format("seen-{}.png", each.name);
        std::filesystem::remove(out);
        std::vector<std::string> words{STANDPROUD_PROGRAM, "view",       (models / "twin-taps.toml").string(),
                                       "--snapshot",       out.string(), "--size",
                                       "480x300"};
        words.insert(words.end(), each.words.begin(), each.words.end());
        const Outcome outcome = run_program(words, {"DISPLAY=" + screen.display()});
        ASSERT_EQ(outcome.status, 0) << outcome.output;
        const Picture now = read_picture(out);
        ASSERT_EQ(now.width, 480);
        ASSERT_EQ(now.height, 300);
        const Picture before = read_picture(references / fmt::format("{}.png", each.name));
        ASSERT_EQ(before.pixels.size(), now.pixels.size()) << "no reference; seen: " << out;
        // Other versions of the OpenGL driver smooth edges and letters otherwise.
        EXPECT_LT(share_of_others(before, now), 0.01) << "seen: " << out;
        for (const Picture& other : seen) EXPECT_GT(share_of_others(other, now), 0.01) << "the same picture twice";
        seen.push_back(now);
    }
}

/// Panels and sealant in the job's colours: reddish, and greenish in the gaps, which are few pixels wide.
TEST(View, ColoursAreTheJobs) {
    const VirtualScreen screen(640, 480);
    const testing::Folder folder;
    std::string text = read_whole(models / "twin-taps.toml");
    const auto put = [&](const std::string& behind, const std::string& line) {
        const std::size_t at = text.find(behind);
        ASSERT_NE(at, std::string::npos) << behind;
        text.insert(at + behind.size(), line);
    };
    put("kind = \"panel\"\n", "colour = \"#c02020\"\n");
    put("[panels]\n", "sealant_colour = \"#20c020\"\n");
    const auto catalogue = std::string("catalogue/");
    for (std::size_t at = text.find('"' + catalogue); at != std::string::npos; at = text.find('"' + catalogue, at + 1))
        text.insert(at + 1, models.string() + "/");
    write_whole(folder / "job.toml", text);
    const auto out = folder / "seen.png";
    const Outcome outcome =
        run_program({STANDPROUD_PROGRAM, "view", (folder / "job.toml").string(), "--snapshot", out.string(), "--size",
                     "1200x900", "--wall", "back", "--look", "no-flags,no-edges"},
                    {"DISPLAY=" + screen.display()});
    ASSERT_EQ(outcome.status, 0) << outcome.output;
    int red = 0;
    int green = 0;
    for (const auto& [r, g, b] : read_picture(out).pixels) {
        red += r > 3 * g && r > 3 * b && r > 60 ? 1 : 0;
        green += g > 3 * r && g > 3 * b && g > 60 ? 1 : 0;
    }
    EXPECT_GT(red, 50000);
    EXPECT_GT(green, 500) << "one row of pixels along the foot, and the join";
    EXPECT_LT(green, 20000);
}

/// A picture is written as every other file, and its one line on standard output too.
TEST(View, APictureGoesThroughALinkAndNotOverADevice) {
    const VirtualScreen screen(640, 480);
    const Folder folder;
    const std::string job = (models / "twin-taps.toml").string();
    const auto snapshot = [&](const std::string& to, const std::string& where) {
        return run_program({"sh", "-c",
                            fmt::format("'{}' view '{}' --snapshot '{}' --size 200x100 {}", STANDPROUD_PROGRAM, job,
                                        (folder / to).string(), where)},
                           {"DISPLAY=" + screen.display()});
    };
    std::filesystem::create_directory(folder / "real");
    std::filesystem::create_symlink("real/seen.png", folder / "link.png");
    std::filesystem::create_symlink("/dev/null", folder / "device.png");
    ASSERT_EQ(snapshot("link.png", "").status, 0);
    EXPECT_TRUE(std::filesystem::is_symlink(folder / "link.png"));
    EXPECT_EQ(read_picture(folder / "real/seen.png").width, 200);
    const Outcome device = snapshot("device.png", "");
    EXPECT_EQ(device.status, 2);
    EXPECT_NE(device.output.find("device.png: it is a device, not a file"), std::string::npos) << device.output;
    const Outcome full = snapshot("full.png", ">/dev/full");
    EXPECT_EQ(full.status, 2);
    EXPECT_NE(full.output.find("cannot write standard output"), std::string::npos) << full.output;
    // In the window: a job, or changes kept beside it, that cannot be read.
    write_whole(folder / "job.toml", read_whole(job));
    std::filesystem::create_directory(folder / ".job.toml.unsaved");
    for (const char* file : {"gone.toml", "job.toml"}) {
        const Outcome opened =
            run_program({STANDPROUD_PROGRAM, "view", (folder / file).string()},
                        {"DISPLAY=" + screen.display(), "XDG_CONFIG_HOME=" + folder.path().string()});
        EXPECT_EQ(opened.status, 2) << opened.output;
        EXPECT_NE(opened.output.find("cannot read " + folder.path().string()), std::string::npos) << opened.output;
    }
}

/// Command lines: what comes back, and the sentence.
TEST(View, RefusalsAreOneSentence) {
    const std::string job = (models / "twin-taps.toml").string();
    const std::string out = (std::filesystem::temp_directory_path() / "standproud-never-written.png").string();
    struct Case {
        std::vector<std::string> words;
        const char* says;
    };
    for (const Case& each : {
             Case{{job}, "there is no display"},
             Case{{job, "--snapshot", out}, "there is no display"},
             Case{{job, "--snapshot", out, "--size", "10x10"}, "each 64 to 8192"},
             Case{{job, "--snapshot", out, "--size", "800"}, "WIDTHxHEIGHT"},
             Case{{job, "--snapshot", out, "--wall", "north"}, "there are left, back, right"},
             Case{{job, "--snapshot", out, "--finding", "99"}, "there are 48 findings"},
             Case{{job, "--snapshot", out, "--look", "apart=9999"}, "0 to 300 mm apart"},
             Case{{job, "--snapshot", out, "--look", "hide=wallpaper"},
                  "no such layer or trade; there are arm, bed, board"},
             Case{{job, "--snapshot", out, "--look", "cut=north:5"}, "there are back, left, right"},
             Case{{job, "--snapshot", out, "--look", "cut=level"}, "level:MM or WALL:MM"},
             Case{{job, "--snapshot", out, "--look", "survey"}, "no survey"},
             Case{{job, "--snapshot", out, "--look", "pretty"}, "is no look; there are apart=MM"},
             Case{{"--snapshot", out}, "needs a job file"},
             Case{{"no-such.toml", "--snapshot", out}, "cannot read no-such.toml"},
         }) {
        std::vector<std::string> words{STANDPROUD_PROGRAM, "view"};
        words.insert(words.end(), each.words.begin(), each.words.end());
        const Outcome outcome = run_program(words, {"DISPLAY", "WAYLAND_DISPLAY"});
        EXPECT_EQ(outcome.status, 2) << outcome.output;
        EXPECT_NE(outcome.output.find(each.says), std::string::npos) << outcome.output;
        EXPECT_FALSE(std::filesystem::exists(out));
    }
}

}  // namespace
}  // namespace standproud
