#include "bench_drawing/page.hpp"

#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace standproud::viewer {

namespace {

constexpr double border = 8;
constexpr double upper = 10;  // of the foot: whose sheet it is
constexpr double lower = 6;   // the bar and the caution

void cell(Sheet& sheet, const Rect& box, const std::string& caption, const std::string& words, double size,
          bool bold = false) {
    sheet.frame(box, thin);
    sheet.text(caption, {box.x + 1.2, box.y + 0.5, box.width - 2.4, 2.7},
               {.size = least_text, .least = least_text, .ink = grey});
    sheet.text(words.empty() ? "not given" : words, {box.x + 1.2, box.y + 3.3, box.width - 2.4, box.height - 3.5},
               {.size = size, .least = least_text, .bold = bold, .stand = Stand::middle});
}

/// 50 mm on paper at any scale: it shows whether the print was shrunk.
void draw_bar(Sheet& sheet, double scale, const Rect& box) {
    constexpr double on_paper = 50;
    const double x = box.x + 2;
    const double y = box.centre().y - 0.6;
    for (int i = 0; i < 5; i += 2) {
        const double from = x + i * on_paper / 5;
        sheet.fill({{from, y}, {from + 10, y}, {from + 10, y + 1.2}, {from, y + 1.2}}, black);
    }
    sheet.frame({x, y, on_paper, 1.2}, thin);
    sheet.text(scale == 1 ? std::string("this bar is 50 mm long on a true print")
                          : fmt::format("{:g} mm at 1:{:g}; 50 mm long on a true print", on_paper * scale, scale),
               {x + on_paper + 2, box.y, box.width - on_paper - 5, box.height},
               {.size = 2.5, .least = least_text, .stand = Stand::middle});
}

void draw_foot(Sheet& sheet, const BenchTitle& title, const Rect& box) {
    const double y = box.y;
    cell(sheet, {box.x, y, 118, upper}, "bench", title.what, 4.2, true);
    cell(sheet, {box.x + 118, y, 92, upper}, "job", title.job, 3);
    cell(sheet, {box.x + 210, y, 22, upper}, "revision", title.revision, 3.2, true);
    cell(sheet, {box.x + 232, y, 24, upper}, "scale on A4", fmt::format("1:{:g}", title.scale), 4.2, true);
    cell(sheet, {box.x + 256, y, box.width - 256, upper}, "all lengths in", "millimetres", 3.2);
    const Rect foot{box.x, y + upper, box.width, lower};
    sheet.frame(foot, thin);
    draw_bar(sheet, title.scale, {foot.x, foot.y, 118, foot.height});
    sheet.text(
        "Measure on site before cutting and drilling. Isolate water and power before work. Local codes, the makers' "
        "sheets and a licensed trade come first.",
        {foot.x + 118, foot.y + 0.2, foot.width - 119.5, foot.height - 0.4},
        {.size = 2.3, .least = least_text, .bold = true, .stand = Stand::middle});
}

}  // namespace

Rect begin_page(Sheet& sheet, const BenchTitle& title) {
    sheet.fill({{0, 0}, {Sheet::width, 0}, {Sheet::width, Sheet::height}, {0, Sheet::height}}, white);
    const Rect all{border, border, Sheet::width - 2 * border, Sheet::height - 2 * border};
    const Rect room{all.x, all.y, all.width, all.height - upper - lower};
    draw_foot(sheet, title, {all.x, room.bottom(), all.width, upper + lower});
    sheet.frame(all, heavy);
    sheet.line({all.x, room.bottom()}, {all.right(), room.bottom()}, heavy);
    return room;
}

void draw_banner(Sheet& sheet, const std::string& words, const Rect& box, bool loud) {
    if (loud)
        sheet.fill({{box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}}, black);
    sheet.frame(box, medium);
    sheet.text(words, {box.x + 1.5, box.y + 0.3, box.width - 3, box.height - 0.6},
               {.size = 3.6,
                .least = least_text,
                .bold = true,
                .align = Align::centre,
                .stand = Stand::middle,
                .ink = loud ? white : black});
}

