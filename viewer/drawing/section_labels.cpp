// What is written round the window: dimensions on the left, names on leaders on the right.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "drawing/hatch.hpp"
#include "drawing/section_panes.hpp"

namespace standproud::viewer {

namespace {

/// Distances of the dimension lines from the right side of their pane, mm.
constexpr double judged_column = 8;
constexpr double face_column = 16;
constexpr double seat_column = 24;
constexpr double overshoot = 1;

std::string plus_minus(std::optional<double> tolerance) {
    return tolerance ? " ±" + number(*tolerance) : ", no ± given";
}

std::optional<double> face_tolerance(const SectionDrawing& drawing) {
    double sum = 0;
    for (const auto& layer : drawing.layers) {
        if (!layer.thickness.tolerance) return std::nullopt;
        sum += std::abs(*layer.thickness.tolerance);
    }
    return sum;
}

struct Wanted {
    double x = 0;
    double from = 0;  // n
    double to = 0;
    double value = 0;
    std::string words;
    bool bold = false;
};

bool shows(const View& view, double n) { return n >= view.back && n <= view.front(); }

std::vector<Wanted> wanted_dimensions(const SectionDrawing& drawing, const View& view, const Rect& columns) {
    std::vector<Wanted> wanted;
    if (drawing.judged && drawing.findings[drawing.judged->finding].nominal) {
        const auto& finding = drawing.findings[drawing.judged->finding];
        const double end = drawing.judged->from + drawing.judged->direction * *finding.nominal;
        wanted.push_back({columns.right() - judged_column, drawing.judged->from, end, *finding.nominal,
                          fmt::format("{} {}", finding.quantity, number(*finding.nominal)), true});
    }
    wanted.push_back({columns.right() - face_column, 0, drawing.face, drawing.face,
                      fmt::format("finished face {}{}", number(drawing.face), plus_minus(face_tolerance(drawing))),
                      false});
    if (drawing.seat) {
        wanted.push_back({columns.right() - seat_column, 0, *drawing.seat, std::abs(*drawing.seat),
                          fmt::format("seat {} {} bare face", number(std::abs(*drawing.seat)),
                                      *drawing.seat < 0 ? "behind" : "in front of"),
                          false});
    }
    std::erase_if(wanted, [&](const Wanted& w) { return !shows(view, w.from) || !shows(view, w.to); });
    return wanted;
}

/// u where an extension line starts: the left side of what the fitting has at that depth.
double left_of_fitting(const SectionDrawing& drawing, double n) {
    double left = drawing.u;
    for (const auto& piece : drawing.pieces) {
        const auto e = extent(piece.outline);
        if (piece.of_fitting && n >= e[2] - 1e-6 && n <= e[3] + 1e-6) left = std::min(left, e[0]);
    }
    return left;
}

/// Where the far end of the judged quantity must come to rest: a strip beside its dimension line, and its
/// limits run on to the axis.
void draw_target(Sheet& sheet, const SectionDrawing& drawing, const View& view, double x) {
    const auto& judged = *drawing.judged;
    const auto& finding = drawing.findings[judged.finding];
    if (!finding.need_low && !finding.need_high) return;
    // A limit that may only be not known must not look like room without end.
    const bool one_sided = !finding.need_low || !finding.need_high;
    if (one_sided && finding.verdict == rules::Verdict::unknown) return;
    const auto at = [&](std::optional<double> need, double open) {
        const double n = need ? judged.from + judged.direction * *need : open;
        return view.y(std::clamp(n, view.back, view.front()));
    };
    const double far = judged.direction > 0 ? view.front() : view.back;
    const double a = at(finding.need_low, judged.from);
    const double b = at(finding.need_high, far);
    if (std::abs(a - b) < 0.3) return;
    const Rect strip{x + 1.4, std::min(a, b), 2.6, std::abs(a - b)};
    const std::vector<Vec2> outline{
        {strip.x, strip.y}, {strip.right(), strip.y}, {strip.right(), strip.bottom()}, {strip.x, strip.bottom()}};
    sheet.fill(outline, {0.86, 0.94, 0.9});
    hatch_lines(sheet, outline, 45, 1.6, 0.13);
    hatch_lines(sheet, outline, -45, 1.6, 0.13);
    sheet.frame(strip, thin);
    for (const auto& need : {finding.need_low, finding.need_high}) {
        const double n = need ? judged.from + judged.direction * *need : NAN;
        if (!shows(view, n)) continue;
        sheet.line({strip.right(), view.y(n)}, {view.x(drawing.u), view.y(n)}, thin, Dash::dashed);
    }
    const LetterStyle style{.size = 2.2, .align = Align::centre, .stand = Stand::middle, .upwards = true};
    const double length = sheet.measure("needed", 20, style).x + 0.4;
    for (const double top : {strip.bottom() + 0.6, strip.y - 0.6 - length}) {
        const Rect box{strip.x - 0.3, top, 3.2, length};
        if (!sheet.is_free(box)) continue;
        sheet.text("needed", box, style);
        return;
    }
}

}  // namespace

void draw_dimensions(Sheet& sheet, const SectionDrawing& drawing, const View& view, const Rect& columns) {
    const auto wanted = wanted_dimensions(drawing, view, columns);
    std::map<double, double> reach;  // n -> x that an extension line runs to
    for (const auto& dimension : wanted) {
        for (const double n : {dimension.from, dimension.to}) {
            const auto [place, fresh] = reach.try_emplace(n, dimension.x - overshoot);
            if (!fresh) place->second = std::min(place->second, dimension.x - overshoot);
        }
    }
    for (const double n : {0.0, drawing.face}) reach.try_emplace(n, view.paper.x - 2);
    for (const auto& [n, x] : reach) {
        if (!shows(view, n)) continue;
        const double y = view.y(n);
        if (n == 0 || n == drawing.face) {
            sheet.line({view.paper.x - 1, y}, {view.paper.right() + 3, y}, view.scale < 5 ? heavy : medium,
                       Dash::datum);
            sheet.line({x, y}, {view.paper.x - 1, y}, thin);
        } else {
            sheet.line({x, y}, {std::max(view.paper.x, view.x(left_of_fitting(drawing, n)) - 1), y}, thin);
        }
    }
    if (drawing.judged) draw_target(sheet, drawing, view, columns.right() - judged_column);
    for (const auto& dimension : wanted) {
        sheet.upright_dimension(dimension.x, view.y(dimension.from), view.y(dimension.to), dimension.value,
                                dimension.words, columns.y, columns.bottom(), dimension.bold);
    }
}

namespace {

struct Label {
    Vec2 at;  ///< where the leader starts, on paper
    bool dot = true;
    std::string words;
    bool bold = false;
    double height = 0;
    double y = 0;  ///< top of the text, once placed
};

std::string layer_words(const LayerAtSpot& layer) {
    return fmt::format("{}, {}: {}{}", layer.name, to_string(layer.kind), number(layer.thickness.value),
                       plus_minus(layer.thickness.tolerance));
}

void label_datums(const SectionDrawing& drawing, const View& view, std::vector<Label>& labels) {
    const double x = view.paper.right() + 3;
    if (shows(view, 0)) labels.push_back({{x, view.y(0)}, false, "bare face, n = 0", true});
    if (shows(view, drawing.face)) {
        labels.push_back({{x, view.y(drawing.face)}, false, "finished face, F = " + number(drawing.face), true});
    }
}

/// A point inside a piece near its right end.
Vec2 right_end(const Rect& box) { return {box.right() - std::min(5.0, box.width / 2), box.centre().y}; }

std::optional<Rect> seen(const View& view, const Polygon& outline) {
    const Polygon inside = view.inside(outline);
    if (inside.points.empty()) return std::nullopt;
    const auto e = extent(inside);
    return Rect{view.x(e[0]), view.y(e[2]), (e[1] - e[0]) / view.scale, (e[3] - e[2]) / view.scale};
}

void label_layers(const SectionDrawing& drawing, const View& view, std::vector<Label>& labels) {
    for (const auto& layer : drawing.layers) {
        const double middle = (layer.from + layer.to) / 2;
        if (!shows(view, middle)) continue;
        // Of the pieces of this layer, the one that reaches furthest to the right.
        Vec2 at{view.paper.right() - 2, view.y(middle)};
        double furthest = -1;
        for (const auto& piece : drawing.pieces) {
            const auto e = extent(piece.outline);
            if (piece.of_fitting || piece.layer != to_string(layer.kind)) continue;
            if (middle < e[2] || middle > e[3] || e[3] - e[2] > 1.5 * (layer.to - layer.from) + 1) continue;
            const auto box = seen(view, piece.outline);
            if (!box || box->right() <= furthest) continue;
            furthest = box->right();
            at = right_end(*box);
        }
        labels.push_back({at, true, layer_words(layer), false});
    }
}

/// A depth at which a leader can leave a piece without running along a layer, if there is one.
double clear_of_layers(const SectionDrawing& drawing, const View& view, const Rect& box) {
    const double front_of_wall = view.y(0);
    const double face = view.y(drawing.face);
    const double behind = std::min(box.bottom(), front_of_wall) - box.y;
    const double before = box.bottom() - std::max(box.y, face);
    if (behind > 1 && behind >= before) return box.y + behind / 2;
    if (before > 1) return box.bottom() - before / 2;
    return box.centre().y;
}

/// The depth nearest to `wanted` inside a piece at which no other leader runs, if there is one.
double depth_of_its_own(const std::vector<Label>& labels, const Rect& box, double wanted) {
    const auto taken = [&](double y) {
        return std::any_of(labels.begin(), labels.end(), [&](const auto& l) { return std::abs(l.at.y - y) < 1.2; });
    };
    for (double away = 0; away < box.height; away += 0.3) {
        for (const double y : {wanted + away, wanted - away}) {
            if (y > box.y + 0.5 && y < box.bottom() - 0.5 && !taken(y)) return y;
        }
    }
    return wanted;
}

void label_fitting(const SectionDrawing& drawing, const View& view, std::vector<Label>& labels) {
    std::set<std::string> named;
    for (const auto& piece : drawing.pieces) {
        if (!piece.of_fitting) continue;
        const auto box = seen(view, piece.outline);
        if (!box || !named.insert(piece.layer).second) continue;
        // A short way inside the right-hand side.
        const double x = box->right() - std::min(1.0, box->width / 4);
        const Vec2 at{x, depth_of_its_own(labels, *box, clear_of_layers(drawing, view, *box))};
        labels.push_back({at, true, piece.layer, false});
    }
}

void label_others(const SectionDrawing& drawing, const View& view, std::vector<Label>& labels) {
    std::set<std::string> named;
    for (const auto& piece : drawing.pieces) {
        const Hatch hatch = hatch_of(piece.layer, piece.of_fitting);
        const bool is_layer = hatch == Hatch::board || hatch == Hatch::membrane || hatch == Hatch::bed ||
                              hatch == Hatch::panel || hatch == Hatch::metal;
        if (is_layer) continue;
        const auto box = seen(view, piece.outline);
        if (!box || box->width < 0.5 || box->height < 0.5 || !named.insert(piece.name).second) continue;
        Vec2 at = right_end(*box);
        at.y = depth_of_its_own(labels, *box, at.y);
        labels.push_back({at, true, piece.name, false});
    }
}

constexpr double between_labels = 1;

/// Each as near its own height as the others allow, in order, inside the column. False: not enough room.
bool place_labels(Sheet& sheet, std::vector<Label>& labels, const Rect& column, LetterStyle style) {
    double total = 0;
    for (auto& label : labels) {
        style.bold = label.bold;
        const double line = sheet.measure("Ag", column.width, style).y;
        label.height = std::min(3 * line + 0.1, sheet.measure(label.words, column.width, style).y);
        total += label.height + between_labels;
    }
    if (total > column.height) return false;
    double lowest = column.y;
    for (auto& label : labels) {
        label.y = std::max(lowest, label.at.y - label.height / 2);
        lowest = label.y + label.height + between_labels;
    }
    double highest = column.bottom();
    for (auto label = labels.rbegin(); label != labels.rend(); ++label) {
        label->y = std::min(label->y, highest - label->height);
        highest = label->y - between_labels;
    }
    return true;
}

}  // namespace

void draw_labels(Sheet& sheet, const SectionDrawing& drawing, const View& view, const Rect& column) {
    std::vector<Label> labels;
    label_datums(drawing, view, labels);
    label_layers(drawing, view, labels);
    label_fitting(drawing, view, labels);
    label_others(drawing, view, labels);
    const auto in_order = [](std::vector<Label> some) {
        std::stable_sort(some.begin(), some.end(), [](const auto& a, const auto& b) { return a.at.y < b.at.y; });
        return some;
    };
    LetterStyle style{.size = 2.5, .least = 2.0, .stand = Stand::middle};
    auto placed = in_order(labels);
    while (!labels.empty() && !place_labels(sheet, placed, column, style)) {
        if (style.size > 2.05) {
            style.size = 2.0;
        } else {
            labels.pop_back();  // the last named are what lies about the fitting, not the fitting or a layer
        }
        placed = in_order(labels);
    }
    const double edge = view.paper.right() + 3;
    for (const auto& label : placed) {
        const double middle = label.y + label.height / 2;
        if (label.dot) {
            sheet.dot(label.at, 0.9);
            sheet.line(label.at, {edge, label.at.y}, thin);
        }
        sheet.line({edge, label.at.y}, {column.x - 3, middle}, thin);
        sheet.line({column.x - 3, middle}, {column.x - 0.8, middle}, thin);
        style.bold = label.bold;
        sheet.text(label.words, {column.x, label.y, column.width, label.height}, style);
    }
}

}  // namespace standproud::viewer
