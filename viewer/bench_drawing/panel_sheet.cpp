#include "bench_drawing/panel_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace standproud::viewer {

namespace {

constexpr double heading_height = 8;
constexpr double below_height = 35;
constexpr double beside_width = 43;
constexpr double right_margin = 7;
constexpr double top_margin = 5;
constexpr double widest_pane = 137;
constexpr double narrowest_pane = 104;
constexpr double between_places = 0.5;  // mm: openings further apart than this have figures of their own

const char* side_word(cutting::EdgeSide side) {
    static constexpr const char* words[] = {"bottom", "right", "top", "left"};
    return words[static_cast<int>(side)];
}

/// Figures that are alike share one: the letters of their openings follow.
struct Alike {
    double place = 0;  ///< mm in the panel
    double farthest = 0;
    cutting::EdgeSide side = cutting::EdgeSide::left;
    std::string figure;
    std::vector<std::size_t> openings;
};

void add_alike(std::vector<Alike>& all, double place, double across, const cutting::FromEdge& from,
               std::size_t opening) {
    const std::string figure = tenths(from.distance);
    for (auto& one : all) {
        if (one.side != from.side || one.figure != figure || std::abs(one.place - place) > between_places) continue;
        if (one.openings.back() != opening) one.openings.push_back(opening);
        one.farthest = std::max(one.farthest, across);
        return;
    }
    all.push_back({place, across, from.side, figure, {opening}});
}

MarginFigure margin_figure(const Alike& one, double at, double from) {
    return {at, from, fmt::format("{} from {}: {}", one.figure, side_word(one.side), runs_of(one.openings, letter_of)),
            one.figure.size(), 1};
}

/// Keeps, for whoever checks the sheet, each distance with both of its ends on paper.
void remember(Sheet& sheet, const PanelFace& face, Vec2 centre, const cutting::FromEdge& from) {
    const auto& outline = face.seen.shape.outline.points;
    const Vec2 start = outline[from.edge];
    const Vec2 along = outline[(from.edge + 1) % outline.size()] - start;
    const Vec2 foot = start + (dot(centre - start, along) / dot(along, along)) * along;
    sheet.measured(face.on.at(foot), face.on.at(centre), from.distance);
}

/// What is sawn off before a notch's corners: dashed; and the holes that round them.
void draw_notch(Sheet& sheet, const PanelFace& face, const cutting::MarkedOpening& notch) {
    draw_closed(sheet,
                face.on.at(rounded_points(
                    RoundedRect::rect(notch.taken.centre, 2 * notch.taken.half_width, 2 * notch.taken.half_height))),
                0.13, Dash::dashed);
    for (const Vec2 corner : notch.corner_holes)
        draw_closed(sheet, face.on.at(rounded_points(RoundedRect::circle(corner, notch.corner_diameter))), 0.13);
}

void draw_opening(Sheet& sheet, const PanelFace& face, const cutting::MarkedOpening& opening) {
    if (opening.seen.notch) {
        draw_notch(sheet, face, opening);
        return;
    }
    const auto points = face.on.at(rounded_points(opening.seen.shape));
    sheet.fill(points, white);
    draw_closed(sheet, points, medium);
    for (const Vec2 corner : opening.corner_holes)
        draw_closed(sheet, face.on.at(rounded_points(RoundedRect::circle(corner, opening.corner_diameter))), 0.13);
    const Vec2 c = face.on.at(opening.seen.shape.centre);
    const double arm =
        std::max(1.2, std::max(opening.seen.shape.half_width, opening.seen.shape.half_height) / face.on.scale + 0.8);
    sheet.line({c.x - arm, c.y}, {c.x + arm, c.y}, 0.13);
    sheet.line({c.x, c.y - arm}, {c.x, c.y + arm}, 0.13);
}

/// The length of an edge, inside the panel along it, where nothing else is written or drawn.
void draw_edge_length(Sheet& sheet, const PanelFace& face, std::size_t index) {
    const auto& edge = face.seen.edges[index];
    const auto& p = face.seen.shape.outline.points;
    const Vec2 a = face.on.at(p[edge.from]);
    const Vec2 b = face.on.at(p[edge.to]);
    sheet.measured(a, b, edge.length);
    const bool upright = edge.side == cutting::EdgeSide::left || edge.side == cutting::EdgeSide::right;
    const LetterStyle style{.size = 3.2,
                            .least = least_text,
                            .bold = true,
                            .align = Align::centre,
                            .stand = Stand::middle,
                            .upwards = upright};
    const std::string words = tenths(edge.length);
    const Vec2 size = sheet.measure(words, 1000, style);
    const Vec2 half = upright ? Vec2{size.y / 2, size.x / 2 + 0.3} : Vec2{size.x / 2 + 0.3, size.y / 2};
    const Vec2 along = (1 / norm(b - a)) * (b - a);
    const Vec2 inward{along.y, -along.x};  // y is down: the outline runs anticlockwise as seen
    const double off = (upright ? half.x : half.y) + 0.9;
    const double most = norm(b - a) / 2;
    std::vector<Rect> avoid;
    for (const auto& opening : face.seen.openings)
        avoid.push_back(around(face.on.at(rounded_points(opening.taken)), 0.3));
    std::optional<Rect> unlined;
    for (double away = 0; away < most; away += 0.5) {
        for (const double way : {1.0, -1.0}) {
            const Vec2 c = 0.5 * (a + b) + (way * away) * along + off * inward;
            const Rect box{c.x - half.x, c.y - half.y, 2 * half.x, 2 * half.y};
            const bool free =
                std::none_of(sheet.texts().begin(), sheet.texts().end(),
                             [&](const auto& text) { return overlap(text.box, box); }) &&
                std::none_of(avoid.begin(), avoid.end(), [&](const Rect& opening) { return overlap(opening, box); });
            if (!free) continue;
            if (!unlined) unlined = box;
            if (!sheet.is_free(box)) continue;
            unlined = box;
            away = most;
            break;
        }
    }
    if (!unlined) return;
    const Rect& r = *unlined;
    sheet.fill({{r.x, r.y}, {r.right(), r.y}, {r.right(), r.bottom()}, {r.x, r.bottom()}}, white);
    sheet.text(words, r, style);
}

/// The corners' numbers, inside the panel.
void draw_corners(Sheet& sheet, const PanelFace& face) {
    const auto& p = face.seen.shape.outline.points;
    const Vec2 middle = face.on.at(centroid(face.seen.shape.outline));
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 c = face.on.at(p[i]);
        const double x = c.x + (middle.x > c.x ? 0.7 : -3.5);
        const double y = c.y + (middle.y > c.y ? 0.6 : -3.8);
        sheet.fill({{x, y}, {x + 2.8, y}, {x + 2.8, y + 3.2}, {x, y + 3.2}}, white);
        sheet.text(fmt::format("{}", i + 1), {x, y, 2.8, 3.2},
                   {.size = least_text, .least = least_text, .align = Align::centre, .stand = Stand::middle});
        sheet.frame({x, y, 2.8, 3.2}, 0.13);
    }
}

