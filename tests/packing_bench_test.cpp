// What lies behind panels on the bench: packing against closed forms of wedges, and where it is told.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "modeler/gaps.hpp"
#include "modeler/job_reader.hpp"
#include "modeler/openings.hpp"
#include "rules/check.hpp"
#include "support/jobs.hpp"
#include "support/leaning.hpp"
#include "support/schema.hpp"
#include "viewer/bench_report.hpp"

namespace standproud::viewer {
namespace {

using Json = nlohmann::json;
using testing::problems;

constexpr const char* figures =
    "[[sheets]]\nid = \"whole\"\nwidth = 1250\nheight = 2500\nturning = true\n"
    "[bench]\nkerf = 3\ntrim = 5\nfixed_at = 16\ncoldest = 8\nhottest = 38\nfixed_humidity = 60\ndriest = 30\n"
    "wettest = 80\nsealant_depth = 5\ncartridge = 300\nwaste = 10\nreach = 40\nsealant_class = \"20\"\n"
    "start = 2026-06-12\nsaw = \"circular\"\n";

Job recess_job() {
    Faults faults;
    Job job = testing::job_of(testing::recess(figures), faults);
    EXPECT_TRUE(faults.empty()) << (faults.empty() ? "" : to_string(faults.front()));
    return job;
}

CheckedJob checked(Job job, const Survey& survey) {
    Faults faults;
    auto limits = rules::limits_for(job, faults);
    Model model = build_model(std::move(job), survey, faults);
    EXPECT_TRUE(faults.empty()) << (faults.empty() ? "" : to_string(faults.front()));
    // Without findings: the survey is made by hand, and what the rules say of it is not asked here.
    return {std::move(model), std::move(limits), {}, std::nullopt};
}

/// The recess with its back wall leaning by so many mm per m, and panels bedded as said.
CheckedJob back_leaning(double lean, BedKind bedding, bool plumb, Job job = recess_job()) {
    job.panels.bedding = bedding;
    job.panels.plumb = plumb;
    const Survey survey = testing::survey_with_leans(job, {0, lean, 0});
    return checked(std::move(job), survey);
}

CheckedJob demo(const std::string& name) {
    Faults faults;
    auto job = open_job(STANDPROUD_SOURCE_DIR "/models/" + name, faults);
    EXPECT_TRUE(faults.empty());
    return std::move(*job);
}

WallOpening window() {
    WallOpening opening;
    opening.id = opening.name = "window";
    opening.left = 400;
    opening.right = 800;
    opening.bottom = 1000;
    opening.top = 1600;
    opening.reveal = 90;
    return opening;
}

std::size_t count_of(const std::string& text, const std::string& words) {
    std::size_t count = 0;
    for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) ++count;
    return count;
}

/// Words of a text on one line, as if it were not wrapped.
std::string flowing(const std::string& text) {
    std::string flat;
    for (const char c : text) {
        if (c != '\n' && c != ' ')
            flat += c;
        else if (!flat.empty() && flat.back() != ' ')
            flat += ' ';
    }
    return flat;
}

constexpr std::size_t back = 1;  ///< the wall's index

// Closed form: a plumb plane over a wall that leans into the room rests at the top of what the panels cover; behind a
// panel from y0 to y1 and w wide lies w lean ((top - y0)^2 - (top - y1)^2) / 2.
TEST(PackingBench, AWedgeBehindAPlumbPanel) {
    for (const double lean : {4.0, 10.0}) {
        SCOPED_TRACE(lean);
        const auto job = back_leaning(lean, BedKind::plane, true);
        const Bench bench = work_out_bench({job});
        int wedges = 0;
        for (std::size_t i = 0; i < bench.panels.size(); ++i) {
            const Panel& panel = job.model.panels[i];
            const BenchPanel& made = bench.panels[i];
            EXPECT_EQ(made.bed, 2);
            if (panel.wall != back) {
                EXPECT_EQ(made.packing_volume, 0);
                EXPECT_NEAR(made.bed_most, 2, 1e-9);
                continue;
            }
            ++wedges;
            const auto e = extent(panel.outline);
            EXPECT_NEAR(area(panel.outline), (e[1] - e[0]) * (e[3] - e[2]), 1e-6) << "a rectangle, or no closed form";
            const double slope = lean / 1000;
            EXPECT_NEAR(made.bed_most, 2 + slope * (2400 - e[2]), 1e-6);
            EXPECT_NEAR(made.bed_least, 2 + slope * (2400 - e[3]), 1e-6);
            const double wedge =
                (e[1] - e[0]) * slope * ((2400 - e[2]) * (2400 - e[2]) - (2400 - e[3]) * (2400 - e[3])) / 2;
            EXPECT_GT(wedge, 1e6);
            EXPECT_NEAR(made.packing_volume / wedge, 1, 1e-9);
        }
        EXPECT_EQ(wedges, 1);
    }
}

// Out of the room it rests at the bottom: the same wedge, upside down.
TEST(PackingBench, LeaningAwayItRestsAtTheBottom) {
    const auto job = back_leaning(-10, BedKind::plane, true);
    const Bench bench = work_out_bench({job});
    for (std::size_t i = 0; i < bench.panels.size(); ++i) {
        if (job.model.panels[i].wall != back) continue;
        const auto e = extent(job.model.panels[i].outline);
        EXPECT_NEAR(bench.panels[i].bed_most, 2 + 0.01 * e[3], 1e-6);
        EXPECT_NEAR(bench.panels[i].packing_volume / ((e[1] - e[0]) * 0.01 * (e[3] * e[3] - e[2] * e[2]) / 2), 1, 1e-9);
        return;
    }
    FAIL() << "no panel on the back wall";
}

TEST(PackingBench, NoneWhereTheBedFollowsTheFaceOrThePlaneLeansWithIt) {
    for (const auto& job : {back_leaning(0, BedKind::plane, true), back_leaning(10, BedKind::plane, false),
                            back_leaning(10, BedKind::follow, false)}) {
        const Bench bench = work_out_bench({job});
        for (const auto& panel : bench.panels) {
            EXPECT_EQ(panel.packing_volume, 0) << panel.id;
            EXPECT_NEAR(panel.bed_least, 2, 1e-6) << panel.id;
            EXPECT_NEAR(panel.bed_most, 2, 1e-6) << panel.id;
        }
        ASSERT_FALSE(bench.panels.empty());
        EXPECT_EQ(text_bench(bench, {}).find("litres"), std::string::npos);
        for (const auto& words : bench.settle_first) EXPECT_EQ(words.find("pack"), std::string::npos) << words;
    }
    // 0.05 mm of packing at the most is none: the wedge is 2400 less the bottom gap high. Just under, just over.
    for (const auto& [most, some] : {std::pair{0.049, false}, std::pair{0.051, true}}) {
        const auto job = back_leaning(most / (2400 - 4) * 1000, BedKind::plane, true);
        const Bench bench = work_out_bench({job});
        const bool any = std::any_of(bench.panels.begin(), bench.panels.end(),
                                     [](const auto& panel) { return panel.packing_volume > 0; });
        EXPECT_EQ(any, some) << most;
    }
}

// Behind a window nothing is packed. Closed form: the wedge less that behind the cut-out; parts of cells of at most 5
// mm are in or out, so it is off by no more than half of those that its edge crosses.
TEST(PackingBench, NothingIsPackedBehindAWindow) {
    Job job = recess_job();
    job.walls[back].openings.push_back(window());
    const auto with = back_leaning(10, BedKind::plane, true, std::move(job));
    const Bench bench = work_out_bench({with});
    int windows = 0;
    for (std::size_t i = 0; i < with.model.panels.size(); ++i) {
        const Panel& panel = with.model.panels[i];
        if (panel.wall != back) continue;
        ASSERT_EQ(panel.cuts.size(), 1u);
        ++windows;
        const auto wedge = [](const std::array<double, 4>& e) {
            return (e[1] - e[0]) * 0.01 * ((2400 - e[2]) * (2400 - e[2]) - (2400 - e[3]) * (2400 - e[3])) / 2;
        };
        const auto cut = extent(panel.cuts[0].shape);
        EXPECT_GT(wedge(cut), 2e6);
        const double edge = 2 * (cut[1] - cut[0] + cut[3] - cut[2]);
        const double off = edge * 2.5 * 0.01 * (2400 - cut[2]);
        EXPECT_LT(off, wedge(cut) / 10) << "else it could not tell";
        EXPECT_NEAR(bench.panels[i].packing_volume, wedge(extent(panel.outline)) - wedge(cut), off);
    }
    EXPECT_EQ(windows, 1);
    // The reveal's strips lie on the reveal, in the bed alone.
    ASSERT_EQ(bench.panels.size(), with.model.panels.size() + 4);
    for (std::size_t i = with.model.panels.size(); i < bench.panels.size(); ++i) {
        EXPECT_EQ(bench.panels[i].bed_least, 2) << bench.panels[i].id;
        EXPECT_EQ(bench.panels[i].bed_most, 2) << bench.panels[i].id;
        EXPECT_EQ(bench.panels[i].packing_volume, 0) << bench.panels[i].id;
    }
}

TEST(PackingBench, ItIsToldWhereItIsAndNowhereElse) {
    const auto leaning = back_leaning(10, BedKind::plane, true);
    const Bench bench = work_out_bench({leaning});
    const auto& panel =
        *std::find_if(bench.panels.begin(), bench.panels.end(), [](const auto& one) { return one.packing_volume > 0; });
    const auto up = [](double volume) { return std::ceil(volume / 1e5) / 10; };
    const std::string text = flowing(text_bench(bench, {}));
    EXPECT_EQ(count_of(text, "bed behind it"), 1u);
    EXPECT_NE(text.find(fmt::format("bed behind it {:.1f} to {:.1f} mm: pack or level the wall to the bedding plane "
                                    "first, {:.1f} litres under this panel",
                                    panel.bed_least, panel.bed_most, up(panel.packing_volume))),
              std::string::npos)
        << text;
    EXPECT_NE(text.find(fmt::format("packing or levelling behind panels: {:.1f} litres", up(panel.packing_volume))),
              std::string::npos);
    const auto settles = [](const Bench& of) {
        return std::count_if(of.settle_first.begin(), of.settle_first.end(), [](const auto& words) {
            return words.find("pack or level to the bedding plane") != std::string::npos;
        });
    };
    EXPECT_EQ(settles(bench), 1);
    EXPECT_EQ(bench.settle_first.back().find("wall back: "), 0u) << bench.settle_first.back();
    // Two jobs: one line, that names both.
    auto second = back_leaning(10, BedKind::plane, true);
    second.model.job.file = "other.toml";
    const Bench both = work_out_bench({leaning, second});
    ASSERT_EQ(settles(both), 1);
    const std::string words = both.settle_first.back();
    EXPECT_NE(words.find("back of " + leaning.model.job.file + ", back of other.toml"), std::string::npos) << words;
    EXPECT_NE(words.find(fmt::format("{:.1f} litres in all", up(2 * panel.packing_volume))), std::string::npos)
        << words;

    Json json = Json::parse(json_bench(bench));
    EXPECT_TRUE(problems(json, "bench").empty());
    for (std::size_t i = 0; i < bench.panels.size(); ++i) {
        EXPECT_NEAR(json["panels"][i]["bed_least"].get<double>(), bench.panels[i].bed_least, 1e-5);
        EXPECT_NEAR(json["panels"][i]["bed_most"].get<double>(), bench.panels[i].bed_most, 1e-5);
        EXPECT_NEAR(json["panels"][i]["packing_volume"].get<double>(), bench.panels[i].packing_volume, 1e-5);
    }
    for (const char* key : {"bed_least", "bed_most", "packing_volume"}) {
        Json less = json;
        less["panels"][0].erase(key);
        EXPECT_FALSE(problems(less, "bench").empty()) << key;
    }
}

// Over a face surveyed spot by spot: the same sum over a grid of 7 mm, written afresh, from the bedding plane and the
// face between the spots.
TEST(PackingBench, ACrookedWallAgainstAFinerGrid) {
    const auto job = demo("old-stable.toml");
    const Model& model = job.model;
    const Bench bench = work_out_bench({job});
    int packed = 0;
    for (std::size_t i = 0; i < model.panels.size(); ++i) {
        const Panel& panel = model.panels[i];
        const BenchPanel& made = bench.panels[i];
        const auto& face = model.room.faces[panel.wall];
        ASSERT_TRUE(face.bedding);
        const auto e = extent(panel.outline);
        double volume = 0;
        double least = 1e9;
        double most = 0;
        for (double x = e[0] + 3.5; x < e[1]; x += 7) {
            for (double y = e[2] + 3.5; y < e[3]; y += 7) {
                const auto at = RoundedRect::circle({x, y}, 0);
                if (room_on(panel, at) < 0) continue;
                if (std::any_of(panel.holes.begin(), panel.holes.end(),
                                [&](const auto& hole) { return gap_between(at, hole.opening) <= 0; }))
                    continue;
                const auto p = model.room.walls[panel.wall].from_room(panel.place.to_room(x, y, 0));
                // Board 6 and tanking 1 under a bed of 2.5, by the job.
                const double bed = p[2] - face.bare.at(p[0], p[1]).n - 7;
                volume += 7 * 7 * std::max(0.0, bed - 2.5);
                least = std::min(least, bed);
                most = std::max(most, bed);
            }
        }
        for (const auto& one : face.bedding->spots) {
            if (room_on(panel, RoundedRect::circle(on_panel(model, panel, {one.spot.u, one.spot.v}), 0)) < 0) continue;
            const double bed = face.bedding->back.at(one.spot.u, one.spot.v) - one.spot.n - 7;
            least = std::min(least, bed);
            most = std::max(most, bed);
        }
        EXPECT_NEAR(made.packing_volume / volume, 1, 0.005) << made.id;
        // Edges and corners may lie beyond the middles of the finer grid's cells: 3.5 mm of a face that nowhere changes
        // by more than 0.1 mm per mm.
        EXPECT_NEAR(made.bed_least, least, 0.35) << made.id;
        EXPECT_NEAR(made.bed_most, most, 0.35) << made.id;
        packed += made.packing_volume > 0 ? 1 : 0;
    }
    EXPECT_EQ(packed, 4);
    // As `check` has it, at the bricked-up hatch.
    EXPECT_NEAR(bench.panels[2].bed_most, model.room.faces[back].bedding->greatest_bed, 1e-9);
    EXPECT_EQ(bench.settle_first.back().find("walls left, back, right: "), 0u) << bench.settle_first.back();
}

// The leg beside the window of the demo job: closed form as in bond_test, the window's cut-out is 753 high.
TEST(PackingBench, TheLegBesideTheWindowIsGlued) {
    const Bench bench = work_out_bench({demo("bath-renovation.toml")});
    for (const auto& panel : bench.panels) {
        ASSERT_TRUE(panel.bond) << panel.id;
        EXPECT_NEAR(panel.bond->leg_length, panel.id == "back-2" ? 753 : 0, 1e-6) << panel.id;
        EXPECT_TRUE(panel.bond->dry.empty()) << panel.id;
        EXPECT_EQ(panel.packing_volume, 0) << panel.id;
    }
    EXPECT_EQ(count_of(flowing(text_bench(bench, {})), "0.75 m straight in legs beside cut-outs"), 1u);
    // A window that leaves 57 mm beside the join: the tape holds, and the leg is named.
    auto narrow = demo("bath-renovation.toml");
    Job job = std::move(narrow.model.job);
    for (auto& wall : job.walls) {
        for (auto& opening : wall.openings) opening.right += 70.5 - 57;
    }
    Faults faults;
    Model model = build_model(std::move(job), faults);
    const Bench other = work_out_bench({{std::move(model), narrow.limits, narrow.findings, std::nullopt}});
    EXPECT_EQ(std::count_if(other.settle_first.begin(), other.settle_first.end(),
                            [](const auto& words) {
                                return words.find(
                                           "panel back-2: no bead fits beside the tape in the leg from 263.0 to "
                                           "320.0 across, ") == 0;
                            }),
              1)
        << fmt::format("{}", other.settle_first.back());
}

/// The old stable is packed after the lined wall is checked and before its panels are cut; a plumb job has no such
/// task.
TEST(PackingBench, IsATaskOfItsOwn) {
    const Bench bench = work_out_bench({demo("old-stable.toml")});
    std::map<std::string, std::size_t> at;
    double litres = 0;
    for (std::size_t i = 0; i < bench.tasks.size(); ++i) at[bench.tasks[i].id] = i;
    for (const auto& panel : bench.panels) litres += panel.packing_volume / 1e6;
    ASSERT_TRUE(at.count("packing"));
    const auto& task = bench.tasks[at["packing"]];
    EXPECT_EQ(task.work, static_cast<int>(std::ceil(15 * litres)));
    EXPECT_EQ(task.after, std::vector<std::string>{"substrate"});
    EXPECT_EQ(bench.tasks[at["cut"]].after, std::vector<std::string>{"paint"});
    EXPECT_EQ(bench.tasks[at["paint"]].after, std::vector<std::string>{"packing"});
    const Bench plain = work_out_bench({demo("twin-taps.toml")});
    EXPECT_TRUE(std::none_of(plain.tasks.begin(), plain.tasks.end(), [](const auto& t) { return t.id == "packing"; }));
}

}  // namespace
}  // namespace standproud::viewer
