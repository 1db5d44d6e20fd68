// The joins of a wall: their live score, and proposed layouts to take over.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"
#include "viewer/units.hpp"
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

/// To 0.1 mm, in inches beside it where they are wanted.
std::string said(const App& app, double value) {
    return app.look.inches ? fmt::format("{} ({})", tenth(value), inches(value)) : tenth(value);
}

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
        for (const double at : scored.joins) places += (places.empty() ? "" : ", ") + said(app, at);
        value_row("from left bare", places);
        std::string widths;
        for (const auto& piece : scored.pieces)
            widths += (widths.empty() ? "" : " | ") + said(app, piece.to - piece.from);
        value_row("pieces", widths);
        if (scored.cut_from_sheets) {
            value_row("new sheets", fmt::format("{}", scored.score.sheets));
            if (sheets_priced(*app.document->job)) value_row("price", fmt::format("{:.2f}", scored.score.cost));
            value_row("waste", fmt::format("{:.2f}\u00a0m\u00b2", scored.score.waste / 1e6));
        }
        if (!scored.joins.empty())
            value_row("off the middle", length_words(std::round(5 * scored.score.asymmetry) / 10, app.look.inches));
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
    const auto near = [](double a, double b) { return std::abs(a - b) <= 0.011; };
    const auto& now = *drawn->answer.scored;
    return std::equal(now.joins.begin(), now.joins.end(), layout.joins.begin(), layout.joins.end(), near) &&
           std::equal(now.levels.begin(), now.levels.end(), layout.levels.begin(), layout.levels.end(), near);
}

/// For programs and the history: mm alone.
std::string places_words(const std::vector<double>& joins) {
    if (joins.empty()) return "no join";
    std::string words = joins.size() == 1 ? "join at " : "joins at ";
    for (std::size_t i = 0; i < joins.size(); ++i)
        words += fmt::format("{}{}", i == 0 ? "" : i + 1 == joins.size() ? " and " : ", ", tenth(joins[i]));
    return words;
}

std::string layout_words(const App& app, const std::vector<double>& joins, const std::vector<double>& levels) {
    if (joins.empty() && levels.empty()) return "no join";
    std::string words;
    const auto add = [&](const char* one, const char* many, const std::vector<double>& places) {
        if (places.empty()) return;
        words += fmt::format("{}{} ", words.empty() ? "" : ", ", places.size() == 1 ? one : many);
        for (std::size_t i = 0; i < places.size(); ++i)
            words += fmt::format("{}{}", i == 0 ? "" : i + 1 == places.size() ? " and " : ", ", said(app, places[i]));
    };
    add("join at", "joins at", joins);
    add("level join at height", "level joins at heights", levels);
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
    ImGui::TextWrapped("%s", layout_words(app, layout.joins, layout.levels).c_str());
    ImGui::Indent(1.6F * em);
    say_lines(cost_words(report, layout.score), false);
    std::string pieces;
    for (const auto& piece : layout.pieces)
        pieces += fmt::format("{}{}{} of {}", pieces.empty() ? "" : ", ", said(app, piece.to - piece.from),
                              layout.levels.empty() ? "" : " x " + said(app, piece.top - piece.bottom),
                              report.stock.at(piece.stock));
    say_lines(pieces, true);
    if (!layout.joins.empty() || !layout.levels.empty()) {
        if (!layout.joins.empty())
            say_lines(length_words(std::round(5 * layout.score.asymmetry) / 10, app.look.inches) + " off the middle",
                      true);
        say_lines(layout.room < 0.1 ? "no room for its tightest join: mark and cut it exactly"
                                    : "room for its tightest join: " +
                                          length_words(std::floor(10 * layout.room) / 10, app.look.inches),
                  true);
    }
    if (drawn && drawn->answer.scored && drawn->answer.scored->cut_from_sheets && !is_drawn)
        say_lines("than drawn: " + difference_words(layout.score, drawn->answer.scored->score, report.priced), true);
    if (!layout.levels.empty())
        say_lines(layout.below_outlet ? "! a level join below the outlet: water runs over it"
                                      : "! water stands on a level join: a higher sheet would spare it",
                  true);
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
    const std::vector<double> levels = layout.levels;
    const std::string id = app.document->job->model.job.walls[wall].id;
    std::string words = places_words(places);
    if (!levels.empty()) words += fmt::format(", {} level", levels.size());
    outcome(app, take_layout(*app.document, wall, places, levels), fmt::format("{}: {}", id, words));
    return true;
}

