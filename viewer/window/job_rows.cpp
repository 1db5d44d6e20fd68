// What concerns every wall: gaps and order of the panels, the tray, the job's own figures.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"
#include "scene/palette.hpp"
#include "window/entry_form.hpp"
#include "window/value_rows.hpp"
#include "window/wall_rows.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

/// Walls in the order they are lined, each with a way to come earlier.
Drawn draw_order(App& app) {
    const Job& job = app.document->job->model.job;
    ImGui::Spacing();
    ImGui::TextDisabled("Lined in this order");
    const auto& order = job.panels.order;
    // The reader completes the order with the walls that the file leaves out: those have no place to change.
    if (!job.panels.order_given) {
        faint("As the walls are listed: the first runs into the corner, the next stops at its face.");
        if (ImGui::Button("Set an order")) {
            std::string list;
            for (const auto& wall : order) list += (list.empty() ? "" : ", ") + toml_string(wall);
            outcome(app, set_value(*app.document, "panels.order", "[" + list + "]"), "Order of lining written");
            note_place(app, "set order");
            return false;
        }
        note_place(app, "set order");
        return true;
    }
    for (std::size_t k = 0; k < order.size(); ++k) {
        ImGui::AlignTextToFramePadding();
        ImGui::Text("%zu.  %s", k + 1, order[k].c_str());
        if (k == 0 || !value_text(*app.document, fmt::format("panels.order[{}]", k))) continue;
        ImGui::SameLine(row_names * ImGui::GetFontSize());
        ImGui::PushID(static_cast<int>(k));
        const bool up = ImGui::Button("Earlier");
        note_place(app, "earlier " + order[k]);
        ImGui::PopID();
        if (!up) continue;
        const std::string words = order[k] + " lined earlier";
        outcome(app, move_before(*app.document, "panels.order", k, words), words);
        return false;
    }
    return true;
}

void ask_for_tray(App& app) {
    const Job& job = app.document->job->model.job;
    EntryForm form;
    form.title = "Add a tray, bath or floor former";
    form.words =
        "It stands against one wall. Panels of that wall and its neighbours stop above the rim; other walls can "
        "be added afterwards.";
    std::vector<std::string> walls;
    for (const auto& wall : job.walls) walls.push_back(wall.id);
    form.fields = {{"name", "name", FormField::Kind::text, "", true, {}, ""},
                   {"wall", "stands against", FormField::Kind::word, "", true, walls, ""},
                   asked_number("left", "left end, from the left bare corner", false),
                   asked_number("width", "width"),
                   asked_number("depth", "depth, out"),
                   asked_number("base", "lower level"),
                   asked_number("rim", "rim")};
    form.done = "Tray added";
    form.take = [&app, walls, closed = job.closed](const Entry& answers) {
        Entry entry = answers;
        std::string list;
        const std::size_t count = walls.size();
        for (std::size_t w = 0; w < count; ++w) {
            const auto is = [&](std::size_t k) { return toml_string(walls[k]) == value_of(answers, "wall"); };
            const bool beside = is(w) || (w > 0 && is(w - 1)) || (w + 1 < count && is(w + 1)) ||
                                (closed && (is((w + 1) % count) || is((w + count - 1) % count)));
            if (beside) list += (list.empty() ? "" : ", ") + toml_string(walls[w]);
        }
        entry.emplace_back("walls", "[" + list + "]");
        return add_table(*app.document, "tray", entry, "add the tray");
    };
    ask(app, std::move(form));
}

/// Whose panels stand over it.
Drawn draw_walls_over(App& app, const Tray& tray) {
    faint("Panels that stop above its rim:");
    for (const auto& wall : app.document->job->model.job.walls) {
        const auto at = std::find(tray.walls.begin(), tray.walls.end(), wall.id);
        bool over = at != tray.walls.end();
        const bool changed = ImGui::Checkbox(wall.name.c_str(), &over);
        note_place(app, "over tray " + wall.id);
        if (!changed) continue;
        const auto index = static_cast<std::size_t>(at - tray.walls.begin());
        const std::string name = fmt::format("panels of {} {} the tray", wall.id, over ? "over" : "beside");
        outcome(app,
                over ? add_item(*app.document, "tray.walls", tray.walls.size(), toml_string(wall.id), name)
                     : remove_entry(*app.document, "tray.walls", index, name),
                name);
        return false;
    }
    return true;
}

Drawn draw_packing(App& app, std::size_t w) {
    const Model& model = app.document->job->model;
    if (!begin_rows("packing", row_names)) return true;
    row_name("panels");
    bool set = word_field(app, "panels.bedding", "follow", {{"follow", "follow the face"}, {"plane", "in one plane"}},
                          "bedding");
    if (!set) {
        row_name("thickest bed");
        if (model.job.panels.bed_max) {
            set = number_field(app, "panels.bed_max", *model.job.panels.bed_max, "mm", "thickest bed");
        } else if (ImGui::Button("not limited: set it")) {
            outcome(app, set_number(*app.document, "panels.bed_max", 12), "Thickest bed 12 mm");
            set = true;
        }
    }
    if (!set) {
        const auto& bedding = model.room.faces[w].bedding;
        row_name("packing here");
        ImGui::AlignTextToFramePadding();
        if (bedding) {
            ImGui::Text("%s mm", mm(std::round(10 * bedding->greatest_packing) / 10).c_str());
        } else {
            ImGui::TextDisabled("none");
        }
    }
    ImGui::EndTable();
    const std::string& why = set ? "" : model.room.faces[w].not_bedded;
    if (!why.empty()) faint(why);
    return !set;
}

}  // namespace

