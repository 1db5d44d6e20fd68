// What the bench of a whole job says: rear against front, JSON against its schema, CSV, text, faults of the reader.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "support/bench_jobs.hpp"
#include "support/schema.hpp"

namespace standproud::viewer {
namespace {

using Json = nlohmann::json;
using testing::problems;

TEST(Bench, MassAndAreaOfAPanelWithAHoleAndACutOut) {
    const Bench bench = work_out_bench({checked(small_job())});
    const auto& panel = panel_of_wall(bench, "back");
    const double holes = pi * 20 * 20 + 90 * 60 - (4 - pi) * 6 * 6;
    EXPECT_NEAR(panel.area, panel.width * panel.height - holes, 1e-6);
    EXPECT_NEAR(panel.mass, panel.area * 6 * 1190e-9, 1e-9);
    ASSERT_TRUE(panel.bond);
    EXPECT_NEAR(panel.bond->scuffed_area, panel.area, 1e-6);
}

/// Folds every rear figure of a JSON bench back onto the front; the number of things folded.
int fold_back(const Json& report) {
    int folded = 0;
    for (const auto& panel : report["panels"]) {
        const double width = panel["width"];
        const auto folds = [&](const Json& rear, const Json& front) {
            EXPECT_NEAR(width - rear[0].get<double>(), front[0].get<double>(), 2e-6) << panel["panel"];
            EXPECT_NEAR(rear[1].get<double>(), front[1].get<double>(), 2e-6) << panel["panel"];
            ++folded;
        };
        const auto& front = panel["front"]["openings"];
        const auto& rear = panel["rear"]["openings"];
        EXPECT_EQ(front.size(), rear.size());
        for (std::size_t i = 0; i < front.size(); ++i) {
            folds(rear[i]["centre"], front[i]["centre"]);
            const std::string side = front[i]["from_upright_edge"]["side"];
            EXPECT_EQ(rear[i]["from_upright_edge"]["side"], side == "left" ? "right" : "left");
            EXPECT_NEAR(rear[i]["from_upright_edge"]["distance"].get<double>(),
                        front[i]["from_upright_edge"]["distance"].get<double>(), 2e-6);
            EXPECT_EQ(rear[i]["from_level_edge"], front[i]["from_level_edge"]);
        }
        for (const auto& at : panel["rear"]["outline"]) {
            const auto meets = [&](const Json& other) {
                return std::hypot(width - at[0].get<double>() - other[0].get<double>(),
                                  at[1].get<double>() - other[1].get<double>()) < 2e-6;
            };
            const auto& corners = panel["front"]["outline"];
            EXPECT_EQ(std::count_if(corners.begin(), corners.end(), meets), 1) << panel["panel"];
            ++folded;
        }
        for (const auto& work : panel["operations"]) {
            if (!work["mirrored"].get<bool>()) continue;
            EXPECT_EQ(work["face_up"], "rear");
            EXPECT_NE(work["says"].get<std::string>().find("MIRRORED"), std::string::npos);
            if (work["opening"].is_null()) continue;
            for (const auto& place : work["places"]) folds(place["at"], front[work["opening"].get<int>()]["centre"]);
        }
    }
    return folded;
}

TEST(Bench, TheRearFoldsBackOntoTheFront) {
    EXPECT_GT(fold_back(Json::parse(json_bench(work_out_bench({checked(small_job())})))), 14);
    EXPECT_GT(fold_back(Json::parse(json_bench(work_out_bench({demo()})))), 30);
}

TEST(Bench, HolesAreWhereTheModelHasThem) {
    const auto job = demo();
    const Bench bench = work_out_bench({job});
    int holes = 0;
    for (std::size_t p = 0; p < bench.panels.size(); ++p) {
        const auto& panel = job.model.panels[p];
        const auto size = extent(panel.outline);
        ASSERT_TRUE(bench.panels[p].plan);
        const auto& marked = bench.panels[p].plan->front.openings;
        ASSERT_EQ(marked.size(), panel.holes.size());
        for (std::size_t h = 0; h < marked.size(); ++h, ++holes) {
            EXPECT_NEAR(marked[h].seen.shape.centre.x, panel.holes[h].opening.centre.x - size[0], 1e-9);
            EXPECT_NEAR(marked[h].seen.shape.centre.y, panel.holes[h].opening.centre.y - size[2], 1e-9);
        }
    }
    EXPECT_EQ(holes, 13);
}

TEST(Bench, TheCrookedJobIsNestedOnTwoSizesWithTheOffcut) {
    const Bench bench = work_out_bench({demo()});
    ASSERT_TRUE(bench.sheets.nesting) << bench.sheets.refused;
    const auto& found = *bench.sheets.nesting;
    EXPECT_TRUE(found.cost_proved);
    std::map<std::string, int> used;
    for (const auto& sheet : found.sheets) ++used[bench.stock[sheet.stock].id];
    EXPECT_EQ(used, (std::map<std::string, int>{{"acrylic-1000", 2}, {"acrylic-1220", 1}, {"boot-room-offcut", 1}}));
    EXPECT_NEAR(found.price, 2 * 228 + 265, 1e-9);
    EXPECT_TRUE(nesting::check_layout(bench.pieces, bench.stock, bench.nesting_rules, found.sheets).empty());
}

/// Walks the cuts as printed: a cut's two sides and its kerf make up its part.
TEST(Bench, CutsAddUpOnTheFaceThatIsUp) {
    for (const char* saw : {"circular", "table"}) {
        const Json report = Json::parse(json_bench(work_out_bench({checked(small_job(saw))})));
        int cuts = 0;
        std::multiset<std::string> pieces;
        for (const auto& sheet : report["nesting"]["found"]["sheets"]) {
            for (const auto& piece : sheet["pieces"]) pieces.insert(piece["panel"].get<std::string>());
            for (const auto& cut : sheet["cuts"]) {
                const bool rear = std::string(saw) == "circular";
                EXPECT_EQ(cut["face_up"], rear ? "rear" : "front");
                const double width = cut["part"]["width"];
                const double from = cut["from"];
                const double to = cut["to"];
                if (rear && cut["upright"].get<bool>()) {
                    EXPECT_NEAR(width - cut["seen_to"].get<double>(), from, 2e-6);
                    EXPECT_NEAR(width - cut["seen_from"].get<double>(), to, 2e-6);
                } else {
                    EXPECT_EQ(cut["seen_from"], cut["from"]);
                }
                EXPECT_LE(to - from, 3 + 1e-9);
                ++cuts;
            }
        }
        EXPECT_GT(cuts, 6);
        EXPECT_EQ(pieces.size(), 3u);
        EXPECT_EQ(std::set<std::string>(pieces.begin(), pieces.end()).size(), 3u);
    }
}

TEST(Bench, WhatIsOpenIsNamedBeforeTheFirstCut) {
    CheckedJob job = checked(small_job());
    std::size_t open = 0;
    for (const auto& finding : job.findings) {
        if (finding.verdict != rules::Verdict::fails && finding.verdict != rules::Verdict::unknown) continue;
        ++open;
        const Bench bench = work_out_bench({job});
        const auto named = [&](const std::string& line) {
            return line.find(finding.subject + " (" + finding.rule + ")") != std::string::npos;
        };
        EXPECT_TRUE(std::any_of(bench.settle_first.begin(), bench.settle_first.end(), named)) << finding.rule;
    }
    EXPECT_GT(open, 0u);
}

TEST(Bench, TheStripsOfARevealAreTold) {
    std::string text = small_job();
    text.insert(
        text.find("[walls.studs]"),
        "openings = [{id = \"w\", name = \"small window\", left = 600, right = 1000, bottom = 1900, top = 2200, "
        "reveal = 100}]\n");
    const Bench bench = work_out_bench({checked(text)});
    for (const auto& panel : bench.panels) {
        EXPECT_EQ(panel.in_reveal, panel.id.rfind("back-w-", 0) == 0) << panel.id;
        const bool stands = panel.id != "back-w-sill" && panel.id != "back-w-head";
        EXPECT_EQ(panel.bond->spacers.empty(), !stands) << panel.id;
    }
    const std::string said = flat(text_bench(bench, {}));
    // Bed 2, gap 4: panels 2 off the edge; sill 400 - 8; jambs 300 - 2 (2 + 6 + 4).
    for (const char* words :
         {"REVEALS", "small window", "end 2 mm outside", "Sill and head 392 long", "jambs 276 long"})
        EXPECT_NE(said.find(words), std::string::npos) << words << "\n" << said;
}

TEST(Bench, JsonHoldsToItsSchema) {
    auto second = checked(small_job());
    second.model.job.file = "other.toml";
    for (const auto& bench : {work_out_bench({checked(small_job())}), work_out_bench({demo()}),
                              work_out_bench({checked(small_job("table")), second})}) {
        for (const auto& problem : problems(Json::parse(json_bench(bench)), "bench")) ADD_FAILURE() << problem;
    }
    Json broken = Json::parse(json_bench(work_out_bench({demo()})));
    broken["panels"][0]["operations"][0].erase("mirrored");
    EXPECT_FALSE(problems(broken, "bench").empty());
    for (const char* part : {"walls", "joints", "tasks"}) {
        Json less = Json::parse(json_bench(work_out_bench({demo()})));
        less[part][0].erase(std::string(part) == "tasks" ? "busy_with" : "wall");
        EXPECT_FALSE(problems(less, "bench").empty()) << part;
    }
}

// Closed forms: the lining of each side wall is as deep as its layers say, and gaps lie between the panels they name.
TEST(Bench, JsonTellsWallsAndTheirGaps) {
    const Bench bench = work_out_bench({checked(small_job())});
    const Json json = Json::parse(json_bench(bench));
    ASSERT_EQ(json["walls"].size(), 3u);
    std::vector<std::string> lined;
    for (const auto& wall : json["walls"]) {
        lined.push_back(wall["wall"]);
        EXPECT_EQ(wall["lined"], lined.size());
    }
    EXPECT_EQ(lined, bench.jobs[0].order);
    std::map<std::string, double> spans;
    for (const auto& joint : json["joints"]) {
        const double along = joint["to"][0].get<double>() - joint["from"][0].get<double>();
        const double up = joint["to"][1].get<double>() - joint["from"][1].get<double>();
        EXPECT_NEAR(std::hypot(along, up), joint["length"].get<double>(), 1e-3) << joint["name"];
        EXPECT_NEAR(joint["sealant_volume"].get<double>(),
                    joint["gap"].get<double>() * joint["sealed_depth"].get<double>() * joint["length"].get<double>(), 1)
            << joint["name"];
        EXPECT_GE(joint["panels"].size(), 1u);
        EXPECT_NE(std::find(lined.begin(), lined.end(), joint["wall"]), lined.end());
    }
    for (const auto& wall : json["walls"]) {
        if (wall["wall"] != "back") {
            EXPECT_TRUE(wall["finished_width"].is_null()) << "it is open at one end";
            continue;
        }
        EXPECT_EQ(wall["bare_width"], 1200);
        EXPECT_EQ(wall["panels"], Json({"back-1"}));
        // Less the 17 mm of lining of each side wall; the panel runs to 4 mm from each, or to the bare wall.
        EXPECT_EQ(wall["finished_width"], 1200 - 2 * 17);
        const auto& panel = panel_of_wall(bench, "back");
        EXPECT_NEAR(wall["top"].get<double>() - wall["bottom"].get<double>(), panel.height + 4, 4 + 1e-6);
    }
}

/// RFC 4180: records of cells.
std::vector<std::vector<std::string>> records(const std::string& text) {
    std::vector<std::vector<std::string>> all(1, {""});
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
            all.back().back() += text[++i];
        } else if (c == '"') {
            quoted = !quoted;
        } else if (!quoted && c == ',') {
            all.back().emplace_back();
        } else if (!quoted && c == '\r') {
            EXPECT_EQ(text[++i], '\n');
            all.emplace_back(1, "");
        } else {
            all.back().back() += c;
        }
    }
    EXPECT_FALSE(quoted);
    EXPECT_EQ(all.back(), std::vector<std::string>{""});
    all.pop_back();
    return all;
}

