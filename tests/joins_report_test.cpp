// Joins proposed for a job's walls: taken over into the job they make the panels that were promised, and check finds
// nothing against them.
#include "viewer/joins_report.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "modeler/job_reader.hpp"
#include "rules/check.hpp"
#include "support/jobs.hpp"
#include "support/schema.hpp"
#include "support/screen.hpp"
#include "viewer/bench_report.hpp"

namespace standproud::viewer {
namespace {

using testing::job_of;
using testing::problems;
using testing::recess;

CheckedJob checked(Job job) {
    Faults faults;
    auto limits = rules::limits_for(job, faults);
    Model model = build_model(std::move(job), faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    auto findings = rules::check(model, limits);
    return {std::move(model), std::move(limits), std::move(findings), std::nullopt};
}

constexpr const char* bench =
    "kerf = 3\ntrim = 5\nfixed_at = 16\ncoldest = 8\nhottest = 38\nfixed_humidity = 60\ndriest = 30\nwettest = 80\n"
    "sealant_depth = 5\ncartridge = 300\nwaste = 10\nreach = 40\nsealant_class = \"20\"\nstart = 2026-06-12\n"
    "saw = \"circular\"\n";

/// The back wall is 1200 wide on the bare face; its panels have 1200 - 2 x 17 - 2 x 4 between gaps when it is lined
/// last.
Job job_with(const std::string& goods, double sheet) {
    Faults faults;
    std::string text =
        recess(goods + fmt::format("[[sheets]]\nid = \"s\"\nwidth = {}\nheight = 2600\nturning = false\n", sheet) +
               "[bench]\n" + bench);
    const std::string order = "order = [\"back\", \"left\", \"right\"]";
    text.replace(text.find(order), order.size(), "order = [\"left\", \"right\", \"back\"]");
    Job job = job_of(text, faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    return job;
}

TEST(JoinsReport, SymmetricalIsTheMiddle) {
    // Closed form: one join on the middle of the wall, pieces of (1158 - 4) / 2.
    JoinWishes wishes;
    wishes.order = {joins::Preference::symmetrical};
    const auto report = plan_job_joins(checked(job_with("", 1010)), "back", wishes);
    ASSERT_EQ(report.walls.size(), 1u);
    ASSERT_TRUE(report.walls[0].answer.plan) << report.walls[0].answer.refused;
    const auto& best = report.walls[0].answer.plan->best.at(0);
    ASSERT_EQ(best.joins.size(), 1u);
    EXPECT_NEAR(best.joins[0], 600, 1e-9);
    EXPECT_NEAR(best.pieces[0].from, 21, 1e-9);
    EXPECT_NEAR(best.pieces[0].to - best.pieces[0].from, 577, 1e-9);
}

TEST(JoinsReport, JustWideEnoughForNoJoin) {
    // 1158 between the gaps and trims of 5 on both sides: 1168, and 0.02 because places are printed to 0.01.
    const auto joins_for = [](double sheet) {
        const auto report = plan_job_joins(checked(job_with("", sheet)), "back", {});
        return report.walls.at(0).answer.plan->best.at(0).joins.size();
    };
    EXPECT_EQ(joins_for(1168.03), 0u);
    EXPECT_EQ(joins_for(1168.01), 1u);
}

TEST(JoinsReport, AWishIsACornerDistance) {
    JoinWishes wishes;
    wishes.order = {joins::Preference::aligned};
    wishes.align = 471.5;
    const auto report = plan_job_joins(checked(job_with("", 1010)), "back", wishes);
    EXPECT_NEAR(report.walls[0].answer.plan->best.at(0).joins.at(0), 471.5, 1e-9);
}

/// The layouts chosen for all walls, taken over together, are on as many sheets as was promised: by the bench, which
/// nests the panels as they are then.
TEST(JoinsReport, WhatIsBestTogetherIsWhatTheBenchNests) {
    int better = 0;
    for (const char* name : {"twin-taps", "corner-mixer", "level-entry", "bath-renovation", "old-stable"}) {
        const auto file = std::filesystem::path(STANDPROUD_SOURCE_DIR) / "models" / (std::string(name) + ".toml");
        Faults faults;
        const Job job = read_job(file, faults);
        ASSERT_TRUE(faults.empty()) << name;
        const auto report = plan_job_joins(checked(job), "", {});
        ASSERT_TRUE(report.together) << name;
        if (!report.together->choice) continue;
        const auto& choice = *report.together->choice;
        const auto nested = [&](const std::vector<std::size_t>& layouts) {
            Job with = job;
            for (std::size_t i = 0; i < report.walls.size(); ++i) {
                std::size_t w = 0;
                while (with.walls[w].id != report.walls[i].wall) ++w;
                with.walls[w].joins.clear();
                for (const double at : report.walls[i].answer.plan->best[layouts[i]].joins) {
                    Join join;
                    join.distance = std::round(at * 100) / 100;  // as it is printed
                    join.from = Across::From::left_bare;
                    with.walls[w].joins.push_back(join);
                }
            }
            std::vector<CheckedJob> jobs;
            jobs.push_back(checked(std::move(with)));
            return work_out_bench(jobs);
        };
        const Bench best = nested(choice.best.layouts);
        ASSERT_TRUE(best.sheets.nesting) << name << ' ' << best.sheets.refused;
        EXPECT_EQ(best.sheets.nesting->new_sheets, choice.best.answer.nesting->new_sheets) << name;
        EXPECT_NEAR(best.sheets.nesting->price, choice.best.answer.nesting->price, 1e-6) << name;
        ASSERT_TRUE(choice.own.answer.nesting) << name;
        const Bench own = nested(choice.own.layouts);
        EXPECT_NEAR(own.sheets.nesting->price, choice.own.answer.nesting->price, 1e-6) << name;
        better += best.sheets.nesting->price < own.sheets.nesting->price - 1e-6 ? 1 : 0;
    }
    EXPECT_GT(better, 0) << "one of the demo jobs is the cheaper for it";
}

TEST(JoinsReport, LevelJoinsWhereNoSheetIsHighEnough) {
    // The recess is 2400 high less gaps of 4 at foot and top; sheets of 2000 less trims of 5.
    Job job = job_with("", 1300);
    job.sheets[0].height = 2000;
    const auto report = plan_job_joins(checked(job), "back", {});
    ASSERT_TRUE(report.walls[0].answer.plan) << report.walls[0].answer.refused;
    const auto& plan = *report.walls[0].answer.plan;
    const auto& first = plan.best.at(0);
    ASSERT_EQ(first.levels.size(), 1u);
    EXPECT_NE(plan.why_levels.find("no sheet is high enough"), std::string::npos) << plan.why_levels;
    ASSERT_EQ(first.pieces.size() % 2, 0u);
    // Closed form: heights count from the datum, so the lowest piece starts a gap above it, and rows meet at the join.
    EXPECT_NEAR(first.pieces.front().bottom, 4, 1e-6);
    EXPECT_NEAR(first.pieces.front().top, first.levels[0] - 2, 1e-6);
    EXPECT_NEAR(first.pieces.back().bottom, first.levels[0] + 2, 1e-6);
    EXPECT_LE(first.pieces.front().top - first.pieces.front().bottom, 1990 + 1e-6);
    const std::string text = text_joins(report, {});
    EXPECT_NE(text.find("level join at height"), std::string::npos) << text;
    EXPECT_NE(text.find("[[walls.level_joins]]\n    height = "), std::string::npos) << text;
    const auto json = nlohmann::json::parse(json_joins(report));
    for (const auto& problem : problems(json, "joins")) ADD_FAILURE() << problem;
    EXPECT_EQ(json["walls"][0]["layouts"][0]["levels"].size(), 1u);
    EXPECT_TRUE(json["together"].is_null());
    // Taken over, it makes the panels that were promised, and scores what was promised.
    for (Wall& wall : job.walls) {
        if (wall.id != "back") continue;
        for (const double at : first.joins) {
            Join join;
            join.distance = std::round(at * 100) / 100;
            wall.joins.push_back(join);
        }
        for (const double at : first.levels) wall.level_joins.push_back({std::round(at * 100) / 100, {}, {}});
    }
    const CheckedJob after = checked(std::move(job));
    std::vector<std::array<double, 4>> made;
    for (const auto& panel : after.model.panels) {
        if (after.model.job.walls[panel.wall].id == "back") made.push_back(extent(panel.outline));
    }
    ASSERT_EQ(made.size(), first.pieces.size());
    for (const auto& piece : first.pieces) {
        EXPECT_TRUE(std::any_of(made.begin(), made.end(),
                                [&](const auto& e) {
                                    return std::abs(e[1] - e[0] - (piece.to - piece.from)) < 0.011 &&
                                           std::abs(e[2] - piece.bottom) < 0.011 && std::abs(e[3] - piece.top) < 0.011;
                                }))
            << piece.from << ' ' << piece.bottom;
    }
    const auto drawn = score_job_joins(after, "back", {});
    ASSERT_TRUE(drawn.at(0).answer.scored) << drawn[0].answer.refused;
    EXPECT_TRUE(drawn[0].answer.scored->broken.empty());
    EXPECT_EQ(drawn[0].answer.scored->score.sheets, first.score.sheets);
    EXPECT_EQ(drawn[0].answer.scored->score.levels, 1);
    EXPECT_NEAR(drawn[0].answer.scored->levels.at(0), first.levels[0], 0.0051);
}

TEST(JoinsReport, JoinsKeepOffTheEdgesOfAnOpening) {
    // A window of 300 to 900: a join may run into it, or beside it, but leaves no strip under 100 beside its edges.
    const auto joins_with = [](double left, double right) {
        Job job = job_with("", 700);
        WallOpening window;
        window.id = window.name = "window";
        window.left = left;
        window.right = right;
        window.bottom = 1200;
        window.top = 1900;
        for (Wall& wall : job.walls) {
            if (wall.id == "back") wall.openings = {window};
        }
        const auto report = plan_job_joins(checked(job), "back", {});
        EXPECT_TRUE(report.walls[0].answer.plan) << report.walls[0].answer.refused;
        std::vector<double> all;
        if (!report.walls[0].answer.plan) return all;
        for (const auto& layout : report.walls[0].answer.plan->best)
            all.insert(all.end(), layout.joins.begin(), layout.joins.end());
        return all;
    };
    int inside = 0;
    for (const double left : {300.0, 420.0, 550.0}) {
        const auto all = joins_with(left, left + 400);
        ASSERT_FALSE(all.empty());
        for (const double at : all) {
            // The edge of the cut is a gap of 4 outside the opening, the join's own half is 2.
            for (const double edge : {left - 4, left + 404})
                EXPECT_GE(std::abs(at - edge), 100 + 2 - 0.02) << left << ' ' << at;
            inside += at > left && at < left + 400 ? 1 : 0;
        }
    }
    EXPECT_GT(inside, 0);
}

/// What a layout was promised to score is what its joins score once they are drawn. Places are typed to 0.01 mm, and
/// the planner keeps as much of each sheet's edges to spare.
void hold_score(const CheckedJob& after, const std::string& wall, const JoinWishes& wishes,
                const joins::JoinLayout& layout) {
    const auto drawn = score_job_joins(after, wall, wishes);
    ASSERT_EQ(drawn.size(), 1u);
    EXPECT_EQ(drawn[0].wall, wall);
    ASSERT_TRUE(drawn[0].answer.scored) << drawn[0].answer.refused;
    const auto& scored = *drawn[0].answer.scored;
    EXPECT_TRUE(scored.broken.empty()) << scored.broken.front();
    EXPECT_TRUE(scored.cut_from_sheets);
    EXPECT_EQ(scored.on_wettest, layout.on_wettest);
    EXPECT_EQ(scored.score.joins, layout.score.joins);
    EXPECT_EQ(scored.score.sheets, layout.score.sheets);
    EXPECT_NEAR(scored.score.cost, layout.score.cost, 1e-9) << "all sheets of this job have prices";
    EXPECT_NEAR(scored.score.waste, layout.score.waste, 4 * 0.02 * 5000) << "0.02 mm along each sheet's sides";
    EXPECT_NEAR(scored.score.asymmetry, layout.score.asymmetry, 0.04);
    for (std::size_t i = 0; i < layout.joins.size(); ++i) EXPECT_NEAR(scored.joins.at(i), layout.joins[i], 0.0051);
}

/// Takes each proposed layout over, and holds the panels and the findings that come of it against the promise.
void take_over(const Job& job, const JoinWishes& wishes) {
    const CheckedJob before = checked(job);
    const auto report = plan_job_joins(before, "", wishes);
    ASSERT_FALSE(report.walls.empty());
    int tried = 0;
    for (const auto& wall : report.walls) {
        if (!wall.answer.plan) continue;
        for (const auto& layout : wall.answer.plan->best) {
            Job with = job;
            std::size_t w = 0;
            while (with.walls[w].id != wall.wall) ++w;
            with.walls[w].joins.clear();
            for (const double at : layout.joins) {
                Join join;
                join.distance = std::round(at * 100) / 100;  // as it is printed
                join.from = Across::From::left_bare;
                with.walls[w].joins.push_back(join);
            }
            const CheckedJob after = checked(std::move(with));
            std::size_t piece = 0;
            for (const auto& panel : after.model.panels) {
                if (panel.wall != w) continue;
                const auto e = extent(panel.outline);
                ASSERT_LT(piece, layout.pieces.size());
                const auto& promised = extent(layout.pieces[piece].outline);
                EXPECT_NEAR(e[1] - e[0], promised[1] - promised[0], 0.05)
                    << panel.id
                    << ": a join is upright on the wall, and slopes a little on a plane that is turned against it";
                const auto& sheet = job.sheets.at(layout.pieces[piece].stock);
                const double trims = sheet.offcut ? 0 : 2 * figure(*job.bench, "trim");
                const double widest = sheet.turning ? std::max(sheet.width, sheet.height) : sheet.width;
                EXPECT_LE(e[1] - e[0], widest - trims + 1e-9) << panel.id << " comes out of its sheet";
                ++piece;
            }
            EXPECT_EQ(piece, layout.pieces.size());
            hold_score(after, wall.wall, wishes, layout);
            for (const auto& f : after.findings) {
                if (f.wall != wall.wall) continue;
                const bool upright =
                    f.quantity.find("left edge") != f.quantity.npos || f.quantity.find("right edge") != f.quantity.npos;
                if ((f.rule == "hole.edge" || f.rule == "flange.cover") && upright) {
                    EXPECT_EQ(f.verdict, rules::Verdict::clear) << f.says;
                }
            }
            ++tried;
        }
    }
    EXPECT_GT(tried, 2);
}

TEST(JoinsReport, AWallsOwnGapsCount) {
    // Closed form: 17 + 6 on the left, 17 + 4 on the right, a join of 10: pieces of (1200 - 23 - 21 - 10) / 2.
    JoinWishes wishes;
    wishes.order = {joins::Preference::symmetrical};
    Job job = job_with("", 1010);
    job.walls[1].gaps.left = EdgeGap{6, {}};
    job.walls[1].gaps.join = EdgeGap{10, {}};
    const auto report = plan_job_joins(checked(job), "back", wishes);
    ASSERT_TRUE(report.walls.at(0).answer.plan) << report.walls[0].answer.refused;
    const auto& best = report.walls[0].answer.plan->best.at(0);
    EXPECT_NEAR(best.joins.at(0), 601, 1e-9);
    EXPECT_NEAR(best.pieces[0].from, 23, 1e-9);
    EXPECT_NEAR(best.pieces[0].to - best.pieces[0].from, 573, 1e-9);
    EXPECT_NE(text_joins(report, {}).find("joins of this wall are 10 wide"), std::string::npos);
    EXPECT_EQ(nlohmann::json::parse(json_joins(report))["walls"][0]["gap"], 10);
    take_over(job, wishes);
}

TEST(JoinsReport, TakenOverTheyMakeThePromisedPanels) {
    Faults faults;
    for (const char* name : {"old-stable"}) {
        const Job job = read_job(fmt::format(STANDPROUD_SOURCE_DIR "/models/{}.toml", name), faults);
        ASSERT_TRUE(faults.empty());
        take_over(job, {});
        JoinWishes wishes;
        wishes.order = {joins::Preference::symmetrical, joins::Preference::least_cost};
        take_over(job, wishes);
    }
}

WallOpening opening_from(double left, double right, double bottom, double top) {
    WallOpening opening;
    opening.id = opening.name = "o";
    opening.left = left;
    opening.right = right;
    opening.bottom = bottom;
    opening.top = top;
    return opening;
}

// Relation: a wall that openings part has more panels than joins make, so nothing is planned or scored there.
TEST(JoinsReport, AWallThatOpeningsPartIsRefused) {
    const auto refused = [](const WallOpening& opening) {
        Job job = job_with("", 1010);
        job.walls[1].openings.push_back(opening);
        const auto model = checked(std::move(job));
        const auto scores = score_job_joins(model, "back", {});
        const std::string said = plan_job_joins(model, "back", {}).walls.at(0).answer.refused;
        EXPECT_EQ(scores.at(0).answer.refused, said);
        return said;
    };
    EXPECT_EQ(refused(opening_from(400, 800, 1000, 1500)), "");
    EXPECT_EQ(refused(opening_from(400, 800, 0, 2000)), "");
    EXPECT_NE(refused(opening_from(400, 800, 0, 2400)).find("part its panels into 2"), std::string::npos);
    EXPECT_NE(refused(opening_from(0, 1200, 1000, 1500)).find("part its panels into 2"), std::string::npos);
    EXPECT_EQ(refused(opening_from(0, 1200, 0, 2400)), "openings leave nothing of its panels");
}

// The strips of a reveal come from the sheets that all walls share: four with a sill.
TEST(JoinsReport, StripsOfRevealsAreNestedWithTheWalls) {
    for (const bool lined : {true, false}) {
        Job job = job_with("", 1010);
        job.walls[1].openings.push_back(opening_from(400, 800, 1000, 1500));
        if (lined) job.walls[1].openings[0].reveal = 100;
        const auto report = plan_job_joins(checked(std::move(job)), "", {});
        ASSERT_TRUE(report.together && report.together->choice);
        const auto& best = report.together->choice->best;
        std::size_t nested = 0;
        for (const auto& sheet : best.answer.nesting->sheets) nested += sheet.placed.size();
        std::size_t pieces = lined ? 4 : 0;
        for (std::size_t w = 0; w < report.walls.size(); ++w)
            pieces += report.walls[w].answer.plan->best[best.layouts[w]].pieces.size();
        EXPECT_EQ(nested, pieces);
    }
}

TEST(JoinsReport, JsonFollowsItsSchema) {
    Faults faults;
    const auto job = open_job(STANDPROUD_SOURCE_DIR "/models/old-stable.toml", faults);
    ASSERT_TRUE(job);
    auto json = nlohmann::json::parse(json_joins(plan_job_joins(*job, "", {})));
    for (const auto& problem : problems(json, "joins")) ADD_FAILURE() << problem;
    json["walls"][0]["layouts"][0]["score"].erase("sheets");
    EXPECT_FALSE(problems(json, "joins").empty()) << "the schema can fail";
}

TEST(JoinsReport, ATextForAPerson) {
    Faults faults;
    const auto job = open_job(STANDPROUD_SOURCE_DIR "/models/old-stable.toml", faults);
    ASSERT_TRUE(job);
    const std::string text = text_joins(plan_job_joins(*job, "back", {}), {});
    EXPECT_NE(text.find("[[walls.joins]]"), text.npos);
    EXPECT_EQ(text.find("WALL left"), text.npos);
    for (std::size_t at = 0, end = 0; at < text.size(); at = end + 1) {
        end = text.find('\n', at);
        ASSERT_NE(end, text.npos);
        EXPECT_LE(end - at, 110u) << text.substr(at, end - at);
    }
}

testing::Outcome program(std::vector<std::string> words) {
    words.insert(words.begin(), STANDPROUD_PROGRAM);
    return testing::run_program(words, {});
}

TEST(JoinsReport, CommandLine) {
    const std::string stable = STANDPROUD_SOURCE_DIR "/models/old-stable.toml";
    EXPECT_EQ(program({"joins", stable, "--wall", "back"}).status, 0);
    const auto wrong = program({"joins", stable, "--wall", "bak"});
    EXPECT_EQ(wrong.status, 2);
    EXPECT_NE(wrong.output.find("did you mean back?"), std::string::npos) << wrong.output;
    EXPECT_EQ(program({"joins", stable, "--want", "nicest"}).status, 2);
    EXPECT_EQ(program({"joins", stable, "--align", "500"}).status, 2) << "of which wall?";
    const testing::Folder folder;
    const auto starter = (folder / "new.toml").string();
    ASSERT_EQ(program({"new", starter, "--name", "x", "--walls", "1", "--width", "1000", "--height", "2400"}).status,
              0);
    const auto bare = program({"joins", starter});
    EXPECT_EQ(bare.status, 2);
    EXPECT_NE(bare.output.find("[bench]"), std::string::npos) << bare.output;
}

}  // namespace
}  // namespace standproud::viewer
