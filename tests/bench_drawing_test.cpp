// The sheets of the bench from inside: nothing overlaps, all is true to scale, the rear folds back onto the front, and
// what is printed is what the geometry gives.
#include <map>
#include <random>
#include <set>

#include "bench_drawing/panel_sheet.hpp"
#include "bench_drawing/stock_sheet.hpp"
#include "bench_drawing/wall_sheet.hpp"
#include "bench_sheets.hpp"
#include "support/pattern.hpp"

namespace standproud {
namespace {

using bench_drawn::all_pages;
using bench_drawn::demo;
using bench_drawn::demos;
using bench_drawn::Drawn;
using bench_drawn::Made;
using testing::described;
using viewer::Bench;
using viewer::BenchPanel;
using viewer::Sheet;

/// Text on text, off the frame or too small to read; a line off the frame; a dimension that is not true to the scale.
std::vector<std::string> faults_of(const Sheet& sheet, double scale) {
    std::vector<std::string> faults;
    const auto& texts = sheet.texts();
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const viewer::Rect& box = texts[i].box;
        if (!(box.x >= 8 && box.y >= 8 && box.right() <= 289.02 && box.bottom() <= 202.02))
            faults.push_back("off the sheet: " + described(texts[i]));
        // An em of 2.2 mm makes a line of 2.2 x 1.16 in this font (measured).
        // A single letter is narrower than its line is high.
        const double high =
            texts[i].text.size() > 1 ? std::min(box.width, box.height) : std::max(box.width, box.height);
        if (high < 2.2 * 1.16) faults.push_back("too small: " + described(texts[i]));
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            if (viewer::overlap(box, texts[j].box))
                faults.push_back(described(texts[i]) + " overlaps " + described(texts[j]));
        }
    }
    for (const auto& line : sheet.lines()) {
        for (const Vec2 end : {line.from, line.to}) {
            if (end.x < 7.99 || end.y < 7.99 || end.x > 289.01 || end.y > 202.01)
                faults.push_back(fmt::format("a line leaves the frame at {:.2f}, {:.2f}", end.x, end.y));
        }
    }
    for (const auto& dimension : sheet.dimensions()) {
        const double length = norm(dimension.to - dimension.from) * scale;
        if (!(std::abs(length - dimension.value) < 1e-6))
            faults.push_back(fmt::format("{} drawn {} long", dimension.value, length));
    }
    return faults;
}

/// How many sheets were looked at.
std::size_t expect_sound(const Made& made) {
    const auto pages = all_pages(made.bench);
    for (const auto& page : pages) {
        const Drawn drawn(page.draw);
        for (const auto& fault : faults_of(drawn.sheet(), drawn.scale()))
            ADD_FAILURE() << made.name << ", " << page.title << ": " << fault;
    }
    return pages.size();
}

void draw_face(Sheet& sheet, const Bench& bench, const BenchPanel& panel, cutting::Face face) {
    viewer::draw_panel_sheet(sheet, bench, panel, face);
}

}  // namespace

TEST(BenchDrawing, DemoSheetsDoNotOverlapAndAreTrueToScale) {
    ASSERT_GE(demos().size(), 5U);
    std::size_t sheets = 0;
    for (const auto& made : demos()) sheets += expect_sound(made);
    EXPECT_GT(sheets, 60U);
}

TEST(BenchDrawing, NothingIsLeftOutOfTheDemoSheets) {
    for (const auto& made : demos()) {
        for (const auto& page : all_pages(made.bench)) {
            const Drawn drawn(page.draw);
            EXPECT_EQ(drawn.count("no room") + drawn.count("more: see"), 0U) << made.name << ", " << page.title;
        }
    }
}

TEST(BenchDrawing, RandomJobsDoNotOverlapAndAreTrueToScale) {
    constexpr unsigned seed = 20261126;
    SCOPED_TRACE(fmt::format("seed {}", seed));
    std::mt19937 random(seed);
    int drawn = 0;
    for (int i = 0; i < 12; ++i) {
        Job job = testing::random_job(random);
        job.sheets = demo("old-stable").job.model.job.sheets;
        job.bench = demo("old-stable").job.model.job.bench;
        auto checked = bench_drawn::checked(std::move(job));
        if (checked.model.panels.empty()) continue;
        expect_sound(bench_drawn::made_of(fmt::format("random {}", i), std::move(checked)));
        ++drawn;
    }
    EXPECT_GT(drawn, 6);
}

