#include "bench_drawing/wall_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench/words.hpp"
#include "rules/words.hpp"

namespace standproud::viewer {

namespace {

constexpr double heading_height = 7;
constexpr double above_height = 15;  // where the panels' top corners are
constexpr double below_height = 32;
constexpr double beside_width = 38;
constexpr double right_margin = 8;
constexpr double least_tables = 96;   // mm across, beside the drawing
constexpr double least_stacked = 28;  // mm up, below it

struct Layout {
    OnPaper on;
    Rect wall;  ///< everything drawn to scale
    Rect pane;
    Rect tables;
};

/// Everything drawn to scale, in the wall's frame: least x, greatest x, least y, greatest y.
std::array<double, 4> bounds_of(const Bench& bench, const BenchWall& wall) {
    auto all = extent(wall.bare);
    const auto take = [&](Vec2 p) {
        all = {std::min(all[0], p.x), std::max(all[1], p.x), std::min(all[2], p.y), std::max(all[3], p.y)};
    };
    for (const std::size_t i : wall.panels) {
        for (const Vec2 p : bench.panels[i].shape.outline.points) take(p + bench.panels[i].at);
    }
    for (const auto& stay : wall.stays) {
        for (const Vec2 p : stay.line) take(p);
    }
    return all;
}

Layout lay_out(const std::array<double, 4>& bounds, const Rect& room) {
    const double width = bounds[1] - bounds[0];
    const double height = bounds[3] - bounds[2];
    const double around = heading_height + above_height + below_height;
    const double beside_scale =
        usual_scale(width, height, room.width - least_tables - beside_width - right_margin, room.height - around);
    const double stacked_scale =
        usual_scale(width, height, room.width - beside_width - right_margin, room.height - around - least_stacked);
    const bool stacked = stacked_scale < beside_scale;
    Layout layout;
    layout.on.scale = stacked ? stacked_scale : beside_scale;
    const double w = width / layout.on.scale;
    const double h = height / layout.on.scale;
    const double pane = stacked ? room.width : std::max(110.0, beside_width + w + right_margin);
    const double x = room.x + beside_width + (pane - beside_width - right_margin - w) / 2;
    const double y = room.y + heading_height + above_height;
    layout.wall = {x, y, w, h};
    layout.on.zero = {x - bounds[0] / layout.on.scale, y + h + bounds[2] / layout.on.scale};
    if (stacked) {
        layout.pane = {room.x, room.y + heading_height, pane, above_height + h + below_height};
        layout.tables = {room.x + 2, layout.pane.bottom() + 1.5, room.width - 4,
                         room.bottom() - layout.pane.bottom() - 2.5};
    } else {
        layout.pane = {room.x, room.y + heading_height, pane, room.height - heading_height};
        layout.tables = {room.x + pane + 3, room.y + heading_height + 1.5, room.width - pane - 5,
                         room.height - heading_height - 2.5};
    }
    return layout;
}

bool lies_on(const BenchJoint& joint, const BenchWall& wall) {
    return !joint.in_reveal && joint.wall == wall.id && joint.job == wall.job;
}

/// A panel's outline with its notches; where it cannot be cut, as it was drawn.
const Polygon& cut_of(const BenchPanel& panel) { return panel.plan ? panel.plan->front.cut : panel.shape.outline; }

/// Figures of one kind of place share one where they fall together.
void add_figure(std::vector<MarginFigure>& figures, double value, double at, double from, const std::string& of,
                int rank) {
    const std::string words = tenths(value);
    for (auto& one : figures) {
        if (one.words.substr(0, one.bold) != words) continue;
        if (of.empty() || one.words.find(of) != std::string::npos || one.words.size() + of.size() > 17) {
            if (of.empty() || one.words.find(of) != std::string::npos) return;
            continue;
        }
        one.words += ", " + of;
        one.rank = std::min(one.rank, rank);
        return;
    }
    figures.push_back({at, from, of.empty() ? words : words + " " + of, words.size(), rank});
}

class Elevation {
  public:
    Elevation(Sheet& sheet, const Bench& bench, const BenchWall& wall, const Layout& layout)
        : sheet_(sheet), bench_(bench), wall_(wall), layout_(layout), on_(layout.on) {}

