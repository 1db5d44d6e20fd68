// The work in its order. Durations are planning figures; what must come before what is not.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <set>

#include "bench/words.hpp"
#include "bench/work_out.hpp"
#include "modeler/hash.hpp"

namespace standproud::viewer {

namespace {

using sequence::Task;
using Step = cutting::Work;

int openings_of(const Bench& bench, std::size_t job) {
    std::size_t openings = 0;
    for (const auto& panel : bench.panels) {
        if (panel.job == job && panel.plan) openings += panel.plan->front.openings.size();
    }
    return static_cast<int>(openings);
}

/// The task of a step, without its job's mark. Edges are smoothed once all of them are cut.
std::string task_for(Step step, const std::string& wall, bool drilled) {
    switch (step) {
        case Step::saw_outline:
            return "cut";
        case Step::drill_corners:
        case Step::drill:
        case Step::hole_saw_front:
        case Step::hole_saw_rear:
        case Step::saw_opening:
            return "drill";
        case Step::finish_edges:
            return drilled ? "drill" : "cut";
        case Step::dry_fit:
            return "dry-fit";
        case Step::rear_film_off:
        case Step::scuff_rear:
        case Step::wipe_rear:
        case Step::tape_and_bead:
        case Step::press_on:
            return "bond-" + wall;
        case Step::leave:
            return "cure";
        case Step::seal:
        case Step::front_film_off:
            return "seal";
    }
    return "";
}

class Work {
  public:
    Work(const CheckedJob& job, const Bench& bench, std::size_t index)
        : job_(job), bench_(bench), index_(index), settings_(bench.jobs[index].settings) {
        before_ = job_mark(bench, index);
        openings_ = openings_of(bench, index);
    }

    std::vector<Task> run() {
        bodies();
        substrate();
        packing();
        painting();
        cutting();
        bonding();
        finishing();
        return std::move(tasks_);
    }

  private:
    void add(const std::string& id, const std::string& name, const std::string& trade, double work,
             std::vector<std::string> after, const std::string& hold = "", double wait = 0) {
        for (auto& one : after) one = before_ + one;
        const std::string shown = before_.empty() ? name : before_ + " " + name;
        tasks_.push_back({before_ + id, shown, trade, static_cast<int>(std::ceil(work)),
                          static_cast<int>(std::ceil(wait)), std::move(after), hold});
    }
    [[nodiscard]] std::string task(Step step, const std::string& wall = "") const {
        return task_for(step, wall, openings_ > 0);
    }
    [[nodiscard]] double minutes(const char* key) const { return figure(settings_, key); }

    /// Fittings of a trade.
    [[nodiscard]] int fittings_of(Trade trade) const {
        return static_cast<int>(
            std::count_if(job_.model.fittings.begin(), job_.model.fittings.end(),
                          [&](const auto& placed) { return type_of(job_.model, placed).trade == trade; }));
    }

    void bodies() {
        std::vector<std::string> fixed;
        for (const Trade trade : {Trade::plumber, Trade::electrician, Trade::builder, Trade::installer}) {
            const int count = fittings_of(trade);
            if (count == 0) continue;
            const std::string id = "bodies-" + to_string(trade);
            add(id, fmt::format("Fix the bodies, boxes and backing of {} fitting{}", count, count == 1 ? "" : "s"),
                to_string(trade), count * minutes("minutes_body"), {});
            fixed.push_back(id);
        }
        const auto placed = std::max<std::size_t>(job_.model.fittings.size(), 1);
        add("as-fixed", "Measure every body as fixed: across, height and depth", "installer",
            10.0 * static_cast<double>(placed), fixed,
            "HOLD: bodies fixed, and as-fixed depths recorded in the job file and checked again, before any hole is "
            "drilled");
    }

    void substrate() {
        double area = 0;
        for (const auto& panel : bench_.panels) {
            if (panel.job == index_) area += panel.width * panel.height / 1e6;
        }
        bool boards = false;
        for (const auto& wall : job_.model.job.walls) {
            for (const auto& layer : wall.layers) boards = boards || layer.kind <= LayerKind::membrane;
        }
        if (boards)
            add("lining", fmt::format("Fix boards and membranes behind {:.1f} m2 of panels", area), "builder",
                area * minutes("minutes_lining"), {"as-fixed"});
        add("substrate", "Check the lined wall: sound, flat, dry, membrane cured by its maker's sheet", "installer", 30,
            {boards ? "lining" : "as-fixed"}, "HOLD: substrate checked and recorded before panels are bonded");
    }

