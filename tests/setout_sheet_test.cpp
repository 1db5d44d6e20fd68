// The set-out sheet: what it says, that it is true to scale, and that nothing on it overlaps.
#include <cairo.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <memory>
#include <random>
#include <sstream>

#include "drawing/setout_panes.hpp"
#include "modeler/job_reader.hpp"
#include "rules/check.hpp"
#include "rules/words.hpp"
#include "support/drawn_sheet.hpp"
#include "support/jobs.hpp"
#include "support/pattern.hpp"

namespace standproud {

namespace {

using testing::described;
using testing::Folder;
using testing::output_of;
using viewer::Rect;
using viewer::SetOutJob;
using viewer::Sheet;

/// A job worked out, as it was fixed. Its sheets point into it.
struct Made {
    std::string name;
    Model model;
    std::vector<rules::Finding> findings;
    std::vector<WallSetOut> walls;
};

Made made_of(const std::string& name, Job job) {
    Faults faults;
    Made made{name, build_model(as_fixed(std::move(job)), faults), {}, {}};
    for (const auto& fault : faults) ADD_FAILURE() << name << ": " << to_string(fault);
    made.findings = testing::findings_of(made.model);
    made.walls = set_out(made.model);
    return made;
}

const std::vector<Made>& demos() {
    static const std::vector<Made> all = [] {
        std::vector<std::filesystem::path> paths;
        for (const auto& entry : std::filesystem::directory_iterator(STANDPROUD_SOURCE_DIR "/models")) {
            if (entry.path().extension() == ".toml") paths.push_back(entry.path());
        }
        std::sort(paths.begin(), paths.end());
        std::vector<Made> made;
        for (const auto& path : paths) {
            Faults faults;
            Job job = read_job(path, faults);
            EXPECT_TRUE(faults.empty()) << path;
            made.push_back(made_of(path.stem().string(), std::move(job)));
        }
        return made;
    }();
    return all;
}

struct Drawn : testing::DrawnSheet {
    Drawn(const Made& made, const WallSetOut& wall)
        : DrawnSheet([&](Sheet& sheet) {
              viewer::draw_setout_on(sheet, {made.model, wall, made.findings});
          }) {}
};

/// Text off the frame, text on text, a line off the frame, a dimension that is not true to the stated scale.
std::vector<std::string> faults_of(const Sheet& sheet, double scale) {
    std::vector<std::string> faults;
    const auto& texts = sheet.texts();
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const Rect& box = texts[i].box;
        if (!(box.x >= 8 && box.y >= 8 && box.right() <= 289.02 && box.bottom() <= 202.02)) {
            faults.push_back("off the sheet: " + described(texts[i]));
        }
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            if (viewer::overlap(box, texts[j].box)) {
                faults.push_back(described(texts[i]) + " overlaps " + described(texts[j]));
            }
        }
    }
    for (const auto& line : sheet.lines()) {
        for (const Vec2 end : {line.from, line.to}) {
            if (end.x < 7.99 || end.y < 7.99 || end.x > 289.01 || end.y > 202.01) {
                faults.push_back(fmt::format("a line leaves the frame at {:.2f}, {:.2f}", end.x, end.y));
            }
        }
    }
    for (const auto& dimension : sheet.dimensions()) {
        const double length = norm(dimension.to - dimension.from) * scale;
        if (!(std::abs(length - dimension.value) < 1e-6)) {
            faults.push_back(fmt::format("{} drawn {} long", dimension.value, length));
        }
    }
    return faults;
}

void expect_sound(const Made& made) {
    EXPECT_FALSE(made.walls.empty()) << made.name;
    for (const auto& wall : made.walls) {
        const Drawn drawn(made, wall);
        for (const auto& fault : faults_of(drawn.sheet(), drawn.scale())) {
            ADD_FAILURE() << made.name << ", wall " << made.model.job.walls[wall.wall].id << ": " << fault;
        }
    }
}

