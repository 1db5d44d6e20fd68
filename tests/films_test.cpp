// The films that panels come in, followed through the steps of every panel of every demo job: what is marked, stuck or
// sealed with them on or off. Common practice, no source; said afresh here, by the names in the JSON that others read.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "support/bench_jobs.hpp"

namespace standproud::viewer {
namespace {

using Json = nlohmann::json;

/// A panel on its way from the sheet to the sealed wall.
struct State {
    std::map<std::string, bool> film{{"front", true}, {"rear", true}};
    std::set<std::string> done;
    std::string last;
};

/// What is wrong with doing this now.
std::string wrong(const State& now, const Json& step) {
    static const std::set<std::string> marked{"saw outline",     "drill corners",  "drill",
                                              "hole saw, front", "hole saw, rear", "saw opening"};
    static const std::map<std::string, std::vector<std::string>> needs{
        {"scuff rear", {"rear film off"}},
        {"wipe rear", {"rear film off", "scuff rear"}},
        {"tape and bead", {"rear film off", "scuff rear", "wipe rear"}},
        {"press on", {"tape and bead"}},
        {"leave", {"press on"}},
        {"seal", {"press on", "leave"}}};
    const std::string work = step["work"];
    const auto& film = now.film;
    if (marked.count(work) != 0 && !film.at(step["face_up"])) return "marked where the film is gone";
    if (marked.count(work) != 0 && !(film.at("front") && film.at("rear"))) return "cut with a face bare";
    if (work == "dry fit" && !(film.at("front") && film.at("rear"))) return "a hole that is off can be marked no more";
    if (const auto first = needs.find(work); first != needs.end()) {
        for (const auto& one : first->second) {
            if (now.done.count(one) == 0) return "comes before: " + one;
        }
    }
    if ((work == "tape and bead" || work == "press on") && film.at("rear")) return "stuck on its film";
    if (work == "seal" && !film.at("front")) return "sealed against a bare front";
    if (work == "front film off" && now.last != "seal") return "not right after sealing";
    if (work == "rear film off" && !film.at("front")) return "the front's is off already";
    return "";
}

/// Every step that is wrong, and what is left on or undone at the end.
std::vector<std::string> wrongs(const Json& panel) {
    std::vector<std::string> all;
    State now;
    for (const auto& step : panel["operations"]) {
        const std::string work = step["work"];
        if (const std::string what = wrong(now, step); !what.empty()) all.push_back(work + ": " + what);
        if (work == "front film off") now.film["front"] = false;
        if (work == "rear film off") now.film["rear"] = false;
        now.done.insert(work);
        now.last = work;
    }
    for (const char* end : {"press on", "seal"}) {
        if (now.done.count(end) == 0) all.push_back(fmt::format("never: {}", end));
    }
    for (const auto& [face, on] : now.film) {
        if (on) all.push_back("film left on the " + face);
    }
    return all;
}

struct Demo {
    std::string name;
    Bench bench;
    Json json;
};

const std::vector<Demo>& benches() {
    static const std::vector<Demo> all = [] {
        std::vector<Demo> made;
        const auto add = [&](const std::string& name, const std::vector<CheckedJob>& jobs) {
            Bench bench = work_out_bench(jobs);
            Json json = Json::parse(json_bench(bench));
            made.push_back({name, std::move(bench), std::move(json)});
        };
        std::vector<std::filesystem::path> paths;
        for (const auto& entry : std::filesystem::directory_iterator(STANDPROUD_SOURCE_DIR "/models")) {
            if (entry.path().extension() == ".toml") paths.push_back(entry.path());
        }
        std::sort(paths.begin(), paths.end());
        for (const auto& path : paths) {
            Faults faults;
            auto job = open_job(path.string(), faults);
            EXPECT_TRUE(job && faults.empty()) << path;
            if (job) add(path.stem().string(), {std::move(*job)});
        }
        auto other = checked(small_job("table"));
        other.model.job.file = "other.toml";
        add("two jobs", {checked(small_job("table")), std::move(other)});
        return made;
    }();
    return all;
}

TEST(Films, ComeOffEveryPanelOfEveryDemoWhereTheyMust) {
    ASSERT_GE(benches().size(), 6U);
    int panels = 0;
    for (const auto& demo : benches()) {
        for (const auto& panel : demo.json["panels"]) {
            for (const auto& what : wrongs(panel)) ADD_FAILURE() << demo.name << " " << panel["panel"] << ": " << what;
            ++panels;
        }
    }
    EXPECT_GT(panels, 25);
}

// The walk itself must see a fault: a step left out, or two in the other order.
TEST(Films, TheWalkSeesFaults) {
    const Json sound = benches().front().json["panels"][0];
    const auto at = [](const Json& panel, const std::string& work) {
        const auto& steps = panel["operations"];
        return static_cast<std::size_t>(
            std::find_if(steps.begin(), steps.end(), [&](const auto& step) { return step["work"] == work; }) -
            steps.begin());
    };
    const auto without = [&](const std::string& work) {
        Json panel = sound;
        panel["operations"].erase(at(panel, work));
        return wrongs(panel);
    };
    /// `work` done just before `other`.
    const auto before = [&](const std::string& other, const std::string& work) {
        Json panel = sound;
        auto& steps = panel["operations"];
        const Json step = steps[at(panel, work)];
        steps.erase(at(panel, work));
        steps.insert(steps.begin() + static_cast<std::ptrdiff_t>(at(panel, other)), step);
        return wrongs(panel);
    };
    const auto has = [](const std::vector<std::string>& all, const std::string& what) {
        return std::find(all.begin(), all.end(), what) != all.end();
    };
    EXPECT_TRUE(wrongs(sound).empty());
    EXPECT_TRUE(has(without("rear film off"), "press on: stuck on its film"));
    EXPECT_TRUE(has(without("front film off"), "film left on the front"));
    EXPECT_TRUE(has(without("wipe rear"), "tape and bead: comes before: wipe rear"));
    EXPECT_TRUE(has(without("leave"), "seal: comes before: leave"));
    EXPECT_TRUE(has(without("seal"), "never: seal"));
    EXPECT_TRUE(has(before("seal", "front film off"), "seal: sealed against a bare front"));
    EXPECT_TRUE(has(before("rear film off", "front film off"), "rear film off: the front's is off already"));
    // Bare where it is marked, and bare underneath.
    const bool rear_up = sound["operations"][0]["face_up"] == "rear";
    EXPECT_TRUE(has(before("saw outline", rear_up ? "rear film off" : "front film off"),
                    "saw outline: marked where the film is gone"));
    EXPECT_TRUE(
        has(before("saw outline", rear_up ? "front film off" : "rear film off"), "saw outline: cut with a face bare"));
    EXPECT_TRUE(has(before("dry fit", "rear film off"), "dry fit: a hole that is off can be marked no more"));
    EXPECT_TRUE(has(before("rear film off", "scuff rear"), "scuff rear: comes before: rear film off"));
}

/// All that must be done before a task.
std::set<std::string> all_before(const std::map<std::string, Json>& tasks, const std::string& id) {
    std::set<std::string> all;
    for (const std::string one : tasks.at(id)["after"]) {
        all.insert(one);
        all.merge(all_before(tasks, one));
    }
    return all;
}

TEST(Films, TheTasksKeepTheOrderOfThePanelsSteps) {
    int steps = 0;
    for (const auto& demo : benches()) {
        SCOPED_TRACE(demo.name);
        std::map<std::string, Json> tasks;
        for (const auto& task : demo.json["tasks"]) tasks[task["id"]] = task;
        for (const auto& panel : demo.json["panels"]) {
            SCOPED_TRACE(panel["panel"]);
            std::string last;
            for (const auto& step : panel["operations"]) {
                const std::string task = step["task"];
                ASSERT_EQ(tasks.count(task), 1U) << step["work"] << " in " << task;
                if (!last.empty() && task != last) {
                    EXPECT_EQ(all_before(tasks, task).count(last), 1U) << step["work"] << ": " << last << ", " << task;
                }
                last = task;
                ++steps;
            }
        }
    }
    EXPECT_GT(steps, 400);
}

// A film left overnight is stuck in the next panel's joint: what fits into a day is not broken off.
TEST(Films, SealingAWholeDayOrLessEndsOnTheDayItBegins) {
    int sealed = 0;
    int late = 0;
    for (int minutes = 10; minutes <= 40; minutes += 5) {
        const Bench bench = work_out_bench({checked(small_job() + "minutes_seal = " + std::to_string(minutes) + "\n")});
        for (std::size_t i = 0; i < bench.tasks.size(); ++i) {
            const auto& task = bench.tasks[i];
            if (task.id != "seal" || task.work > 8 * 60) continue;
            const auto& dated = bench.shared.calendar.tasks[i];
            EXPECT_EQ(dated.finish - dated.start, std::chrono::minutes(task.work)) << minutes;
            // Else nothing would have had to wait for the morning.
            const auto ready = bench.shared.calendar.tasks[*dated.held_by].ready;
            late += dated.start > ready + std::chrono::hours(8) ? 1 : 0;
            ++sealed;
        }
    }
    EXPECT_GT(sealed, 2);
    EXPECT_GT(late, 0);
}

/// That each of these is in the text, one after the other.
void expect_in_order(const std::string& text, const std::vector<std::string>& all) {
    std::size_t from = 0;
    for (const auto& one : all) {
        const std::size_t at = text.find(one, from);
        ASSERT_NE(at, std::string::npos) << one;
        from = at + one.size();
    }
}

TEST(Films, TextCsvAndCalendarSayTheStepsInTheirOrder) {
    for (const auto& demo : benches()) {
        SCOPED_TRACE(demo.name);
        std::vector<std::string> steps;
        for (const auto& panel : demo.bench.panels) {
            ASSERT_TRUE(panel.plan) << panel.id;
            for (const auto& step : panel.plan->operations) steps.push_back(step.says);
        }
        expect_in_order(flat(text_bench(demo.bench, {})), steps);
        expect_in_order(csv_bench(demo.bench), steps);
        // RFC 5545, 3.1 and 3.3.11: lines are folded, commas and semicolons escaped.
        std::string calendar;
        const std::string folded = calendar_bench(demo.bench, {});
        for (std::size_t i = 0; i < folded.size(); ++i) {
            if (folded.compare(i, 3, "\r\n ") == 0)
                i += 2;
            else if (folded[i] != '\\')
                calendar += folded[i];
        }
        for (const auto& task : demo.bench.tasks) EXPECT_NE(calendar.find(task.name), std::string::npos) << task.name;
    }
}

}  // namespace
}  // namespace standproud::viewer