    /// Over a crooked wall, to the plane that panels are bedded in.
    void packing() {
        double litres = 0;
        for (const auto& panel : bench_.panels) litres += panel.job == index_ ? panel.packing_volume / 1e6 : 0;
        if (litres <= 0) return;
        add("packing",
            fmt::format("Pack or level the walls to the bedding planes, {:.1f} litres", std::ceil(10 * litres) / 10),
            "installer", litres * minutes("minutes_packing"), {ready_},
            "HOLD: packing cured by its maker's sheet, and its face checked with a straightedge");
        ready_ = "packing";
    }

    /// Behind joins that are sealed clear. It dries while the panels are cut.
    void painting() {
        const auto painted = std::count_if(bench_.joints.begin(), bench_.joints.end(),
                                           [&](const auto& joint) { return joint.job == index_ && joint.paint; });
        if (painted == 0) return;
        add("paint", fmt::format("Paint the wall behind {} join{}", painted, painted == 1 ? "" : "s"), "installer",
            15.0 * static_cast<double>(painted), {ready_},
            "HOLD: paint dry by its maker's sheet before the panels over it are bonded");
        ready_ = "paint";
    }

    void cutting() {
        const auto panels = std::count_if(bench_.panels.begin(), bench_.panels.end(),
                                          [&](const auto& panel) { return panel.job == index_; });
        const auto count = static_cast<double>(panels);
        const bool drilled = openings_ > 0;
        // Panels are measured to the wall as it stands, holes to the bodies as fixed.
        add(task(Step::saw_outline),
            fmt::format("Cut {} panel{} from the sheets{}", panels, panels == 1 ? "" : "s",
                        drilled ? "" : ", smooth the edges"),
            "installer", count * minutes("minutes_cut"), {ready_});
        if (drilled)
            add(task(Step::drill),
                fmt::format("Make {} hole{} and cut-outs, smooth all edges", openings_, openings_ == 1 ? "" : "s"),
                "installer", openings_ * minutes("minutes_hole"), {"as-fixed", task(Step::saw_outline)});
        add(task(Step::dry_fit), "Offer every panel up dry, on spacers, both films on", "installer", count * 10.0,
            {task(Step::finish_edges)},
            "HOLD: every hole clears its part and every gap is kept before a film comes off or adhesive is opened");
    }

    void bonding() {
        std::string last = task(Step::dry_fit);
        for (const auto& wall : job_.model.job.panels.order) {
            const auto panels = std::count_if(bench_.panels.begin(), bench_.panels.end(), [&](const auto& panel) {
                return panel.job == index_ && panel.wall == wall;
            });
            if (panels == 0) continue;
            const std::string bond = task(Step::press_on, wall);
            // The next wall need not wait for the adhesive of this one to set.
            add(bond,
                fmt::format("Bond the panels of wall {}: rear film off (the front's stays), scuff, wipe, tape, bead, "
                            "press on",
                            wall),
                "installer", static_cast<double>(panels) * std::ceil(minutes("minutes_bond")), {last});
            tasks_.back().unit = static_cast<int>(std::ceil(minutes("minutes_bond")));
            last = bond;
        }
        add(task(Step::leave), fmt::format("Leave the adhesive alone for {:g} h", minutes("seal_after")), "installer",
            0, {last},
            fmt::format("HOLD: {:g} h after the last panel before joints are sealed; front films stay on until then",
                        minutes("seal_after")),
            minutes("seal_after") * 60);
    }