TEST(Bench, CsvHasOneWidthAndTheMirroredFiguresFoldBack) {
    const Bench bench = work_out_bench({demo()});
    const auto lines = records(csv_bench(bench));
    std::map<std::string, double> width;
    std::map<std::string, double> front;
    std::map<std::string, std::vector<Vec2>> corners;
    int folded = 0;
    int outlines = 0;
    for (const auto& line : lines) {
        ASSERT_EQ(line.size(), 14u) << line[1];
        if (line[2] == "panel") width[line[1]] = std::stod(line[10]);
        if (line[2] == "corner") corners[line[1]].push_back({std::stod(line[8]), std::stod(line[9])});
        if (line[2] == "step" && line[5] == "circular saw") {
            EXPECT_EQ(line[7], "yes");
            const auto meets = [&](Vec2 at) {
                return std::abs(width.at(line[1]) - std::stod(line[8]) - at.x) < 0.0151 &&
                       std::abs(std::stod(line[9]) - at.y) < 0.0101;
            };
            EXPECT_EQ(std::count_if(corners[line[1]].begin(), corners[line[1]].end(), meets), 1) << line[1];
            ++outlines;
        }
        if (line[2] != "step" || line[5] != "hole saw") continue;
        const std::string name = line[1] + line[3];
        if (line[6] == "front") front[name] = std::stod(line[8]);
        if (line[6] != "rear") continue;
        EXPECT_EQ(line[7], "yes");
        EXPECT_NEAR(width.at(line[1]) - std::stod(line[8]), front.at(name), 0.0151);  // two rounded figures
        ++folded;
    }
    EXPECT_EQ(folded, 4);
    EXPECT_EQ(outlines, 16);
}

