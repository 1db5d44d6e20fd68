// The joins of a wall: their live score, and proposed layouts to take over.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"
#include "window/app.hpp"
#include "window/value_rows.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

constexpr float names = 7.2F;

/// The first counts first; the rest follows in the planner's own order.
struct Wish {
    const char* says;
    std::vector<joins::Preference> order;
};

const std::vector<Wish>& wishes() {
    using P = joins::Preference;
    static const std::vector<Wish> all{{"fewest joins", {}},
                                       {"lowest price", {P::least_cost}},
                                       {"least waste", {P::least_waste}},
                                       {"symmetry", {P::fewest_joins, P::symmetrical}}};
    return all;
}

std::string tenth(double value) { return mm(std::round(10 * value) / 10); }

void value_row(const char* name, const std::string& words) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::TextDisabled("%s", name);
    ImGui::TableNextColumn();
    say_lines(words, false);
}

void broken_rule(const std::string& words) {
    verdict_chip(rules::Verdict::fails, false);
    ImGui::SameLine();
    say_lines(words, false);
}

void draw_live(App& app, const DrawnJoins& drawn) {
    if (!drawn.answer.scored) {
        broken_rule(drawn.answer.refused);
        return;
    }
    const auto& scored = *drawn.answer.scored;
    if (begin_rows("live", names)) {
        std::string places = scored.joins.empty() ? "none" : "";
        for (const double at : scored.joins) places += (places.empty() ? "" : ", ") + tenth(at);
        value_row("from left bare", places);
        std::string widths;
        for (const auto& piece : scored.pieces) widths += (widths.empty() ? "" : " | ") + tenth(piece.to - piece.from);
        value_row("pieces", widths);
        if (scored.cut_from_sheets) {
            value_row("new sheets", fmt::format("{}", scored.score.sheets));
            if (sheets_priced(*app.document->job)) value_row("price", fmt::format("{:.2f}", scored.score.cost));
            value_row("waste", fmt::format("{:.2f}\u00a0m\u00b2", scored.score.waste / 1e6));
        }
        if (!scored.joins.empty()) value_row("off the middle", fmt::format("{} mm", tenth(scored.score.asymmetry / 2)));
        ImGui::EndTable();
        note_place(app, "live " + drawn.wall + ": " +
                            score_words(scored.score, sheets_priced(*app.document->job), scored.cut_from_sheets));
    }
    for (const auto& words : scored.broken) broken_rule(words);
    if (scored.on_wettest) {
        verdict_chip(rules::Verdict::tight, false);
        ImGui::SameLine();
        ImGui::TextWrapped("on the wettest line, under the outlet");
    }
    if (scored.broken.empty() && !scored.on_wettest) {
        verdict_chip(rules::Verdict::clear, false);
        ImGui::SameLine();
        ImGui::TextWrapped("clear of holes, flanges and the least piece");
    }
}

bool as_drawn(const joins::JoinLayout& layout, const DrawnJoins* drawn) {
    if (!drawn || !drawn->answer.scored) return false;
    const auto& now = drawn->answer.scored->joins;
    if (now.size() != layout.joins.size()) return false;
    for (std::size_t i = 0; i < now.size(); ++i) {
        if (std::abs(now[i] - layout.joins[i]) > 0.011) return false;
    }
    return true;
}

std::string places_words(const std::vector<double>& joins) {
    if (joins.empty()) return "no join";
    std::string words = joins.size() == 1 ? "join at " : "joins at ";
    for (std::size_t i = 0; i < joins.size(); ++i)
        words += fmt::format("{}{}", i == 0 ? "" : i + 1 == joins.size() ? " and " : ", ", tenth(joins[i]));
    return words;
}

std::string cost_words(const JoinsReport& report, const joins::JoinScore& score) {
    std::string words = fmt::format("{} new {}", score.sheets, score.sheets == 1 ? "sheet" : "sheets");
    if (report.priced) words += fmt::format(", price {:.2f}", score.cost);
    return words + fmt::format(", waste {:.2f}\u00a0m\u00b2", score.waste / 1e6);
}

/// True when it was taken over: the layouts are of another job then.
bool draw_layout(App& app, const JoinsReport& report, std::size_t wall, const joins::JoinLayout& layout, int number,
                 const DrawnJoins* drawn) {
    const float em = ImGui::GetFontSize();
    const bool is_drawn = as_drawn(layout, drawn);
    ImGui::BeginGroup();
    ImGui::Spacing();
    ImGui::Text("%d", number);
    ImGui::SameLine(1.6F * em);
    ImGui::TextWrapped("%s", places_words(layout.joins).c_str());
    ImGui::Indent(1.6F * em);
    say_lines(cost_words(report, layout.score), false);
    std::string pieces;
    for (const auto& piece : layout.pieces)
        pieces += fmt::format("{}{} of {}", pieces.empty() ? "" : ", ", tenth(piece.to - piece.from),
                              report.stock.at(piece.stock));
    say_lines(pieces, true);
    if (!layout.joins.empty()) {
        say_lines(fmt::format("{} mm off the middle", tenth(layout.score.asymmetry / 2)), true);
        say_lines(layout.room < 0.1
                      ? "no room for its tightest join: mark and cut it exactly"
                      : fmt::format("room for its tightest join: {} mm", mm(std::floor(10 * layout.room) / 10)),
                  true);
    }
    if (drawn && drawn->answer.scored && drawn->answer.scored->cut_from_sheets && !is_drawn)
        say_lines("than drawn: " + difference_words(layout.score, drawn->answer.scored->score, report.priced), true);
    if (layout.on_wettest) say_lines("! no layout keeps off the wettest line, under the outlet", true);
    bool taken = false;
    const bool faulty = !app.document->faults.empty();
    ImGui::PushID(number);
    if (is_drawn) {
        verdict_chip(rules::Verdict::clear, false);
        ImGui::SameLine();
        ImGui::TextUnformatted("as it is drawn");
    } else {
        ImGui::BeginDisabled(faulty);
        taken = ImGui::Button("Take it over");
        ImGui::EndDisabled();
        note_place(app, fmt::format("take layout {}", number));
    }
    ImGui::PopID();
    ImGui::Unindent(1.6F * em);
    ImGui::EndGroup();
    if (ImGui::IsItemHovered()) {
        app.bench.pointed_wall = app.document->job->model.job.walls[wall].id;
        app.bench.pointed = layout.joins;
    }
    if (!taken) return false;
    const std::vector<double> places = layout.joins;
    const std::string id = app.document->job->model.job.walls[wall].id;
    outcome(app, take_layout(*app.document, wall, places), fmt::format("{}: {}", id, places_words(places)));
    return true;
}