TEST(BenchDrawing, TwoJobsTogetherAreDrawnApart) {
    auto first = demo("old-stable").job;
    auto second = demo("twin-taps").job;
    second.model.job.bench = first.model.job.bench;
    const Bench bench = viewer::work_out_bench({first, second});
    std::set<std::string> stems;
    const auto pages = viewer::bench_pages(bench);
    for (const auto& page : pages) stems.insert(page.stem);
    EXPECT_EQ(stems.size(), pages.size());
    EXPECT_TRUE(stems.contains("drawings/wall-old-stable-back"));
    EXPECT_TRUE(stems.contains("drawings/panel-twin-taps-back-1-rear"));
    expect_sound({"both", first, bench});
}

// The check itself must see a fault.
TEST(BenchDrawing, TheCheckSeesFaults) {
    const auto faults = [](const std::function<void(Sheet&)>& draw) {
        return faults_of(Drawn(draw).sheet(), 20).size();
    };
    EXPECT_EQ(faults([](Sheet& sheet) { sheet.text("one", {50, 50, 20, 5}); }), 0U);
    EXPECT_EQ(faults([](Sheet& sheet) {
                  sheet.text("one", {50, 50, 20, 5});
                  sheet.text("two", {51, 51, 20, 5});
              }),
              1U);
    EXPECT_EQ(faults([](Sheet& sheet) { sheet.text("off", {2, 100, 20, 5}); }), 1U);
    EXPECT_EQ(faults([](Sheet& sheet) { sheet.text("small", {50, 50, 20, 5}, {.size = 2.1}); }), 1U);
    EXPECT_EQ(faults([](Sheet& sheet) { sheet.measured({20, 20}, {30, 20}, 200.01); }), 1U);
    EXPECT_EQ(faults([](Sheet& sheet) { sheet.line({0, 20}, {30, 20}, 0.2); }), 1U);
}

// Both sheets lay the panel at the same place of the paper, so folding is x -> 2 x middle - x on paper.
TEST(BenchDrawing, TheRearFoldsBackOntoTheFrontPointByPoint) {
    int folded = 0;
    for (const auto& made : demos()) {
        for (const auto& panel : made.bench.panels) {
            ASSERT_TRUE(panel.plan) << made.name << " " << panel.id;
            const Drawn front([&](Sheet& s) { draw_face(s, made.bench, panel, cutting::Face::front); });
            const Drawn rear([&](Sheet& s) { draw_face(s, made.bench, panel, cutting::Face::rear); });
            const auto& ours = front.sheet().dimensions();
            const auto& theirs = rear.sheet().dimensions();
            ASSERT_EQ(ours.size(), theirs.size());
            // A notch is marked by its inside corners, all else by its centre.
            std::size_t marks = 0;
            for (const auto& one : panel.plan->front.openings) marks += one.seen.notch ? one.inside.size() : 1;
            const std::size_t edges = panel.plan->front.edges.size();
            ASSERT_EQ(ours.size(), 2 * marks + edges);
            double least = 1e9;
            double most = -1e9;
            for (std::size_t i = 2 * marks; i < ours.size(); ++i) {
                least = std::min(least, ours[i].from.x);
                most = std::max(most, ours[i].from.x);
            }
            const auto fold = [&](Vec2 p) { return Vec2{least + most - p.x, p.y}; };
            const double tolerance = 1e-9 / front.scale();  // of the panel, on paper
            for (std::size_t i = 0; i < 2 * marks; ++i) {
                // The inside corners of a notch come in another order when it is turned over.
                std::size_t same = i % 2;  // across and up in turn
                while (same < 2 * marks && norm(fold(theirs[i].to) - ours[same].to) >= tolerance) same += 2;
                ASSERT_LT(same, 2 * marks) << made.name << " " << panel.id << " " << i;
                EXPECT_NEAR(theirs[i].value, ours[same].value, 1e-9);
                // Where two edges are as near, each face counts from its own left.
                const Vec2 foot = fold(theirs[i].from);
                if (norm(foot - ours[same].from) > tolerance) {
                    EXPECT_NEAR(norm(foot - ours[same].to), norm(ours[same].from - ours[same].to), tolerance);
                }
                ++folded;
            }
            for (std::size_t i = 2 * marks; i < theirs.size(); ++i) {
                const auto meets = [&](const auto& other) {
                    return norm(fold(theirs[i].from) - other.from) < tolerance;
                };
                EXPECT_EQ(std::count_if(ours.begin() + static_cast<std::ptrdiff_t>(2 * marks), ours.end(), meets), 1)
                    << made.name << " " << panel.id;
                ++folded;
            }
        }
    }
    EXPECT_GT(folded, 150);
}

