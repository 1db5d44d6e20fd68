#include "bench/work_out.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "modeler/gaps.hpp"
#include "modeler/panel_movement.hpp"
#include "rules/words.hpp"

namespace standproud::viewer {

namespace {

BenchJob shown_job(const CheckedJob& job) {
    BenchJob shown;
    shown.file = job.model.job.file;
    shown.name = job.model.job.name;
    shown.revision = job.model.job.revision;
    shown.settings = *job.model.job.bench;
    shown.strain = strain_of(shown.settings);
    shown.hole_allowance = job.limits.at("setout.hole").value;
    shown.least_join = job.limits.at("join.least").value;
    shown.least_join_source = job.limits.at("join.least").source;
    const Job& read = job.model.job;
    for (const auto& wall : read.panels.order) {
        if (has_panels(read.walls[wall_index(read, wall)])) shown.order.push_back(wall);
    }
    shown.order_given = read.panels.order_given;
    shown.proposed = propose_order(read, job.model.room);
    shown.order_as_proposed = same_corners(read, job.model.room, shown.order, shown.proposed.walls);
    const Tally count = tally(job.findings);
    shown.failing = count.fails;
    shown.unknown = count.unknown;
    for (const auto wanted : {rules::Verdict::fails, rules::Verdict::unknown}) {
        for (const auto& finding : job.findings) {
            if (finding.verdict != wanted) continue;
            shown.open.push_back(fmt::format("{}: {} ({}), {}", rules::to_string(wanted), finding.subject, finding.rule,
                                             finding.quantity));
        }
    }
    return shown;
}

/// Bought for all jobs together, by the first one's cartridge and waste.
void buy_all(Bench& bench) {
    double adhesive = 0;
    std::map<std::string, double> sealant;  // a cartridge holds one colour
    double tape = 0;
    double backing = 0;
    for (const auto& panel : bench.panels) {
        if (!panel.bond) continue;
        adhesive += panel.bond->adhesive_volume;
        tape += panel.bond->tape_length;
    }
    for (const auto& joint : bench.joints) {
        sealant[joint.sealant ? to_string(*joint.sealant) : "clear"] += joint.seal.volume;
        backing += joint.seal.backing_length;
    }
    const auto& settings = bench.jobs.front().settings;
    const double cartridge = figure(settings, "cartridge") * 1000;
    const double waste = figure(settings, "waste") / 100;
    const auto add = [&](const std::string& what, const char* price, double needed, double unit, const char* name) {
        if (needed > 0) bench.bought.push_back({what, price, unit, name, bond::buy(needed, unit, waste)});
    };
    add("adhesive, neutral-cure silicone", "adhesive_price", adhesive, cartridge, "cartridge");
    for (const auto& [colour, volume] : sealant)
        add("joint sealant, neutral cure, " + colour, "sealant_price", volume, cartridge, "cartridge");
    add("double-sided tape", "tape_price", tape, 1000, "metre");
    add("backing for deep joints", "backing_price", backing, 1000, "metre");
}

void settle_legs(Bench& bench) {
    for (const auto& panel : bench.panels) {
        if (!panel.bond) continue;
        for (const auto& leg : panel.bond->dry)
            bench.settle_first.push_back(
                fmt::format("panel {}: {} in the leg from {:.1f} to {:.1f} across, {:.1f} to {:.1f} up, seen from the "
                            "front: move a "
                            "join, or ask the adhesive's maker",
                            panel.id, leg.taped ? "no bead fits beside the tape" : "neither tape nor bead is", leg.left,
                            leg.right, leg.bottom, leg.top));
    }
}

/// Wall by wall, as the panels come.
void settle_packing(Bench& bench) {
    double volume = 0;
    double most = 0;
    std::string walls;
    std::set<std::pair<std::size_t, std::string>> told;
    for (const auto& panel : bench.panels) {
        if (panel.packing_volume <= 0) continue;
        volume += panel.packing_volume;
        most = std::max(most, panel.bed_most);
        if (!told.emplace(panel.job, panel.wall).second) continue;
        walls += (walls.empty() ? "" : ", ") + panel.wall;
        if (bench.jobs.size() > 1) walls += " of " + bench.jobs[panel.job].file;
    }
    if (told.empty()) return;
    bench.settle_first.push_back(
        fmt::format("wall{} {}: pack or level to the bedding plane before panels are bonded, {:.1f} litres in all; the "
                    "bed behind them is up to {:.1f} mm, and tape and beads are reckoned without packing",
                    told.size() == 1 ? "" : "s", walls, rules::tenth_up(volume / 1e6), most));
}

void settle(Bench& bench) {
    auto& first = bench.settle_first;
    for (const auto& job : bench.jobs) {
        if (job.open.empty()) continue;
        first.push_back(fmt::format("{}: check finds {} failing and {} unknown; put them right before a hole is made",
                                    job.file, job.failing, job.unknown));
        for (const auto& one : job.open) first.push_back(one);
    }
    for (const auto& panel : bench.panels) {
        if (!panel.not_cut.empty()) first.push_back(panel.not_cut);
        if (panel.plan && !panel.not_bonded.empty())
            first.push_back(fmt::format("panel {} is not bonded: {}", panel.id, panel.not_bonded));
        if (!panel.lift.people)
            first.push_back(
                fmt::format("panel {} of {:.1f} kg is over the recommended weight even for two", panel.id, panel.mass));
        for (const auto& hole : panel.holes) {
            if (hole.moved.spare < -same_length)
                first.push_back(fmt::format(
                    "panel {}: the part through the hole of {} binds: the hole is {:.2f} mm too small for movement "
                    "and set-out",
                    panel.id, hole.name, -hole.moved.spare));
        }
    }
    for (const auto& joint : bench.joints) {
        if (joint.moved.narrowest <= 0)
            first.push_back(
                fmt::format("{} closes when {}: {:.2f} mm are missing", joint.name,
                            joint.moved.hot_and_wet < joint.moved.cold_and_dry ? "hot and wet" : "cold and dry",
                            -joint.moved.narrowest));
    }
    if (!bench.sheets.nesting) first.push_back("the panels are not nested: " + bench.sheets.refused);
    settle_legs(bench);
    settle_packing(bench);
}

void add_fault(Faults& faults, const std::string& file, const char* key, const char* allowed, const char* says) {
    Fault fault;
    fault.where.file = file;
    fault.key = key;
    fault.allowed = allowed;
    fault.says = says;
    faults.push_back(std::move(fault));
}

void check_together(const Job& first, const Job& other, Faults& faults) {
    for (const char* key : {"kerf", "trim", "cartridge", "waste", "usable_offcut", "crews_plumber", "crews_electrician",
                            "crews_builder", "crews_installer"}) {
        const double a = figure(*first.bench, key);
        const double b = figure(*other.bench, key);
        if (a == b) continue;
        faults.push_back({other.bench->source, fmt::format("bench.{}", key), fmt::format("{:g}", b),
                          fmt::format("{:g}, as in {}", a, first.file),
                          fmt::format("jobs that are cut together must agree on {}", key)});
    }
    for (const auto& sheet : other.sheets) {
        for (const auto& known : first.sheets) {
            if (known.id != sheet.id || (known.width == sheet.width && known.height == sheet.height)) continue;
            faults.push_back({sheet.source, "sheets.id", sheet.id, "one size for each id",
                              fmt::format("sheet \"{}\" has another size in {}", sheet.id, first.file)});
        }
    }
}

}  // namespace

Faults bench_faults(const std::vector<CheckedJob>& jobs) {
    Faults faults;
    for (const auto& job : jobs) {
        const Job& read = job.model.job;
        if (!read.bench)
            add_fault(faults, read.file, "bench", "[bench] with kerf, trim, ...; see models/README.md",
                      "the job has no [bench], so nothing can be said of cutting, bonding and sealing");
        if (job.model.panels.empty())
            add_fault(faults, read.file, "layers", "a layer of kind panel on some wall",
                      "the job has no panels to cut");
    }
    if (!jobs.empty() && jobs.front().model.job.sheets.empty())
        add_fault(faults, jobs.front().model.job.file, "sheets", "[[sheets]], once for each kind of sheet",
                  "the first job has no [[sheets]] to cut the panels from");
    for (std::size_t i = 1; i < jobs.size(); ++i) {
        const Job& read = jobs[i].model.job;
        const bool again = std::any_of(jobs.begin(), jobs.begin() + static_cast<std::ptrdiff_t>(i),
                                       [&](const auto& other) { return other.model.job.file == read.file; });
        if (again) add_fault(faults, read.file, "", "each job once", "the job is given twice");
    }
    if (!faults.empty()) return faults;
    for (std::size_t i = 1; i < jobs.size(); ++i) check_together(jobs.front().model.job, jobs[i].model.job, faults);
    return faults;
}

Bench work_out_bench(const std::vector<CheckedJob>& jobs, std::stop_token stop) {
    Bench bench;
    for (const auto& job : jobs) bench.jobs.push_back(shown_job(job));
    for (std::size_t i = 0; i < jobs.size(); ++i) {
        const std::string before = job_mark(bench, i);
        for (auto& wall : walls_of(jobs[i], i, bench.panels.size(), before)) bench.walls.push_back(std::move(wall));
        for (auto& panel : panels_of(jobs[i], bench.jobs[i], i, before)) bench.panels.push_back(std::move(panel));
        for (auto& joint : joints_of(jobs[i], bench.jobs[i], i, before)) bench.joints.push_back(std::move(joint));
    }
    nest_panels(jobs, bench, std::move(stop));
    buy_all(bench);
    write_bill(jobs, bench);
    settle(bench);
    plan_work(jobs, bench);
    return bench;
}

}  // namespace standproud::viewer
