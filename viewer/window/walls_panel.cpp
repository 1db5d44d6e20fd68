// The walls: size, build-up, packing, joins; and the limits that the job sets for itself.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "modeler/gaps.hpp"
#include "rules/words.hpp"
#include "window/entry_form.hpp"
#include "window/value_rows.hpp"
#include "window/wall_rows.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

constexpr float names = row_names;

const std::vector<std::pair<std::string, std::string>> corners{{"left bare", "left bare"},
                                                               {"left finished", "left finished"},
                                                               {"right bare", "right bare"},
                                                               {"right finished", "right finished"},
                                                               {"centre", "centre"}};

Drawn draw_size(App& app, std::size_t w) {
    const Job& job = app.document->job->model.job;
    const Wall& wall = job.walls[w];
    const std::string base = fmt::format("walls[{}].", w);
    if (!begin_rows("size", names)) return true;
    row_name("width");
    bool set = number_field(app, base + "width", wall.width, "mm", "wall width");
    if (!set) {
        row_name("height");
        set = number_field(app, base + "height", wall.height, "mm", "wall height");
    }
    if (!set && (w + 1 < job.walls.size() || job.closed)) {
        row_name("right corner");
        set = number_field(app, base + "next_angle", wall.next_angle, "\u00b0", "wall angle");
    }
    ImGui::EndTable();
    if (!set && job.survey) {
        faint(fmt::format("Drawn figures. As surveyed: {} wide, {} high.", mm(std::round(wall.width * 10) / 10),
                          mm(std::round(wall.height * 10) / 10)));
    }
    return !set;
}

/// A gap that is the job's until somebody types another; a cross gives it back.
Drawn gap_row(App& app, const std::string& path, const char* name, const EdgeGap& now, const std::string& place) {
    row_name(name);
    const bool own = value_text(*app.document, path).has_value();
    ImGui::SetNextItemWidth(own ? -2.2F * ImGui::GetFontSize() : -1);
    if (number_field(app, path, now.width, "mm", place, !own)) return false;
    if (!own) return true;
    ImGui::SameLine(0, 0.3F * ImGui::GetFontSize());
    const bool back = take_out_button(app, path, "standard " + place);
    if (back) outcome(app, remove_value(*app.document, path), fmt::format("{} as on the other walls", place));
    return !back;
}

Drawn draw_gaps(App& app, std::size_t w) {
    const Model& model = app.document->job->model;
    if (model.job.walls[w].layers.empty()) return true;
    const bool open = ImGui::CollapsingHeader("Gaps of this wall");
    note_place(app, "wall gaps");
    if (!open || !begin_rows("gaps", names)) return true;
    const std::string base = fmt::format("walls[{}].gaps.", w);
    const auto at = [&](Edge edge) { return gap_at(model.job, model.room, w, edge); };
    const bool drawn = !sealant_row(app, fmt::format("walls[{}].sealant_colour", w), "as the job", panel_colour(app, w),
                                    "wall sealant") &&
                       gap_row(app, base + "left", "left end", at(Edge::left), "gap left") &&
                       gap_row(app, base + "right", "right end", at(Edge::right), "gap right") &&
                       gap_row(app, base + "bottom", "foot", at(Edge::bottom), "gap bottom") &&
                       gap_row(app, base + "top", "top", at(Edge::top), "gap top") &&
                       gap_row(app, base + "join", "joins", join_gap(model.job, w), "gap join");
    ImGui::EndTable();
    return drawn;
}