namespace {

/// The distance of a point from the side of a convex outline that looks this way, in plain geometry: from the line
/// through the two corners that lie furthest that way.
double from_side(std::vector<Vec2> corners, const std::string& side, Vec2 p) {
    const Vec2 way = side == "left"    ? Vec2{-1, 0}
                     : side == "right" ? Vec2{1, 0}
                     : side == "top"   ? Vec2{0, 1}
                                       : Vec2{0, -1};
    std::sort(corners.begin(), corners.end(), [&](Vec2 a, Vec2 b) { return dot(a, way) > dot(b, way); });
    const Vec2 along = corners[1] - corners[0];
    return std::abs(cross(along, p - corners[0])) / norm(along);
}

/// "A, C to E" as indices.
std::set<std::size_t> letters(const std::string& words) {
    std::set<std::size_t> all;
    std::size_t last = 0;
    bool run = false;
    std::istringstream stream(testing::replaced(words, ",", ""));
    for (std::string word; stream >> word;) {
        if (word == "to") {
            run = true;
            continue;
        }
        const auto index = static_cast<std::size_t>(word[0] - 'A');
        for (std::size_t i = run ? last : index; i <= index; ++i) all.insert(i);
        last = index;
        run = false;
    }
    return all;
}

/// A notch's inside corners, of other cuts the centre.
std::vector<Vec2> marked_points(const PanelCut& cut, const Polygon& outline) {
    if (!cut.notch) return {cut.shape.centre};
    std::vector<Vec2> inside;
    const auto e = extent(cut.shape);
    for (const double x : {e[0], e[1]}) {
        for (const double y : {e[2], e[3]}) {
            if (margin_inside(RoundedRect::circle({x, y}, 0), outline) > 0) inside.push_back({x, y});
        }
    }
    return inside;
}

int distinct(const std::vector<Vec2>& points, bool across) {
    std::set<double> places;
    for (const Vec2 p : points) places.insert(across ? p.x : p.y);
    return static_cast<int>(places.size());
}

}  // namespace