void add_tape_figures(const PanelFace& face, std::vector<MarginFigure>& below) {
    if (!face.rear() || !face.panel.bond) return;
    double last = -1;
    for (const auto& strip : face.panel.bond->tape) {
        if (strip.x == last) continue;
        last = strip.x;
        const Vec2 foot = face.see({strip.x, 0});
        const std::string figure = tenths(foot.x);
        below.push_back({face.on.at(foot).x, face.on.at({0, 0}).y, figure + " tape, from left", figure.size(), 2});
    }
}

}  // namespace

std::vector<bond::PaintStrip> paint_beside(const PanelFace& face) {
    std::vector<bond::PaintStrip> strips;
    for (const auto& joint : face.bench.joints) {
        const bool beside = std::find(joint.panels.begin(), joint.panels.end(), face.panel.id) != joint.panels.end();
        if (!beside || !joint.paint || joint.job != face.panel.job) continue;
        auto strip = *joint.paint;
        strip.from -= face.panel.at.x;
        strip.to -= face.panel.at.x;
        strip.bottom -= face.panel.at.y;
        strip.top -= face.panel.at.y;
        strips.push_back(strip);
    }
    return strips;
}

void draw_bond(Sheet& sheet, const PanelFace& face) {
    const OnPaper& on = face.on;
    for (const auto& strip : paint_beside(face)) {
        const Vec2 a = on.at(face.see({strip.from, strip.bottom}));
        const Vec2 b = on.at(face.see({strip.to, strip.top}));
        sheet.outline({{a.x, a.y}, {b.x, a.y}, {b.x, b.y}, {a.x, b.y}}, thin, black, Dash::dashed);
    }
    if (!face.panel.bond) return;
    const double half = figure(face.bench.jobs[face.panel.job].settings, "tape_width") / 2;
    for (const auto& bead : face.panel.bond->beads) {
        std::vector<Vec2> path;
        for (const Vec2 p : bead.path) path.push_back(on.at(face.see(p)));
        draw_curve(sheet, path, 0.25);
    }
    for (const auto& ring : face.panel.bond->rings) {
        std::vector<Vec2> path;
        for (const Vec2 p : rounded_points(ring.path)) path.push_back(on.at(face.see(p)));
        path.push_back(path.front());
        draw_curve(sheet, path, 0.25);
    }
    for (const auto& strip : face.panel.bond->tape) {
        const Vec2 a = on.at(face.see({strip.x - half, strip.from}));
        const Vec2 b = on.at(face.see({strip.x + half, strip.to}));
        sheet.fill({{a.x, a.y}, {b.x, a.y}, {b.x, b.y}, {a.x, b.y}}, {0.7, 0.7, 0.7});
        draw_closed(sheet, {{a.x, a.y}, {b.x, a.y}, {b.x, b.y}, {a.x, b.y}}, 0.13);
    }
    for (const double x : face.panel.bond->spacers) {
        const Vec2 tip = on.at(face.see({x, 0}));
        sheet.fill({tip, {tip.x + 1, tip.y + 1.7}, {tip.x - 1, tip.y + 1.7}}, black);
    }
}