Drawn draw_joins(App& app, std::size_t w) {
    const Model& model = app.document->job->model;
    const Wall& wall = model.job.walls[w];
    ImGui::Spacing();
    ImGui::TextDisabled("Joins on this wall");
    bool set = false;
    for (std::size_t j = 0; !set && j < wall.joins.size(); ++j) {
        ImGui::PushID(static_cast<int>(j));
        const std::string base = fmt::format("walls[{}].joins[{}].", w, j);
        if (begin_rows("join", names)) {
            row_name(fmt::format("join {}", j + 1));
            set = number_field(app, base + "across", wall.joins[j].distance, "mm", fmt::format("join {}", j + 1));
            if (!set) {
                row_name("counted from");
                set = word_field(app, base + "from", to_string(wall.joins[j].from), corners,
                                 fmt::format("join {} from", j + 1));
            }
            if (!set) {
                set = !gap_row(app, base + "gap", "gap", gap_of(model.job, w, wall.joins[j]),
                               fmt::format("join {} gap", j + 1));
            }
            if (!set) {
                row_name("");
                if (ImGui::Button("Take it out")) {
                    outcome(app, remove_join(*app.document, w, j),
                            fmt::format("Join {} of {} taken out", j + 1, app.document->job->model.job.walls[w].id));
                    set = true;
                }
                note_place(app, fmt::format("take out join {}", j + 1));
            }
            ImGui::EndTable();
        }
        ImGui::PopID();
    }
    if (set) return false;
    if (wall.joins.empty()) faint("None: one panel from corner to corner.");
    if (ImGui::Button("Add a join")) {
        outcome(app, add_join(*app.document, w, std::round(wall.width / 2), "left bare"),
                "A join in the middle of " + wall.id);
        return false;
    }
    note_place(app, "add join");
    ImGui::SameLine();
    if (ImGui::Checkbox("Drag in 3D", &app.drag_fitting)) app.scene_changed = true;
    note_place(app, "drag joins");
    return true;
}

Drawn draw_level_joins(App& app, std::size_t w) {
    const Model& model = app.document->job->model;
    const Wall& wall = model.job.walls[w];
    const std::string list = fmt::format("walls[{}].level_joins", w);
    for (std::size_t j = 0; j < wall.level_joins.size(); ++j) {
        if (!begin_rows(fmt::format("level{}", j).c_str(), names)) continue;
        const std::string base = fmt::format("{}[{}].", list, j);
        row_name(fmt::format("level join {}", j + 1));
        bool set =
            number_field(app, base + "height", wall.level_joins[j].height, "mm", fmt::format("level join {}", j + 1));
        if (!set)
            set = !gap_row(app, base + "gap", "gap", gap_of(model.job, w, wall.level_joins[j]),
                           fmt::format("level join {} gap", j + 1));
        if (!set) {
            row_name("");
            set = ImGui::Button("Take it out");
            note_place(app, fmt::format("take out level join {}", j + 1));
            if (set)
                outcome(app, remove_entry(*app.document, list, j, fmt::format("take out level join {}", j + 1)),
                        fmt::format("Level join {} taken out", j + 1));
        }
        ImGui::EndTable();
        if (set) return false;
    }
    const bool add = ImGui::Button("Add a level join");
    note_place(app, "add level join");
    if (!add) return true;
    const double half = wall.width / 2;
    const double middle = std::round((panel_bottom(model.job, w) + panel_top(model.job, model.room, w, half)) / 2);
    outcome(
        app,
        add_entry(*app.document, list, wall.level_joins.size(), {{"height", number_text(middle)}}, "add a level join"),
        "A level join half-way up " + wall.id);
    return false;
}

Drawn draw_limit(App& app, const rules::Limit& limit) {
    row_name(limit.name);
    if (ImGui::IsItemHovered()) {
        tooltip(fmt::format("{}.\n{} to {} {}. Source: {}", limit.says, mm(limit.least), mm(limit.most), limit.unit,
                            limit.source));
    }
    const std::string path = "limits." + limit.name;
    const float reset = 2.1F * ImGui::GetFontSize();
    if (limit.overridden) ImGui::SetNextItemWidth(-reset);
    if (number_field(app, path, limit.value, limit.unit, "limit " + limit.name, false)) return false;
    if (!limit.overridden) return true;
    ImGui::SameLine(0, 0.3F * ImGui::GetFontSize());
    ImGui::PushID(limit.name.c_str());
    const bool back = ImGui::Button("\u21ba");
    note_place(app, "standard " + limit.name);
    if (ImGui::IsItemHovered()) tooltip(fmt::format("Back to the standard {} {}", mm(limit.standard), limit.unit));
    ImGui::PopID();
    if (back) {
        outcome(app, remove_value(*app.document, path),
                fmt::format("{} as standard: {}", limit.name, mm(limit.standard)));
    }
    return !back;
}

