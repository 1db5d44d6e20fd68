// The chosen fitting: where it is, how deep, what it is fitted with, what was measured.
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>
#include <ctime>

#include "rules/words.hpp"
#include "viewer/units.hpp"
#include "window/dialog.hpp"
#include "window/value_rows.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

std::string today() {
    const std::time_t now = std::time(nullptr);
    std::tm parts{};
    localtime_r(&now, &parts);
    return fmt::format("{:04}-{:02}-{:02}", parts.tm_year + 1900, parts.tm_mon + 1, parts.tm_mday);
}

/// The draft is read again whenever the choice or the text has changed.
void read_draft(App& app, const std::string& base) {
    const Document& document = *app.document;
    const std::string of =
        fmt::format("{} {} {}", document.selection.fitting, document.generation, document.done.size());
    if (app.draft.of == of) return;
    FittingDraft draft;
    draft.of = of;
    draft.across = number_of(value_text(document, base + "across")).value_or(0);
    draft.height = number_of(value_text(document, base + "height")).value_or(0);
    draft.seat = number_of(value_text(document, base + "seat")).value_or(0);
    draft.measured = number_of(value_text(document, base + "as_built.seat")).value_or(draft.seat);
    draft.by = unquoted(value_text(document, base + "as_built.by"));
    if (draft.by.empty()) draft.by = app.draft.by;
    draft.date = value_text(document, base + "as_built.date").value_or(today());
    draft.measured_tolerance = app.draft.measured_tolerance;
    app.draft = draft;
}

/// A number with its name before it. Taken with Enter, when left, or stepped; half a number would be judged otherwise.
void number_row(App& app, const std::string& path, const char* name, double& value, const char* unit) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(name);
    ImGui::TableNextColumn();
    ImGui::SetNextItemWidth(-1);
    const double step = 1;
    const double large = 10;
    ImGui::InputScalar(fmt::format("##{}", name).c_str(), ImGuiDataType_Double, &value, &step, &large,
                       fmt::format("%.6g {}", unit).c_str());
    note_place(app, std::string("number ") + name);
    if (ImGui::IsItemDeactivatedAfterEdit() && std::isfinite(value)) {
        outcome(app, set_number(*app.document, path, value, true), fmt::format("{} {}", name, mm(value)));
    }
}

void draw_place(App& app, const std::string& base) {
    if (!ImGui::BeginTable("place", 2)) return;
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, 6.4F * ImGui::GetFontSize());
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
    number_row(app, base + "across", "across", app.draft.across, "mm");
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("measured from");
    ImGui::TableNextColumn();
    ImGui::SetNextItemWidth(-1);
    const std::string from = unquoted(value_text(*app.document, base + "from"));
    if (ImGui::BeginCombo("##from", from.c_str())) {
        for (const char* each : {"left bare", "left finished", "right bare", "right finished", "centre"}) {
            if (!ImGui::Selectable(each, from == each)) continue;
            outcome(app, set_value(*app.document, base + "from", fmt::format("\"{}\"", each)),
                    fmt::format("Measured from {}", each));
        }
        ImGui::EndCombo();
    }
    number_row(app, base + "height", "height", app.draft.height, "mm");
    const bool has_seat = value_text(*app.document, base + "seat").has_value();
    if (has_seat) {
        number_row(app, base + "seat", "seat", app.draft.seat, "mm");
    } else {
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted("seat");
        ImGui::TableNextColumn();
        ImGui::AlignTextToFramePadding();
        ImGui::TextDisabled("not written");
        ImGui::SameLine();
        if (ImGui::SmallButton("Set")) {
            outcome(app, set_number(*app.document, base + "seat", 0), "Seat set to the bare face");
        }
    }
    ImGui::EndTable();
    if (has_seat) {
        faint("Seat: 0 is the bare face, minus is into the wall.");
    }
}

/// From both corners, bare and finished.
void draw_corners(const PlacedFitting& placed, bool with_inches) {
    if (!ImGui::BeginTable("corners", 3, ImGuiTableFlags_BordersInnerH)) return;
    ImGui::TableSetupColumn("corner");
    ImGui::TableSetupColumn("bare");
    ImGui::TableSetupColumn("finished");
    ImGui::TableHeadersRow();
    const auto tenth = [&](double value) {
        const double rounded = std::round(10 * value) / 10;
        return with_inches ? fmt::format("{}\n{}", mm(rounded), inches(rounded)) : mm(rounded);
    };
    const auto one = [&](const char* name, double bare, const std::optional<double>& finished) {
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(name);
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(tenth(bare).c_str());
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(finished ? tenth(*finished).c_str() : "-");
    };
    one("left", placed.from_left_bare, placed.from_left_finished);
    one("right", placed.from_right_bare, placed.from_right_finished);
    ImGui::EndTable();
}