// The printed figures against the model's own outline and holes; on the rear, against these in a mirror.
TEST(BenchDrawing, PrintedDistancesAreThoseOfTheGeometry) {
    const std::string figure("^([0-9.]+) from (left|right|top|bottom): ([A-Z, to]+)$");
    int read = 0;
    for (const auto& made : demos()) {
        for (std::size_t k = 0; k < made.bench.panels.size(); ++k) {
            const auto& panel = made.bench.panels[k];
            const auto& panels = made.job.model.panels;
            const auto& model = k < panels.size() ? panels[k] : made.job.model.reveals.at(k - panels.size());
            const auto size = extent(model.outline);
            // In the order of the letters: openings of the wall, then holes.
            std::vector<std::vector<Vec2>> marks;
            for (const auto& cut : model.cuts) marks.push_back(marked_points(cut, model.outline));
            for (const auto& hole : model.holes) marks.push_back({hole.opening.centre});
            for (const bool rear : {false, true}) {
                const auto see = [&](Vec2 p) { return rear ? Vec2{size[0] + size[1] - p.x, p.y} : p; };
                std::vector<Vec2> corners;
                for (const Vec2 p : model.outline.points) corners.push_back(see(p));
                const Drawn drawn([&](Sheet& s) {
                    draw_face(s, made.bench, panel, rear ? cutting::Face::rear : cutting::Face::front);
                });
                std::map<std::size_t, int> across;
                std::map<std::size_t, int> up;
                for (const auto& text : drawn.sheet().texts()) {
                    const auto found = testing::matched(text.text, figure);
                    if (found.empty()) continue;
                    const std::string side = found[2];
                    for (const std::size_t i : letters(found[3])) {
                        ASSERT_LT(i, marks.size()) << text.text;
                        double off = 1e9;
                        for (const Vec2 mark : marks[i])
                            off = std::min(off, std::abs(std::stod(found[1]) - from_side(corners, side, see(mark))));
                        EXPECT_LE(off, 0.05 + 1e-9)
                            << made.name << " " << panel.id << (rear ? " rear" : " front") << ": " << text.text;
                        ++(side == "left" || side == "right" ? across : up)[i];
                        ++read;
                    }
                }
                EXPECT_EQ(across.size(), marks.size());
                EXPECT_EQ(up.size(), marks.size());
                for (const auto& [i, count] : across) EXPECT_EQ(count, distinct(marks[i], true)) << i;
                for (const auto& [i, count] : up) EXPECT_EQ(count, distinct(marks[i], false)) << i;
                for (std::size_t i = 0; i < corners.size(); ++i) {
                    const double length = norm(corners[(i + 1) % corners.size()] - corners[i]);
                    EXPECT_TRUE(drawn.has(viewer::tenths(length))) << panel.id << " edge of " << length;
                }
                if (corners.size() == 4) {
                    for (const std::size_t i : {0u, 1u}) {
                        const std::string length = viewer::tenths(norm(corners[i + 2] - corners[i]));
                        EXPECT_GE(drawn.count(": " + length), 1U) << panel.id << " diagonal " << length;
                    }
                }
            }
        }
    }
    EXPECT_GT(read, 150);
}

TEST(BenchDrawing, TheRearSaysLoudlyThatItIsMirroredAndShowsWhatIsStuckToIt) {
    int strips = 0;
    for (const auto& made : demos()) {
        for (const auto& panel : made.bench.panels) {
            const Drawn front([&](Sheet& s) { draw_face(s, made.bench, panel, cutting::Face::front); });
            EXPECT_EQ(front.count("MIRRORED: LEFT AND RIGHT ARE SWAPPED"), 0U);
            const Drawn rear([&](Sheet& s) { draw_face(s, made.bench, panel, cutting::Face::rear); });
            EXPECT_EQ(rear.count("MIRRORED: LEFT AND RIGHT ARE SWAPPED"), 1U);
            EXPECT_GE(rear.count("MIRRORED"), 2U);
            ASSERT_TRUE(panel.bond);
            std::set<std::string> places;
            // As in the cut list: the strip at x from the left of the front is width - x from the left of the rear.
            for (const auto& strip : panel.bond->tape) places.insert(viewer::tenths(panel.width - strip.x));
            for (const auto& place : places) {
                EXPECT_TRUE(rear.has(place + " tape, from left")) << panel.id << " " << place;
                EXPECT_TRUE(rear.has(place + " from the LEFT")) << panel.id << " " << place;
                ++strips;
            }
            for (const double x : panel.bond->spacers)
                EXPECT_GE(rear.count(viewer::tenths(panel.width - x)), 1U) << panel.id;
            const auto painted =
                std::count_if(made.bench.joints.begin(), made.bench.joints.end(), [&](const auto& joint) {
                    return joint.paint && std::count(joint.panels.begin(), joint.panels.end(), panel.id) > 0;
                });
            EXPECT_EQ(rear.count("Wall painted before bonding behind the"), static_cast<std::size_t>(painted));
        }
    }
    EXPECT_GT(strips, 60);
}