    std::size_t draw() {
        draw_bare();
        for (const std::size_t i : wall_.panels) draw_one(bench_.panels[i]);
        for (const auto& opening : wall_.openings) draw_opening(opening);
        for (const auto& fitting : wall_.fittings) draw_fitting(fitting);
        for (const auto& screen : wall_.screens) draw_screen(screen);
        for (const auto& stay : wall_.stays) draw_open(sheet_, on_.at(stay.line), 0.7);
        std::size_t missed = figures();
        missed += names();
        return missed;
    }

  private:
    void draw_bare() {
        const auto points = on_.at(wall_.bare.points);
        draw_closed(sheet_, points, thin);
        const double y = on_.at({0, 0}).y;
        sheet_.line({layout_.wall.x - 4, y}, {layout_.wall.right() + 4, y}, thin, Dash::datum);
    }

    void draw_one(const BenchPanel& panel) {
        std::vector<Vec2> points;
        for (const Vec2 p : cut_of(panel).points) points.push_back(on_.at(p + panel.at));
        sheet_.fill(points, {0.95, 0.95, 0.95});
        draw_closed(sheet_, points, medium);
        for (const auto& opening : panel.shape.openings) {
            if (opening.notch) continue;
            const auto hole = on_.at(rounded_points(moved(opening.shape, panel.at)));
            sheet_.fill(hole, white);
            draw_closed(sheet_, hole, thin);
        }
    }

    void draw_opening(const BenchOpening& opening) {
        sheet_.outline(on_.at(rounded_points(opening.shape)), thin);
        const auto e = extent(opening.shape);
        sheet_.line(on_.at({e[0], e[2]}), on_.at({e[1], e[3]}), 0.13);
        sheet_.line(on_.at({e[0], e[3]}), on_.at({e[1], e[2]}), 0.13);
    }

    void draw_fitting(const BenchFitting& fitting) {
        for (const auto& flange : fitting.flanges) sheet_.outline(on_.at(rounded_points(flange)), 0.13);
        const Vec2 c = on_.at(fitting.at);
        sheet_.line({c.x - 1.5, c.y}, {c.x + 1.5, c.y}, thin);
        sheet_.line({c.x, c.y - 1.5}, {c.x, c.y + 1.5}, thin);
    }

    void draw_screen(const BenchScreen& screen) {
        for (const auto& holder : screen.holders) sheet_.outline(on_.at(rounded_points(holder)), thin);
        sheet_.line(on_.at(screen.bottom), on_.at(screen.top), heavy);
    }

    void across(std::vector<MarginFigure>& figures, double x, const std::string& of, int rank, double from) {
        add_figure(figures, x, on_.at({x, 0}).x, from, of, rank);
        const double y = on_.at({0, 0}).y;
        sheet_.measured({on_.zero.x, y}, {on_.at({x, 0}).x, y}, std::abs(x));
    }

    void up(std::vector<MarginFigure>& figures, double y, const std::string& of, int rank) {
        add_figure(figures, y, on_.at({0, y}).y, layout_.wall.x, of, rank);
        sheet_.measured(on_.zero, {on_.zero.x, on_.at({0, y}).y}, std::abs(y));
    }

