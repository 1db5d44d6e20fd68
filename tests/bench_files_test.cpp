// The bench's drawings as files: templates that go together, router paths with the areas of closed forms, PDFs as
// poppler reads them, and all or nothing.
#include <set>

#include "bench_drawing/router.hpp"
#include "bench_drawing/templates.hpp"
#include "bench_sheets.hpp"
#include "modeler/files.hpp"
#include "support/pattern.hpp"

namespace standproud {
namespace {

using bench_drawn::demo;
using bench_drawn::demos;
using bench_drawn::Drawn;
using bench_drawn::output_of;
using testing::Folder;
using viewer::BenchPanel;
using viewer::Sheet;
using viewer::Template;
using viewer::Tile;

std::size_t tiles_with(const Template& paper, Vec2 p) {
    return static_cast<std::size_t>(std::count_if(paper.tiles.begin(), paper.tiles.end(), [&](const Tile& tile) {
        const Vec2 in = p - tile.corner;
        return in.x >= 0 && in.y >= 0 && in.x <= viewer::tile_width && in.y <= viewer::tile_height;
    }));
}

/// A panel with one cut-out of this size in its middle.
BenchPanel panel_with(double width, double height) {
    cutting::PanelShape shape{"p", {{{0, 0}, {1200, 0}, {1200, 2400}, {0, 2400}}}, {}};
    shape.openings.push_back({"niche", RoundedRect::rect({600, 1200}, width, height, 8)});
    BenchPanel panel;
    panel.id = "p";
    panel.width = 1200;
    panel.height = 2400;
    panel.thickness = 6;
    panel.shape = shape;
    panel.plan = cutting::plan_cutting(shape, {}).plan;
    return panel;
}

bool has_line(const Sheet& sheet, Vec2 from, Vec2 to) {
    return std::any_of(sheet.lines().begin(), sheet.lines().end(),
                       [&](const auto& line) { return norm(line.from - from) < 1e-9 && norm(line.to - to) < 1e-9; });
}

}  // namespace

// All of every cut-out lies on paper, with the strip of panel around it.
TEST(BenchTemplates, TilesTogetherCoverTheCutOut) {
    int papers = 0;
    const auto covered = [&](const BenchPanel& panel) {
        for (const auto& paper : viewer::templates_of(panel)) {
            ++papers;
            EXPECT_EQ(paper.tiles.size(), paper.rows * paper.columns);
            for (const auto& tile : paper.tiles) {
                for (const auto& other : paper.tiles) {
                    const bool right = other.row == tile.row && other.column == tile.column + 1;
                    const bool below = other.column == tile.column && other.row == tile.row + 1;
                    if (right) {
                        EXPECT_NEAR(tile.corner.x + 276 - other.corner.x, 20, 1e-9);
                    }
                    if (below) {
                        EXPECT_NEAR(other.corner.y + 158 - tile.corner.y, 20, 1e-9);
                    }
                }
            }
            for (const std::size_t i : paper.openings) {
                RoundedRect shape = panel.plan->front.openings[i].seen.shape;
                shape.half_width += viewer::template_around;
                shape.half_height += viewer::template_around;
                shape.radius += viewer::template_around;
                const auto e = extent(shape);
                for (double x = e[0]; x <= e[1]; x += 3.7) {
                    for (double y = e[2]; y <= e[3]; y += 3.7)
                        ASSERT_GE(tiles_with(paper, {x, y}), 1U) << panel.id << " " << x << ", " << y;
                }
                ASSERT_GE(tiles_with(paper, {e[1], e[3]}), 1U);
            }
        }
    };
    for (const auto& made : demos()) {
        for (const auto& panel : made.bench.panels) covered(panel);
    }
    for (const double size : {60.0, 251.9, 252.1, 508.0, 900.0}) covered(panel_with(size, 1.7 * size));
    EXPECT_GE(papers, 10);
}

// Closed form: n tiles of 276 that overlap by 20 reach 276 + 256 (n - 1).
TEST(BenchTemplates, AsManyTilesAsNeeded) {
    const auto columns = [](double width) { return viewer::templates_of(panel_with(width, 50)).at(0).columns; };
    EXPECT_EQ(columns(276 - 24), 1U);
    EXPECT_EQ(columns(276 - 24 + 0.01), 2U);
    EXPECT_EQ(columns(532 - 24), 2U);
    EXPECT_EQ(columns(532 - 24 + 0.01), 3U);
}

TEST(BenchTemplates, RegistrationMarksCoincide) {
    const BenchPanel panel = panel_with(500, 400);
    const auto& bench = demo("old-stable").bench;
    const Template paper = viewer::templates_of(panel).at(0);
    ASSERT_EQ(paper.columns, 2U);
    ASSERT_EQ(paper.rows, 3U);
    // Two on every seam: 3 upright and 4 level ones.
    EXPECT_EQ(paper.marks.size(), 2U * (3 + 4));
    std::set<std::string> names;
    for (const auto& mark : paper.marks) names.insert(mark.name);
    EXPECT_EQ(names.size(), paper.marks.size());
    std::vector<int> seen(paper.marks.size(), 0);
    for (std::size_t t = 0; t < paper.tiles.size(); ++t) {
        const Drawn drawn([&](Sheet& sheet) { viewer::draw_tile(sheet, bench, panel, paper, t); });
        const auto on = viewer::tile_on_paper(paper.tiles[t]);
        EXPECT_EQ(on.scale, 1);
        for (std::size_t m = 0; m < paper.marks.size(); ++m) {
            const Vec2 at = on.at(paper.marks[m].at);
            const bool drawn_here = has_line(drawn.sheet(), at - Vec2{5, 0}, at + Vec2{5, 0}) &&
                                    has_line(drawn.sheet(), at - Vec2{0, 5}, at + Vec2{0, 5});
            if (drawn_here) {
                ++seen[m];
                EXPECT_TRUE(drawn.has(paper.marks[m].name));
            }
        }
        EXPECT_GE(
            drawn.count(fmt::format("row {} of 3, column {} of 2", paper.tiles[t].row + 1, paper.tiles[t].column + 1)),
            1U);
        // The check bar.
        EXPECT_TRUE(
            std::any_of(drawn.sheet().dimensions().begin(), drawn.sheet().dimensions().end(),
                        [](const auto& d) { return std::abs(norm(d.to - d.from) - 100) < 1e-9 && d.value == 100; }));
    }
    // On two tiles each, or four where the corners of four meet.
    for (std::size_t m = 0; m < seen.size(); ++m) EXPECT_TRUE(seen[m] == 2 || seen[m] == 4) << m << ": " << seen[m];
}

// By hand: holes 48 apart go together, holes 400 apart do not, and a round hole alone gets no paper.
TEST(BenchTemplates, HolesNearOneAnotherShareAPaper) {
    const auto& bench = demo("old-stable").bench;
    for (const auto& panel : bench.panels) {
        if (panel.id != "right-1") continue;
        const auto papers = viewer::templates_of(panel);
        ASSERT_EQ(papers.size(), 2U);
        EXPECT_EQ(papers[0].openings, (std::vector<std::size_t>{0, 1}));
        EXPECT_EQ(papers[1].openings, (std::vector<std::size_t>{2, 3}));
    }
}

namespace {

/// A closed path of straight lines and quarter arcs, y down.
struct Path {
    double area = 0;
    double least_x = 1e9, most_x = -1e9, least_y = 1e9, most_y = -1e9;
};

/// Green's formula over the chords, and for each quarter arc its segment: r^2 (pi/2 - 1) / 2.
Path read_path(const std::string& d) {
    const std::string token(
        "([MLZ])\\s*(?:(-?[0-9.]+),(-?[0-9.]+))?|A(-?[0-9.]+),(-?[0-9.]+) 0 0 1 (-?[0-9.]+),(-?[0-9.]+)");
    Path path;
    std::vector<Vec2> points;
    double segments = 0;
    for (const auto& step : testing::all_searched(d, token)) {
        if (!step[4].empty()) {
            const double r = std::stod(step[4]);
            EXPECT_EQ(step[4], step[5]);
            const Vec2 to{std::stod(step[6]), std::stod(step[7])};
            // A quarter: its chord is r times root 2.
            EXPECT_NEAR(norm(to - points.back()), r * std::sqrt(2), 1e-5);
            segments += r * r * (pi / 2 - 1) / 2;
            points.push_back(to);
        } else if (!step[2].empty()) {
            points.push_back({std::stod(step[2]), std::stod(step[3])});
        }
    }
    EXPECT_EQ(testing::replaced(d, token, "").find_first_not_of(" "), std::string::npos) << d;
    EXPECT_EQ(d.back(), 'Z');
    for (std::size_t i = 0; i < points.size(); ++i) {
        path.area += cross(points[i], points[(i + 1) % points.size()]) / 2;
        path.least_x = std::min(path.least_x, points[i].x);
        path.most_x = std::max(path.most_x, points[i].x);
        path.least_y = std::min(path.least_y, points[i].y);
        path.most_y = std::max(path.most_y, points[i].y);
    }
    path.area = std::abs(path.area) + segments;
    return path;
}

std::vector<Path> paths_of(const std::string& svg, const std::string& group) {
    const std::size_t from = svg.find("<g id=\"" + group + "\">");
    EXPECT_NE(from, std::string::npos) << group;
    const std::string body = svg.substr(from, svg.find("</g>", from) - from);
    std::vector<Path> paths;
    for (const auto& path : testing::all_searched(body, "<path d=\"([^\"]*)\">")) paths.push_back(read_path(path[1]));
    return paths;
}

}  // namespace

// Closed forms: pi r^2; w h - (4 - pi) r^2; the polygon's area.
TEST(BenchRouter, PathsHaveTheAreasOfClosedForms) {
    int holes = 0;
    int cut_outs = 0;
    for (const auto& made : demos()) {
        for (const auto& panel : made.bench.panels) {
            const std::string svg = viewer::router_svg(made.bench, panel);
            const auto size = testing::searched(
                svg, "width=\"([0-9.]+)mm\" height=\"([0-9.]+)mm\" viewBox=\"0 0 ([0-9.]+) ([0-9.]+)\"");
            ASSERT_EQ(size.size(), 5U);
            EXPECT_NEAR(std::stod(size[1]), panel.width, 1e-6);
            EXPECT_NEAR(std::stod(size[2]), panel.height, 1e-6);
            EXPECT_EQ(size[1], size[3]);
            EXPECT_EQ(size[2], size[4]);
            const auto outline = paths_of(svg, "outline");
            ASSERT_EQ(outline.size(), 1U);
            double notched = 0;  // within the outline, as the model has it
            for (const auto& one : panel.plan->front.openings) {
                if (one.seen.notch) notched += 4 * one.taken.half_width * one.taken.half_height;
            }
            const double rounded = notched > 0 ? 50 : 0.02;  // what inside corners and their chords leave
            EXPECT_NEAR(outline[0].area, area(panel.shape.outline) - notched, rounded);
            EXPECT_NEAR(outline[0].area, area(panel.plan->front.cut), 0.02);
            EXPECT_NEAR(outline[0].least_x, 0, 1e-6);
            EXPECT_NEAR(outline[0].most_y, panel.height, 1e-6);
            const auto round = paths_of(svg, "holes");
            const auto square = paths_of(svg, "cut-outs");
            std::size_t r = 0;
            std::size_t s = 0;
            double open = 0;
            for (const auto& opening : panel.shape.openings) {
                if (opening.notch) continue;
                const RoundedRect& shape = opening.shape;
                const bool circle = shape.is_circle();
                ASSERT_LT(circle ? r : s, (circle ? round : square).size());
                const Path& path = circle ? round[r++] : square[s++];
                const double closed_form =
                    circle ? pi * shape.radius * shape.radius
                           : 4 * shape.half_width * shape.half_height - (4 - pi) * shape.radius * shape.radius;
                EXPECT_NEAR(path.area, closed_form, 1e-3) << panel.id << " " << opening.name;
                open += path.area;
                // As seen from the front, y down from the top.
                EXPECT_NEAR((path.least_x + path.most_x) / 2, shape.centre.x, 2e-6);
                EXPECT_NEAR((path.least_y + path.most_y) / 2, panel.height - shape.centre.y, 2e-6);
                EXPECT_NEAR(path.most_x - path.least_x, 2 * shape.half_width, 2e-6);
            }
            EXPECT_EQ(r, round.size());
            EXPECT_EQ(s, square.size());
            EXPECT_NEAR(outline[0].area - open, panel.area, 0.05);
            holes += static_cast<int>(r);
            cut_outs += static_cast<int>(s);
            for (const char* words : {"FRONT FACE UP", "NOT compensated", "millimetres, 1:1"})
                EXPECT_NE(svg.find(words), std::string::npos) << words;
        }
    }
    EXPECT_GT(holes, 30);
    EXPECT_GE(cut_outs, 3);
}

// XML 1.0: & and < may not stand in text.
TEST(BenchRouter, NamesAreEscaped) {
    auto made = demo("twin-taps");
    made.bench.jobs[0].name = "A & B <c> \"d\"\n\x01";
    const std::string svg = viewer::router_svg(made.bench, made.bench.panels[0]);
    EXPECT_NE(svg.find("A &amp; B &lt;c&gt; &quot;d&quot;  , panel"), std::string::npos) << svg.substr(0, 300);
}

// Reference library: poppler. A4 is 841.89 x 595.28 points.
TEST(BenchFiles, PopplerReadsThePdfs) {
    const auto& made = demo("old-stable");
    const auto files = viewer::draw_bench(made.bench);
    const Folder folder;
    FileSet set;
    for (const auto& file : files) set.emplace_back(file.path, file.bytes);
    write_together(folder.path() / "out", set);
    std::size_t pages = 0;
    std::size_t template_sheets = 0;
    for (const auto& file : files) {
        const auto path = folder.path() / "out" / file.path;
        ASSERT_TRUE(std::filesystem::exists(path)) << path;
        if (!file.path.ends_with(".pdf")) continue;
        const std::string info = output_of(fmt::format("pdfinfo '{}'", path.string()));
        EXPECT_NE(info.find("841.89 x 595.276 pts (A4)"), std::string::npos) << file.path << "\n" << info;
        const auto count = testing::searched(info, "Pages: +([0-9]+)");
        ASSERT_EQ(count.size(), 2U);
        const std::string text = output_of(fmt::format("pdftotext -layout '{}' -", path.string()));
        EXPECT_GT(text.size(), 300U);
        EXPECT_EQ(text.find("\u2026"), std::string::npos) << file.path << ": cut off with dots\n" << text;
        for (const char* words : {"safe", "complian", "certif", "approved"})
            EXPECT_EQ(text.find(words), std::string::npos) << file.path << ": " << words;
        EXPECT_NE(text.find("Measure on site before cutting"), std::string::npos);
        if (file.path == "drawings.pdf")
            pages = std::stoul(count[1]);
        else if (file.path.starts_with("templates/"))
            template_sheets += std::stoul(count[1]);
        else
            EXPECT_EQ(count[1], "1") << file.path;
        const bool rear = file.path.ends_with("-rear.pdf");
        EXPECT_TRUE(!rear || text.find("MIRRORED") != std::string::npos);
        const bool paper = file.path.starts_with("templates/");
        EXPECT_TRUE(!paper || text.find("check bar: 100 mm") != std::string::npos);
    }
    EXPECT_EQ(pages, viewer::bench_pages(made.bench).size());
    EXPECT_EQ(pages, 3U + 4U + 2 * 4U);        // walls, sheets, panels front and rear
    EXPECT_EQ(template_sheets, 2U + 6U + 2U);  // two holes 140 apart, the niche, two grips
    // Every sheet in all three formats.
    std::set<std::string> names;
    for (const auto& file : files) names.insert(file.path);
    EXPECT_EQ(names.size(), files.size());
    for (const auto& page : viewer::bench_pages(made.bench)) {
        for (const char* ending : {".pdf", ".svg", ".png"})
            EXPECT_TRUE(names.contains(page.stem + ending)) << page.stem;
    }
}

TEST(BenchFiles, TheSameBenchGivesTheSameBytes) {
    const auto& made = demo("bath-renovation");
    const auto first = viewer::draw_bench(made.bench);
    const auto second = viewer::draw_bench(made.bench);
    ASSERT_EQ(first.size(), second.size());
    for (std::size_t i = 0; i < first.size(); ++i) {
        EXPECT_EQ(first[i].path, second[i].path);
        EXPECT_EQ(first[i].bytes, second[i].bytes) << first[i].path;
        EXPECT_GT(first[i].bytes.size(), 500U) << first[i].path;
    }
}

TEST(BenchFiles, NamesSuitAnyFileSystem) {
    EXPECT_EQ(viewer::file_name("old-stable:back-1"), "old-stable-back-1");
    EXPECT_EQ(viewer::file_name("../a b\\c"), "-.-a-b-c");
    EXPECT_EQ(viewer::file_name("w\u00e4nde"), "w--nde");
}

TEST(BenchFiles, AllOrNothingIsWritten) {
    const Folder folder;
    const auto out = folder.path() / "out";
    write_whole(folder.path() / "file", "x");
    std::filesystem::create_directories(out / "taken");
    const auto refuses = [&](const FileSet& files, const std::filesystem::path& into, const std::string& named) {
        try {
            write_together(into, files);
            ADD_FAILURE() << "written";
        } catch (const FileError& error) {
            EXPECT_NE(std::string(error.what()).find(named), std::string::npos) << error.what();
        }
    };
    refuses({{"a/b.txt", "1"}, {"taken", "2"}}, out, "taken");
    EXPECT_FALSE(std::filesystem::exists(out / "a"));
    refuses({{"a.txt", "1"}}, folder.path() / "file", "file");
    // Nothing is left lying about, and what can be written is.
    write_together(out, {{"a/b.txt", "1"}, {"c.txt", "2"}});
    EXPECT_EQ(read_whole(out / "a" / "b.txt"), "1");
    EXPECT_EQ(read_whole(out / "c.txt"), "2");
    std::set<std::string> left;
    for (const auto& entry : std::filesystem::directory_iterator(out)) left.insert(entry.path().filename().string());
    EXPECT_EQ(left, (std::set<std::string>{"a", "c.txt", "taken"}));
}

}  // namespace standproud
