// What panels and menus can do, with the outcome in the status line.
#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "modeler/exchange.hpp"
#include "modeler/files.hpp"
#include "modeler/setout.hpp"
#include "rules/words.hpp"
#include "viewer/export.hpp"
#include "viewer/section.hpp"
#include "viewer/setout_sheet.hpp"
#include "window/app.hpp"

namespace standproud::viewer {

void say(App& app, const std::string& words) {
    app.message = words;
    app.refused = false;
}

void outcome(App& app, const Refusal& refusal, const std::string& done) {
    app.message = refusal.empty() ? done : refusal;
    app.refused = !refusal.empty();
    app.scene_changed = true;
}

void note_place(App& app, const std::string& name) {
    if (!app.places) return;
    const ImVec2 a = ImGui::GetItemRectMin();
    const ImVec2 b = ImGui::GetItemRectMax();
    (*app.places)[name] = {a.x, a.y, b.x, b.y};
}

namespace {

void ask_about_left_behind(App& app) {
    if (!left_behind(*app.document)) return;
    app.question = Question{"Take over unsaved changes?",
                            fmt::format("Last time, changes to {} were not saved. They were kept beside it.",
                                        app.document->file.filename().string()),
                            {{"Take them over",
                              [&app] {
                                  try {
                                      recover(*app.document);
                                      say(app, "Changes taken over. Undo brings the saved file back.");
                                  } catch (const FileError& error) {
                                      outcome(app, error.what(), "");
                                  }
                                  app.scene_changed = true;
                              }},
                             {"Throw them away", [&app] { forget_left_behind(*app.document); }}}};
}

}  // namespace

void open_job_file(App& app, const std::filesystem::path& file) {
    try {
        Document opened = open_document(file);
        (void)left_behind(opened);  // what was kept and cannot be read must not be written over
        app.document = std::move(opened);
    } catch (const FileError& error) {
        outcome(app, error.what(), "");
        return;
    }
    app.measure = {};
    app.drag_fitting = false;
    app.filter = {};
    app.draft = {};
    app.numbers.clear();
    app.earlier.reset();
    app.wall = 0;
    app.look.cut = {};
    clear_bench(app);
    app.scene_changed = true;
    app.fly_to.reset();
    app.show_whole = true;
    add_recent(app.settings, file);
    store_settings(app.settings);
    say(app, fmt::format("Opened {}", file.string()));
    ask_about_left_behind(app);
}

void when_saved(App& app, const std::string& title, std::function<void()> then) {
    if (!app.document || !unsaved(*app.document)) {
        then();
        return;
    }
    app.question = Question{title,
                            fmt::format("{} has changes that are not saved.", app.document->file.filename().string()),
                            {{"Save",
                              [&app, then] {
                                  if (save_job(app)) then();
                              }},
                             {"Do not save",
                              [&app, then] {
                                  forget_left_behind(*app.document);
                                  then();
                              }},
                             {"Cancel", [] {}}}};
}

namespace {

void take_from_disk(App& app, const std::string& done) {
    try {
        reload(*app.document);
        outcome(app, "", done);
    } catch (const FileError& error) {
        outcome(app, error.what(), "");
    }
}

/// Nothing when that cannot be told; the status line says why.
std::optional<bool> changed_by_others(App& app) {
    try {
        return changed_on_disk(*app.document);
    } catch (const FileError& error) {
        outcome(app, error.what(), "");
        return std::nullopt;
    }
}

}  // namespace

bool save_job(App& app, bool over) {
    if (!app.document) return false;
    try {
        const Refusal refusal = save(*app.document, over);
        if (!refusal.empty()) {
            app.question = Question{"The file on disk is another",
                                    refusal + ".",
                                    {{"Write over it", [&app] { save_job(app, true); }},
                                     {"Take the file on disk", [&app] { take_from_disk(app, ""); }},
                                     {"Cancel", [] {}}}};
            return false;
        }
        say(app, fmt::format("Saved {}", app.document->file.string()));
        return true;
    } catch (const FileError& error) {
        outcome(app, error.what(), "");
        return false;
    }
}

void look_at_disk(App& app) {
    if (!app.document || app.question || !changed_by_others(app).value_or(false)) return;
    std::error_code ignored;
    if (!std::filesystem::exists(app.document->file, ignored)) {
        outcome(app, fmt::format("{} is no longer on disk; saving writes it again", app.document->file.string()), "");
        return;
    }
    app.question = Question{
        "The file on disk has changed",
        fmt::format("Another program has written {}.", app.document->file.filename().string()),
        {{"Take the file on disk", [&app] { take_from_disk(app, "Taken from disk. Undo brings back what was here."); }},
         {"Keep what is here", [&app] { outcome(app, "The file on disk is another; saving will ask.", ""); }}}};
}

void choose_and_fly(App& app, std::size_t finding) {
    choose_finding(*app.document, finding);
    if (!app.document->job || finding >= app.document->job->findings.size()) return;
    app.fly_to = near_finding(*app.document, app.document->job->findings[finding], app.look);
    app.scene_changed = true;
}

void fit_in(App& app) {
    app.bench.plan = {};
    app.bench.paper = {};
    if (app.bench.middle == Middle::recess) app.fly_to = overview(*app.document, app.look);
}

void step_finding(App& app, int by) {
    if (!app.document || !app.document->job) return;
    const auto order = listed(*app.document->job, app.filter);
    if (order.empty()) return;
    const auto& chosen = app.document->selection.finding;
    auto at = chosen ? std::find(order.begin(), order.end(), *chosen) : order.end();
    std::ptrdiff_t next = by > 0 ? 0 : static_cast<std::ptrdiff_t>(order.size()) - 1;
    if (at != order.end()) {
        next = std::clamp<std::ptrdiff_t>(at - order.begin() + by, 0, static_cast<std::ptrdiff_t>(order.size()) - 1);
    }
    choose_and_fly(app, order[static_cast<std::size_t>(next)]);
}

void set_dark(App& app, bool dark) {
    app.settings.dark = dark;
    app.look.dark = dark;
    app.rebuild_fonts = true;  // theme and lettering are set together
    app.scene_changed = true;
    store_settings(app.settings);
}

void set_inches(App& app, bool inches) {
    app.settings.inches = inches;
    app.look.inches = inches;
    app.scene_changed = true;
    store_settings(app.settings);
    say(app, inches ? "Inches are shown beside mm" : "Millimetres alone");
}

void set_scale(App& app, double scale) {
    app.settings.scale = scale > 0 ? std::clamp(scale, 0.75, 3.0) : 0;
    app.wanted_scale = app.settings.scale;
    app.rebuild_fonts = true;
    app.scene_changed = true;
    store_settings(app.settings);
    say(app,
        scale > 0 ? fmt::format("Lettering at {:.0f} %", 100 * app.settings.scale) : "Lettering as the screen has it");
}

void export_step(App& app, const std::filesystem::path& file) {
    if (!app.document || !app.document->job) return;
    const auto contents = export_contents(*app.document->job, true);
    const auto& job = app.document->job->model.job;
    const StepHeader header{job.name, job.revision};
    const bool started = app.work.start(
        fmt::format("Writing {}", file.filename().string()),
        [contents, header, file](Progress&) {
            (void)write_step(contents.parts, contents.pipes, contents.overlaps, header, file);
        },
        [&app, file, count = contents.parts.size() + contents.pipes.size()](const std::string& fault) {
            outcome(app, fault, fmt::format("{}: {}", file.string(), rules::counted(count, "solid")));
        },
        glfwPostEmptyEvent);
    if (!started) outcome(app, "Wait until the work in hand is done.", "");
}

void export_report(App& app, const std::filesystem::path& file) {
    if (!app.document || !app.document->job) return;
    try {
        const bool json = file.extension() == ".json";
        write_whole(file, json ? json_report({*app.document->job}, {}) : text_report(*app.document->job, {}));
        say(app, fmt::format("{}: {}", file.string(), rules::counted(app.document->job->findings.size(), "finding")));
    } catch (const FileError& error) {
        outcome(app, error.what(), "");
    }
}

void export_setouts(App& app, const std::filesystem::path& folder) {
    if (!app.document || !app.document->job) return;
    const auto job = std::make_shared<const CheckedJob>(*app.document->job);
    const bool started = app.work.start(
        "Drawing set-out sheets",
        [job, folder](Progress& progress) {
            std::filesystem::create_directories(folder);
            const auto walls = set_out(job->model);
            progress.all = walls.size();
            for (const auto& wall : walls) {
                if (progress.stop) throw std::runtime_error("Stopped; some sheets were not drawn.");
                (void)write_setout(job->model, wall, job->findings,
                                   folder / ("setout-" + job->model.job.walls[wall.wall].id));
                ++progress.done;
                glfwPostEmptyEvent();
            }
        },
        [&app, folder, count = job->model.job.walls.size()](const std::string& fault) {
            outcome(app, fault,
                    fmt::format("{}: {} as PDF, SVG and PNG", folder.string(), rules::counted(count, "set-out sheet")));
        },
        glfwPostEmptyEvent);
    if (!started) outcome(app, "Wait until the work in hand is done.", "");
}

void export_sections(App& app, const std::filesystem::path& folder) {
    if (!app.document || !app.document->job) return;
    // A copy of its own: the job may be edited meanwhile, and the drawings point into the model.
    const auto job = std::make_shared<const CheckedJob>(*app.document->job);
    const auto parts = build_parts(job->model);
    const bool started = app.work.start(
        "Drawing sections",
        [job, parts, folder](Progress& progress) {
            std::filesystem::create_directories(folder);
            progress.all = job->model.fittings.size();
            for (std::size_t i = 0; i < job->model.fittings.size() && !progress.stop; ++i) {
                const auto drawing = section_of(job->model, parts, job->findings, i);
                (void)write_section(drawing, folder / fitting_of(job->model, job->model.fittings[i]).id);
                ++progress.done;
                glfwPostEmptyEvent();
            }
            if (progress.stop) throw std::runtime_error("Stopped; some sections were not drawn.");
        },
        [&app, folder, count = job->model.fittings.size()](const std::string& fault) {
            outcome(app, fault,
                    fmt::format("{}: {} as PDF, SVG and PNG", folder.string(), rules::counted(count, "section")));
        },
        glfwPostEmptyEvent);
    if (!started) outcome(app, "Wait until the work in hand is done.", "");
}

}  // namespace standproud::viewer