TEST(Bench, TextNamesWhatScrapsPanels) {
    const std::string text = text_bench(work_out_bench({demo()}), {});
    for (const char* says :
         {"REAR FACE UP: left and right are MIRRORED", "TAPER: the bottom is 9.9 longer",
          // the front's 475.7 from the right edge, at x = 987.03 - 475.67
          "mark mixer 1: 64 mm round; centre 475.7 from the right edge",
          "MIRRORED, as seen on the rear: mixer 1: 64 mm round; centre 475.7 from the left edge", "proved, no layout",
          "2 to lift", "waste allowed", "HOLD: bodies fixed, and as-fixed depths recorded", "HOLD: 24 h",
          "shipped: common practice", "models/old-stable.toml:", "local codes and the makers' own sheets come first",
          "back, left, right, as the job says",
          "This program would propose the same, because wall back faces the way in"})
        EXPECT_NE(text.find(says), std::string::npos) << says;
}

TEST(Bench, OrderOfLiningIsProposedAndNothingChanged) {
    std::string text = small_job();
    const std::string order = "order = [\"back\", \"left\", \"right\"]";
    const auto with = [&](const std::string& line) {
        std::string other = text;
        return work_out_bench({checked(other.replace(other.find(order), order.size(), line))});
    };
    const Bench given = with("order = [\"left\", \"back\", \"right\"]");
    EXPECT_TRUE(given.jobs[0].order_given);
    EXPECT_FALSE(given.jobs[0].order_as_proposed);
    EXPECT_EQ(given.jobs[0].order, (std::vector<std::string>{"left", "back", "right"}));
    EXPECT_NE(text_bench(given, {}).find("! proposed: back, left, right, because wall back faces the way in"),
              std::string::npos);
    const Bench none = with("");
    EXPECT_FALSE(none.jobs[0].order_given);
    EXPECT_NE(text_bench(none, {}).find("left, back, right, as the walls stand in the file: the job gives no order."),
              std::string::npos);
    // Lined as the job says: the left wall's panel runs to the back wall's board.
    EXPECT_NEAR(panel_of_wall(given, "left").width, 900 - 9 - 4, 1e-9);
    EXPECT_TRUE(with("order = [\"back\", \"right\"]").jobs[0].order_as_proposed);
}

