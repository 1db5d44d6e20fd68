// What is shown: layers and trades, drawn apart, cut.
#include <fmt/format.h>
#include <imgui.h>

#include <set>

#include "rules/words.hpp"
#include "window/app.hpp"

namespace standproud::viewer {

namespace {

/// Three choices in a row for one layer or trade; true when changed.
bool three_way(const std::string& name, std::map<std::string, Shown>& states, int count) {
    const auto found = states.find(name);
    Shown state = found == states.end() ? Shown::full : found->second;
    const Shown before = state;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::Text("%s", name.c_str());
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip("%s", rules::counted(static_cast<std::size_t>(count), "solid").c_str());
    ImGui::PushID(name.c_str());
    for (const auto& [which, word] :
         {std::pair{Shown::full, "##full"}, {Shown::ghost, "##ghost"}, {Shown::hidden, "##hidden"}}) {
        ImGui::TableNextColumn();
        if (ImGui::RadioButton(word, state == which)) state = which;
    }
    ImGui::PopID();
    if (state == before) return false;
    states[name] = state;
    return true;
}

bool draw_states(const char* id, const char* what, const std::vector<std::pair<std::string, int>>& names,
                 std::map<std::string, Shown>& states) {
    bool changed = false;
    if (!ImGui::BeginTable(id, 4, ImGuiTableFlags_RowBg)) return false;
    const float em = ImGui::GetFontSize();
    ImGui::TableSetupColumn(what, ImGuiTableColumnFlags_WidthStretch);
    for (const char* word : {"show", "ghost", "hide"}) {
        ImGui::TableSetupColumn(word, ImGuiTableColumnFlags_WidthFixed, 3 * em);
    }
    ImGui::TableHeadersRow();
    for (const auto& [name, count] : names) changed |= three_way(name, states, count);
    ImGui::EndTable();
    return changed;
}

/// In the order in which they first come: from the frame outwards.
std::vector<std::pair<std::string, int>> counted(const std::vector<Part>& parts, std::string Part::*key) {
    std::vector<std::pair<std::string, int>> names;
    for (const auto& part : parts) {
        bool found = false;
        for (auto& [name, count] : names) {
            if (name == part.*key) {
                ++count;
                found = true;
            }
        }
        if (!found) names.emplace_back(part.*key, 1);
    }
    return names;
}

void draw_cut(App& app) {
    Cut& cut = app.look.cut;
    const Model& model = app.document->job->model;
    const auto [least, most] = bounds(model);
    const auto set = [&](const char* name, RoomPoint away, double at) {
        const bool same = cut.on && norm(cut.away - away) < 1e-6;
        if (ImGui::RadioButton(name, same)) {
            cut = {true, away, at};
            app.scene_changed = true;
        }
    };
    if (ImGui::RadioButton("no cut", !cut.on)) {
        cut.on = false;
        app.scene_changed = true;
    }
    ImGui::SameLine();
    const PlacedFitting* placed = placed_of(model, app.document->selection.fitting);
    set("level", {0, 0, 1}, placed ? placed->v : (least.z + most.z) / 2);
    note_place(app, "cut level");
    // Upright, across each wall: through the chosen fitting where it is on that wall.
    const auto words = [&](std::size_t w) { return fmt::format("across {}", model.job.walls[w].name); };
    const float half = 0.5F * ImGui::GetWindowWidth();
    bool two_abreast = true;
    for (std::size_t w = 0; w < model.room.walls.size(); ++w)
        two_abreast = two_abreast && ImGui::CalcTextSize(words(w).c_str()).x < half - 3 * ImGui::GetFontSize();
    for (std::size_t w = 0; w < model.room.walls.size(); ++w) {
        const Frame& wall = model.room.walls[w];
        const double u = placed && placed->wall == w ? placed->u : model.job.walls[w].width / 2;
        if (w % 2 == 1 && two_abreast) ImGui::SameLine(half);
        set(words(w).c_str(), wall.x, dot(wall.x, wall.to_room(u, 0, 0)));
    }
    if (!cut.on) return;
    double low = 1e9;
    double high = -1e9;
    for (const double x : {least.x, most.x}) {
        for (const double y : {least.y, most.y}) {
            for (const double z : {least.z, most.z}) {
                const double d = dot(cut.away, RoomPoint{x, y, z});
                low = std::min(low, d);
                high = std::max(high, d);
            }
        }
    }
    low -= 150;
    high += 150;
    ImGui::SetNextItemWidth(-1);
    if (ImGui::SliderScalar("##at", ImGuiDataType_Double, &cut.at, &low, &high, "%.0f mm")) app.scene_changed = true;
    note_place(app, "cut slider");
    if (ImGui::Button("Other side")) {
        cut.away = -1.0 * cut.away;
        cut.at = -cut.at;
        app.scene_changed = true;
    }
}

}  // namespace

void draw_show(App& app) {
    const auto& parts = app.document->parts;
    ImGui::TextDisabled("Layers drawn apart");
    ImGui::SetNextItemWidth(-1);
    const double none = 0;
    const double most = 300;
    if (ImGui::SliderScalar("##apart", ImGuiDataType_Double, &app.look.apart, &none, &most, "%.0f mm")) {
        app.scene_changed = true;
    }
    note_place(app, "apart");
    ImGui::Spacing();
    ImGui::TextDisabled("Cut");
    draw_cut(app);
    ImGui::Spacing();
    bool changed = draw_states("trades", "trade", counted(parts, &Part::trade), app.look.trades);
    ImGui::Spacing();
    changed |= draw_states("layers", "layer", counted(parts, &Part::layer), app.look.layers);
    if (ImGui::Button("Show everything")) {
        app.look.layers.clear();
        app.look.trades.clear();
        app.look.apart = 0;
        app.look.cut.on = false;
        changed = true;
    }
    app.scene_changed |= changed;
}

}  // namespace standproud::viewer