void draw_with(App& app, const std::string& base, const FittingType& bare_type) {
    const std::string with = unquoted(value_text(*app.document, base + "with"));
    std::vector<const StockItem*> fits;
    for (const auto& item : app.document->job->model.job.stock) {
        if (!bare_type.connection.empty() && item.fits == bare_type.connection) fits.push_back(&item);
    }
    if (fits.empty() && with.empty()) return;
    ImGui::Spacing();
    ImGui::TextDisabled("Fitted with");
    ImGui::SetNextItemWidth(-1);
    if (!ImGui::BeginCombo("##with", with.empty() ? "nothing from stock" : with.c_str())) return;
    if (ImGui::Selectable("nothing from stock", with.empty()) && !with.empty()) {
        outcome(app, remove_value(*app.document, base + "with"), "Nothing from stock");
    }
    for (const auto* item : fits) {
        if (!ImGui::Selectable(fmt::format("{} ({})", item->name, item->id).c_str(), item->id == with)) continue;
        outcome(app, set_value(*app.document, base + "with", fmt::format("\"{}\"", item->id)), "Fitted: " + item->name);
    }
    ImGui::EndCombo();
}

void draw_measured(App& app, const Fitting& fitting) {
    if (!ImGui::CollapsingHeader("Measured after rough-in", fitting.as_built ? ImGuiTreeNodeFlags_DefaultOpen : 0))
        return;
    FittingDraft& draft = app.draft;
    if (fitting.as_built)
        ImGui::TextWrapped("Measured %s by %s.", fitting.as_built->date.c_str(), fitting.as_built->by.c_str());
    if (ImGui::BeginTable("measured", 2)) {
        ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, 6.4F * ImGui::GetFontSize());
        ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
        const auto name = [](const char* words) {
            ImGui::TableNextRow();
            ImGui::TableNextColumn();
            ImGui::AlignTextToFramePadding();
            ImGui::TextUnformatted(words);
            ImGui::TableNextColumn();
            ImGui::SetNextItemWidth(-1);
        };
        name("seat");
        ImGui::InputDouble("##measured", &draft.measured, 1, 10, "%.6g mm");
        note_place(app, "measured seat");
        name("+/-");
        ImGui::InputDouble("##tolerance", &draft.measured_tolerance, 0.5, 1, "%.6g mm");
        name("date");
        ImGui::InputText("##date", &draft.date);
        name("by");
        ImGui::InputTextWithHint("##by", "who measured", &draft.by);
        note_place(app, "measured by");
        ImGui::EndTable();
    }
    ImGui::BeginDisabled(draft.by.empty() || draft.measured_tolerance < 0);
    if (ImGui::Button("Take the measured depth")) {
        outcome(
            app,
            set_as_built(*app.document, fitting.id, {draft.measured, draft.measured_tolerance, draft.date, draft.by}),
            fmt::format("{}: measured {}", fitting.id, rules::depth(draft.measured)));
    }
    note_place(app, "measured take");
    ImGui::EndDisabled();
}

/// The same whether one is chosen or not, so that a clicked row stays under the pointer.
void draw_fittings(App& app) {
    const auto& fittings = app.document->job->model.job.fittings;
    const float row = ImGui::GetTextLineHeightWithSpacing();
    const float all = row * static_cast<float>(fittings.size());
    ImGui::BeginChild("fittings", ImVec2(0, std::min(all, 0.3F * ImGui::GetWindowHeight())));
    for (const auto& each : fittings) {
        if (ImGui::Selectable(each.id.c_str(), app.document->selection.fitting == each.id)) {
            choose_fitting(*app.document, each.id);
            if (app.document->selection.finding) choose_and_fly(app, *app.document->selection.finding);
        }
        note_place(app, "fitting " + each.id);
    }
    ImGui::EndChild();
}

}  // namespace