    std::size_t figures() {
        std::vector<MarginFigure> below;
        std::vector<MarginFigure> above;
        std::vector<MarginFigure> left;
        const double foot = layout_.wall.bottom();
        const auto& bare = wall_.bare.points;
        across(below, bare[0].x, "bare corner", 0, foot);
        across(below, bare[1].x, "bare corner", 0, foot);
        across(above, bare[3].x, "", 1, layout_.wall.y);
        across(above, bare[2].x, "", 1, layout_.wall.y);
        up(left, 0, "datum", 0);
        for (const auto& stay : wall_.stays) {
            if (stay.line.front().y == stay.line.back().y) up(left, stay.line.front().y, "rim", 1);
        }
        for (const std::size_t i : wall_.panels) panel_figures(bench_.panels[i], below, above, left);
        up(left, bare[3].y, "wall", 1);
        for (const auto& opening : wall_.openings) {
            const auto e = extent(opening.shape);
            for (const double x : {e[0], e[1]}) across(below, x, opening.name, 2, foot);
            for (const double y : {e[2], e[3]}) up(left, y, opening.name, 2);
        }
        for (const auto& fitting : wall_.fittings) {
            across(below, fitting.at.x, fitting.name, 2, foot);
            up(left, fitting.at.y, fitting.name, 2);
        }
        for (const auto& screen : wall_.screens) {
            across(below, screen.bottom.x, screen.name, 2, foot);
            up(left, screen.bottom.y, screen.name, 2);
            up(left, screen.top.y, screen.name, 2);
            for (const Vec2 clamp : screen.clamps) up(left, clamp.y, screen.name + " clamp", 2);
        }
        const Rect& pane = layout_.pane;
        std::size_t missed =
            draw_margin(sheet_, below, {pane.x + 1, foot + 1.5, pane.width - 2, below_height - 2.5}, Margin::below);
        missed +=
            draw_margin(sheet_, above, {pane.x + 1, pane.y + 0.5, pane.width - 2, above_height - 2}, Margin::above);
        return missed +
               draw_margin(sheet_, left,
                           {pane.x + 1, layout_.wall.y - 3, layout_.wall.x - 2 - pane.x - 1, layout_.wall.height + 6},
                           Margin::left);
    }

    /// Both ends of the lower and the upper side, and the levels between which the panel stands.
    void panel_figures(const BenchPanel& panel, std::vector<MarginFigure>& below, std::vector<MarginFigure>& above,
                       std::vector<MarginFigure>& left) {
        for (std::size_t i = 0; i < panel.shape.outline.points.size(); ++i) {
            const Vec2 p = panel.shape.outline.points[i] + panel.at;
            const bool low = panel.shape.outline.points[i].y < panel.height / 2;
            if (low)
                across(below, p.x, "panel", 1, layout_.wall.bottom());
            else
                across(above, p.x, "", 1, layout_.wall.y);
            up(left, p.y, "panel", 1);
        }
    }

    std::size_t names() {
        std::size_t missed = 0;
        NameRoom room{layout_.wall};
        const LetterStyle plain{.size = 2.6, .least = least_text, .stand = Stand::middle};
        for (const std::size_t i : wall_.panels) missed += name_panel(bench_.panels[i]) ? 0 : 1;
        for (const auto& opening : wall_.openings)
            missed += draw_name(sheet_, opening.name, on_.at(opening.shape.centre), room, plain) ? 0 : 1;
        for (const auto& fitting : wall_.fittings)
            missed += draw_name(sheet_, fitting.name, on_.at(fitting.at), room, plain) ? 0 : 1;
        for (const auto& screen : wall_.screens)
            missed += draw_name(sheet_, screen.name, on_.at(0.5 * (screen.bottom + screen.top)), room, plain) ? 0 : 1;
        room.most = 25;
        for (const auto& joint : bench_.joints) {
            if (!lies_on(joint, wall_)) continue;
            const Vec2 spot = on_.at(joint.from + 0.62 * (joint.to - joint.from));
            std::string words = fmt::format("{} {}", tenths(joint.gap), joint.kind == JointKind::join ? "join" : "gap");
            if (joint.at_face > joint.gap + seen_wider) words += fmt::format(", {} at the face", tenths(joint.at_face));
            missed += draw_name(sheet_, words, spot, room, plain) ? 0 : 1;
        }
        return missed;
    }

