#include "program/commands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <filesystem>
#include <future>
#include <optional>
#include <thread>

#include "modeler/file_list.hpp"
#include "modeler/files.hpp"
#include "modeler/parts.hpp"
#include "program/opened.hpp"
#include "program/output.hpp"
#include "rules/words.hpp"
#include "viewer/bench_drawing.hpp"
#include "viewer/bench_report.hpp"
#include "viewer/joins_report.hpp"
#include "viewer/report.hpp"
#include "viewer/section.hpp"
#include "viewer/setout_report.hpp"
#include "viewer/setout_sheet.hpp"
#include "viewer/survey_report.hpp"

namespace standproud::program {

namespace {

void print_faults(const std::string& path, Faults& faults) {
    sort_faults(faults);
    for (const auto& fault : faults) remark("{}\n", to_string(fault));
    remark("{}: {} fault{}; nothing was worked out\n", path, faults.size(), faults.size() == 1 ? "" : "s");
}

void make_folder(const std::string& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error) throw FileError(fmt::format("cannot make folder {}: {}", folder, error.message()));
}

}  // namespace

std::optional<viewer::CheckedJob> open_or_say(const std::string& path, viewer::Advice advice) {
    Faults faults;
    auto job = viewer::open_job(path, faults, advice);
    if (!job) print_faults(path, faults);
    return job;
}

void print_left_out(const Model& model) {
    for (const auto& panel : model.panels) {
        for (const auto& hole : panel.holes) {
            if (hole.drilled) continue;
            remark(
                "note: the hole of {} crosses the edge of panel {} or another hole, so the panel is left whole there\n",
                fitting_of(model, model.fittings[hole.fitting]).id, panel.id);
        }
    }
    for (const auto& placed : model.fittings) {
        if (fitting_of(model, placed).seat || type_of(model, placed).family == Family::screw) continue;
        remark("note: the seat of {} is not known, so its parts in the wall are left out\n",
               fitting_of(model, placed).id);
    }
}

namespace {

struct Opened {
    std::optional<viewer::CheckedJob> job;
    Faults faults;
};

/// Opens and judges jobs on all cores; what comes back is in the order given.
std::vector<Opened> open_all(const std::vector<std::string>& paths, viewer::Advice advice) {
    std::vector<Opened> opened(paths.size());
    std::atomic<std::size_t> next{0};
    Catalogues shared;
    const auto work = [&] {
        for (std::size_t i = next++; i < paths.size(); i = next++) {
            opened[i].job = viewer::open_job(paths[i], shared, opened[i].faults, advice);
        }
    };
    const std::size_t cores = std::max(1U, std::thread::hardware_concurrency());
    std::vector<std::future<void>> others;
    for (std::size_t i = 1; i < std::min(cores, paths.size()); ++i) {
        others.push_back(std::async(std::launch::async, work));
    }
    work();
    for (auto& other : others) other.get();  // passes on what was thrown
    return opened;
}

}  // namespace

int run_check(const CheckOptions& options) {
    std::vector<viewer::CheckedJob> jobs;
    std::vector<viewer::RefusedJob> refused;
    int status = all_well;
    auto opened = open_all(options.jobs, options.advice ? viewer::Advice::at_once : viewer::Advice::when_asked);
    for (std::size_t i = 0; i < opened.size(); ++i) {
        auto& [job, faults] = opened[i];
        if (!job) {
            print_faults(options.jobs[i], faults);
            refused.push_back({options.jobs[i], faults});
            status = bad_input;
            continue;
        }
        if (!options.advice) viewer::take_advice_out(job->findings);
        const auto count = viewer::tally(job->findings);
        const bool bad = count.fails > 0 || count.unknown > 0 || (options.strict && count.tight > 0);
        if (bad && status == all_well) status = something_fails;
        if (!options.json) {
            if (!jobs.empty()) print("\n{}\n\n", std::string(110, '='));
            put(viewer::text_report(*job, {wants_colour(), options.arithmetic}));
        }
        jobs.push_back(std::move(*job));
    }
    if (options.json) put(viewer::json_report(jobs, refused));
    return status;
}

int run_compare(const CompareOptions& options) {
    const auto old_job = open_or_say(options.old_job);
    const auto new_job = open_or_say(options.new_job);
    if (!old_job || !new_job) return bad_input;
    const auto changes = rules::compare(old_job->model, old_job->findings, new_job->model, new_job->findings);
    put(options.json ? viewer::json_comparison(*old_job, *new_job, changes)
                     : viewer::text_comparison(*old_job, *new_job, changes, {wants_colour(), false}));
    return changes.worse() ? something_fails : all_well;
}

int run_setout(const SetOutOptions& options) {
    const auto job = open_or_say(options.job);
    if (!job) return bad_input;
    const auto walls = set_out(job->model);
    if (!options.folder.empty()) {
        make_folder(options.folder);
        for (const auto& wall : walls) {
            const auto stem = std::filesystem::path(options.folder) / job->model.job.walls[wall.wall].id;
            (void)viewer::write_setout(job->model, wall, job->findings, stem);
        }
    }
    if (options.format == "json") {
        put(viewer::json_setout(*job, walls));
    } else if (options.format == "csv") {
        put(viewer::csv_setout(*job, walls));
    } else {
        put(viewer::text_setout(*job, walls, {wants_colour(), false}));
    }
    return all_well;
}