TEST(Bench, APanelThatCannotBeCutIsSaidFirst) {
    // The cut-out reaches over the panel's edge.
    std::string text = small_job();
    const std::string was = "across = 900\n";
    text.replace(text.find(was), was.size(), "across = 1170\n");
    const Bench bench = work_out_bench({checked(text)});
    const auto& panel = panel_of_wall(bench, "back");
    EXPECT_FALSE(panel.plan);
    EXPECT_NE(panel.not_cut.find("socket"), std::string::npos) << panel.not_cut;
    EXPECT_NE(std::find(bench.settle_first.begin(), bench.settle_first.end(), panel.not_cut), bench.settle_first.end());
    EXPECT_NE(text_bench(bench, {}).find("NOT TO BE CUT AS DRAWN"), std::string::npos);
    for (const auto& problem : problems(Json::parse(json_bench(bench)), "bench")) ADD_FAILURE() << problem;
}

TEST(Bench, JobsAreNestedTogetherAndMustAgree) {
    const auto first = checked(small_job());
    auto second = checked(small_job());
    second.model.job.file = "second.toml";
    EXPECT_TRUE(bench_faults({first, second}).empty());
    const Bench bench = work_out_bench({first, second});
    EXPECT_EQ(bench.panels.size(), 6u);
    ASSERT_TRUE(bench.sheets.nesting);
    std::size_t placed = 0;
    for (const auto& sheet : bench.sheets.nesting->sheets) placed += sheet.placed.size();
    EXPECT_EQ(placed, 6u);
    ASSERT_EQ(bench_faults({first, first}).size(), 1u);
    for (auto& one : second.model.job.bench->figures) {
        if (one.key == "kerf") one.value = 4;
    }
    ASSERT_EQ(bench_faults({first, second}).size(), 1u);
    EXPECT_EQ(bench_faults({first, second})[0].key, "bench.kerf");
    second.model.job.bench.reset();
    EXPECT_EQ(bench_faults({first, second})[0].key, "bench");
}