// Films, roughening, sticking and sealing: each step of a panel once, on the sheet of the face that is worked on, in
// order; what is done on the wall is on the front's. Places of text on paper: y is down.
TEST(BenchDrawing, TheStepsToTheWallStandOnTheSheetOfTheirFace) {
    std::size_t steps = 0;
    for (const auto& made : demos()) {
        for (const auto& panel : made.bench.panels) {
            for (const auto face : {cutting::Face::front, cutting::Face::rear}) {
                const Drawn drawn([&](Sheet& s) { draw_face(s, made.bench, panel, face); });
                double last = 0;
                const auto& all = panel.plan->operations;
                for (std::size_t i = 0; i < all.size(); ++i) {
                    if (all[i].opening) continue;
                    const std::string words = fmt::format("{}. {}", i + 1, all[i].says);
                    const auto& texts = drawn.sheet().texts();
                    const auto found =
                        std::find_if(texts.begin(), texts.end(), [&](const auto& text) { return text.text == words; });
                    EXPECT_EQ(found != texts.end(), all[i].up == face) << made.name << " " << panel.id << " " << words;
                    if (found == texts.end()) continue;
                    EXPECT_GT(found->box.y, last) << words;
                    last = found->box.y;
                    ++steps;
                }
            }
        }
    }
    EXPECT_GT(steps, 250U);
}

// The elevation's data are the model's: no panel moved, every gap between what it lies between.
TEST(BenchDrawing, PanelsAndGapsStandOnTheWallAsInTheModel) {
    int joins = 0;
    int corners = 0;
    for (const auto& made : demos()) {
        std::size_t shown = 0;
        for (const auto& wall : made.bench.walls) shown += wall.panels.size();
        EXPECT_EQ(shown + made.job.model.reveals.size(), made.bench.panels.size());
        std::map<std::string, std::array<double, 4>> size;
        for (std::size_t k = 0; k < shown; ++k) {
            const auto& panel = made.bench.panels[k];
            const auto& outline = made.job.model.panels[k].outline.points;
            ASSERT_EQ(panel.shape.outline.points.size(), outline.size());
            // Corner 1 is the lower left one, wherever the model begins.
            std::size_t first = 0;
            for (std::size_t i = 0; i < outline.size(); ++i) {
                if (outline[i].x + outline[i].y < outline[first].x + outline[first].y) first = i;
            }
            for (std::size_t i = 0; i < outline.size(); ++i)
                EXPECT_LT(norm(panel.shape.outline.points[i] + panel.at - outline[(first + i) % outline.size()]), 1e-9);
            size[panel.id] = extent(made.job.model.panels[k].outline);
        }
        for (const auto& joint : made.bench.joints) {
            if (joint.in_reveal) continue;
            const auto own = size.at(joint.panels.front());
            if (joint.kind == viewer::JointKind::join) {
                EXPECT_NEAR(joint.from.x, (own[1] + size.at(joint.panels.back())[0]) / 2, 1e-9);
                EXPECT_NEAR(norm(joint.to - joint.from), joint.length, 1e-9);
                ++joins;
            } else if (joint.kind == viewer::JointKind::base) {
                EXPECT_NEAR(own[2] - joint.from.y, joint.gap / 2, 1e-9);
            } else if (joint.kind == viewer::JointKind::corner) {
                // Beside the panel that stops short, on the wall that the corner is counted to.
                const auto& of = joint.wall == joint.panels.front().substr(0, joint.panels.front().rfind('-'))
                                     ? size.at(joint.panels.front())
                                     : size.at(joint.panels.back());
                const double away = std::min(std::abs(joint.from.x - of[1]), std::abs(of[0] - joint.from.x));
                EXPECT_NEAR(away, joint.gap / 2, 1e-9) << joint.name;
                ++corners;
            }
        }
    }
    EXPECT_GE(joins, 6);
    EXPECT_GE(corners, 7);
}

TEST(BenchDrawing, TheElevationHasEveryPanelGapAndFittingWithItsFigures) {
    std::size_t screens = 0;
    for (const auto& made : demos()) {
        for (const auto& wall : made.bench.walls) {
            const Drawn drawn([&](Sheet& s) { viewer::draw_wall_sheet(s, made.bench, wall); });
            for (const std::size_t i : wall.panels) {
                const auto& panel = made.bench.panels[i];
                EXPECT_GE(drawn.count(panel.id), 2U) << wall.id;
                EXPECT_GE(
                    drawn.count(fmt::format("{} x {}", viewer::tenths(panel.width), viewer::tenths(panel.height))), 1U);
            }
            for (const auto& fitting : wall.fittings) EXPECT_GE(drawn.count(fitting.name), 3U) << fitting.name;
            // Its place across, both its ends, each clamp, and its name.
            for (const auto& screen : wall.screens) {
                EXPECT_GE(drawn.count(screen.name), 4 + screen.clamps.size()) << screen.name;
                ++screens;
            }
            std::ptrdiff_t gaps = 0;
            for (const auto& joint : made.bench.joints) gaps += joint.wall == wall.id && !joint.in_reveal ? 1 : 0;
            const std::string named("[0-9.]+ (gap|join)(, [0-9.]+ at the face)?");
            EXPECT_EQ(std::count_if(drawn.sheet().texts().begin(), drawn.sheet().texts().end(),
                                    [&](const auto& text) { return !testing::matched(text.text, named).empty(); }),
                      gaps)
                << wall.id;
        }
    }
    EXPECT_GE(screens, 1U);
}