void draw_fitting(App& app) {
    const Document& document = *app.document;
    const std::string id = document.selection.fitting;
    const Model& model = document.job->model;
    const PlacedFitting* placed = placed_of(model, id);
    const auto index = fitting_index(document, id);
    draw_fittings(app);
    ImGui::Spacing();
    if (!placed || !index) {
        ImGui::TextDisabled("No fitting is chosen.");
        ImGui::Spacing();
        if (ImGui::Button("Add a fitting...")) app.adding = true;
        note_place(app, "add fitting");
        return;
    }
    // Copies: an edit made below replaces the model while the panel is still being drawn.
    const PlacedFitting here = *placed;
    const Fitting fitting = fitting_of(model, here);
    const FittingType type = type_of(model, here);
    const std::string base = fmt::format("fittings[{}].", *index);
    read_draft(app, base);
    ImGui::TextWrapped("%s", fitting.name.c_str());
    faint(fmt::format("{}; wall {}", type.name, fitting.wall));
    ImGui::Spacing();
    draw_place(app, base);
    if (ImGui::Checkbox("Drag it in 3D", &app.drag_fitting)) app.scene_changed = true;
    note_place(app, "drag");
    draw_corners(here, app.look.inches);
    const auto bare = std::find_if(model.job.types.begin(), model.job.types.end(), [&](const FittingType& t) {
        return t.id == unquoted(value_text(*app.document, base + "type"));
    });
    if (bare != model.job.types.end()) draw_with(app, base, FittingType(*bare));
    ImGui::Spacing();
    draw_measured(app, fitting);
}

namespace {

void text_choice(App& app, const char* label, std::string& value, const std::vector<std::string>& words) {
    ImGui::SetNextItemWidth(16 * ImGui::GetFontSize());
    const bool open = ImGui::BeginCombo(label, value.c_str());
    note_place(app, std::string("new fitting ") + label);
    if (!open) return;
    for (const auto& word : words) {
        if (ImGui::Selectable(word.c_str(), word == value)) value = word;
        note_place(app, fmt::format("new fitting {}: {}", label, word));
    }
    ImGui::EndCombo();
}

}  // namespace

void draw_adding(App& app) {
    if (!app.adding) return;
    const Job& job = app.document->job->model.job;
    const char* title = "Add a fitting";
    if (!ImGui::IsPopupOpen(title)) {
        app.added = {};
        if (!job.types.empty()) app.added.type = job.types.front().id;
        app.added.wall = job.walls.front().id;
        app.added.across = job.walls.front().width / 2;
        app.added.height = 1000;
    }
    if (!begin_dialog(app, title, 25)) return;
    NewFitting& added = app.added;
    const float width = 16 * ImGui::GetFontSize();
    ImGui::SetNextItemWidth(width);
    if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
    ImGui::InputTextWithHint("id", "a plain word: second-tap", &added.id);
    std::vector<std::string> types;
    for (const auto& type : job.types) {
        if (type.id.find('+') == type.id.npos) types.push_back(type.id);
    }
    std::vector<std::string> walls;
    for (const auto& wall : job.walls) walls.push_back(wall.id);
    text_choice(app, "type", added.type, types);
    text_choice(app, "wall", added.wall, walls);
    ImGui::SetNextItemWidth(width);
    ImGui::InputDouble("across", &added.across, 1, 10, "%.6g mm");
    text_choice(app, "measured from", added.from,
                {"left bare", "left finished", "right bare", "right finished", "centre"});
    ImGui::SetNextItemWidth(width);
    ImGui::InputDouble("height", &added.height, 1, 10, "%.6g mm");
    bool seated = added.seat.has_value();
    if (ImGui::Checkbox("the seat is known", &seated)) added.seat = seated ? std::optional(0.0) : std::nullopt;
    if (added.seat) {
        ImGui::SetNextItemWidth(width);
        ImGui::InputDouble("seat", &*added.seat, 1, 10, "%.6g mm");
    }
    ImGui::BeginDisabled(added.id.empty() || added.type.empty());
    if (ImGui::Button("Add", ImVec2(6 * ImGui::GetFontSize(), 0))) {
        const NewFitting fitting = added;
        outcome(app, add_fitting(*app.document, fitting), "Added: " + fitting.id);
        choose_fitting(*app.document, fitting.id);
        app.adding = false;
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndDisabled();
    ImGui::SameLine();
    if (ImGui::Button("Cancel", ImVec2(6 * ImGui::GetFontSize(), 0)) || escaped(app)) {
        app.adding = false;
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

}  // namespace standproud::viewer