std::string fault_of(const std::string& was, const std::string& now) {
    std::string text = small_job();
    text.replace(text.find(was), was.size(), now);
    Faults faults;
    (void)testing::job_of(text, faults);
    std::string said;
    for (const auto& fault : faults) said += to_string(fault) + "\n";
    return said;
}

TEST(BenchReader, FaultsNameKeyAndRange) {
    const auto says = [](const std::string& text, const char* what) {
        EXPECT_NE(text.find(what), std::string::npos) << text;
    };
    EXPECT_EQ(fault_of("kerf = 3\ntrim = 5", "kerf = 20\ntrim = 20"), "");
    EXPECT_EQ(fault_of("trim = 5", "trim = 3"), "");
    EXPECT_EQ(fault_of("trim = 5", "trim = 0"), "");
    says(fault_of("trim = 5", "trim = 2.99"), "key bench.trim; found 2.99; allowed: 0, or 3 mm (kerf) or more");
    says(fault_of("kerf = 3", "kerf = 20.5"), "key bench.kerf; found 20.5; allowed: 0 to 20 mm");
    says(fault_of("kerf = 3\n", ""), "bench.kerf is missing");
    says(fault_of("coldest = 8", "coldest = 17"), "coldest is more than fixed_at");
    says(fault_of("driest = 30", "driest = 61"), "driest is more than fixed_humidity");
    says(fault_of("sealant_class = \"20\"", "sealant_class = \"21\""), "bench.sealant_class");
    says(fault_of("start = 2026-06-12", "start = \"soon\""), "bench.start is not a date");
    says(fault_of("kerf = 3", "kerf = 3\nmoisture_60 = 0.5"), "does not shrink as it gets wetter");
    says(fault_of("turning = true\n", ""), "sheets.turning is missing");
    says(fault_of("turning = true\n", "turning = true\ncount = 1.5\n"), "sheets are whole");
    says(fault_of("width = 1250", "width = 0"), "sheets.width");
    says(fault_of("[bench]", "[[sheets]]\nid = \"whole\"\nwidth = 1\nheight = 1\nturning = true\n[bench]"),
         "an id used once");
}

}  // namespace
}  // namespace standproud::viewer