std::string content(const std::filesystem::path& path) {
    std::ifstream stream(path, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

std::string pdf_text(const Made& made, const WallSetOut& wall) {
    const Folder folder;
    const auto files = viewer::write_setout(made.model, wall, made.findings, folder / "sheet");
    return output_of(fmt::format("pdftotext -layout '{}' -", files.at(0).string()));
}

/// So many taps of one type on the back wall of the recess, 12 apart, all at different heights.
Job crowded_job(std::size_t count) {
    std::string rest = "[[types]]\nid = \"tap\"\nname = \"tap\"\nfamily = \"spindle\"\ntrade = \"plumber\"\n";
    for (std::size_t i = 0; i < count; ++i) {
        rest += fmt::format(
            "[[fittings]]\nid = \"t{}\"\nname = \"tap number {}\"\ntype = \"tap\"\nwall = \"back\"\nacross = {}\nfrom "
            "= "
            "\"left bare\"\nheight = {}\n",
            i, i, 60 + 12 * static_cast<int>(i), 300 + 7 * static_cast<int>(i * i % 97));
    }
    Faults faults;
    Job job = testing::job_of(testing::recess(rest), faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    return job;
}

Made crowded(std::size_t count) { return made_of("crowded", crowded_job(count)); }

}  // namespace

TEST(SetOutSheet, DemoJobsDoNotOverlapAndAreTrueToScale) {
    ASSERT_GE(demos().size(), 4U);
    for (const auto& made : demos()) expect_sound(made);
}

TEST(SetOutSheet, RandomJobsDoNotOverlapAndAreTrueToScale) {
    std::mt19937 random(20261125);
    for (int i = 0; i < 25; ++i) expect_sound(made_of(fmt::format("random {}", i), testing::random_job(random)));
}

// From the sizes that are valid: 20 000 wide and 6 000 high, and down to what hardly holds a name.
TEST(SetOutSheet, WallsOfAnySizeGoOnTheSheet) {
    for (const double width : {150.0, 760.0, 3000.0, 5400.0, 12000.0, 20000.0}) {
        for (const double height : {450.0, 2400.0, 6000.0}) {
            Job job = crowded_job(5);
            job.walls[1].width = width;
            job.walls[1].height = height;
            job.walls[1].studs.reset();
            job.walls[1].noggins.clear();
            for (auto& fitting : job.fittings) {
                fitting.id = "a-rather-long-name-for-a-fitting-" + fitting.id;
                fitting.name = "a tap whose name runs on and on, longer than any column of any table on this sheet";
            }
            const Made made = made_of(fmt::format("{} x {}", width, height), job);
            expect_sound(made);
            const Drawn drawn(made, made.walls.at(0));
            EXPECT_GE(drawn.sheet().dimensions().size(), 5U + 2U) << made.name;  // both ends and every tap
        }
    }
}

// By hand: 4 to 20 behind and 12 behind to 3 in front leave 4 to 12 behind; with 1 to 3 behind nothing is left.
TEST(SetOutSheet, TheRangeOfTheSeatSuitsEveryFinding) {
    Made made = crowded(1);
    const auto reach = [](double low, double high) {
        rules::Finding finding;
        finding.rule = "reach.spindle";
        finding.subject = "t0";
        finding.seat_range = {low, high};
        return finding;
    };
    made.findings = {reach(-20, -4), reach(-12, 3)};
    EXPECT_TRUE(Drawn(made, made.walls.at(0)).has("4 to 12"));
    made.findings.push_back(reach(-3, -1));
    EXPECT_TRUE(Drawn(made, made.walls.at(0)).has("no depth suits all"));
    made.findings = {reach(-12, 3)};
    EXPECT_TRUE(Drawn(made, made.walls.at(0)).has("from 12 behind to 3 in front"));
}

// The check itself must see a fault: two texts on one spot, one off the sheet, a dimension that is 1 mm wrong.
TEST(SetOutSheet, TheCheckSeesFaults) {
    cairo_surface_t* surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR, nullptr);
    cairo_t* context = cairo_create(surface);
    Sheet sheet(context);
    sheet.text("one", {50, 50, 20, 5});
    EXPECT_TRUE(faults_of(sheet, 20).empty());
    sheet.text("two", {51, 51, 20, 5});
    sheet.text("three", {2, 100, 20, 5});
    sheet.measured({20, 20}, {30, 20}, 201);
    EXPECT_EQ(faults_of(sheet, 20).size(), 3U);
    cairo_destroy(context);
    cairo_surface_destroy(surface);
}

// Every fitting's figure from the left bare corner is a dimension that starts on the wall's left side, and its height
// one that starts on the datum.
TEST(SetOutSheet, EveryFittingHasItsRunningDimensions) {
    for (const auto& made : demos()) {
        for (const auto& wall : made.walls) {
            const Drawn drawn(made, wall);
            const auto& dimensions = drawn.sheet().dimensions();
            const auto measured = [&](double value, bool level) {
                return std::any_of(dimensions.begin(), dimensions.end(), [&](const auto& d) {
                    const bool is_level = std::abs(d.from.y - d.to.y) < 1e-9;
                    return is_level == level && std::abs(d.value - value) < 0.05;
                });
            };
            double origin = std::numeric_limits<double>::quiet_NaN();
            for (const auto& d : dimensions) {
                if (std::abs(d.from.y - d.to.y) > 1e-9 || d.value == 0) continue;
                if (std::isnan(origin)) origin = d.from.x;
                EXPECT_NEAR(d.from.x, origin, 1e-9) << "cumulative: all from one corner";
            }
            ASSERT_FALSE(std::isnan(origin));
            for (const auto& mark : wall.marks) {
                EXPECT_TRUE(measured(mark.left_bare, true)) << made.name << " " << mark.fitting;
                EXPECT_TRUE(measured(mark.height, false)) << made.name << " " << mark.fitting;
            }
        }
    }
}

// Reference library: poppler reads back what the sheet says.
TEST(SetOutSheet, OpeningsAreDrawnWithTheirFigures) {
    Faults faults;
    Job job = crowded_job(5);
    auto& back = job.walls[1];
    ASSERT_EQ(back.id, "back");
    back.openings = {{"window", "high window", 700, 1150, 1500, 2250, {}, {}, 5, {}},
                     {"slot", "slot for a very long name indeed", 640, 700, 1300, 1360, {}, {}, 5, {}}};
    const Made made = made_of("openings", std::move(job));
    expect_sound(made);
    const Drawn drawn(made, made.walls.at(0));
    std::string all;
    for (const auto& text : drawn.sheet().texts()) all += text.text + "\n";
    for (const char* figure : {"700 window left", "1150 window right", "1500 window sill", "2250 window head",
                               "640 slot left", "high window, 450 x 750"})
        EXPECT_NE(all.find(figure), std::string::npos) << figure << "\n" << all;
    EXPECT_EQ(all.find("very long name"), std::string::npos) << "no room for its name in 60 mm";
}

// From the bare corner and the datum: the glass, its clamps, and its name where they are; in the table with its box.
TEST(SetOutSheet, ScreensAreDrawnWithTheirFigures) {
    for (const bool clamps : {true, false}) {
        Job job = crowded_job(3);
        Screen glass;
        glass.id = "glass";
        glass.name = "fixed screen";
        glass.wall = "back";
        glass.across = {Across::From::left_bare, 447, {}};
        glass.width = 800;
        glass.thickness = 8;
        glass.bottom = 83;
        glass.top = 1987;
        glass.profile = 36;
        if (clamps) glass.fixings = {311, 1733};
        job.screens = {glass};
        const Made made = made_of("a screen", std::move(job));
        expect_sound(made);
        const Drawn drawn(made, made.walls.at(0));
        const auto& sheet = drawn.sheet();
        const auto measured = [&](double value) {
            return std::any_of(sheet.dimensions().begin(), sheet.dimensions().end(),
                               [&](const auto& d) { return std::abs(d.value - value) < 1e-6; });
        };
        for (const double value : {447.0, 83.0, 1987.0}) EXPECT_TRUE(measured(value)) << value;
        for (const double value : {311.0, 1733.0}) EXPECT_EQ(measured(value), clamps) << value;
        EXPECT_EQ(drawn.count("fixed screen"), 1U);
        EXPECT_GE(drawn.count("glass"), 5U) << "across, its ends, its own name, and in the table";
        EXPECT_EQ(drawn.count(clamps ? "clamps 36 wide, at 311, 1733" : "channel 36 wide"), 1U);
        // The glass, edge on: a line as long as it is, upright at its place.
        const double length = (1987 - 83) / drawn.scale();
        EXPECT_TRUE(std::any_of(sheet.lines().begin(), sheet.lines().end(), [&](const auto& line) {
            return line.from.x == line.to.x && std::abs(std::abs(line.from.y - line.to.y) - length) < 1e-6;
        }));
    }
}

TEST(SetOutSheet, ThePdfNamesEveryFittingWithItsFigures) {
    for (const auto& made : demos()) {
        for (const auto& wall : made.walls) {
            const std::string text = pdf_text(made, wall);
            for (const auto& mark : wall.marks) {
                // In one line of the table: the name, then both bare figures, in this order.
                const std::string row(fmt::format("(^|\\s){}\\s[^\\n]*\\b{}\\s[^\\n]*\\b{}(\\s|$)", mark.fitting,
                                                  testing::replaced(viewer::tape(mark.left_bare), "\\.", "\\."),
                                                  testing::replaced(viewer::tape(mark.right_bare), "\\.", "\\.")));
                EXPECT_FALSE(testing::searched(text, row).empty()) << made.name << " " << mark.fitting << "\n" << text;
            }
            for (const char* words : {"as fixed", "LEFT BARE", "millimetres", "Isolate water and power before work",
                                      "Measure on site before drilling"}) {
                EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
            }
            for (const char* words : {"safe", "compli", "certif", "approved"}) {
                EXPECT_EQ(text.find(words), std::string::npos) << words;
            }
        }
    }
}

// From the brief: a box at least 8 mm high and 25 mm wide for every fitting that is in the table.
TEST(SetOutSheet, EveryFittingHasABoxToWriteIn) {
    for (const std::size_t count : {1U, 4U, 12U, 40U}) {
        const Made made = crowded(count);
        const Drawn drawn(made, made.walls.at(0));
        // Each box has a side of its own on the frame's right side, above the title block.
        std::size_t boxes = 0;
        for (const auto& a : drawn.sheet().lines()) {
            const double height = a.to.y - a.from.y;
            if (a.from.x != a.to.x || std::abs(a.from.x - 289) > 1e-6 || height <= 0 || a.to.y > 177) continue;
            const bool wide =
                std::any_of(drawn.sheet().lines().begin(), drawn.sheet().lines().end(), [&](const auto& b) {
                    return b.from.y == a.from.y && b.to.y == a.from.y && b.to.x == a.from.x &&
                           b.to.x - b.from.x >= 25 && b.to.x - b.from.x < 40;
                });
            if (height >= 8 && wide) ++boxes;
        }
        const std::size_t shown = drawn.count("tap number");
        EXPECT_EQ(boxes, shown);
        EXPECT_TRUE(shown == count || (count == 40 && shown >= 12)) << shown;
    }
}

// From the brief: no text above the title block is smaller than 2.2 mm. A line of this typeface is 1.164 times its
// size.
TEST(SetOutSheet, TextKeepsToItsFloor) {
    const auto check = [](const Made& made) {
        for (const auto& wall : made.walls) {
            const Drawn drawn(made, wall);
            for (const auto& text : drawn.sheet().texts()) {
                const bool of_scale_bar = text.text.find("true print") != std::string::npos;
                if (of_scale_bar || text.box.y > 177) continue;
                EXPECT_GE(std::min(text.box.width, text.box.height), 2.2 * 1.16)
                    << made.name << ": " << described(text);
            }
        }
    };
    for (const auto& made : demos()) check(made);
    check(crowded(60));
    Job job = crowded_job(5);
    for (auto& fitting : job.fittings) fitting.name = "a tap whose name runs on and on, longer than any column here";
    check(made_of("long names", std::move(job)));
}

TEST(SetOutSheet, WhatDoesNotFitIsCounted) {
    const Made made = crowded(60);
    expect_sound(made);
    const Drawn drawn(made, made.walls.at(0));
    std::size_t shown = 0;
    for (std::size_t i = 0; i < 60; ++i) shown += drawn.has(fmt::format("tap number {}", i)) ? 1 : 0;
    EXPECT_GE(shown, 12U);
    ASSERT_LT(shown, 60U);
    const std::size_t rows = made.walls[0].marks.size() + made.walls[0].pairs.size();
    EXPECT_TRUE(drawn.has(fmt::format("and {} more: see the text report", rows - shown)));
    const Made two = crowded(2);
    EXPECT_EQ(Drawn(two, two.walls.at(0)).count("more: see"), 0U);
    // Findings too: all of them where there is room, their number where there is none.
    EXPECT_EQ(Drawn(two, two.walls.at(0)).count("UNKNOWN: "), two.findings.size());
    const Made twelve = crowded(12);
    EXPECT_TRUE(
        Drawn(twelve, twelve.walls.at(0))
            .has(fmt::format("To settle before fixing: {} findings, see the text report", twelve.findings.size())));
}

// By hand: least squares keeps two figures at one place half a pitch to either side, and never leaves the box.
TEST(SetOutSheet, FiguresSpreadAboutWhereTheyBelong) {
    EXPECT_EQ(viewer::spread({10, 10}, 4, 0, 100), (std::vector<double>{8, 12}));
    EXPECT_EQ(viewer::spread({10, 20, 30}, 4, 0, 100), (std::vector<double>{10, 20, 30}));
    EXPECT_EQ(viewer::spread({0, 0, 0}, 4, 0, 100), (std::vector<double>{0, 4, 8}));
    EXPECT_EQ(viewer::spread({99, 100}, 4, 0, 100), (std::vector<double>{96, 100}));
    EXPECT_TRUE(viewer::spread({}, 4, 0, 100).empty());
}

// Closed form: 1000 mm are 100 mm at 1:10, 50 at 1:20, 40 at 1:25, 20 at 1:50.
TEST(SetOutSheet, TheScaleIsTheLargestThatFits) {
    Wall wall;
    wall.width = 1000;
    wall.height = 1;
    EXPECT_EQ(viewer::setout_scale(wall, 100, 100), 10);
    EXPECT_EQ(viewer::setout_scale(wall, 99.9, 100), 20);
    EXPECT_EQ(viewer::setout_scale(wall, 49.9, 100), 25);
    EXPECT_EQ(viewer::setout_scale(wall, 39.9, 100), 50);
    wall.height = 2000;
    EXPECT_EQ(viewer::setout_scale(wall, 100, 100), 20);
}

TEST(SetOutSheet, TheSameJobGivesTheSameBytes) {
    const Folder folder;
    const Made& made = demos().at(0);
    ASSERT_GE(made.walls.size(), 2U);
    const auto first = viewer::write_setout(made.model, made.walls[0], made.findings, folder / "first");
    const auto other = viewer::write_setout(made.model, made.walls[1], made.findings, folder / "other");
    const auto second = viewer::write_setout(made.model, made.walls[0], made.findings, folder / "second");
    ASSERT_EQ(first.size(), 3U);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_GT(content(first[i]).size(), 1000U);
        EXPECT_EQ(content(first[i]), content(second[i])) << first[i];
        EXPECT_NE(content(first[i]), content(other[i])) << first[i];
    }
}

}  // namespace standproud
