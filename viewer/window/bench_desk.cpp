#include "window/bench_desk.hpp"

#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "scene/palette.hpp"
#include "viewer/units.hpp"
#include "window/app.hpp"

namespace standproud::viewer {

void tend_bench(App& app) {
    BenchDesk& desk = app.bench;
    desk.work.poll();
    desk.pointed_wall.clear();  // the joins' tab says it anew
    desk.pointed.clear();
    // What the job has left behind need not be worked out to its end.
    if (desk.work.busy() && app.document && overtaken(desk.view, *app.document)) desk.stop.request_stop();
    if (!app.document || !app.document->job) return;
    const bool wanted = desk.middle != Middle::recess || desk.joins_shown;
    if (!wanted || desk.work.busy() || ImGui::IsAnyMouseDown()) return;
    const auto task = begin_bench(desk.view, *app.document);
    if (!task) return;
    const auto result = std::make_shared<BenchResult>();
    desk.stop = {};
    desk.work.start(
        "Working out the bench",
        [task = *task, result, stop = desk.stop.get_token()](Progress&) { *result = work_out(task, stop); },
        [&app, result](const std::string&) {
            // A result that comes too late is let go; the next frame begins anew.
            if (app.document) (void)take_result(app.bench.view, *app.document, std::move(*result));
        },
        glfwPostEmptyEvent);
}

void clear_bench(App& app) {
    app.bench.stop.request_stop();
    forget_bench(app.bench.view);
    app.bench.walls.clear();
    app.bench.unfolded = 0;
    app.bench.plan = {};
    app.bench.paper = {};
    app.bench.page = 0;
    app.bench.held.reset();
    app.bench.answers.reset();
}

void show_middle(App& app, Middle middle) {
    app.bench.middle = middle;
    app.bench.held.reset();
    if (middle == Middle::panels) app.bench.show_joins = true;
}

void turn_page(App& app, int by) {
    BenchDesk& desk = app.bench;
    if (!desk.view.shown || desk.view.shown->pages.empty()) return;
    const auto last = static_cast<std::ptrdiff_t>(desk.view.shown->pages.size()) - 1;
    desk.page =
        static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(desk.page) + by, 0, last));
    desk.paper = {};
}

void draw_middle_switch(App& app) {
    struct Choice {
        Middle middle;
        const char* name;
        const char* place;
    };
    static constexpr Choice choices[] = {{Middle::recess, "Recess in 3D", "view Recess"},
                                         {Middle::panels, "Panels unfolded", "view Panels"},
                                         {Middle::drawings, "Sheets and drawings", "view Drawings"}};
    const ImGuiStyle& style = ImGui::GetStyle();
    float width = style.WindowPadding.x;
    for (const auto& choice : choices)
        width += ImGui::CalcTextSize(choice.name).x + 2 * style.FramePadding.x + style.ItemSpacing.x;
    ImGui::SetCursorPosX(std::max(ImGui::GetCursorPosX(), ImGui::GetWindowWidth() - width));
    for (const auto& choice : choices) {
        const bool chosen = app.bench.middle == choice.middle;
        if (chosen) ImGui::PushStyleColor(ImGuiCol_Button, ImGui::GetStyleColorVec4(ImGuiCol_TabActive));
        if (!chosen) ImGui::PushStyleColor(ImGuiCol_Button, ImVec4(0, 0, 0, 0));
        ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0);
        if (ImGui::Button(choice.name)) show_middle(app, choice.middle);
        ImGui::PopStyleVar();
        ImGui::PopStyleColor();
        note_place(app, choice.place);
    }
}

bool draw_lack(App& app) {
    const BenchLack lack = bench_lack(*app.document->job);
    if (!lack.any()) return true;
    ImGui::TextWrapped("%s", lack_words(lack).c_str());
    if (lack.panels) return false;
    ImGui::Spacing();
    if (ImGui::Button("Answer and add them...")) app.bench.answers.emplace();
    note_place(app, "add bench");
    faint("Nothing is guessed: every figure that cutting and bonding need is asked for.");
    return false;
}

std::string join_words(App& app, std::size_t wall, std::size_t join, double v) {
    const Model& model = app.document->job->model;
    const auto& joins = model.job.walls[wall].joins;
    if (join >= joins.size()) return "";
    const auto at = along_wall(model.job, model.room, wall, joins[join], v);
    if (!at) return "";
    const auto from = [&](Side side) {
        const double sign = side == Side::left ? 1 : -1;
        const auto finished = finished_corner(model.job, model.room, wall, side, v);
        return bare_and_finished(sign * (*at - bare_corner(model.job, model.room, wall, side, v)),
                                 finished ? std::optional(sign * (*at - *finished)) : std::nullopt, app.look.inches);
    };
    return fmt::format("join {} of {}: left {}, right {}", join + 1, model.job.walls[wall].id, from(Side::left),
                       from(Side::right));
}