void draw_refused(const App& app, const JoinsReport& report, const joins::JoinPlan& plan) {
    if (!plan.refused_whole)
        faint("Layouts that break a rule were too many to search them all: a better one may be there.");
    if (plan.refused.empty()) {
        if (!plan.refused_whole) return;
        faint("Nothing that breaks a rule would score better than the first.");
        return;
    }
    ImGui::TextDisabled("Better, but refused");
    for (const auto& refused : plan.refused) {
        ImGui::TextWrapped("%s", layout_words(app, refused.joins, refused.levels).c_str());
        ImGui::Indent(1.6F * ImGui::GetFontSize());
        say_lines(score_words(refused.score, report.priced), true);
        for (const auto& words : refused.reasons) broken_rule(words);
        ImGui::Unindent(1.6F * ImGui::GetFontSize());
    }
}

std::string nested_words(const JoinsReport& report, const nesting::Nesting& nesting) {
    std::string words = fmt::format("{} new {}", nesting.new_sheets, nesting.new_sheets == 1 ? "sheet" : "sheets");
    if (report.priced && !together_by_area(report)) return words + fmt::format(", price {:.2f}", nesting.price);
    return words + fmt::format(", {:.2f}\u00a0m\u00b2 of sheets", nesting.price);
}

/// Else level joins are proposed only where there is no layout without.
void draw_levels_wish(App& app) {
    ImGui::Checkbox("level joins where they score better", &app.bench.view.wishes.levels_freely);
    note_place(app, "levels freely");
}

/// The layouts of all walls on the sheets together.
void draw_together(App& app, const JoinsReport& report) {
    if (!report.together) return;
    ImGui::Spacing();
    ImGui::TextDisabled("All walls together");
    if (!report.together->choice) {
        say_lines("not nested: " + report.together->refused, true);
        return;
    }
    const joins::JobChoice& choice = *report.together->choice;
    std::string which;
    for (std::size_t w = 0; w < report.walls.size(); ++w)
        which += fmt::format("{}{} {}", w == 0 ? "" : ", ", report.walls[w].wall, choice.best.layouts[w] + 1);
    say_lines(fmt::format("best: {}; {}", which, nested_words(report, *choice.best.answer.nesting)), false);
    note_place(app, "together");
    if (!choice.own.answer.nesting)
        say_lines("each wall's first: cannot be cut together", true);
    else if (choice.own.layouts != choice.best.layouts)
        say_lines("each wall's first: " + nested_words(report, *choice.own.answer.nesting), true);
    say_lines(fmt::format("of {} of these layouts; {}", rules::counted(choice.combinations, "combination"),
                          choice.proved ? "proved: none comes to less" : "not proved: some may come to less"),
              true);
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
            draw_levels_wish(app);
            return;
        }
        int number = 0;
        for (const auto& layout : planned.answer.plan->best) {
            if (draw_layout(app, result->joins, wall, layout, ++number, drawn)) return;
        }
        ImGui::Spacing();
        draw_refused(app, result->joins, *planned.answer.plan);
        ImGui::Spacing();
        faint(fmt::format(
            "Upright joins, at most {}, each wall by itself; no piece under {}. Sheets and drawings nest all walls "
            "together.",
            result->joins.rules.most_joins, length_words(result->joins.rules.least_piece, app.look.inches)));
        draw_levels_wish(app);
        draw_together(app, result->joins);
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