    /// In the panel, off its openings, where it is not too narrow for its name.
    bool name_panel(const BenchPanel& panel) {
        const LetterStyle plain{.size = 2.6, .least = least_text, .stand = Stand::middle};
        const LetterStyle bold{.size = 3.4, .least = least_text, .bold = true, .stand = Stand::middle};
        const Vec2 middle = on_.at(panel.at + Vec2{panel.width / 2, panel.height / 2});
        const double half = panel.width / 2 / on_.scale;
        NameRoom room{{middle.x - half, layout_.wall.y, 2 * half, layout_.wall.height}, 60, 60};
        for (const auto& opening : panel.shape.openings)
            room.avoid.push_back(around(on_.at(rounded_points(moved(opening.shape, panel.at))), 1));
        if (draw_name(sheet_, panel.id, middle, room, bold) || draw_name(sheet_, panel.id, middle, room, plain))
            return true;
        room.room = layout_.wall;
        return draw_name(sheet_, panel.id, middle, room, plain);
    }

    Sheet& sheet_;
    const Bench& bench_;
    const BenchWall& wall_;
    const Layout& layout_;
    const OnPaper& on_;
};

std::string people(const BenchPanel& panel) {
    return panel.lift.people ? fmt::format("{}", *panel.lift.people) : "more than 2";
}

std::string size_of(const BenchPanel& panel) {
    return fmt::format("{} x {} x {}", tenths(panel.width), tenths(panel.height), tenths(panel.thickness));
}

void say_panels(Flow& flow, const Bench& bench, const BenchWall& wall) {
    flow.heading("Panels, from left to right");
    const auto columns = stretched({{50}, {50}, {18, Align::right}, {6}, {26}}, flow.width());
    flow.row({"panel", "bounding size", "kg", "", "people to lift"}, columns, true);
    for (const std::size_t i : wall.panels) {
        const auto& panel = bench.panels[i];
        flow.row({panel.id, size_of(panel), fmt::format("{:.1f}", panel.mass), "", people(panel)}, columns);
        if (!panel.plan) flow.say("! NOT TO BE CUT AS DRAWN: " + panel.not_cut, true);
    }
}

void say_gaps(Flow& flow, const Bench& bench, const BenchWall& wall) {
    flow.heading("Gaps on this wall, as drawn");
    const auto columns = stretched({{60}, {16, Align::right}, {24, Align::right}, {24, Align::right}}, flow.width());
    flow.row({"", "gap", "length", "needs"}, columns, true);
    for (const auto& joint : bench.joints) {
        if (!lies_on(joint, wall)) continue;
        flow.row({joint.name, tenths(joint.gap), tenths(joint.length),
                  fmt::format("{:.1f}{}", rules::tenth_up(joint.needed), joint.within ? "" : " !")},
                 columns);
        if (joint.at_face > joint.gap + seen_wider)
            flow.say(
                fmt::format("Its edge is cut square: at the face that gap is {} wide. Set by the marks, no spacers.",
                            tenths(joint.at_face)));
        if (joint.paint)
            flow.say(fmt::format("Behind it the wall is painted from {} to {} across, {} to {} up, before bonding.",
                                 tenths(joint.paint->from), tenths(joint.paint->to), tenths(joint.paint->bottom),
                                 tenths(joint.paint->top)));
    }
    flow.say("\"needs\": the width from which the sealant stays within its class; ! the gap drawn is narrower.");
}

/// The same in sentences, where there is little room.
void say_in_short(Flow& flow, Flow& other, const Bench& bench, const BenchWall& wall) {
    flow.heading("Panels, from left to right");
    std::string panels;
    for (const std::size_t i : wall.panels) {
        const auto& panel = bench.panels[i];
        panels += fmt::format("{}{}: {}, {:.1f} kg, {} to lift", panels.empty() ? "" : ";  ", panel.id, size_of(panel),
                              panel.mass, people(panel));
        if (!panel.plan) flow.say("! NOT TO BE CUT AS DRAWN: " + panel.not_cut, true);
    }
    flow.say(panels + ".");
    other.heading("Gaps on this wall, as drawn");
    std::string gaps;
    std::string paint;
    for (const auto& joint : bench.joints) {
        if (!lies_on(joint, wall)) continue;
        gaps += fmt::format(
            "{}{} {}{}{}", gaps.empty() ? "" : ";  ", joint.name, tenths(joint.gap), joint.within ? "" : " !",
            joint.at_face > joint.gap + seen_wider ? fmt::format(" (cut square: {} at the face)", tenths(joint.at_face))
                                                   : "");
        if (joint.paint)
            paint += fmt::format("{}{} to {}", paint.empty() ? "" : ", ", tenths(joint.paint->from),
                                 tenths(joint.paint->to));
    }
    other.say(gaps + ". ! too narrow for the sealant's class: see bench.txt.");
    if (!paint.empty()) flow.say("Before bonding the wall is painted behind the joins: " + paint + " across.");
}

/// What stays, with its levels.
std::string stays_words(const BenchWall& wall) {
    std::string words;
    for (const auto& stay : wall.stays) {
        std::string levels;
        const bool level = stay.line.front().y == stay.line.back().y && stay.line.size() == 2;
        if (level) levels = tenths(stay.line.front().y);
        for (const Vec2 p : stay.line) {
            if (!level) levels += fmt::format("{}{} at {}", levels.empty() ? "" : ", ", tenths(p.y), tenths(p.x));
        }
        words += fmt::format(" {}: {}.", stay.name, levels);
    }
    return words.empty() ? "" : " Heavy, and stays as it is:" + words;
}

void say_key(Flow& flow, const BenchWall& wall, bool in_short) {
    const std::string datum = wall.datum.empty() ? "not said" : wall.datum;
    if (!in_short) flow.heading("How to read it");
    flow.say("Across: from the left bare corner at datum level. Up: from the datum, " + datum +
             ". Figures above: upper ends. " +
             (in_short ? ""
                       : "Grey: panels. White in them: holes and cut-outs, thin around them: flanges. Heavy upright: "
                         "glass, in what holds it. Outermost: the "
                         "bare wall; where a neighbour was lined first, its face covers what lies beyond the gap.") +
             stays_words(wall));
}

/// "wall back", or "back wall, old hatch" where its name says both.
std::string title_of(const BenchWall& wall) {
    const bool id = wall.name.find(wall.id) != std::string::npos;
    const bool word = wall.name.find("wall") != std::string::npos;
    const std::string named = id ? wall.name : wall.name.empty() ? wall.id : fmt::format("{}, {}", wall.id, wall.name);
    return id && word ? named : "wall " + named;
}

}  // namespace

void draw_wall_sheet(Sheet& sheet, const Bench& bench, const BenchWall& wall) {
    const Layout layout = lay_out(bounds_of(bench, wall), {8, 8, 281, 178});
    const auto& job = bench.jobs[wall.job];
    const std::string name = title_of(wall);
    const Rect room = begin_page(sheet, {name, job.name, job.revision, layout.on.scale});
    draw_banner(sheet, fmt::format("ELEVATION OF {}, seen from the front", name),
                {room.x, room.y, room.width, heading_height}, false);
    const std::size_t missed = Elevation(sheet, bench, wall, layout).draw();
    const Rect& tables = layout.tables;
    const bool stacked = tables.y > layout.pane.bottom();
    if (stacked)
        sheet.line({room.x, layout.pane.bottom()}, {room.right(), layout.pane.bottom()}, medium);
    else
        sheet.line({layout.pane.right(), layout.pane.y}, {layout.pane.right(), layout.pane.bottom()}, medium);
    const double column = stacked ? tables.width / 2 - 3 : tables.width;
    Flow flow(sheet, {tables.x, tables.y, column, tables.height});
    if (missed > 0)
        flow.say(fmt::format("{} name{} or figure{} found no room: see the panels' sheets and bench.txt", missed,
                             missed == 1 ? "" : "s", missed == 1 ? "" : "s"),
                 true);
    if (!stacked) {
        say_panels(flow, bench, wall);
        say_gaps(flow, bench, wall);
        for (const auto& words : wall.reveals) flow.say(words);
        say_key(flow, wall, false);
        flow.finish();
        return;
    }
    Flow other(sheet, {tables.x + column + 6, tables.y, column, tables.height});
    say_in_short(flow, other, bench, wall);
    for (const auto& words : wall.reveals) flow.say(words);
    say_key(other, wall, true);
    flow.finish();
    other.finish();
}

}  // namespace standproud::viewer