/// Those that the job sets first.
void draw_limits(App& app) {
    const auto& limits = app.document->job->limits;
    int own = 0;
    for (const auto& [name, limit] : limits) own += limit.overridden ? 1 : 0;
    const std::string title = fmt::format("Limits ({} set in this job)###limits", own);
    const bool open = ImGui::CollapsingHeader(title.c_str());
    note_place(app, "limits");
    if (!open || !begin_rows("limits", 9)) return;
    bool drawn = true;
    for (const bool overridden : {true, false}) {
        for (const auto& [name, limit] : limits) {
            if (!drawn || limit.overridden != overridden) continue;
            drawn = draw_limit(app, rules::Limit(limit));
            if (!drawn) break;
        }
        if (!drawn) break;
    }
    ImGui::EndTable();
}

void ask_for_wall(App& app) {
    const auto& walls = app.document->job->model.job.walls;
    EntryForm form;
    form.title = "Add a wall";
    form.words = fmt::format("It stands right of {}, seen from inside; set the angle between the two under that wall.",
                             walls.back().name);
    form.fields = {{"id", "short name", FormField::Kind::text, "", true, {}, ""},
                   {"width", "width", FormField::Kind::number, "mm", true, {}, ""},
                   {"height", "height", FormField::Kind::number, "mm", true, {}, ""}};
    form.done = "Wall added";
    form.take = [&app, count = walls.size()](const Entry& entry) {
        return add_entry(*app.document, "walls", count, entry, "add wall " + value_of(entry, "id"));
    };
    ask(app, std::move(form));
}

Drawn draw_more_walls(App& app, std::size_t w) {
    const std::string name = app.document->job->model.job.walls[w].name;
    const bool open = ImGui::CollapsingHeader("More or fewer walls");
    note_place(app, "more walls");
    if (!open) return true;
    if (ImGui::Button("Add a wall...")) ask_for_wall(app);
    note_place(app, "add wall");
    const bool out = ImGui::Button(fmt::format("Take out {}", name).c_str());
    note_place(app, "take out wall");
    if (out) outcome(app, remove_wall(*app.document, w), name + " taken out");
    return !out;
}

}  // namespace

void draw_walls(App& app) {
    const auto& walls = app.document->job->model.job.walls;
    app.wall = std::min(app.wall, walls.size() - 1);
    ImGui::SetNextItemWidth(-1);
    const bool open = ImGui::BeginCombo("##wall", walls[app.wall].name.c_str());
    note_place(app, "which wall");
    if (open) {
        for (std::size_t w = 0; w < walls.size(); ++w) {
            if (ImGui::Selectable(walls[w].name.c_str(), w == app.wall)) {
                app.wall = w;
                app.fly_to = facing_wall(app.document->job->model, w);
            }
            note_place(app, "wall " + walls[w].id);
        }
        ImGui::EndCombo();
    }
    const std::size_t w = app.wall;
    if (!draw_size(app, w) || !draw_build_up(app, w) || !draw_joins(app, w) || !draw_level_joins(app, w)) return;
    ImGui::Spacing();
    if (!draw_gaps(app, w) || !draw_frame(app, w) || !draw_openings(app, w) || !draw_services(app, w) ||
        !draw_panel_rules(app, w) || !draw_tray(app) || !draw_job(app) || !draw_more_walls(app, w))
        return;
    draw_limits(app);
}

}  // namespace standproud::viewer