std::string tenths(double value) {
    std::string figure = number(std::round(value * 10) / 10);
    if (figure.ends_with(".0")) figure.resize(figure.size() - 2);
    return figure;
}

std::string letter_of(std::size_t index) {
    std::string letters;
    for (std::size_t left = index + 1; left > 0; left = (left - 1) / 26)
        letters.insert(letters.begin(), static_cast<char>('A' + (left - 1) % 26));
    return letters;
}

std::string runs_of(const std::vector<std::size_t>& items, std::string (*show)(std::size_t)) {
    std::string words;
    for (std::size_t i = 0; i < items.size();) {
        std::size_t last = i;
        while (last + 1 < items.size() && items[last + 1] == items[last] + 1) ++last;
        if (!words.empty()) words += ", ";
        words += show(items[i]);
        if (last > i) words += (last > i + 1 ? " to " : ", ") + show(items[last]);
        i = last + 1;
    }
    return words;
}

std::vector<Vec2> OnPaper::at(const std::vector<Vec2>& points) const {
    std::vector<Vec2> placed;
    for (const Vec2 p : points) placed.push_back(at(p));
    return placed;
}

double usual_scale(double width, double height, double room_width, double room_height) {
    constexpr std::array<double, 9> scales{2, 5, 10, 20, 25, 50, 100, 200, 500};
    for (const double scale : scales) {
        if (width / scale <= room_width && height / scale <= room_height) return scale;
    }
    return scales.back();
}

std::vector<Vec2> rounded_points(const RoundedRect& shape, int to_a_quarter) {
    std::vector<Vec2> points;
    const double a = shape.half_width - shape.radius;
    const double b = shape.half_height - shape.radius;
    constexpr std::array<std::array<double, 2>, 4> signs{{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}}};
    for (std::size_t q = 0; q < 4; ++q) {
        const Vec2 middle = shape.centre + Vec2{signs[q][0] * a, signs[q][1] * b};
        for (int i = 0; i <= to_a_quarter; ++i) {
            const double turn = pi / 2 * (static_cast<double>(q) + static_cast<double>(i) / to_a_quarter);
            points.push_back(middle + shape.radius * Vec2{std::cos(turn), std::sin(turn)});
        }
    }
    return points;
}

void draw_closed(Sheet& sheet, const std::vector<Vec2>& points, double line_width, Dash dash) {
    sheet.outline(points, line_width, black, dash);
    if (dash != Dash::solid || points.empty()) return;
    // Of curves, longer chords are kept.
    constexpr double shortest = 0.5;
    std::size_t last = 0;
    for (std::size_t i = 1; i <= points.size(); ++i) {
        const Vec2 next = points[i % points.size()];
        if (norm(next - points[last]) < shortest && i < points.size()) continue;
        sheet.drawn(points[last], next);
        last = i % points.size();
    }
}

void draw_open(Sheet& sheet, const std::vector<Vec2>& points, double line_width, Dash dash) {
    for (std::size_t i = 0; i + 1 < points.size(); ++i) sheet.line(points[i], points[i + 1], line_width, dash);
}

void draw_curve(Sheet& sheet, const std::vector<Vec2>& points, double line_width) {
    cairo_t* context = sheet.context();
    cairo_set_source_rgb(context, 0, 0, 0);
    cairo_set_line_width(context, line_width);
    cairo_new_path(context);
    for (const Vec2 p : points) cairo_line_to(context, p.x, p.y);
    cairo_stroke(context);
}