    void finishing() {
        double metres = 0;
        for (const auto& joint : bench_.joints) {
            if (joint.job == index_) metres += joint.length / 1000;
        }
        add(task(Step::seal),
            fmt::format("Seal {:.1f} m of joints, panel by panel: smooth at once, then the front film off in one pull",
                        metres),
            "installer", metres * minutes("minutes_seal"), {task(Step::leave)},
            "HOLD: no front film left on; no water before the sealant has cured by its maker's sheet");
        // A film that is left overnight is stuck in the sealant of its neighbour's joint. More than a day's work may
        // still stop anywhere.
        tasks_.back().unit = tasks_.back().work;
        for (const Trade trade : {Trade::plumber, Trade::electrician, Trade::builder, Trade::installer}) {
            const int count = fittings_of(trade);
            if (count == 0) continue;
            const bool licensed = trade == Trade::plumber || trade == Trade::electrician;
            add("finish-" + to_string(trade),
                fmt::format("Fit what shows of {} fitting{}", count, count == 1 ? "" : "s"), to_string(trade),
                count * minutes("minutes_finish"), {task(Step::seal)},
                licensed ? "HOLD: tested by the licensed trade before use" : "");
        }
    }

    const CheckedJob& job_;
    const Bench& bench_;
    std::size_t index_;
    const BenchSettings& settings_;
    std::string before_;
    int openings_ = 0;                 ///< in all panels
    std::string ready_ = "substrate";  ///< the task after which the wall is ready for panels
    std::vector<Task> tasks_;
};

sequence::LocalMinute start_of(const std::string& day) {
    int part[3] = {1970, 1, 1};
    const char* from = day.data();
    for (int& one : part) {
        from = std::from_chars(from, day.data() + day.size(), one).ptr;
        if (from != day.data() + day.size()) ++from;
    }
    const std::chrono::year_month_day date{std::chrono::year(part[0]),
                                           std::chrono::month(static_cast<unsigned>(part[1])),
                                           std::chrono::day(static_cast<unsigned>(part[2]))};
    return std::chrono::time_point_cast<std::chrono::minutes>(std::chrono::local_days(date));
}

}  // namespace

std::string job_mark(const Bench& bench, std::size_t job) {
    if (bench.jobs.size() < 2) return "";
    const auto stem = [&](std::size_t i) { return std::filesystem::path(bench.jobs[i].file).stem().string(); };
    // Jobs of one file name in several folders are told apart by their order.
    std::set<std::string> stems;
    for (std::size_t i = 0; i < bench.jobs.size(); ++i) stems.insert(stem(i));
    return stems.size() == bench.jobs.size() ? stem(job) + ":" : fmt::format("{}-{}:", stem(job), job + 1);
}

std::string task_of(const Bench& bench, const BenchPanel& panel, cutting::Work work) {
    return job_mark(bench, panel.job) + task_for(work, panel.wall, openings_of(bench, panel.job) > 0);
}

void plan_work(const std::vector<CheckedJob>& jobs, Bench& bench) {
    const auto& settings = bench.jobs.front().settings;
    for (const Trade trade : {Trade::plumber, Trade::electrician, Trade::builder, Trade::installer}) {
        bench.crews[to_string(trade)] = static_cast<int>(figure(settings, "crews_" + to_string(trade)));
    }
    auto start = start_of(settings.start);
    // No task of one job needs another's, and each job keeps its own start; the people are the same.
    for (std::size_t i = 0; i < jobs.size(); ++i) {
        const auto from = start_of(bench.jobs[i].settings.start);
        start = std::min(start, from);
        for (auto& task : Work(jobs[i], bench, i).run()) {
            task.not_before = from;
            bench.tasks.push_back(std::move(task));
        }
    }
    bench.order = sequence::order_tasks(bench.tasks);
    bench.shared = sequence::share_crews(bench.tasks, bench.crews, {}, start);
}

namespace {

/// Files of one name lie in many folders, so a job is known by where it lies too. That is nobody's business who gets
/// the calendar, and only its hash is told.
std::string calendar_id(const Bench& bench) {
    std::string jobs;
    for (const auto& job : bench.jobs) {
        std::error_code error;
        const auto path = std::filesystem::weakly_canonical(std::filesystem::absolute(job.file), error);
        jobs += job.name + '\0' + (error ? job.file : path.string()) + '\0';
    }
    return fmt::format("{:016x}@standproud", hash_of(jobs));
}

}  // namespace

std::string calendar_bench(const Bench& bench, std::chrono::sys_seconds made_at) {
    std::string name;
    for (const auto& job : bench.jobs) name += (name.empty() ? "" : ", ") + job.name;
    return sequence::icalendar_text(bench.tasks, bench.shared.calendar, {name, calendar_id(bench), made_at});
}

}  // namespace standproud::viewer
