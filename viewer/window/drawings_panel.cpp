#include "window/drawings_panel.hpp"

#include <cairo.h>
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "viewer/bench_drawing.hpp"

namespace standproud::viewer {

namespace {

constexpr float edge = 12;  // pixels of ground about the paper

/// Walls, sheets, panels: the pages that begin alike stand together.
std::string kind_of(const std::string& title) { return title.substr(0, title.find(' ')); }

const char* heading_of(const std::string& kind) {
    return kind == "Wall" ? "Walls, seen from the front" : kind == "Sheet" ? "Stock sheets, cuts in order" : "Panels";
}

void draw_nesting(const Bench& bench) {
    const auto& answer = bench.sheets;
    if (!answer.nesting) {
        ImGui::TextWrapped("Not nested: %s", answer.refused.c_str());
        return;
    }
    const auto& found = *answer.nesting;
    std::string words = fmt::format("{} new {}", found.new_sheets, found.new_sheets == 1 ? "sheet" : "sheets");
    const auto offcuts = static_cast<int>(found.sheets.size()) - found.new_sheets;
    if (offcuts > 0) words += fmt::format(", {} {}", offcuts, offcuts == 1 ? "offcut used" : "offcuts used");
    if (bench.priced) words += fmt::format(", price {:.2f}", found.price);
    words += found.cost_proved ? "; proved: no layout needs less."
                               : fmt::format("; best found, at most {:.1f} % from the best there is.", 100 * found.gap);
    say_lines(words, false);
}

void draw_settle_first(const Bench& bench) {
    if (bench.settle_first.empty()) return;
    ImGui::Spacing();
    ImGui::TextDisabled("Settle first");
    for (const auto& words : bench.settle_first) {
        verdict_chip(rules::Verdict::fails, false);
        ImGui::SameLine();
        say_lines(words, false);
    }
}

}  // namespace

void DrawingsPanel::draw_list(App& app) {
    BenchDesk& desk = app.bench;
    const BenchResult& result = *desk.view.shown;
    if (out_of_date(desk.view, *app.document)) faint("The job has changed; working it out again...");
    std::string kind;
    for (std::size_t i = 0; i < result.pages.size(); ++i) {
        const std::string& title = result.pages[i];
        if (kind_of(title) != kind) {
            kind = kind_of(title);
            ImGui::Spacing();
            ImGui::TextDisabled("%s", heading_of(kind));
        }
        if (ImGui::Selectable(title.c_str(), i == desk.page)) {
            desk.page = i;
            desk.paper = {};
        }
        note_place(app, "page " + title);
    }
    ImGui::Spacing();
    ImGui::Separator();
    draw_nesting(result.bench);
    draw_settle_first(result.bench);
}

void DrawingsPanel::draw_page_shown(App& app) {
    BenchDesk& desk = app.bench;
    const BenchResult& result = *desk.view.shown;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 area = ImGui::GetContentRegionAvail();
    if (area.x < 80 || area.y < 60) return;
    if (!desk.paper.moved) {
        const double fit = std::min(static_cast<double>(area.x - 2 * edge) / paper_width,
                                    static_cast<double>(area.y - 2 * edge) / paper_height);
        desk.paper = {fit, {paper_width / 2, paper_height / 2}, false};
    }
    // Of the sheet, what lies within the area.
    const double pixels = desk.paper.pixels;
    const double left = static_cast<double>(area.x) / 2 - desk.paper.middle.x * pixels;
    const double top = static_cast<double>(area.y) / 2 - desk.paper.middle.y * pixels;
    const double x0 = std::round(std::max(0.0, left));
    const double y0 = std::round(std::max(0.0, top));
    const double x1 = std::round(std::min(static_cast<double>(area.x), left + paper_width * pixels));
    const double y1 = std::round(std::min(static_cast<double>(area.y), top + paper_height * pixels));
    ImGui::InvisibleButton(
        "page", area,
        ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight | ImGuiButtonFlags_MouseButtonMiddle);
    note_place(app, "page shown");
    note_place(app, "page shown: " + result.pages[desk.page]);
    if (ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(0)) desk.paper = {};
    move_plan(desk.paper, at, area, true);
    if (x1 - x0 < 4 || y1 - y0 < 4) return;
    const PaperView seen{static_cast<int>(x1 - x0),
                         static_cast<int>(y1 - y0),
                         pixels,
                         {(x0 - left) / pixels, (y0 - top) / pixels},
                         app.look.dark};
    const std::string wanted = fmt::format("{} {} {} {} {:.6f} {:.3f} {:.3f}", desk.page, seen.width, seen.height,
                                           seen.dark, pixels, seen.left_top.x, seen.left_top.y);
    if (wanted != drawn_ || of_ != desk.view.shown) {
        paper_.paint(seen, [&](cairo_t* context) { draw_page(context, result.bench, desk.page); });
        drawn_ = wanted;
        of_ = desk.view.shown;
    }
    const ImVec2 corner(at.x + static_cast<float>(x0), at.y + static_cast<float>(y0));
    ImGui::GetWindowDrawList()->AddImage(
        paper_.image(), corner,
        ImVec2(corner.x + static_cast<float>(seen.width), corner.y + static_cast<float>(seen.height)));
    ImGui::GetWindowDrawList()->AddRect(
        corner, ImVec2(corner.x + static_cast<float>(seen.width), corner.y + static_cast<float>(seen.height)),
        ImGui::GetColorU32(ImGuiCol_Border));
}

void DrawingsPanel::draw(App& app) {
    BenchDesk& desk = app.bench;
    const float em = ImGui::GetFontSize();
    const BenchLack lack = bench_lack(*app.document->job);
    if (lack.any() || !desk.view.shown) {
        const ImVec2 room = ImGui::GetContentRegionAvail();
        ImGui::SetCursorPos(ImVec2(std::max(2 * em, (room.x - 34 * em) / 2), 0.3F * room.y));
        ImGui::BeginChild("lacks", ImVec2(34 * em, 0));
        if (draw_lack(app)) ImGui::TextUnformatted("Working out the bench...");
        ImGui::EndChild();
        return;
    }
    if (!desk.view.shown->refused.empty()) {
        ImGui::TextWrapped("%s", desk.view.shown->refused.c_str());
        return;
    }
    desk.page = std::min(desk.page, desk.view.shown->pages.size() - 1);
    const float list = std::min(19 * em, 0.28F * ImGui::GetWindowWidth());
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0.7F * em, 0.5F * em));
    ImGui::BeginChild("list", ImVec2(list, 0), false, ImGuiWindowFlags_AlwaysUseWindowPadding);
    draw_list(app);
    ImGui::EndChild();
    ImGui::PopStyleVar();
    ImGui::SameLine(0, 0);
    ImGui::PushStyleColor(ImGuiCol_ChildBg,
                          app.look.dark ? ImVec4(0.09F, 0.1F, 0.11F, 1) : ImVec4(0.83F, 0.85F, 0.85F, 1));
    ImGui::BeginChild("page", ImVec2(0, 0), false, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    draw_page_shown(app);
    ImGui::EndChild();
    ImGui::PopStyleColor();
}

}  // namespace standproud::viewer