void draw_score_card(App& app, std::size_t wall, const ImVec2& at) {
    const auto& scores = live_scores(app.bench.view, *app.document);
    const auto& job = app.document->job->model.job;
    const DrawnJoins* drawn = score_of(scores, job.walls[wall].id);
    if (!drawn) return;
    std::vector<std::pair<std::string, bool>> lines;  // and whether a rule is broken
    if (!drawn->answer.scored) {
        lines.emplace_back(drawn->answer.refused, true);
    } else {
        const auto& scored = *drawn->answer.scored;
        const bool priced = sheets_priced(*app.document->job);
        lines.emplace_back(
            fmt::format("{}: {}", drawn->wall, score_words(scored.score, priced, scored.cut_from_sheets)), false);
        for (const auto& rule : scored.broken) lines.emplace_back(rule, true);
        if (scored.on_wettest) lines.emplace_back("on the wettest line, under the outlet", true);
    }
    const float em = ImGui::GetFontSize();
    const float pad = 0.6F * em;
    const float sign = 1.2F * em;
    ImVec2 size(0, pad);
    for (auto& [words, broken] : lines) {
        words = in_lines(words, 30 * em, em);
        const ImVec2 text = ImGui::CalcTextSize(words.c_str());
        size.x = std::max(size.x, text.x + (broken ? sign : 0));
        size.y += text.y + 0.3F * em;
    }
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 far(at.x + size.x + 2 * pad, at.y + size.y + 0.6F * pad);
    draw->AddRectFilled(at, far, ImGui::GetColorU32(ImGuiCol_PopupBg), 3);
    draw->AddRect(at, far, ImGui::GetColorU32(ImGuiCol_Border), 3);
    const Colour red = verdict_colour(rules::Verdict::fails);
    float y = at.y + pad;
    for (const auto& [words, broken] : lines) {
        if (broken) draw->AddText(ImVec2(at.x + pad, y), IM_COL32(red.red, red.green, red.blue, 255), "X");
        draw->AddText(ImVec2(at.x + pad + (broken ? sign : 0), y), ImGui::GetColorU32(ImGuiCol_Text), words.c_str());
        y += ImGui::CalcTextSize(words.c_str()).y + 0.3F * em;
    }
}

std::string in_lines(const std::string& words, float width, float letters) {
    const auto wide = [&](const std::string& line) {
        return ImGui::GetFont()->CalcTextSizeA(letters, FLT_MAX, 0, line.c_str()).x;
    };
    std::string text;
    std::string line;
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        const std::string word = words.substr(at, end - at);
        at = end + 1;
        if (!line.empty() && wide(line + " " + word) > width) {
            text += line + "\n";
            line.clear();
        }
        line += (line.empty() ? "" : " ") + word;
    }
    return text + line;
}

void say_lines(const std::string& words, bool quiet) {
    if (quiet) ImGui::PushStyleColor(ImGuiCol_Text, ImGui::GetStyleColorVec4(ImGuiCol_TextDisabled));
    // What has no spaces is broken anywhere.
    ImGui::PushTextWrapPos(0);
    ImGui::TextUnformatted(in_lines(words, ImGui::GetContentRegionAvail().x, ImGui::GetFontSize()).c_str());
    ImGui::PopTextWrapPos();
    if (quiet) ImGui::PopStyleColor();
}

void move_plan(PlanView& plan, const ImVec2& at, const ImVec2& size, bool may_drag) {
    const ImGuiIO& io = ImGui::GetIO();
    if (plan.pixels <= 0) return;
    if (ImGui::IsItemHovered() && io.MouseWheel != 0) {
        const double factor = std::pow(1.16, static_cast<double>(io.MouseWheel));
        const double next = std::clamp(plan.pixels * factor, 0.02, 60.0);
        // What is under the pointer stays there.
        const Vec2 off{static_cast<double>(io.MousePos.x - at.x - size.x / 2),
                       static_cast<double>(io.MousePos.y - at.y - size.y / 2)};
        plan.middle = plan.middle + (1 / plan.pixels - 1 / next) * off;
        plan.pixels = next;
        plan.moved = true;
    }
    if (!ImGui::IsItemActive() || !may_drag || (io.MouseDelta.x == 0 && io.MouseDelta.y == 0)) return;
    plan.middle = plan.middle -
                  (1 / plan.pixels) * Vec2{static_cast<double>(io.MouseDelta.x), static_cast<double>(io.MouseDelta.y)};
}

}  // namespace standproud::viewer
