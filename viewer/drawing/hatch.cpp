#include "drawing/hatch.hpp"

#include <cairo.h>

#include <algorithm>
#include <cmath>

namespace standproud::viewer {

namespace {

constexpr double hatch_line = 0.13;  // mm, thinner than any line that carries meaning
constexpr double thinnest_pattern = 1.0;
constexpr double along_the_grain = 2.5;  // longer than so many widths: cut along

Rect bounds(const std::vector<Vec2>& outline) {
    Rect box{outline.front().x, outline.front().y, 0, 0};
    double right = box.x;
    double bottom = box.y;
    for (const auto& p : outline) {
        box.x = std::min(box.x, p.x);
        box.y = std::min(box.y, p.y);
        right = std::max(right, p.x);
        bottom = std::max(bottom, p.y);
    }
    box.width = right - box.x;
    box.height = bottom - box.y;
    return box;
}

void stroke(Sheet& sheet, Vec2 from, Vec2 to, double line_width) {
    cairo_t* context = sheet.context();
    cairo_set_source_rgb(context, 0, 0, 0);
    cairo_set_line_width(context, line_width);
    cairo_new_path(context);
    cairo_move_to(context, from.x, from.y);
    cairo_line_to(context, to.x, to.y);
    cairo_stroke(context);
}

/// The part of the line dot(normal, p) = offset inside a convex outline, if any.
std::optional<std::pair<Vec2, Vec2>> chord(const std::vector<Vec2>& outline, Vec2 normal, double offset) {
    std::vector<Vec2> ends;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vec2 a = outline[i];
        const Vec2 b = outline[(i + 1) % outline.size()];
        const double da = dot(normal, a) - offset;
        const double db = dot(normal, b) - offset;
        if ((da <= 0) == (db <= 0)) continue;
        ends.push_back(a + (da / (da - db)) * (b - a));
    }
    if (ends.size() < 2) return std::nullopt;
    return std::pair(ends.front(), ends.back());
}

void dots(Sheet& sheet, const std::vector<Vec2>& outline, const Rect& box) {
    // Rows set off by half a step; the grid is tied to the paper, so that neighbours match.
    constexpr double step = 0.8;
    constexpr double diameter = 0.22;
    const Polygon shape{outline};
    const bool anticlockwise = area(shape) > 0;
    Polygon turned = shape;
    if (!anticlockwise) std::reverse(turned.points.begin(), turned.points.end());
    const auto rows = static_cast<int>(box.height / step) + 2;
    const auto columns = static_cast<int>(box.width / step) + 2;
    const double first_y = std::floor(box.y / step) * step;
    const double first_x = std::floor(box.x / step) * step;
    for (int row = 0; row < rows; ++row) {
        for (int i = 0; i < columns; ++i) {
            const bool odd = static_cast<long>(std::lround(first_y / step) + row) % 2 != 0;
            const Vec2 at{first_x + step * (i + (odd ? 0.5 : 0)), first_y + step * (row + 0.5)};
            const RoundedRect spot = RoundedRect::circle(at, diameter);
            if (margin_inside(spot, turned) >= 0) sheet.dot(at, diameter);
        }
    }
}

/// The diagonal from a to b, as far as it is seen.
void diagonal(Sheet& sheet, const std::vector<Vec2>& outline, Vec2 a, Vec2 b) {
    const double length = norm(b - a);
    if (length < same_length) return;
    const Vec2 normal{(a.y - b.y) / length, (b.x - a.x) / length};
    if (const auto ends = chord(outline, normal, dot(normal, a))) stroke(sheet, ends->first, ends->second, thin);
}

void timber(Sheet& sheet, const std::vector<Vec2>& outline, const Rect& box, const Rect& whole) {
    sheet.fill(outline, {0.97, 0.95, 0.9});
    const bool wide = whole.width > along_the_grain * whole.height;
    if (wide || whole.height > along_the_grain * whole.width) {
        hatch_lines(sheet, outline, wide ? 0 : 90, std::max(1.4, (wide ? box.height : box.width) / 8), hatch_line);
        return;
    }
    diagonal(sheet, outline, {whole.x, whole.y}, {whole.right(), whole.bottom()});
    diagonal(sheet, outline, {whole.right(), whole.y}, {whole.x, whole.bottom()});
}

}  // namespace

Hatch hatch_of(const std::string& layer, bool of_fitting) {
    if (of_fitting) return Hatch::metal;
    if (layer == "frame") return Hatch::frame;
    if (layer == "masonry") return Hatch::masonry;
    if (layer == "board") return Hatch::board;
    if (layer == "membrane") return Hatch::membrane;
    if (layer == "bed") return Hatch::bed;
    if (layer == "panel") return Hatch::panel;
    if (layer == "tray") return Hatch::tray;
    return Hatch::plain;
}

void hatch_lines(Sheet& sheet, const std::vector<Vec2>& outline, double degrees, double spacing, double line_width,
                 double shift) {
    const double angle = degrees * pi / 180;
    const Vec2 normal{std::sin(angle), std::cos(angle)};  // y is down: lines rise to the right
    double least = dot(normal, outline.front());
    double most = least;
    for (const auto& p : outline) {
        least = std::min(least, dot(normal, p));
        most = std::max(most, dot(normal, p));
    }
    // Counted from the paper's origin, so that pieces of one material match across a cut.
    for (double k = std::ceil((least - shift) / spacing); k * spacing + shift < most; ++k) {
        if (const auto ends = chord(outline, normal, k * spacing + shift)) {
            stroke(sheet, ends->first, ends->second, line_width);
        }
    }
}

void fill_hatched(Sheet& sheet, const std::vector<Vec2>& outline, const std::vector<Vec2>& whole, Hatch hatch) {
    if (outline.size() < 3) return;
    const Rect box = bounds(outline);
    const bool too_thin = std::min(box.width, box.height) < thinnest_pattern;
    sheet.fill(outline, white);
    switch (hatch) {
        case Hatch::plain:
            break;
        case Hatch::metal:
            sheet.fill(outline, {0.9, 0.91, 0.93});
            break;
        case Hatch::membrane:
            sheet.fill(outline, {0.15, 0.15, 0.15});
            break;
        case Hatch::frame:
            timber(sheet, outline, box, bounds(whole));
            break;
        case Hatch::masonry:
            hatch_lines(sheet, outline, 45, 3, hatch_line);
            hatch_lines(sheet, outline, 45, 3, hatch_line, 0.7);
            break;
        case Hatch::board:
            if (too_thin) sheet.fill(outline, {0.85, 0.85, 0.85});
            hatch_lines(sheet, outline, 45, 1.3, hatch_line);
            break;
        case Hatch::bed:
            if (too_thin) {
                sheet.fill(outline, {0.7, 0.7, 0.7});
            } else {
                dots(sheet, outline, box);
            }
            break;
        case Hatch::panel:
            if (too_thin) sheet.fill(outline, {0.55, 0.55, 0.55});
            hatch_lines(sheet, outline, -45, 0.8, hatch_line);
            break;
        case Hatch::tray:
            hatch_lines(sheet, outline, 45, 2, hatch_line);
            hatch_lines(sheet, outline, -45, 2, hatch_line);
            break;
    }
}

}  // namespace standproud::viewer
