// The bench of an open job: layouts taken over and undone to the byte, live scores, results that come too late, a bench
// for a job that has none, walls unfolded.
#include "viewer/bench_view.hpp"

#include <cairo.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <random>

#include "modeler/files.hpp"
#include "support/opened.hpp"
#include "viewer/bench_drawing.hpp"

namespace standproud::viewer {
namespace {

using standproud::testing::demo_jobs;
using standproud::testing::Folder;
using standproud::testing::Opened;
using standproud::testing::undo_all;

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    EXPECT_NE(at, text.npos) << from;
    return at == text.npos ? text : text.replace(at, from.size(), to);
}

/// A changed demo job, open in a folder of its own.
struct Changed {
    Changed(const std::string& name, const std::string& text) {
        std::filesystem::copy(standproud::testing::models_folder() / "catalogue", folder.path() / "catalogue");
        write_whole(folder / name, text);
        document = open_document(folder / name);
    }
    Folder folder;
    Document document;
};

std::vector<double> places_of(const Document& document, std::size_t wall) {
    std::vector<double> places;
    for (const auto& join : document.job->model.job.walls[wall].joins) places.push_back(join.distance);
    return places;
}

TEST(TakeLayout, OneStepThatChangesOnlyTheJoins) {
    Opened opened("old-stable.toml");
    Document& document = opened.document;
    const std::string before = document.text;
    ASSERT_EQ(take_layout(document, 1, {998.0273}), "");
    EXPECT_EQ(document.text,
              replaced(before, "across = 0\nfrom = \"centre\"", "across = 998.03\nfrom = \"left bare\""));
    EXPECT_EQ(document.done.size(), 1u);
    EXPECT_EQ(undo_name(document), "take over a layout of back");
    EXPECT_EQ(places_of(document, 1), (std::vector<double>{998.03}));
    // The same once more is no step.
    ASSERT_EQ(take_layout(document, 1, {998.0273}), "");
    EXPECT_EQ(document.done.size(), 1u);
    // More joins, fewer, none, and some on a wall that had none.
    const std::string once = document.text;
    ASSERT_EQ(take_layout(document, 1, {300, 998.03}), "");
    EXPECT_EQ(places_of(document, 1), (std::vector<double>{300, 998.03}));
    EXPECT_NE(document.text.find("[[walls.joins]]\nacross = 998.03\nfrom = \"left bare\"\n\n[[walls]]\nid = \"right\""),
              std::string::npos)
        << "before the next wall";
    ASSERT_EQ(take_layout(document, 1, {998.03}), "");
    EXPECT_EQ(document.text, once);
    ASSERT_EQ(take_layout(document, 1, {}), "");
    EXPECT_EQ(document.text, replaced(before, "[[walls.joins]]\nacross = 0\nfrom = \"centre\"\n", ""));
    ASSERT_EQ(take_layout(document, 0, {204.93}), "");
    EXPECT_EQ(places_of(document, 0), (std::vector<double>{204.93}));
    ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
    undo_all(document);
    EXPECT_EQ(document.text, before);
    EXPECT_TRUE(redo(document));
    EXPECT_EQ(document.text, once);
}

TEST(TakeLayout, LevelJoinsToo) {
    Opened opened("old-stable.toml");
    Document& document = opened.document;
    const std::string before = document.text;
    ASSERT_EQ(take_layout(document, 1, {998.03}, {1500.004, 900}), "");
    ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
    const auto& levels = document.job->model.job.walls[1].level_joins;
    ASSERT_EQ(levels.size(), 2u);
    EXPECT_EQ(levels[0].height, 1500);
    EXPECT_EQ(levels[1].height, 900);
    EXPECT_EQ(document.done.size(), 1u);
    EXPECT_NE(document.text.find("[[walls.level_joins]]\nheight = 900\n"), std::string::npos);
    std::size_t panels = 0;
    for (const auto& panel : document.job->model.panels) panels += panel.wall == 1 ? 1 : 0;
    EXPECT_EQ(panels, 6u);
    // Moved, and taken out again with the next layout.
    ASSERT_EQ(take_layout(document, 1, {998.03}, {1200}), "");
    ASSERT_EQ(document.job->model.job.walls[1].level_joins.size(), 1u);
    EXPECT_EQ(document.job->model.job.walls[1].level_joins[0].height, 1200);
    ASSERT_EQ(take_layout(document, 1, {998.03}), "");
    EXPECT_TRUE(document.job->model.job.walls[1].level_joins.empty());
    EXPECT_EQ(document.text,
              replaced(before, "across = 0\nfrom = \"centre\"", "across = 998.03\nfrom = \"left bare\""));
    undo_all(document);
    EXPECT_EQ(document.text, before);
}

TEST(TakeLayout, RemarksStay) {
    const std::string job = read_whole(standproud::testing::models_folder() / "old-stable.toml");
    const std::string remarked = replaced(
        job, "[[walls.joins]]\nacross = 0\nfrom = \"centre\"\n",
        "[[walls.joins]]   # the owner's wish\nacross = 0   # over the drain\nfrom = \"centre\"\n# a remark\n");
    Changed changed("job.toml", remarked);
    ASSERT_TRUE(changed.document.job) << to_string(changed.document.faults.front());
    ASSERT_EQ(take_layout(changed.document, 1, {500, 900}), "");
    EXPECT_EQ(changed.document.text,
              replaced(remarked, "across = 0   # over the drain\nfrom = \"centre\"\n",
                       "across = 500   # over the drain\nfrom = \"left bare\"\n[[walls.joins]]\nacross = 900\nfrom = "
                       "\"left bare\"\n"));
    undo_all(changed.document);
    EXPECT_EQ(changed.document.text, remarked);
}

TEST(TakeLayout, JoinsInBrackets) {
    const std::string job = read_whole(standproud::testing::models_folder() / "old-stable.toml");
    // A key of the wall itself must come before its tables.
    const std::string bare = replaced(job, "[[walls.joins]]\nacross = 0\nfrom = \"centre\"\n", "");
    const std::string listed = replaced(bare, "name = \"back wall, old hatch bricked up\"\n",
                                        "name = \"back wall, old hatch bricked up\"\njoins = [{across = 0, from = "
                                        "\"centre\"}, {across = 300, from = \"left bare\"}]  # two\n");
    Changed changed("job.toml", listed);
    ASSERT_TRUE(changed.document.job) << to_string(changed.document.faults.front());
    ASSERT_EQ(take_layout(changed.document, 1, {700.5}), "");
    EXPECT_EQ(changed.document.text,
              replaced(listed, "[{across = 0, from = \"centre\"}, {across = 300, from = \"left bare\"}]",
                       "[{across = 700.5, from = \"left bare\"}]"));
    ASSERT_EQ(take_layout(changed.document, 1, {}), "");
    ASSERT_EQ(take_layout(changed.document, 1, {600, 900}), "");
    ASSERT_TRUE(changed.document.faults.empty()) << to_string(changed.document.faults.front());
    EXPECT_EQ(places_of(changed.document, 1), (std::vector<double>{600, 900}));
    undo_all(changed.document);
    EXPECT_EQ(changed.document.text, listed);
}

TEST(TakeLayout, RefusesAndChangesNothing) {
    Opened opened;
    const std::string before = opened.document.text;
    EXPECT_NE(take_layout(opened.document, 9, {500}), "");
    EXPECT_NE(take_layout(opened.document, 1, {std::nan("")}), "");
    EXPECT_EQ(opened.document.text, before);
    EXPECT_TRUE(opened.document.done.empty());
}

TEST(TakeLayout, AnyJoinsOnAnyWallAndBack) {
    const unsigned seed = 6520;
    std::mt19937 random(seed);
    int taken = 0;
    for (const auto& name : demo_jobs()) {
        Opened opened(name);
        Document& document = opened.document;
        const std::string before = document.text;
        const std::size_t walls = document.job->model.job.walls.size();
        for (int round = 0; round < 6; ++round) {
            const std::size_t wall = random() % walls;
            const double width = document.job->model.job.walls[wall].width;
            std::vector<double> places;
            for (std::size_t i = random() % 4; i > 0; --i)
                places.push_back(std::round(width * (0.2 + 0.2 * static_cast<double>(i)) * 100) / 100);
            ASSERT_EQ(take_layout(document, wall, places), "") << name << " seed " << seed;
            EXPECT_EQ(places_of(document, wall), places) << name << " seed " << seed;
            ++taken;
        }
        undo_all(document);
        EXPECT_EQ(document.text, before) << name << " seed " << seed;
    }
    EXPECT_GT(taken, 20);
}

/// As the window does it, but at once.
const BenchResult& worked_out(BenchView& view, const Document& document) {
    const auto task = begin_bench(view, document);
    EXPECT_TRUE(task);
    EXPECT_TRUE(take_result(view, document, work_out(*task)));
    return *view.shown;
}

TEST(Bench, WorkedOutOnlyWhenTheJobIsAnother) {
    Opened opened("old-stable.toml");
    BenchView view;
    EXPECT_TRUE(out_of_date(view, opened.document));
    const BenchResult& first = worked_out(view, opened.document);
    EXPECT_EQ(first.refused, "");
    EXPECT_EQ(first.bench.walls.size(), 3u);
    EXPECT_EQ(first.joins.walls.size(), 3u);
    // 3 walls, 4 sheets, 4 panels front and rear.
    EXPECT_EQ(first.pages.size(), 3 + 4 + 8u);
    EXPECT_FALSE(out_of_date(view, opened.document));
    EXPECT_FALSE(begin_bench(view, opened.document)) << "nothing to do";
    // Another wish is other work.
    view.wishes.order = {joins::Preference::symmetrical};
    EXPECT_TRUE(out_of_date(view, opened.document));
    const BenchResult& other = worked_out(view, opened.document);
    EXPECT_NEAR(other.joins.walls[1].answer.plan->best.at(0).score.asymmetry, 0, 0.02);
}

TEST(Bench, ResultsThatComeTooLateAreIgnored) {
    Opened opened("old-stable.toml");
    Document& document = opened.document;
    BenchView view;
    const auto early = begin_bench(view, document);
    ASSERT_TRUE(early);
    EXPECT_FALSE(begin_bench(view, document)) << "it is under way";
    ASSERT_EQ(move_join(document, 1, 0, 40), "");
    EXPECT_FALSE(take_result(view, document, work_out(*early))) << "the job is another one by now";
    EXPECT_FALSE(view.shown);
    const auto late = begin_bench(view, document);
    ASSERT_TRUE(late);
    EXPECT_FALSE(take_result(view, document, work_out(*early))) << "the one before it, once more";
    EXPECT_TRUE(take_result(view, document, work_out(*late)));
    ASSERT_TRUE(view.shown);
    EXPECT_NEAR(view.shown->joins.walls[1].drawn.at(0), 785.55, 0.02) << "with the join moved";
    // While the next is worked out, the old one stays to be seen.
    ASSERT_TRUE(undo(document));
    EXPECT_TRUE(out_of_date(view, document));
    EXPECT_TRUE(view.shown);
    // Another job opened: its generations begin anew.
    const auto old = begin_bench(view, document);
    ASSERT_TRUE(old);
    document = open_document(document.file);
    forget_bench(view);
    EXPECT_FALSE(view.shown);
    const auto fresh = begin_bench(view, document);
    ASSERT_TRUE(fresh);
    EXPECT_FALSE(take_result(view, document, work_out(*old)));
    EXPECT_TRUE(take_result(view, document, work_out(*fresh)));
}

TEST(Bench, WorkThatIsOvertakenIsBrokenOffAndBegunAnew) {
    Opened opened("old-stable.toml");
    BenchView view;
    const auto early = begin_bench(view, opened.document);
    ASSERT_TRUE(early);
    EXPECT_FALSE(overtaken(view, opened.document));
    ASSERT_EQ(move_join(opened.document, 1, 0, 40), "");
    EXPECT_TRUE(overtaken(view, opened.document));
    const auto late = begin_bench(view, opened.document);
    ASSERT_TRUE(late);
    std::stop_source stop;
    stop.request_stop();
    BenchResult broken = work_out(*late, stop.get_token());
    EXPECT_TRUE(broken.stopped);
    EXPECT_FALSE(take_result(view, opened.document, std::move(broken)));
    EXPECT_FALSE(view.shown);
    const auto again = begin_bench(view, opened.document);
    ASSERT_TRUE(again);
    EXPECT_TRUE(take_result(view, opened.document, work_out(*again)));
}

TEST(Bench, LiveScoresFollowAMove) {
    Opened opened("old-stable.toml");
    Document& document = opened.document;
    BenchView view;
    const auto* back = score_of(live_scores(view, document), "back");
    ASSERT_TRUE(back && back->answer.scored);
    const auto first = *back->answer.scored;
    // The wall's middle on the bare face is 2.7 mm off the middle of its panels; counted twice.
    EXPECT_NEAR(first.score.asymmetry, 5.4, 1);
    EXPECT_TRUE(first.broken.empty());
    ASSERT_EQ(move_join(document, 1, 0, 40), "");
    const auto moved = *score_of(live_scores(view, document), "back")->answer.scored;
    EXPECT_NEAR(moved.score.asymmetry - first.score.asymmetry, 80, 0.1) << "closed form: twice what it was moved";
    EXPECT_NEAR(moved.joins.at(0) - first.joins.at(0), 40, 1e-6);
    // Into the niche: its cut-out is 400 wide about 330 from the left finished corner.
    ASSERT_EQ(move_join(document, 1, 0, -400), "");
    const auto inside = *score_of(live_scores(view, document), "back")->answer.scored;
    ASSERT_FALSE(inside.broken.empty());
    EXPECT_NE(inside.broken[0].find("niche"), std::string::npos) << inside.broken[0];
    EXPECT_EQ(score_of(live_scores(view, document), "roof"), nullptr);
}

TEST(Bench, ATakenLayoutScoresWhatItWasPromised) {
    int layouts = 0;
    for (const auto& name : demo_jobs()) {
        Opened opened(name);
        Document& document = opened.document;
        if (bench_lack(*document.job).any()) continue;
        BenchView view;
        const auto report = worked_out(view, document).joins;
        for (const auto& wall : report.walls) {
            if (!wall.answer.plan) continue;
            const std::size_t w = wall_index(document.job->model.job, wall.wall);
            for (const auto& layout : wall.answer.plan->best) {
                ASSERT_EQ(take_layout(document, w, layout.joins), "");
                ASSERT_TRUE(document.faults.empty()) << name << ' ' << to_string(document.faults.front());
                const auto* score = score_of(live_scores(view, document), wall.wall);
                ASSERT_TRUE(score && score->answer.scored) << name << ' ' << wall.wall;
                EXPECT_TRUE(score->answer.scored->broken.empty()) << name << ' ' << score->answer.scored->broken[0];
                EXPECT_EQ(score_words(score->answer.scored->score, report.priced),
                          score_words(layout.score, report.priced))
                    << name << ' ' << wall.wall;
                EXPECT_EQ(difference_words(score->answer.scored->score, layout.score, report.priced), "the same");
                undo(document);
                ++layouts;
            }
        }
    }
    EXPECT_GT(layouts, 8);
}

TEST(Bench, ScoresInWords) {
    joins::JoinScore a{1, 2, 456, 1.094e6, 90.6, 0};
    EXPECT_EQ(score_words(a, true),
              "1 join, 2 new sheets, price 456.00, waste 1.09\u00a0m\u00b2, 45.3 mm off the middle");
    EXPECT_EQ(score_words(a, false, false), "1 join, 45.3 mm off the middle");
    joins::JoinScore b{0, 1, 228, 0.38e6, 0, 0};
    EXPECT_EQ(difference_words(b, a, true),
              "1 join fewer, 1 sheet fewer, price 228.00 less, 0.71\u00a0m\u00b2 less waste");
    EXPECT_EQ(difference_words(a, a, true), "the same");
}

TEST(Bench, WallsUnfolded) {
    Opened opened("old-stable.toml");
    const auto walls = unfold(*opened.document.job);
    ASSERT_EQ(walls.size(), 3u);
    EXPECT_EQ(walls[1].outline.id, "back");
    ASSERT_EQ(walls[1].panels.size(), 2u);
    ASSERT_EQ(walls[1].joins.size(), 1u);
    const auto& join = walls[1].joins[0];
    // It lies in the middle of the gap between the panels' edges: 8 mm, as the wall asks.
    const auto left = extent(walls[1].panels[0].outline);
    const auto right = extent(walls[1].panels[1].outline);
    EXPECT_NEAR(join.x, (left[1] + right[0]) / 2, 0.05);
    EXPECT_NEAR(right[0] - left[1], 8, 0.05) << "upright on the wall, it slopes a little on the panels' plane";
    EXPECT_EQ(join.across, 0);
    // Moved by 25 to the right in the job, it is 25 further right on the unfolded wall.
    ASSERT_EQ(move_join(opened.document, 1, 0, 25), "");
    EXPECT_NEAR(unfold(*opened.document.job)[1].joins[0].x - join.x, join.sign * 25, 0.01);
    for (const auto& wall : walls) {
        for (const auto& panel : wall.panels) {
            const auto e = extent(panel.outline);
            EXPECT_GE(e[0], wall.extent[0]);
            EXPECT_LE(e[3], wall.extent[3]);
        }
    }
}

/// The answers of the page on job files.
BenchAnswers answers() {
    return {{"sheets.id", "acrylic-1220"},
            {"sheets.width", "1220"},
            {"sheets.height", "2440"},
            {"sheets.turning", "yes"},
            {"start", "2026-06-15"},
            {"saw", "circular"},
            {"kerf", "3"},
            {"trim", "5"},
            {"fixed_at", "16"},
            {"coldest", "8"},
            {"hottest", "38"},
            {"fixed_humidity", "60"},
            {"driest", "45"},
            {"wettest", "80"},
            {"sealant_class", "25"},
            {"sealant_depth", "5"},
            {"cartridge", "290"},
            {"waste", "10"},
            {"reach", "40"}};
}

/// The old stable without its sheets and bench.
std::string without_bench() {
    const std::string job = read_whole(standproud::testing::models_folder() / "old-stable.toml");
    const auto from = job.find("# Sheets at the merchant's");
    const auto to = job.find("# Survey of the bare walls");
    return job.substr(0, from) + job.substr(to);
}

TEST(NewBench, EveryFigureIsAsked) {
    Changed changed("job.toml", without_bench());
    Document& document = changed.document;
    ASSERT_TRUE(document.job);
    const BenchLack lack = bench_lack(*document.job);
    EXPECT_TRUE(lack.bench && lack.sheets && !lack.panels);
    EXPECT_NE(lack_words(lack).find("[[sheets]]"), std::string::npos);
    BenchView view;
    EXPECT_FALSE(begin_bench(view, document)) << "there is nothing to work out";
    EXPECT_TRUE(live_scores(view, document).empty());
    const std::string before = document.text;
    for (const auto& question : bench_questions(lack)) {
        if (question.optional) continue;
        auto all = answers();
        all.erase(question.key);
        EXPECT_NE(add_bench(document, all).find(question.says), std::string::npos) << question.key;
        all[question.key] = "no answer (at all)";
        EXPECT_NE(add_bench(document, all), "") << question.key;
        EXPECT_EQ(document.text, before) << question.key;
    }
    auto wrong = answers();
    wrong["kerf"] = "-3";
    EXPECT_NE(add_bench(document, wrong).find("kerf"), std::string::npos) << add_bench(document, wrong);
    wrong["kerf"] = "3\nother = 1";
    EXPECT_NE(add_bench(document, wrong), "");
    EXPECT_EQ(document.text, before);
    EXPECT_TRUE(document.done.empty());
    ASSERT_EQ(add_bench(document, answers()), "");
    ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
    EXPECT_EQ(document.text.substr(0, before.size()), before) << "written behind what was there";
    EXPECT_FALSE(bench_lack(*document.job).any());
    EXPECT_TRUE(worked_out(view, document).bench.sheets.nesting);
    EXPECT_NE(add_bench(document, answers()), "") << "it is there already";
    undo_all(document);
    EXPECT_EQ(document.text, before);
}

TEST(NewBench, OnlyWhatLacks) {
    const std::string job = read_whole(standproud::testing::models_folder() / "old-stable.toml");
    const auto from = job.find("[[sheets]]");
    const auto to = job.find("[bench]");
    Changed changed("job.toml", job.substr(0, from) + job.substr(to));
    ASSERT_TRUE(changed.document.job);
    const auto questions = bench_questions(bench_lack(*changed.document.job));
    EXPECT_EQ(questions.size(), 5u);
    auto all = answers();
    all["sheets.price"] = "265";
    ASSERT_EQ(add_bench(changed.document, all), "");
    EXPECT_TRUE(changed.document.faults.empty());
    EXPECT_EQ(changed.document.job->model.job.sheets.at(0).price, 265);
    EXPECT_EQ(changed.document.text.find("[bench]"), changed.document.text.rfind("[bench]"));
}

TEST(BenchPages, AreDrawn) {
    Opened opened("old-stable.toml");
    BenchView view;
    const BenchResult& result = worked_out(view, opened.document);
    std::vector<std::string> seen;
    for (std::size_t page = 0; page < result.pages.size(); ++page) {
        const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
            cairo_image_surface_create(CAIRO_FORMAT_RGB24, 594, 420), cairo_surface_destroy);
        const std::unique_ptr<cairo_t, decltype(&cairo_destroy)> context(cairo_create(surface.get()), cairo_destroy);
        cairo_scale(context.get(), 2, 2);
        draw_page(context.get(), result.bench, page);
        cairo_surface_flush(surface.get());
        const auto* bytes = reinterpret_cast<const char*>(cairo_image_surface_get_data(surface.get()));
        seen.emplace_back(bytes, bytes + 4 * 594 * 420);
        for (std::size_t other = 0; other < page; ++other) EXPECT_NE(seen[other], seen[page]) << result.pages[page];
    }
    EXPECT_THROW(draw_page(nullptr, result.bench, result.pages.size()), std::out_of_range);
}

}  // namespace
}  // namespace standproud::viewer