Colour panel_colour(App& app, std::size_t w) {
    const auto& layers = app.document->job->model.job.walls[w].layers;
    Part shown;
    shown.layer = "panel";
    if (!layers.empty()) shown.colour = layers.back().colour;
    return finish_of(shown).colour;
}

Drawn draw_panel_rules(App& app, std::size_t w) {
    const PanelRules& panels = app.document->job->model.job.panels;
    const bool open = ImGui::CollapsingHeader("Panels of all walls");
    note_place(app, "panels");
    if (!open) return true;
    if (!draw_packing(app, w)) return false;
    bool set = false;
    ImGui::Spacing();
    ImGui::TextDisabled("Gaps");
    if (begin_rows("gaps", row_names)) {
        const double all = number_of(value_text(*app.document, "panels.gap")).value_or(4);
        const std::array<std::tuple<const char*, const char*, double>, 5> rows{
            {{"gap", "every gap", all},
             {"corner_gap", "in corners", panels.gaps.corner.width},
             {"join_gap", "at joins", panels.gaps.join.width},
             {"tray_gap", "above the tray", panels.gaps.tray.width},
             {"top_gap", "at the top", panels.gaps.top.width}}};
        for (const auto& [key, name, now] : rows) {
            if (set) break;
            row_name(name);
            set = number_field(app, fmt::format("panels.{}", key), now, "mm", key);
        }
        if (!set) set = sealant_row(app, "panels.sealant_colour", "clear", panel_colour(app, w), "sealant colour");
        if (!set) {
            row_name("top line");
            if (panels.top) {
                set = number_field(app, "panels.top", *panels.top, "mm", "top line");
            } else {
                ImGui::AlignTextToFramePadding();
                ImGui::TextDisabled("the walls' heights");
            }
        }
        ImGui::EndTable();
    }
    return !set && draw_order(app);
}

Drawn draw_tray(App& app) {
    const auto& tray = app.document->job->model.job.tray;
    const bool open = ImGui::CollapsingHeader("Tray");
    note_place(app, "tray");
    if (!open) return true;
    if (!tray) {
        faint("None: panels stand on the datum.");
        if (ImGui::Button("Add one...")) ask_for_tray(app);
        note_place(app, "add tray");
        return true;
    }
    bool set = false;
    if (begin_rows("tray", row_names)) {
        row_name("name");
        set = text_field(app, "tray.name", "tray name");
        const std::array<std::tuple<const char*, const char*, double>, 5> rows{{{"left", "left end", tray->left},
                                                                                {"width", "width", tray->width},
                                                                                {"depth", "depth, out", tray->depth},
                                                                                {"base", "lower level", tray->base},
                                                                                {"rim", "rim", tray->rim}}};
        for (const auto& [key, name, now] : rows) {
            if (set) break;
            row_name(name);
            set = number_field(app, fmt::format("tray.{}", key), now, "mm", fmt::format("tray {}", key));
        }
        ImGui::EndTable();
    }
    if (set || !draw_walls_over(app, *tray)) return false;
    const bool out = ImGui::Button("Take it out");
    note_place(app, "take out tray");
    if (out) outcome(app, remove_table(*app.document, "tray", "take out the tray"), "Tray taken out");
    return !out;
}

Drawn draw_job(App& app) {
    const Job& job = app.document->job->model.job;
    const bool open = ImGui::CollapsingHeader("Job");
    note_place(app, "job");
    if (!open) return true;
    bool set = false;
    if (!begin_rows("job", row_names)) return true;
    for (const char* key : {"name", "revision", "datum", "notes"}) {
        if (set) break;
        row_name(key);
        set = text_field(app, fmt::format("job.{}", key), fmt::format("job {}", key));
    }
    if (!set) {
        row_name("judged on");
        set = word_field(app, "job.judge_on", "worst case",
                         {{"worst case", "worst case"}, {"root-sum-square", "root-sum-square"}}, "judged on");
    }
    const std::array<std::tuple<const char*, const char*, std::optional<double>>, 2> bands{
        {{"seat_tolerance", "bodies set, +/-", job.seat_tolerance},
         {"measured_tolerance", "measured, +/-", job.measured_tolerance}}};
    for (const auto& [key, name, now] : bands) {
        if (set) break;
        row_name(name);
        const std::string path = fmt::format("job.{}", key);
        const auto value = typed_field(app, path, now.value_or(0), now ? "%.6g mm" : "not known", key, now.has_value());
        if (!value) continue;
        outcome(app, set_number(*app.document, path, *value, true), fmt::format("{} {}", name, *value));
        set = true;
    }
    ImGui::EndTable();
    return !set;
}

}  // namespace standproud::viewer