int run_survey(const SurveyOptions& options) {
    const auto job = open_or_say(options.job, viewer::Advice::when_asked);
    if (!job) return bad_input;
    if (!job->model.job.survey) {
        remark("{}: the job has no [survey]; models/README.md says how readings are written\n", options.job);
        return bad_input;
    }
    const Survey& survey = *job->model.survey;
    put(viewer::text_survey(job->model.job, survey, {wants_colour(), false}));
    return survey.suspects.empty() && survey.converged ? all_well : something_fails;
}

int run_sections(const SectionOptions& options) {
    const auto job = open_or_say(options.job);
    if (!job) return bad_input;
    make_folder(options.folder);
    const auto parts = build_parts(job->model);
    print_left_out(job->model);
    for (std::size_t i = 0; i < job->model.fittings.size(); ++i) {
        const auto drawing = viewer::section_of(job->model, parts, job->findings, i);
        const auto& fitting = fitting_of(job->model, job->model.fittings[i]);
        for (const auto& file : viewer::write_section(drawing, std::filesystem::path(options.folder) / fitting.id)) {
            print("{}\n", file.string());
        }
    }
    if (job->model.fittings.empty()) print("no fittings, so no sections\n");
    return all_well;
}

namespace {

/// What was written goes to standard error, because standard output is the report's. Formats of one drawing share a
/// line.
void print_written(const std::string& folder, const FileSet& files) {
    std::string line;
    std::filesystem::path last;
    for (const auto& [name, bytes] : files) {
        std::filesystem::path stem = name;
        stem.replace_extension();
        if (!line.empty() && stem == last) {
            line += " " + name.extension().string();
            continue;
        }
        if (!line.empty()) remark("wrote {}\n", line);
        line = (std::filesystem::path(folder) / name).string();
        last = stem;
    }
    remark("wrote {}\n", line);
}

/// Sheets of an earlier run that are not of this one would mislead.
void print_earlier(const std::string& folder, const Earlier& earlier) {
    const std::filesystem::path at = folder;
    for (const auto& name : earlier.removed)
        remark("removed {}: written by an earlier run, not by this one\n", (at / name).string());
    for (const auto& [name, why] : earlier.left)
        remark("LEFT {}: written by an earlier run, not by this one; {}\n", (at / name).string(), why);
}

}  // namespace

int run_bench(const BenchOptions& options) {
    std::vector<viewer::CheckedJob> jobs;
    bool bad = false;
    for (const auto& path : options.jobs) {
        auto job = open_or_say(path);
        if (job) jobs.push_back(std::move(*job));
        bad = bad || !job;
    }
    if (bad) return bad_input;
    if (Faults faults = viewer::bench_faults(jobs); !faults.empty()) {
        print_faults(options.jobs.front(), faults);
        return bad_input;
    }
    const viewer::Bench bench = viewer::work_out_bench(jobs);
    const std::string json = viewer::json_bench(bench);
    const std::string csv = viewer::csv_bench(bench);
    const auto now = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
    // All made before the first is written.
    FileSet files{{"bench.txt", viewer::text_bench(bench, {})},
                  {"bench.json", json},
                  {"bench.csv", csv},
                  {"bench.ics", viewer::calendar_bench(bench, now)}};
    for (auto& file : viewer::draw_bench(bench)) files.emplace_back(std::move(file.path), std::move(file.bytes));
    const Earlier earlier = replace_together(options.folder, files, "written.txt");
    print_written(options.folder, files);
    print_earlier(options.folder, earlier);
    if (options.format == "json") {
        put(json);
    } else if (options.format == "csv") {
        put(csv);
    } else {
        put(viewer::text_bench(bench, {wants_colour(), false}));
    }
    return bench.settle_first.empty() ? all_well : something_fails;
}

int run_joins(const JoinsOptions& options) {
    std::vector<viewer::CheckedJob> jobs;
    if (auto job = open_or_say(options.job)) jobs.push_back(std::move(*job));
    if (jobs.empty()) return bad_input;
    Faults faults = viewer::bench_faults(jobs);
    const auto& walls = jobs.front().model.job.walls;
    std::vector<std::string> ids;
    for (const auto& panel : jobs.front().model.panels) ids.push_back(walls[panel.wall].id);
    if (!options.wall.empty() && std::find(ids.begin(), ids.end(), options.wall) == ids.end()) {
        const std::string near = nearest_word(options.wall, ids);
        remark("standproud: no wall \"{}\" with panels{}\n", options.wall,
               near.empty() ? "" : fmt::format("; did you mean {}?", near));
        return bad_input;
    }
    if (!faults.empty()) {
        print_faults(options.job, faults);
        return bad_input;
    }
    viewer::JoinWishes wishes;
    for (const auto& word : options.want) wishes.order.push_back(*viewer::preference_named(word));
    wishes.align = options.align;
    wishes.least_piece = options.least_piece;
    wishes.least_height = options.least_height;
    wishes.levels_freely = options.levels;
    wishes.layouts = static_cast<std::size_t>(options.layouts);
    const auto report = viewer::plan_job_joins(jobs.front(), options.wall, wishes);
    put(options.format == "json" ? viewer::json_joins(report) : viewer::text_joins(report, {wants_colour(), false}));
    const bool all = std::all_of(report.walls.begin(), report.walls.end(),
                                 [](const auto& wall) { return wall.answer.plan.has_value(); });
    return all ? all_well : something_fails;
}

}  // namespace standproud::program