namespace {

Vec2 nearest_in(const Rect& box, Vec2 spot) {
    return {std::clamp(spot.x, box.x, box.right()), std::clamp(spot.y, box.y, box.bottom())};
}

struct Search {
    Rect room;
    Vec2 spot;
    Vec2 size;
    double limit = 0;
    bool off_lines = true;
};

std::optional<Rect> search(const Sheet& sheet, const Search& by, const std::vector<Rect>& avoid) {
    const auto& [room, spot, size, limit, off_lines] = by;
    std::optional<Rect> best;
    double least = limit;
    constexpr double step = 0.6;
    const auto good = [&](const Rect& box) {
        if (off_lines && !sheet.is_free(box)) return false;
        const Vec2 end = nearest_in(box, spot);
        return std::none_of(avoid.begin(), avoid.end(), [&](const Rect& other) { return overlap(other, box); }) &&
               std::none_of(sheet.texts().begin(), sheet.texts().end(),
                            [&](const auto& text) { return overlap(text.box, box) || crosses(text.box, spot, end); });
    };
    const double top = std::max(room.y + 0.4, spot.y - limit - size.y);
    const double bottom = std::min(room.bottom() - 0.4, spot.y + limit + size.y);
    const double left = std::max(room.x + 0.4, spot.x - limit - size.x);
    const double right = std::min(room.right() - 0.4, spot.x + limit + size.x);
    for (double y = top; y + size.y <= bottom; y += step) {
        for (double x = left; x + size.x <= right; x += step) {
            const Rect box{x, y, size.x, size.y};
            const double away = norm(nearest_in(box, spot) - spot);
            if (away >= least || !good(box)) continue;
            least = away;
            best = box;
        }
    }
    return best;
}

}  // namespace

std::optional<Rect> free_spot(const Sheet& sheet, const NameRoom& in, Vec2 spot, Vec2 size) {
    const auto off_lines = search(sheet, {in.room, spot, size, std::min(in.most, in.off_lines), true}, in.avoid);
    return off_lines ? off_lines : search(sheet, {in.room, spot, size, in.most, false}, in.avoid);
}

bool draw_name(Sheet& sheet, const std::string& words, Vec2 spot, const NameRoom& in, const LetterStyle& style) {
    LetterStyle smallest = style;
    smallest.size = style.least;
    const Vec2 full = sheet.measure(words, 1000, style);
    const Vec2 least = sheet.measure(words, 1000, smallest);
    const double widest = (style.upwards ? in.room.height : in.room.width) - 2;
    if (least.x + 0.8 > widest) return false;  // never cut short
    const double along = std::min(full.x + 0.8, widest);
    const double across = full.y + 0.1;
    const auto box = free_spot(sheet, in, spot, style.upwards ? Vec2{across, along} : Vec2{along, across});
    if (!box) return false;
    sheet.fill({{box->x, box->y}, {box->right(), box->y}, {box->right(), box->bottom()}, {box->x, box->bottom()}},
               white);
    const Vec2 end = nearest_in(*box, spot);
    if (norm(end - spot) > 3) sheet.line(spot, end, thin);
    if (style.upwards)
        sheet.text(words, {box->x, box->y, box->width, box->height - 0.4}, style);
    else
        sheet.text(words, {box->x + 0.4, box->y, box->width - 0.4, box->height}, style);
    return true;
}

Rect around(const std::vector<Vec2>& points, double by) {
    Rect box{points.front().x, points.front().y, 0, 0};
    double right = box.x;
    double bottom = box.y;
    for (const Vec2 p : points) {
        box.x = std::min(box.x, p.x);
        box.y = std::min(box.y, p.y);
        right = std::max(right, p.x);
        bottom = std::max(bottom, p.y);
    }
    return {box.x - by, box.y - by, right - box.x + 2 * by, bottom - box.y + 2 * by};
}

std::vector<Column> stretched(std::vector<Column> columns, double width) {
    double sum = 0;
    for (const auto& column : columns) sum += column.width;
    for (auto& column : columns) column.width *= width / sum;
    return columns;
}

}  // namespace standproud::viewer
