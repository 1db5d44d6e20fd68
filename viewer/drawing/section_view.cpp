// The window on the wall: its scale, and the cut pieces with their hatches, outlines and break lines.
#include <cairo.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>

#include "drawing/hatch.hpp"
#include "drawing/section_panes.hpp"

namespace standproud::viewer {

namespace {

constexpr double margin = 4;           // mm of paper kept free round what must be seen
constexpr double framing_shown = 15;   // mm of framing that is always seen behind the bare face
constexpr double beside = 25;          // mm of wall on either side of the axis that is always seen
constexpr double far_from_wall = 600;  // mm; nothing judged lies further from the bare face
constexpr std::array<double, 4> scales{1, 2, 5, 10};

struct Needed {
    double back = -framing_shown;
    double front = 0;
    double left = 0;
    double right = 0;
};

void take_in(Needed& needed, double n) {
    if (!std::isfinite(n) || std::abs(n) > far_from_wall) return;
    needed.back = std::min(needed.back, n);
    needed.front = std::max(needed.front, n);
}

/// The extent that must be seen, at true size.
Needed needed_by(const SectionDrawing& drawing) {
    Needed needed;
    needed.left = drawing.u - beside;
    needed.right = drawing.u + beside;
    take_in(needed, drawing.face);
    if (drawing.seat) take_in(needed, *drawing.seat);
    for (const auto& layer : drawing.layers) take_in(needed, layer.to);
    if (drawing.judged) {
        const auto& finding = drawing.findings[drawing.judged->finding];
        for (const auto& q : {finding.nominal, finding.need_low, finding.need_high}) {
            if (q) take_in(needed, drawing.judged->from + drawing.judged->direction * *q);
        }
    }
    for (const auto& piece : drawing.pieces) {
        if (!piece.of_fitting) continue;
        const auto e = extent(piece.outline);
        take_in(needed, e[2]);
        take_in(needed, e[3]);
        if (drawing.one_of_several) continue;
        needed.left = std::min(needed.left, e[0]);
        needed.right = std::max(needed.right, e[1]);
    }
    return needed;
}

bool is_behind(const SectionPiece& piece) { return piece.layer == "frame" || piece.layer == "masonry"; }

/// The back of the framing that crosses the window.
double framing_back(const SectionDrawing& drawing, double left, double right) {
    double back = 0;
    for (const auto& piece : drawing.pieces) {
        const auto e = extent(piece.outline);
        if (is_behind(piece) && e[1] > left && e[0] < right) back = std::min(back, e[2]);
    }
    return back;
}

}  // namespace

std::vector<Vec2> View::on_paper(const Polygon& outline) const {
    std::vector<Vec2> points;
    for (const auto& p : outline.points) points.push_back({x(p.x), y(p.y)});
    return points;
}

Polygon View::inside(const Polygon& outline) const {
    Polygon kept = outline;
    kept = clipped(kept, {1, 0}, left);
    if (kept.points.size() > 2) kept = clipped(kept, {-1, 0}, -right());
    if (kept.points.size() > 2) kept = clipped(kept, {0, 1}, back);
    if (kept.points.size() > 2) kept = clipped(kept, {0, -1}, -front());
    return kept.points.size() > 2 ? kept : Polygon{};
}

View choose_view(const SectionDrawing& drawing, const Rect& room) {
    const Needed needed = needed_by(drawing);
    const auto fits = [&](double scale) {
        return (needed.front - needed.back) / scale + 2 * margin <= room.height &&
               (needed.right - needed.left) / scale + 2 * margin <= room.width;
    };
    const auto found = std::find_if(scales.begin(), scales.end(), fits);
    View view;
    view.cropped = found == scales.end();
    view.scale = view.cropped ? scales.back() : *found;
    view.left = (view.cropped ? drawing.u : (needed.left + needed.right) / 2) - room.width / 2 * view.scale;

    double front = needed.front + margin * view.scale;
    double back = needed.back - margin * view.scale;
    const double most = room.height * view.scale;
    if (front - back > most) {  // show what is at the finished face
        back = std::max(back, drawing.face - 0.6 * most);
        front = back + most;
    } else {
        // Spare paper goes to the framing, back to its far side.
        const double wanted = framing_back(drawing, view.left, view.left + room.width * view.scale) - 3 * view.scale;
        back = std::max(std::min(back, wanted), front - most);
    }
    view.back = back;
    const double height = (front - back) / view.scale;
    view.paper = {room.x, room.y + (room.height - height) / 2, room.width, height};
    return view;
}

namespace {

bool on_border(const View& view, Vec2 a, Vec2 b) {
    const auto same = [](double p, double q) { return std::abs(p - q) < 1e-6; };
    const Rect& box = view.paper;
    return (same(a.x, b.x) && (same(a.x, box.x) || same(a.x, box.right()))) ||
           (same(a.y, b.y) && (same(a.y, box.y) || same(a.y, box.bottom())));
}

/// The edges of an outline, without those where the window cuts it.
void stroke_edges(Sheet& sheet, const View& view, const std::vector<Vec2>& outline, double line_width, Ink ink) {
    cairo_t* context = sheet.context();
    cairo_save(context);
    cairo_set_source_rgb(context, ink.red, ink.green, ink.blue);
    cairo_set_line_width(context, line_width);
    cairo_set_line_cap(context, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
    cairo_new_path(context);
    bool cut = false;
    bool started = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vec2 a = outline[i];
        const Vec2 b = outline[(i + 1) % outline.size()];
        if (on_border(view, a, b)) {
            cut = true;
            started = false;
            continue;
        }
        if (!started) cairo_move_to(context, a.x, a.y);
        started = true;
        cairo_line_to(context, b.x, b.y);
    }
    if (!cut) cairo_close_path(context);
    cairo_stroke(context);
    cairo_restore(context);
}

/// What lies on top of what: the spindle last, since its end is what is judged.
int depth_order(const SectionPiece& piece) {
    static const std::map<std::string, int> own{{"body", 5},    {"flange", 7}, {"handle", 8},
                                                {"spindle", 9}, {"tail", 9},   {"screw", 9}};
    static const std::map<std::string, int> building{{"frame", 0}, {"masonry", 1}, {"board", 2}, {"membrane", 2},
                                                     {"bed", 2},   {"panel", 2},   {"tray", 3}};
    if (piece.of_fitting) {
        const auto found = own.find(piece.layer);
        return found == own.end() ? 6 : found->second;
    }
    const auto found = building.find(piece.layer);
    return found == building.end() ? 4 : found->second;
}

struct Group {
    int order = 0;
    bool of_fitting = false;
    std::string layer;
    std::vector<std::vector<Vec2>> outlines;  ///< what is seen
    std::vector<std::vector<Vec2>> whole;     ///< of each, with what the window cuts off
};

/// Pieces of one thing, drawn as one: a thick line round each, then all of them filled, leaves the line
/// round the whole and none at the seams.
void draw_as_one(Sheet& sheet, const View& view, const Group& group, Hatch hatch, double line_width) {
    for (const auto& outline : group.outlines) stroke_edges(sheet, view, outline, 2 * line_width, black);
    for (const auto& outline : group.outlines) {
        sheet.fill(outline, white);
        if (group.outlines.size() > 1 && hatch == Hatch::masonry) stroke_edges(sheet, view, outline, 0.05, white);
    }
    for (std::size_t i = 0; i < group.outlines.size(); ++i) {
        fill_hatched(sheet, group.outlines[i], group.whole[i], hatch);
    }
}

std::vector<Group> grouped(const SectionDrawing& drawing, const View& view) {
    std::vector<Group> groups;
    for (const auto& piece : drawing.pieces) {
        const Polygon inside = view.inside(piece.outline);
        if (inside.points.empty()) continue;
        const bool joins = piece.of_fitting || piece.layer == "masonry";
        const auto same = std::find_if(groups.begin(), groups.end(), [&](const Group& g) {
            return joins && g.layer == piece.layer && g.of_fitting == piece.of_fitting;
        });
        Group& group = same != groups.end()
                           ? *same
                           : groups.emplace_back(Group{depth_order(piece), piece.of_fitting, piece.layer, {}, {}});
        group.outlines.push_back(view.on_paper(inside));
        group.whole.push_back(view.on_paper(piece.outline));
    }
    std::stable_sort(groups.begin(), groups.end(), [](const Group& a, const Group& b) { return a.order < b.order; });
    return groups;
}

/// A thin line with a zigzag in its middle, where things run on beyond the window.
void break_line(Sheet& sheet, Vec2 from, Vec2 to) {
    const double length = norm(to - from);
    const Vec2 along = (1 / length) * (to - from);
    const Vec2 side{-along.y, along.x};
    const Vec2 middle = 0.5 * (from + to);
    const std::array<Vec2, 6> points{from,
                                     middle - 1.2 * along,
                                     middle - 0.5 * along + 0.9 * side,
                                     middle + 0.5 * along - 0.9 * side,
                                     middle + 1.2 * along,
                                     to};
    for (std::size_t i = 0; i + 1 < points.size(); ++i) sheet.line(points[i], points[i + 1], thin);
}

using Spans = std::vector<std::pair<double, double>>;

void break_side(Sheet& sheet, Spans spans, const std::function<Vec2(double)>& at) {
    constexpr double overrun = 1.2;
    std::sort(spans.begin(), spans.end());
    Spans merged;
    for (const auto& span : spans) {
        if (!merged.empty() && span.first < merged.back().second + 2 * overrun + 0.5) {
            merged.back().second = std::max(merged.back().second, span.second);
        } else {
            merged.push_back(span);
        }
    }
    for (const auto& [from, to] : merged) break_line(sheet, at(from - overrun), at(to + overrun));
}

void draw_breaks(Sheet& sheet, const View& view, const std::vector<Group>& groups) {
    std::array<Spans, 4> cut;  // left, right, top, bottom
    const Rect& box = view.paper;
    for (const auto& group : groups) {
        for (const auto& outline : group.outlines) {
            for (std::size_t i = 0; i < outline.size(); ++i) {
                const Vec2 a = outline[i];
                const Vec2 b = outline[(i + 1) % outline.size()];
                if (!on_border(view, a, b)) continue;
                const bool upright = std::abs(a.x - b.x) < 1e-6;
                const bool first = upright ? std::abs(a.x - box.x) < 1e-6 : std::abs(a.y - box.y) < 1e-6;
                const std::pair<double, double> span = upright ? std::minmax(a.y, b.y) : std::minmax(a.x, b.x);
                cut[static_cast<std::size_t>((upright ? 0 : 2) + (first ? 0 : 1))].push_back(span);
            }
        }
    }
    break_side(sheet, cut[0], [&](double y) { return Vec2{box.x, y}; });
    break_side(sheet, cut[1], [&](double y) { return Vec2{box.right(), y}; });
    break_side(sheet, cut[2], [&](double x) { return Vec2{x, box.y}; });
    break_side(sheet, cut[3], [&](double x) { return Vec2{x, box.bottom()}; });
}

}  // namespace

void draw_pieces(Sheet& sheet, const SectionDrawing& drawing, const View& view) {
    const auto groups = grouped(drawing, view);
    cairo_save(sheet.context());
    cairo_rectangle(sheet.context(), view.paper.x, view.paper.y, view.paper.width, view.paper.height);
    cairo_clip(sheet.context());
    for (const auto& group : groups) {
        const Hatch hatch = hatch_of(group.layer, group.of_fitting);
        if (group.of_fitting || group.layer == "masonry") {
            draw_as_one(sheet, view, group, hatch, group.of_fitting ? heavy : medium);
            continue;
        }
        for (std::size_t i = 0; i < group.outlines.size(); ++i) {
            fill_hatched(sheet, group.outlines[i], group.whole[i], hatch);
            stroke_edges(sheet, view, group.outlines[i], group.order == 4 ? thin : medium,
                         group.order == 4 ? grey : black);
        }
    }
    cairo_restore(sheet.context());
    draw_breaks(sheet, view, groups);
    const double x = view.x(drawing.u);
    sheet.line({x, view.paper.y - 3}, {x, view.paper.bottom() + 3}, thin, Dash::centre);
}

}  // namespace standproud::viewer
