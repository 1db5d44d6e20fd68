// The list of findings: filters, the worst first.
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <array>

#include "rules/words.hpp"
#include "viewer/units.hpp"
#include "window/app.hpp"
#include "window/dialog.hpp"

namespace standproud::viewer {

namespace {

/// A choice with "all" before it; true when it was changed.
template <class Value>
bool choice(const char* label, const std::string& all, std::optional<Value>& value, const std::vector<Value>& values) {
    bool changed = false;
    const std::string shown = value ? to_string(*value) : all;
    if (!ImGui::BeginCombo(label, shown.c_str())) return false;
    if (ImGui::Selectable(all.c_str(), !value)) {
        value.reset();
        changed = true;
    }
    for (const Value& each : values) {
        if (ImGui::Selectable(to_string(each).c_str(), value == each)) {
            value = each;
            changed = true;
        }
    }
    ImGui::EndCombo();
    return changed;
}

void draw_filters(App& app) {
    const auto& walls = app.document->job->model.job.walls;
    if (app.find_text) {
        ImGui::SetKeyboardFocusHere();
        app.find_text = false;
    }
    ImGui::SetNextItemWidth(-1);
    ImGui::InputTextWithHint("##filter", "filter by words (Ctrl+F)", &app.filter.text);
    note_place(app, "filter");
    const float third = (ImGui::GetContentRegionAvail().x - 2 * ImGui::GetStyle().ItemSpacing.x) / 3;
    ImGui::SetNextItemWidth(third);
    choice<rules::Verdict>(
        "##verdict", "any verdict", app.filter.verdict,
        {rules::Verdict::fails, rules::Verdict::unknown, rules::Verdict::tight, rules::Verdict::clear});
    ImGui::SameLine();
    ImGui::SetNextItemWidth(third);
    choice<Trade>("##trade", "all trades", app.filter.trade,
                  {Trade::plumber, Trade::electrician, Trade::builder, Trade::installer});
    ImGui::SameLine();
    ImGui::SetNextItemWidth(third);
    if (ImGui::BeginCombo("##wall", app.filter.wall.empty() ? "all walls" : app.filter.wall.c_str())) {
        if (ImGui::Selectable("all walls", app.filter.wall.empty())) app.filter.wall.clear();
        for (const auto& wall : walls) {
            if (ImGui::Selectable(wall.id.c_str(), wall.id == app.filter.wall)) app.filter.wall = wall.id;
        }
        ImGui::EndCombo();
    }
}

std::string value_words(const rules::Finding& finding, bool with_inches) {
    if (!finding.nominal) return "?";
    if (with_inches && finding.unit == "mm")
        return fmt::format("{} | {}", rules::mm(*finding.nominal), inches(*finding.nominal));
    return fmt::format("{} {}", rules::mm(*finding.nominal), finding.unit);
}

/// Words that do not fit end in dots.
std::string shortened(std::string words, float width) {
    if (ImGui::CalcTextSize(words.c_str()).x <= width) return words;
    while (!words.empty() && ImGui::CalcTextSize((words + "...").c_str()).x > width) words.pop_back();
    while (!words.empty() && words.back() == ' ') words.pop_back();
    return words + "...";
}

void draw_row(App& app, std::size_t index, float head) {
    const auto& finding = app.document->job->findings[index];
    const bool chosen = app.document->selection.finding == index;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::PushID(static_cast<int>(index));
    const ImVec2 at = ImGui::GetCursorPos();
    const float height = 1.3F * ImGui::GetFontSize();
    if (ImGui::Selectable("##row", chosen, ImGuiSelectableFlags_SpanAllColumns, ImVec2(0, height))) {
        choose_and_fly(app, index);
        app.listed_choice = index;  // it is where it was clicked
    }
    note_place(app, fmt::format("finding {} {}", finding.subject, finding.rule));
    if (ImGui::IsItemHovered()) tooltip(finding.says);
    if (chosen && app.listed_choice != index) {
        bring_into_sight(head);
        app.listed_choice = index;
    }
    ImGui::SetCursorPos(at);
    verdict_chip(finding.verdict, false);
    const float down = 0.15F * ImGui::GetFontSize();  // the middle of the sign beside it
    const auto cell = [down](const std::string& words) {
        ImGui::TableNextColumn();
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() + down);
        ImGui::TextUnformatted(shortened(words, ImGui::GetContentRegionAvail().x).c_str());
    };
    cell(finding.subject);
    cell(finding.quantity);
    ImGui::TableNextColumn();
    const std::string value = value_words(finding, app.look.inches);
    const float space = ImGui::GetContentRegionAvail().x - ImGui::CalcTextSize(value.c_str()).x;
    if (space > 0) ImGui::SetCursorPosX(ImGui::GetCursorPosX() + space);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + down);
    ImGui::TextUnformatted(value.c_str());
    ImGui::PopID();
}

}  // namespace

void draw_findings(App& app) {
    const CheckedJob& job = *app.document->job;
    draw_filters(app);
    const auto order = listed(job, app.filter);
    if (!app.document->selection.finding) app.listed_choice.reset();
    constexpr ImGuiTableFlags flags = ImGuiTableFlags_RowBg | ImGuiTableFlags_ScrollY | ImGuiTableFlags_BordersInnerH;
    if (!ImGui::BeginTable("findings", 4, flags, ImGui::GetContentRegionAvail())) return;
    const float em = ImGui::GetFontSize();
    ImGui::TableSetupScrollFreeze(0, 1);
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, 1.4F * em);
    ImGui::TableSetupColumn("fitting", ImGuiTableColumnFlags_WidthFixed, 4.9F * em);
    ImGui::TableSetupColumn("what is judged", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableSetupColumn(app.look.inches ? "is, mm | in" : "is", ImGuiTableColumnFlags_WidthFixed,
                            (app.look.inches ? 7.4F : 5.2F) * em);
    ImGui::TableHeadersRow();
    const float head = ImGui::GetTextLineHeight() + 2 * ImGui::GetStyle().CellPadding.y;
    for (const std::size_t index : order) draw_row(app, index, head);
    ImGui::EndTable();
    if (order.empty()) ImGui::TextDisabled("No finding has all of these.");
}

}  // namespace standproud::viewer