void draw_refused(const JoinsReport& report, const joins::JoinPlan& plan) {
    if (plan.refused.empty()) {
        faint("Nothing that breaks a rule would score better than the first.");
        return;
    }
    ImGui::TextDisabled("Better, but refused");
    for (const auto& refused : plan.refused) {
        ImGui::TextWrapped("%s", places_words(refused.joins).c_str());
        ImGui::Indent(1.6F * ImGui::GetFontSize());
        say_lines(score_words(refused.score, report.priced), true);
        for (const auto& words : refused.reasons) broken_rule(words);
        ImGui::Unindent(1.6F * ImGui::GetFontSize());
    }
}

void draw_proposed(App& app, std::size_t wall, const DrawnJoins* drawn) {
    BenchDesk& desk = app.bench;
    const bool waiting = out_of_date(desk.view, *app.document) && !ImGui::IsAnyMouseDown();
    ImGui::TextDisabled("Proposed, best first%s", waiting ? ": working it out..." : "");
    std::size_t chosen = 0;
    for (std::size_t i = 0; i < wishes().size(); ++i) {
        if (wishes()[i].order == desk.view.wishes.order) chosen = i;
    }
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("look first for");
    ImGui::SameLine();
    ImGui::SetNextItemWidth(-1);
    const bool open = ImGui::BeginCombo("##wish", wishes()[chosen].says);
    note_place(app, "wish");
    if (open) {
        for (std::size_t i = 0; i < wishes().size(); ++i) {
            if (ImGui::Selectable(wishes()[i].says, i == chosen)) desk.view.wishes.order = wishes()[i].order;
            note_place(app, std::string("wish ") + wishes()[i].says);
        }
        ImGui::EndCombo();
    }
    const auto result = desk.view.shown;  // stays while a layout is taken over
    if (!result) return;
    if (!result->refused.empty()) {
        faint(result->refused);
        return;
    }
    const std::string& id = app.document->job->model.job.walls[wall].id;
    for (const auto& planned : result->joins.walls) {
        if (planned.wall != id) continue;
        if (!planned.answer.plan) {
            broken_rule(planned.answer.refused);
            return;
        }
        int number = 0;
        for (const auto& layout : planned.answer.plan->best) {
            if (draw_layout(app, result->joins, wall, layout, ++number, drawn)) return;
        }
        ImGui::Spacing();
        draw_refused(result->joins, *planned.answer.plan);
        ImGui::Spacing();
        faint(
            fmt::format("Upright joins, at most {}, each wall by itself; no piece under {} mm. Sheets and drawings "
                        "nest all walls together.",
                        result->joins.rules.most_joins, mm(result->joins.rules.least_piece)));
    }
}

void choose_wall(App& app) {
    const auto& walls = app.document->job->model.job.walls;
    ImGui::SetNextItemWidth(-1);
    const bool open = ImGui::BeginCombo("##wall", walls[app.wall].name.c_str());
    note_place(app, "joins of");
    if (!open) return;
    for (std::size_t w = 0; w < walls.size(); ++w) {
        if (ImGui::Selectable(walls[w].name.c_str(), w == app.wall)) {
            app.wall = w;
            if (app.bench.middle == Middle::recess) app.fly_to = facing_wall(app.document->job->model, w);
        }
        note_place(app, "joins of " + walls[w].id);
    }
    ImGui::EndCombo();
}

}  // namespace

void draw_joins_tab(App& app) {
    app.wall = std::min(app.wall, app.document->job->model.job.walls.size() - 1);
    choose_wall(app);
    if (!draw_lack(app)) return;
    const std::size_t wall = app.wall;
    const auto& id = app.document->job->model.job.walls[wall].id;
    // A copy: taking a layout over works the scores out anew.
    const auto* live = score_of(live_scores(app.bench.view, *app.document), id);
    const std::optional<DrawnJoins> drawn = live ? std::optional(*live) : std::nullopt;
    if (!drawn) {
        faint("This wall carries no panels.");
        return;
    }
    ImGui::Spacing();
    ImGui::TextDisabled("As drawn now");
    draw_live(app, *drawn);
    ImGui::Spacing();
    if (app.bench.middle == Middle::recess) {
        if (ImGui::Checkbox("Drag in 3D", &app.drag_fitting)) app.scene_changed = true;
        note_place(app, "drag joins here");
    } else if (!drawn->answer.scored || !drawn->answer.scored->joins.empty()) {
        faint("Drag a join by its line; the figures follow.");
    }
    ImGui::Separator();
    draw_proposed(app, wall, &*drawn);
}

}  // namespace standproud::viewer