/// Where the panel and what is beside it lie.
struct Layout {
    OnPaper on;
    Rect pane;
    Rect tables;
    Rect below;
    Rect beside;
    Rect panel;
};

std::size_t draw_panel(Sheet& sheet, const PanelFace& face, const Layout& layout) {
    const Rect& panel = layout.panel;
    draw_closed(sheet, face.on.at(face.seen.cut.points), heavy);
    if (face.rear()) draw_bond(sheet, face);
    std::vector<Alike> across;
    std::vector<Alike> up;
    for (std::size_t i = 0; i < face.seen.openings.size(); ++i) {
        const auto& opening = face.seen.openings[i];
        std::vector<cutting::MarkedPoint> marked = opening.inside;
        if (!opening.seen.notch) marked.push_back({opening.seen.shape.centre, opening.across, opening.up});
        for (const auto& [c, from_side, from_level] : marked) {
            add_alike(across, c.x, c.y, from_side, i);
            add_alike(up, c.y, c.x, from_level, i);
            remember(sheet, face, c, from_side);
            remember(sheet, face, c, from_level);
        }
    }
    std::vector<MarginFigure> low;
    std::vector<MarginFigure> left;
    for (const auto& one : across)
        low.push_back(margin_figure(one, face.on.at({one.place, 0}).x, face.on.at({0, one.farthest}).y));
    for (const auto& one : up)
        left.push_back(margin_figure(one, face.on.at({0, one.place}).y, face.on.at({one.farthest, 0}).x));
    add_tape_figures(face, low);
    std::size_t missed = draw_margin(sheet, low, layout.below, Margin::below);
    missed += draw_margin(sheet, left, layout.beside, Margin::left);
    for (const auto& opening : face.seen.openings) draw_opening(sheet, face, opening);
    draw_corners(sheet, face);
    const LetterStyle style{.size = 3, .least = least_text, .bold = true, .stand = Stand::middle};
    for (std::size_t i = 0; i < face.seen.openings.size(); ++i) {
        const auto& shape = face.seen.openings[i].taken;
        const Vec2 spot = face.on.at(shape.centre);
        const std::string letter = letter_of(i);
        std::string words = letter;
        if (!face.rear() && shape.is_circle()) words += fmt::format(" \u00d8{}", tenths(2 * shape.radius));
        if (!face.rear() && !shape.is_circle())
            words += fmt::format(" {} x {}", tenths(2 * shape.half_width), tenths(2 * shape.half_height));
        // In a large cut-out there is room for its name without crossing the panel's edge.
        const Vec2 head = face.on.at({shape.centre.x - shape.half_width, shape.centre.y + shape.half_height});
        const Vec2 foot = face.on.at({shape.centre.x + shape.half_width, shape.centre.y - shape.half_height});
        const Rect inside{head.x + 0.5, head.y + 0.5, foot.x - head.x - 1, foot.y - head.y - 1};
        if (draw_name(sheet, words, spot, {inside, 16}, style)) continue;
        if (face.seen.openings[i].seen.notch && draw_name(sheet, letter, spot, {inside, 16}, style)) continue;
        // Beside it the name would lie over its edge: above or below it, within the panel.
        const auto band = [&](double y) { return Rect{panel.x + 1, y, panel.width - 2, 5}; };
        const bool wide = !shape.is_circle() && inside.width > 8;
        if (wide && (draw_name(sheet, words, {spot.x, head.y - 3}, {band(head.y - 5.5), 16}, style) ||
                     draw_name(sheet, words, {spot.x, foot.y + 3}, {band(foot.y + 0.5), 16}, style)))
            continue;
        if (!draw_name(sheet, words, spot, {layout.pane, 16}, style) &&
            !draw_name(sheet, letter, spot, {layout.pane}, style))
            ++missed;
    }
    for (std::size_t i = 0; i < face.seen.edges.size(); ++i) draw_edge_length(sheet, face, i);
    return missed;
}

