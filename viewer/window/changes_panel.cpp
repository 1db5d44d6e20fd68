// What changed since an earlier file.
#include <fmt/format.h>
#include <imgui.h>

#include "rules/words.hpp"
#include "window/app.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

void choose_changed(App& app, const std::string& fitting) {
    choose_fitting(*app.document, fitting);
    app.scene_changed = true;
    const Model& model = app.document->job->model;
    if (const auto* placed = placed_of(model, fitting)) {
        // Without a finding chosen nothing is ghosted, so that the old place is seen beside the new one.
        app.document->selection.finding.reset();
        Pose pose = facing_wall(model, placed->wall);
        pose.at = model.room.walls[placed->wall].to_room(placed->u, placed->v, 0);
        pose.fit_width = 900;
        pose.fit_height = 700;
        app.fly_to = pose;
    }
}

void draw_moved(App& app, const rules::Comparison& changes) {
    ImGui::TextDisabled("What moved");
    if (changes.fittings.empty() && changes.openings.empty()) faint("Nothing.");
    for (const auto& change : changes.fittings) {
        if (ImGui::Selectable(change.fitting.c_str(), app.document->selection.fitting == change.fitting)) {
            choose_changed(app, change.fitting);
        }
        note_place(app, "moved " + change.fitting);
        ImGui::Indent();
        faint(moved_words(change));
        ImGui::Unindent();
    }
    for (const auto& change : changes.openings) {
        const std::string name = fmt::format("opening {} of wall {}", change.opening, change.wall);
        if (ImGui::Selectable(name.c_str())) {
            const Model& model = app.document->job->model;
            const std::size_t wall = wall_index(model.job, change.wall);
            if (wall < model.job.walls.size()) app.fly_to = facing_wall(model, wall);
        }
        note_place(app, "moved " + name);
        ImGui::Indent();
        faint(moved_words(change));
        ImGui::Unindent();
    }
}

void verdict_or_none(const std::optional<rules::Verdict>& verdict) {
    if (verdict) {
        verdict_chip(*verdict, false);
        return;
    }
    ImGui::AlignTextToFramePadding();
    ImGui::TextDisabled("none");
}

void draw_verdicts(App& app, const rules::Comparison& changes) {
    ImGui::Spacing();
    ImGui::TextDisabled("Verdicts that changed");
    if (changes.verdicts.empty()) faint("None.");
    int row = 0;
    for (const auto& change : changes.verdicts) {
        ImGui::PushID(row++);
        verdict_or_none(change.before);
        ImGui::SameLine();
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted("\u2192");
        ImGui::SameLine();
        verdict_or_none(change.after);
        ImGui::SameLine();
        ImGui::AlignTextToFramePadding();
        if (ImGui::Selectable(fmt::format("{}{}", change.fitting,
                                          change.worse()    ? "  worse"
                                          : change.better() ? "  better"
                                                            : "")
                                  .c_str())) {
            const auto& findings = app.document->job->findings;
            for (std::size_t i = 0; i < findings.size(); ++i) {
                const auto& finding = findings[i];
                if (finding.subject == change.fitting && finding.rule == change.rule &&
                    finding.quantity == change.quantity) {
                    choose_and_fly(app, i);
                }
            }
        }
        note_place(app, fmt::format("changed {} {}", change.fitting, change.rule));
        std::string words = change.quantity;
        if (change.nominal_before && change.nominal_after) {
            words += fmt::format(": {} \u2192 {}", mm(*change.nominal_before), mm(*change.nominal_after));
        } else if (change.nominal_after) {
            words += ": " + mm(*change.nominal_after);
        }
        ImGui::Indent();
        faint(words);
        if (change.worse() && change.now_at) {
            const std::string& action = advised(*app.document, *change.now_at).action;
            if (!action.empty()) ImGui::TextWrapped("%s", action.c_str());
        }
        ImGui::Unindent();
        ImGui::PopID();
    }
}

}  // namespace

void compare_with(App& app, const std::filesystem::path& file) {
    std::string why;
    auto earlier = open_earlier(file, why);
    if (!earlier) {
        outcome(app, "Not compared: " + why, "");
        return;
    }
    app.earlier = std::make_shared<const Earlier>(std::move(*earlier));
    app.show_changes = true;
    app.scene_changed = true;
    app.changes = changes_since(*app.earlier, *app.document);
    app.changes_of = app.document->generation;
    app.fly_to = overview(*app.document, app.look);
    choose_nothing(*app.document);
    say(app, fmt::format("Compared with {}: {} moved, {} changed", file.filename().string(),
                         app.changes.fittings.size() + app.changes.openings.size(),
                         rules::counted(app.changes.verdicts.size(), "verdict")));
}

void end_comparison(App& app) {
    app.earlier.reset();
    app.changes = {};
    app.scene_changed = true;
    say(app, "No longer compared");
}

void draw_changes(App& app) {
    if (app.changes_of != app.document->generation) {
        app.changes = changes_since(*app.earlier, *app.document);
        app.changes_of = app.document->generation;
    }
    const auto& job = app.earlier->job.model.job;
    ImGui::TextWrapped("Since %s%s", app.earlier->file.filename().string().c_str(),
                       job.revision.empty() ? "" : fmt::format(", revision {}", job.revision).c_str());
    if (ImGui::Button("End the comparison")) {
        end_comparison(app);
        return;
    }
    note_place(app, "end comparison");
    ImGui::Spacing();
    const rules::Comparison changes = app.changes;  // a choice below may replace it
    draw_moved(app, changes);
    draw_verdicts(app, changes);
}

}  // namespace standproud::viewer
