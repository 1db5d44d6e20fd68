// The bench of a whole job: figures against closed forms, rear against front, JSON against its schema.
#include "viewer/bench_report.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "modeler/job_reader.hpp"
#include "rules/check.hpp"
#include "support/jobs.hpp"
#include "support/schema.hpp"

namespace standproud::viewer {
namespace {

using Json = nlohmann::json;
using testing::problems;

constexpr const char* figures =
    "[[sheets]]\nid = \"whole\"\nwidth = 1250\nheight = 2500\nturning = true\n"
    "[bench]\nkerf = 3\ntrim = 5\nfixed_at = 16\ncoldest = 8\nhottest = 38\nfixed_humidity = 60\ndriest = 30\n"
    "wettest = 80\nsealant_depth = 5\ncartridge = 300\nwaste = 10\nreach = 40\nsealant_class = \"20\"\n"
    "start = 2026-06-12\n";

constexpr const char* goods =
    "[[types]]\nid = \"tap\"\nname = \"tap\"\nfamily = \"spindle\"\ntrade = \"plumber\"\nconnection = \"s\"\n"
    "spindle_length = \"52 +/- 0.5\"\nproud_min = 20\nproud_max = 32\n"
    "[[types.holes]]\ndiameter = 40\npasses = 30\n"
    "[[types]]\nid = \"box\"\nname = \"box\"\nfamily = \"plate\"\ntrade = \"electrician\"\nconnection = \"M3.5\"\n"
    "[[types.holes]]\nwidth = 90\nheight = 60\nradius = 6\n"
    "[[fittings]]\nid = \"hot\"\ntype = \"tap\"\nwall = \"back\"\nacross = 300\nfrom = \"left bare\"\nheight = 1000\n"
    "seat = \"-10 +/- 2\"\n"
    "[[fittings]]\nid = \"socket\"\ntype = \"box\"\nwall = \"back\"\nacross = 900\nfrom = \"left bare\"\n"
    "height = 1700\nseat = \"-10 +/- 2\"\n";

std::string small_job(const std::string& saw = "circular") {
    return testing::recess(std::string(goods) + figures + "saw = \"" + saw + "\"\n");
}

CheckedJob checked(Job job) {
    Faults faults;
    auto limits = rules::limits_for(job, faults);
    Model model = build_model(std::move(job), faults);
    EXPECT_TRUE(faults.empty()) << (faults.empty() ? "" : to_string(faults.front()));
    auto findings = rules::check(model, limits);
    return {std::move(model), std::move(limits), std::move(findings), std::nullopt};
}

CheckedJob checked(const std::string& text) {
    Faults faults;
    Job job = testing::job_of(text, faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    return checked(std::move(job));
}

CheckedJob demo() {
    Faults faults;
    auto job = open_job(STANDPROUD_SOURCE_DIR "/models/old-stable.toml", faults);
    EXPECT_TRUE(faults.empty());
    return std::move(*job);
}

const BenchPanel& panel_of_wall(const Bench& bench, const std::string& wall) {
    const auto found =
        std::find_if(bench.panels.begin(), bench.panels.end(), [&](const auto& panel) { return panel.wall == wall; });
    EXPECT_NE(found, bench.panels.end());
    return *found;
}

const BenchJoint& joint_named(const Bench& bench, const std::string& name) {
    const auto found =
        std::find_if(bench.joints.begin(), bench.joints.end(), [&](const auto& joint) { return joint.name == name; });
    EXPECT_NE(found, bench.joints.end()) << name;
    return *found;
}

// Closed form: 22 K x 70e-6 and 60 to 80 % RH, 0.2 to 0.3 %; cold and dry 8 K and 60 to 30 % RH, 0.2 to 0.1 %.
constexpr double growth = 22 * 70e-6 + 0.001;
constexpr double shrinkage = 8 * 70e-6 + 0.001;

/// Of two openings whose names start alike, each strip has the gap of its own. Closed form: the frame's gap is the
/// opening's.
TEST(BenchReport, StripsHaveTheGapOfTheirOwnOpening) {
    Faults faults;
    Job job = testing::job_of(small_job(), faults);
    for (Wall& wall : job.walls) {
        if (wall.id != "back") continue;
        for (const auto& [id, left, gap] : {std::tuple{"hatch-top", 100.0, 9.0}, std::tuple{"hatch", 700.0, 5.0}}) {
            WallOpening opening;
            opening.id = opening.name = id;
            opening.left = left;
            opening.right = left + 200;
            opening.bottom = 2000;
            opening.top = 2200;
            opening.reveal = 100;
            opening.gap = EdgeGap{gap, {}};
            wall.openings.push_back(opening);
        }
    }
    const Bench bench = work_out_bench({checked(std::move(job))});
    int found = 0;
    for (const auto& joint : bench.joints) {
        if (!joint.in_reveal) continue;
        EXPECT_EQ(joint.gap, joint.name.find("hatch-top") != std::string::npos ? 9 : 5) << joint.name;
        ++found;
    }
    EXPECT_EQ(found, 2 * (4 + 4)) << "each strip along the frame, each jamb at both ends";
}

TEST(Bench, MassAndAreaOfAPanelWithAHoleAndACutOut) {
    const Bench bench = work_out_bench({checked(small_job())});
    const auto& panel = panel_of_wall(bench, "back");
    const double holes = pi * 20 * 20 + 90 * 60 - (4 - pi) * 6 * 6;
    EXPECT_NEAR(panel.area, panel.width * panel.height - holes, 1e-6);
    EXPECT_NEAR(panel.mass, panel.area * 6 * 1190e-9, 1e-9);
    ASSERT_TRUE(panel.bond);
    EXPECT_NEAR(panel.bond->scuffed_area, panel.area, 1e-6);
}

TEST(Bench, MovementOfPanelsGapsAndHoles) {
    const auto job = checked(small_job());
    const Bench bench = work_out_bench({job});
    const auto& panel = panel_of_wall(bench, "back");
    EXPECT_NEAR(panel.grows_across, growth * panel.width, 1e-9);
    EXPECT_NEAR(panel.shrinks_up, shrinkage * panel.height, 1e-9);
    const auto& base = joint_named(bench, "base of " + panel.id);
    EXPECT_NEAR(base.moved.narrowest, 4 - growth * panel.height / 2, 1e-9);
    EXPECT_NEAR(base.moved.widest, 4 + shrinkage * panel.height / 2, 1e-9);
    // Class 20: the width of which the movement is 20 %.
    EXPECT_NEAR(base.needed, growth * panel.height / 2 / 0.2, 1e-9);
    EXPECT_FALSE(base.within);
    EXPECT_NEAR(base.seal.volume, 4 * 5 * panel.width, 1e-6);
    EXPECT_NEAR(base.depth, 2 + 6, 1e-9);
    ASSERT_EQ(panel.holes.size(), 1u);
    const auto& model_panel = job.model.panels[static_cast<std::size_t>(&panel - bench.panels.data())];
    const auto size = extent(model_panel.outline);
    const double away = std::hypot(model_panel.holes[0].opening.centre.x - (size[0] + size[1]) / 2,
                                   model_panel.holes[0].opening.centre.y - (size[2] + size[3]) / 2);
    EXPECT_NEAR(panel.holes[0].moved.moves, growth * away, 1e-9);
    EXPECT_NEAR(panel.holes[0].moved.spare, 40 - 30 - 2 * (growth * away + 2), 1e-9);
}

TEST(Bench, EveryGapOfARecessIsThereOnce) {
    const Bench bench = work_out_bench({checked(small_job())});
    std::map<JointKind, int> count;
    for (const auto& joint : bench.joints) ++count[joint.kind];
    EXPECT_EQ(count[JointKind::base], 3);
    EXPECT_EQ(count[JointKind::corner], 2);
    EXPECT_EQ(count[JointKind::join], 0);
    std::set<std::string> names;
    for (const auto& joint : bench.joints) names.insert(joint.name);
    EXPECT_EQ(names.size(), bench.joints.size());
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

TEST(Bench, WhatIsBoughtIsWhatIsLaidAndTheWaste) {
    const Bench bench = work_out_bench({checked(small_job())});
    double adhesive = 0;
    double sealant = 0;
    for (const auto& panel : bench.panels) {
        // Closed form: a 6 mm bead.
        adhesive += pi * 9 * (panel.bond->bead_length + panel.bond->ring_length);
    }
    for (const auto& joint : bench.joints) sealant += 4 * 5 * joint.length;
    ASSERT_GE(bench.bought.size(), 3u);
    EXPECT_NEAR(bench.bought[0].purchase.needed, adhesive, 1e-3);
    EXPECT_NEAR(bench.bought[0].purchase.with_waste, 1.1 * adhesive, 1e-3);
    EXPECT_EQ(bench.bought[0].purchase.units, static_cast<int>(std::ceil(1.1 * adhesive / 300000)));
    EXPECT_NEAR(bench.bought[1].purchase.needed, sealant, 1e-3);
}

TEST(Bench, SealantIsBoughtByColourAndTheWallPaintedBehindAClearJoin) {
    std::string text = small_job();
    text.insert(text.find("[walls.studs]"), "joins = [{across = 600, from = \"left bare\"}]\n");
    const auto bought = [](const Bench& bench) {
        std::map<std::string, double> litres;
        for (const auto& one : bench.bought) {
            if (one.priced_by == "sealant_price") litres[one.what] = one.purchase.needed;
        }
        return litres;
    };
    const Bench clear = work_out_bench({checked(text)});
    const auto all = bought(clear);
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all.begin()->first, "joint sealant, neutral cure, clear");
    text.insert(text.find("[walls.studs]"), "sealant_colour = \"#203040\"\n");
    const Bench bench = work_out_bench({checked(text)});
    auto parts = bought(bench);
    ASSERT_EQ(parts.size(), 2u);
    double on_back = 0;
    ASSERT_EQ(bench.joints.size(), clear.joints.size());
    for (std::size_t i = 0; i < bench.joints.size(); ++i) {
        const auto& joint = bench.joints[i];
        const bool back = joint.wall == "back";
        EXPECT_EQ(joint.sealant.has_value(), back) << joint.name;
        EXPECT_EQ(clear.joints[i].paint.has_value(), joint.kind == JointKind::join) << joint.name;
        EXPECT_EQ(joint.paint.has_value(), joint.kind == JointKind::join && !back) << joint.name;
        // 4 wide and 5 deep, by the job.
        if (back) on_back += 4 * 5 * joint.length;
    }
    EXPECT_GT(on_back, 0);
    EXPECT_NEAR(parts["joint sealant, neutral cure, #203040"], on_back, 1e-3);
    EXPECT_NEAR(parts["joint sealant, neutral cure, clear"], all.begin()->second - on_back, 1e-3);
    EXPECT_TRUE(problems(Json::parse(json_bench(bench)), "bench").empty());
}

/// On one line, as it is read.
std::string flat(const std::string& text) {
    std::string all;
    for (const char c : text) {
        const char next = c == '\n' ? ' ' : c;
        if (next != ' ' || (!all.empty() && all.back() != ' ')) all += next;
    }
    return all;
}

/// Closed form: a wall lined second against one at 135 degrees. Its edge is cut square, so the gap of 4, kept at the
/// back of the bed of 2, is wider by cos 45 a mm of the 2 + 6 out to the face; sealant of 5 fills a trapezium.
TEST(Bench, InACornerThatIsNotSquareTheGapIsWiderAtTheFace) {
    std::string text = small_job();
    const std::string left = "id = \"left\"\nwidth = 900\nheight = 2400\n";
    text.replace(text.find(left), left.size(), left + "next_angle = 135\n");
    const Bench bench = work_out_bench({checked(text)});
    const double wide = 4 + 8 * std::sqrt(0.5);
    int found = 0;
    for (const auto& joint : bench.joints) {
        if (joint.name != "corner left-1 / back-1") {
            EXPECT_EQ(joint.at_face, joint.gap) << joint.name;
            continue;
        }
        ++found;
        EXPECT_NEAR(joint.gap, 4, 1e-9);
        EXPECT_NEAR(joint.at_face, wide, 1e-9);
        EXPECT_NEAR(joint.seal.volume, (wide + wide - 5 * std::sqrt(0.5)) / 2 * 5 * joint.length, 1e-6);
    }
    EXPECT_EQ(found, 1);
    const std::string said = flat(text_bench(bench, {}));
    EXPECT_NE(said.find("9.7 mm at the face"), std::string::npos) << said;
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

TEST(Bench, PanelsAreNotLeftHalfBondedOvernight) {
    const Bench bench = work_out_bench({checked(small_job())});
    int bonds = 0;
    for (const auto& task : bench.tasks) {
        if (task.id.rfind("bond-", 0) != 0) continue;
        ++bonds;
        EXPECT_EQ(task.unit, 45);
        EXPECT_EQ(task.work % task.unit, 0);
    }
    EXPECT_EQ(bonds, 3);
}

TEST(Bench, TheWallIsPaintedBeforePanelsAreBondedOverIt) {
    std::string text = small_job();
    EXPECT_EQ(text_bench(work_out_bench({checked(text)}), {}).find("Paint the wall"), std::string::npos);
    text.insert(text.find("[walls.studs]"), "joins = [{across = 600, from = \"left bare\"}]\n");
    const Bench bench = work_out_bench({checked(text)});
    std::map<std::string, sequence::DatedTask> dated;
    for (std::size_t i = 0; i < bench.tasks.size(); ++i) dated[bench.tasks[i].id] = bench.shared.calendar.tasks[i];
    ASSERT_TRUE(dated.count("paint"));
    EXPECT_LE(dated["substrate"].finish, dated["paint"].start);
    EXPECT_LE(dated["paint"].finish, dated["bond-back"].start);
}

TEST(Bench, TheStripsOfARevealAreTold) {
    std::string text = small_job();
    text.insert(
        text.find("[walls.studs]"),
        "openings = [{id = \"w\", name = \"small window\", left = 600, right = 1000, bottom = 1900, top = 2200, "
        "reveal = 100}]\n");
    const std::string said = flat(text_bench(work_out_bench({checked(text)}), {}));
    // Bed 2, gap 4: panels 2 off the edge; sill 400 - 8; jambs 300 - 2 (2 + 6 + 4).
    for (const char* words :
         {"REVEALS", "small window", "end 2 mm outside", "Sill and head 392 long", "jambs 276 long"})
        EXPECT_NE(said.find(words), std::string::npos) << words << "\n" << said;
}

TEST(Bench, NothingIsDrilledBeforeTheDepthsAreRecordedNorSealedBeforeADay) {
    const Bench bench = work_out_bench({checked(small_job())});
    ASSERT_TRUE(bench.order.sequence) << bench.order.refused;
    std::map<std::string, sequence::DatedTask> dated;
    std::map<std::string, sequence::Task> tasks;
    for (std::size_t i = 0; i < bench.tasks.size(); ++i) {
        dated[bench.tasks[i].id] = bench.shared.calendar.tasks[i];
        tasks[bench.tasks[i].id] = bench.tasks[i];
    }
    for (const char* body : {"bodies-plumber", "bodies-electrician"})
        EXPECT_GE(dated.at("as-fixed").start, dated.at(body).finish);
    EXPECT_GE(dated.at("drill").start, dated.at("as-fixed").finish);
    for (const char* wall : {"left", "back", "right"}) {
        const std::string id = std::string("bond-") + wall;
        EXPECT_GE(dated.at(id).start, dated.at("substrate").finish);
        EXPECT_GE(dated.at("seal").start - dated.at(id).finish, std::chrono::hours(24)) << id;
    }
    for (const char* hold : {"as-fixed", "substrate", "dry-fit", "cure"}) EXPECT_NE(tasks.at(hold).hold, "") << hold;
    // 12 June 2026 is a Friday: work goes on on Monday.
    EXPECT_EQ(bench.shared.calendar.tasks.front().start,
              std::chrono::local_days(std::chrono::year(2026) / 6 / 12) + std::chrono::hours(8));
    const std::string text = calendar_bench(bench, std::chrono::sys_days(std::chrono::year(2026) / 1 / 2));
    std::size_t events = 0;
    for (std::size_t at = text.find("BEGIN:VEVENT"); at != std::string::npos; at = text.find("BEGIN:VEVENT", at + 1))
        ++events;
    EXPECT_EQ(events, bench.tasks.size());
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

TEST(Bench, CrewsAreOfTheJobAndOneTradeDoesOneThing) {
    auto second = checked(small_job());
    second.model.job.file = "other.toml";
    const Bench one = work_out_bench({checked(small_job()), second});
    ASSERT_EQ(one.shared.refused, "");
    EXPECT_TRUE(one.shared.proved);
    const auto overlap = [](const Bench& bench) {
        int pairs = 0;
        const auto& dated = bench.shared.calendar.tasks;
        for (std::size_t a = 0; a < dated.size(); ++a) {
            for (std::size_t b = 0; b < a; ++b) {
                pairs += bench.tasks[a].trade == bench.tasks[b].trade && dated[a].start < dated[b].finish &&
                                 dated[b].start < dated[a].finish
                             ? 1
                             : 0;
            }
        }
        return pairs;
    };
    EXPECT_EQ(overlap(one), 0);
    EXPECT_NE(text_bench(one, {}).find("waits for its own trade, to "), std::string::npos);
    EXPECT_NE(text_bench(one, {}).find("ends sooner: proved"), std::string::npos);
    EXPECT_NE(calendar_bench(one, {}).find("Waits for its own trade\\, busy with: "), std::string::npos);
    const std::string more = "crews_installer = 2\ncrews_plumber = 2\ncrews_builder = 2\ncrews_electrician = 2\n";
    auto first = checked(small_job() + more);
    second = checked(small_job() + more);
    second.model.job.file = "other.toml";
    const Bench two = work_out_bench({first, second});
    EXPECT_GT(overlap(two), 0);
    EXPECT_LT(two.shared.calendar.end, one.shared.calendar.end);
    // Two crews of each trade and two rooms: as if each were alone.
    EXPECT_EQ(two.shared.calendar.end, work_out_bench({checked(small_job())}).shared.calendar.end);
    ASSERT_EQ(bench_faults({first, checked(small_job())}).size(), 1u) << "the same file";
    auto third = checked(small_job());
    third.model.job.file = "third.toml";
    EXPECT_EQ(bench_faults({first, third}).size(), 4u) << "they do not agree on crews";
    Faults faults;
    (void)testing::job_of(small_job() + "crews_installer = 1.5\n", faults);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_NE(to_string(faults[0]).find("crews are whole"), std::string::npos) << to_string(faults[0]);
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

TEST(Bench, FiguresAreThoseOfTheFindings) {
    int compared = 0;
    for (const char* name : {"twin-taps", "corner-mixer", "bath-renovation", "level-entry", "old-stable"}) {
        Faults faults;
        const auto job = open_job(std::string(STANDPROUD_SOURCE_DIR "/models/") + name + ".toml", faults);
        const Bench bench = work_out_bench({*job});
        for (const auto& finding : job->findings) {
            if (finding.rule != "panel.movement") continue;
            for (const auto& joint : bench.joints) {
                if (finding.says.rfind(joint.name + ":", 0) != 0) continue;
                ++compared;
                const bool cold = finding.quantity.find("cold") != std::string::npos;
                EXPECT_NEAR(*finding.nominal, cold ? joint.moved.cold_and_dry : joint.moved.hot_and_wet, 1e-9)
                    << name << " " << joint.name;
                if (joint.within) {
                    EXPECT_NE(finding.verdict, rules::Verdict::fails) << finding.says;
                } else {
                    EXPECT_NE(finding.verdict, rules::Verdict::clear) << finding.says;
                }
            }
        }
        for (const auto& panel : bench.panels) {
            for (const auto& hole : panel.holes) {
                const auto found = std::find_if(job->findings.begin(), job->findings.end(), [&](const auto& f) {
                    return f.rule == "hole.size" && f.subject == hole.name.substr(0, hole.name.find(' '));
                });
                ASSERT_NE(found, job->findings.end()) << hole.name;
                ++compared;
                // The finding is of the fitting's worst hole.
                EXPECT_LE(*found->nominal - *found->need_low, hole.moved.spare + 1e-9) << name << " " << hole.name;
                EXPECT_TRUE(hole.moved.spare >= -1e-9 || found->verdict == rules::Verdict::fails);
            }
        }
    }
    EXPECT_GT(compared, 30);
}

TEST(Bench, ANarrowJoinIsNamed) {
    std::string text = small_job();
    text.insert(text.find("[walls.studs]"), "joins = [{across = 620, from = \"left bare\", gap = 5.99}]\n");
    const std::string words = "is below the least of a sealed join, 6 mm (published, architectural detailing";
    EXPECT_NE(text_bench(work_out_bench({checked(text)}), {}).find("join back-1 / back-2: 5.99 mm " + words),
              text.npos);
    text.replace(text.find("5.99"), 4, "6.00");
    EXPECT_EQ(text_bench(work_out_bench({checked(text)}), {}).find(words), text.npos);
}

TEST(Bench, EachGapHasItsOwnSealant) {
    // Closed form: gap x depth 5 x length.
    std::string text = small_job();
    text.insert(text.find("[walls.studs]"),
                "joins = [{across = 600, from = \"left bare\", gap = 7}]\ngaps = {bottom = 9, top = 3}\n");
    text.insert(text.find("[[walls]]\nid = \"back\""), "[walls.gaps]\nright = 6\n");
    const Bench bench = work_out_bench({checked(text)});
    const double high = 2400 - 9 - 3;
    EXPECT_NEAR(joint_named(bench, "join back-1 / back-2").seal.volume, 7 * 5 * high, 1e-6);
    EXPECT_NEAR(joint_named(bench, "base of back-1").seal.volume, 9 * 5 * (596.5 - 13), 1e-6);
    EXPECT_NEAR(joint_named(bench, "corner left-1 / back-1").seal.volume, 6 * 5 * high, 1e-6);
    EXPECT_NEAR(joint_named(bench, "corner back-2 / right-1").seal.volume, 4 * 5 * high, 1e-6);
    EXPECT_NEAR(joint_named(bench, "corner left-1 / back-1").moved.narrowest, 6 - growth * (900 - 17 - 6) / 2, 1e-9);
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

TEST(BenchReport, BillOfQuantities) {
    // Closed form: one tap at 40 with its extension at 7.5, one socket without a price; sheets at 100; cartridges.
    std::string text = small_job();
    const auto put = [&](const std::string& after, const std::string& more) {
        ASSERT_NE(text.find(after), text.npos) << after;
        text.insert(text.find(after) + after.size(), more);
    };
    put("name = \"tap\"\n", "price = 40\n");
    put("seat = \"-10 +/- 2\"\n", "with = \"ext\"\n");
    put("turning = true\n", "price = 100\n");
    put("kerf = 3\n", "adhesive_price = 6.25\ntape_price = 0\n");
    text =
        "[[stock]]\nid = \"ext\"\nname = \"an extension\"\nkind = \"extension\"\nfits = \"s\"\nadds = \"5 +/- 0.1\"\n"
        "price = 7.5\n" +
        text;
    const Bench bench = work_out_bench({checked(text)});
    ASSERT_TRUE(bench.sheets.nesting);
    const auto line = [&](const std::string& what) {
        for (const auto& one : bench.bill) {
            if (one.what == what) return one;
        }
        ADD_FAILURE() << "no line " << what;
        return BillLine{};
    };
    EXPECT_EQ(line("tap").quantity, 1);
    EXPECT_EQ(line("tap").price, 40);
    EXPECT_EQ(line("an extension").price, 7.5);
    EXPECT_FALSE(line("box").price);
    EXPECT_EQ(line("sheet whole").quantity, static_cast<double>(bench.sheets.nesting->sheets.size()));
    EXPECT_EQ(line("sheet whole").price, 100);
    EXPECT_EQ(line("adhesive, neutral-cure silicone").price, 6.25);
    EXPECT_EQ(line("double-sided tape").price, 0) << "no cost is a price";
    EXPECT_FALSE(line("joint sealant, neutral cure, clear").price);
    const double total =
        40 + 7.5 + 100 * line("sheet whole").quantity + 6.25 * line("adhesive, neutral-cure silicone").quantity;
    const std::string words = text_bench(bench, {});
    EXPECT_NE(words.find(fmt::format("total of what has a price: {:.2f}", total)), words.npos) << words;
    EXPECT_NE(words.find("have no price and are not in it"), words.npos);
    for (const auto& problem : problems(Json::parse(json_bench(bench)), "bench")) ADD_FAILURE() << problem;
}

TEST(BenchReport, AnOffcutCostsWhatItsFileSays) {
    // The nesting's total and the bill's agree; an offcut without a price costs nothing.
    const auto sheets_in_bill = [](const std::string& price) {
        std::string text = small_job();
        const std::string whole = "turning = true\n";
        text.insert(text.find(whole) + whole.size(),
                    "price = 100\n[[sheets]]\nid = \"rest\"\nwidth = 1250\nheight = "
                    "2500\nturning = true\noffcut = true\n" +
                        price);
        const Bench bench = work_out_bench({checked(text)});
        double sum = 0;
        bool used = false;
        for (const auto& line : bench.bill) {
            if (line.what == "sheet whole" || line.what == "offcut rest") sum += line.quantity * line.price.value_or(0);
            used = used || line.what == "offcut rest";
        }
        EXPECT_TRUE(used);
        EXPECT_NEAR(sum, bench.sheets.nesting->price, 1e-9);
        return sum;
    };
    EXPECT_NEAR(sheets_in_bill("price = 12.5\n"), sheets_in_bill("") + 12.5, 1e-9);
}

TEST(BenchReport, NoPricesNoBill) {
    EXPECT_EQ(text_bench(work_out_bench({checked(small_job())}), {}).find("BILL"), std::string::npos);
}

}  // namespace
}  // namespace standproud::viewer