namespace {

Layout lay_out(const Rect& room, double width, double height) {
    Layout layout;
    const double tall = room.height - heading_height - top_margin - below_height;
    layout.on.scale = usual_scale(width, height, widest_pane - beside_width - right_margin, tall);
    const double w = width / layout.on.scale;
    const double h = height / layout.on.scale;
    const double pane = std::clamp(beside_width + w + right_margin, narrowest_pane, widest_pane);
    layout.pane = {room.x, room.y + heading_height, pane, room.height - heading_height};
    layout.tables = {room.x + pane + 3, room.y + heading_height + 1.5, room.width - pane - 5,
                     room.height - heading_height - 2.5};
    const double x = room.x + beside_width + (pane - beside_width - right_margin - w) / 2;
    const double y = layout.pane.y + top_margin;
    layout.panel = {x, y, w, h};
    layout.on.zero = {x, y + h};
    const double under = std::min(room.bottom() - 1.0, y + h + 2 + below_height) - (y + h + 2);
    layout.below = {room.x + 1, y + h + 2, pane - 2, under};
    layout.beside = {room.x + 1, y - 2, x - 1.5 - room.x, h + 4};
    return layout;
}

BenchTitle title_of(const Bench& bench, const BenchPanel& panel, const char* face, double scale) {
    const auto& job = bench.jobs[panel.job];
    return {fmt::format("panel {}, {}", panel.id, face), job.name, job.revision, scale};
}

}  // namespace

void draw_panel_sheet(Sheet& sheet, const Bench& bench, const BenchPanel& panel, cutting::Face side) {
    const bool rear = side == cutting::Face::rear;
    const auto& seen = rear ? panel.plan->rear : panel.plan->front;
    Rect room{8, 8, 281, 178};
    const Layout layout = lay_out(room, panel.width, panel.height);
    room = begin_page(sheet, title_of(bench, panel, rear ? "REAR, mirrored" : "front", layout.on.scale));
    draw_banner(sheet,
                rear ? fmt::format("REAR FACE OF {} - MIRRORED: LEFT AND RIGHT ARE SWAPPED", panel.id)
                     : fmt::format("FRONT FACE OF {}, as it is seen from {}", panel.id,
                                   panel.in_reveal ? "inside the opening" : "the room"),
                {room.x, room.y, room.width, heading_height}, rear);
    const PanelFace face{bench, panel, seen, layout.on};
    const std::size_t missed = draw_panel(sheet, face, layout);
    Rect tables = layout.tables;
    sheet.line({tables.x - 1.5, layout.pane.y}, {tables.x - 1.5, layout.pane.bottom()}, medium);
    if (missed > 0) {
        sheet.text(fmt::format("{} figure{} found no room on the drawing: see the tables and bench.txt", missed,
                               missed == 1 ? "" : "s"),
                   {tables.x, tables.y, tables.width, 4}, {.size = 2.7, .least = least_text, .bold = true});
        tables.y += 4.5;
        tables.height -= 4.5;
    }
    draw_panel_tables(sheet, face, tables);
}

void draw_refused_panel(Sheet& sheet, const Bench& bench, const BenchPanel& panel) {
    Rect room{8, 8, 281, 178};
    Layout layout = lay_out(room, panel.width, panel.height);
    room = begin_page(sheet, title_of(bench, panel, "not to be cut", layout.on.scale));
    draw_banner(sheet, fmt::format("{}: NOT TO BE CUT AS DRAWN", panel.id),
                {room.x, room.y, room.width, heading_height}, true);
    draw_closed(sheet, layout.on.at(panel.shape.outline.points), medium, Dash::dashed);
    const LetterStyle style{.size = 3, .least = least_text, .bold = true, .stand = Stand::middle};
    for (const auto& opening : panel.shape.openings) {
        draw_closed(sheet, layout.on.at(rounded_points(opening.shape)), medium, Dash::dashed);
        (void)draw_name(sheet, opening.name, layout.on.at(opening.shape.centre), {layout.pane}, style);
    }
    Flow flow(sheet, layout.tables);
    flow.heading("Not to be cut as drawn");
    flow.say(panel.not_cut);
    flow.say(fmt::format("Bounding size {} x {} x {}. Put the job right, then work the bench out again.",
                         tenths(panel.width), tenths(panel.height), tenths(panel.thickness)));
    flow.finish();
}

}  // namespace standproud::viewer