// Each sheet names the face that is up, all its panels, and all its cuts in order.
TEST(BenchDrawing, StockSheetsHaveTheirCutsInOrder) {
    int cuts = 0;
    for (const auto& made : demos()) {
        ASSERT_TRUE(made.bench.sheets.nesting);
        const bool rear = made.bench.jobs[0].settings.saw == BenchSaw::circular;
        for (std::size_t i = 0; i < made.bench.sheets.nesting->sheets.size(); ++i) {
            const auto& layout = made.bench.sheets.nesting->sheets[i];
            const Drawn drawn([&](Sheet& s) { viewer::draw_stock_sheet(s, made.bench, i); });
            EXPECT_EQ(drawn.count("SAWN REAR FACE UP - MIRRORED: LEFT AND RIGHT ARE SWAPPED"), rear ? 1U : 0U);
            EXPECT_EQ(drawn.count("SAWN FRONT FACE UP"), rear ? 0U : 1U);
            int number = 0;
            for (const auto& part : layout.parts) {
                if (part.kind != nesting::CutPart::Kind::cut_upright && part.kind != nesting::CutPart::Kind::cut_level)
                    continue;
                // Once on its line, once in the table.
                const std::string name = std::to_string(++number);
                EXPECT_EQ(std::count_if(drawn.sheet().texts().begin(), drawn.sheet().texts().end(),
                                        [&](const auto& text) { return text.text == name; }),
                          2)
                    << made.name << " sheet " << i + 1 << " cut " << name;
                ++cuts;
            }
            for (const auto& placed : layout.placed) EXPECT_TRUE(drawn.has(made.bench.pieces[placed.piece].id));
            for (const auto& offcut : layout.offcuts)
                EXPECT_TRUE(drawn.has(
                    fmt::format("KEEP {} x {}", viewer::tenths(offcut.width), viewer::tenths(offcut.height))));
        }
    }
    EXPECT_GT(cuts, 60);
}

TEST(BenchDrawing, APanelThatCannotBeCutSaysSo) {
    auto job = demo("twin-taps").job;
    // By hand: the cold tap's 36 mm hole, 22 mm from the panel's edge, made so large that it crosses it.
    for (auto& panel : job.model.panels) {
        for (auto& hole : panel.holes) {
            if (std::abs(hole.opening.half_width - 18) < 1e-9)
                hole.opening = RoundedRect::circle(hole.opening.centre, 50);
        }
    }
    const Made made = bench_drawn::made_of("crossing", std::move(job));
    expect_sound(made);
    std::set<std::string> stems;
    for (const auto& page : viewer::bench_pages(made.bench)) stems.insert(page.stem);
    EXPECT_TRUE(stems.contains("drawings/panel-back-1-not-to-be-cut"));
    EXPECT_FALSE(stems.contains("drawings/panel-back-1-front"));
    for (const auto& page : viewer::bench_pages(made.bench)) {
        if (page.stem != "drawings/panel-back-1-not-to-be-cut") continue;
        const Drawn drawn(page.draw);
        EXPECT_GE(drawn.count("NOT TO BE CUT AS DRAWN"), 1U);
        EXPECT_GE(drawn.count("crosses or touches the panel's edge"), 1U);
    }
    for (const auto& file : viewer::draw_bench(made.bench))
        EXPECT_EQ(file.path.find("router/panel-back-1"), std::string::npos);
}

}  // namespace standproud
