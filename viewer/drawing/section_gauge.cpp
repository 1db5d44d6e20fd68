// The verdict in a word and a shape, and the gauge: what is needed, what comes out, how wide the bands are.
#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "drawing/hatch.hpp"
#include "drawing/section_panes.hpp"

namespace standproud::viewer {

namespace {

using rules::Finding;
using rules::Verdict;

// Colours that stay apart for colour-blind eyes (Okabe and Ito); they only help, the shapes say it.
constexpr Ink green{0, 0.62, 0.45};
constexpr Ink orange{0.9, 0.62, 0};
constexpr Ink vermilion{0.84, 0.37, 0};
constexpr Ink blue{0, 0.45, 0.7};

constexpr double label_width = 32;
constexpr double value_width = 29;
constexpr double row_pitch = 6.4;
constexpr double bar_height = 4;

void strokes(Sheet& sheet, const std::vector<Vec2>& points, double line_width, Ink ink) {
    cairo_t* context = sheet.context();
    cairo_set_source_rgb(context, ink.red, ink.green, ink.blue);
    cairo_set_line_width(context, line_width);
    cairo_new_path(context);
    for (const auto& p : points) cairo_line_to(context, p.x, p.y);
    cairo_stroke(context);
}

void ring(Sheet& sheet, Vec2 centre, double radius, double line_width, Ink ink) {
    cairo_t* context = sheet.context();
    cairo_set_source_rgb(context, ink.red, ink.green, ink.blue);
    cairo_set_line_width(context, line_width);
    cairo_new_path(context);
    cairo_arc(context, centre.x, centre.y, radius, 0, 2 * pi);
    cairo_stroke(context);
}

/// The hook of a question mark, drawn, so that it is a shape and not text.
void hook(Sheet& sheet, Vec2 c, double size) {
    cairo_t* context = sheet.context();
    cairo_set_source_rgb(context, 0, 0, 0);
    cairo_set_line_width(context, size * 0.09);
    cairo_new_path(context);
    cairo_arc(context, c.x, c.y - size * 0.12, size * 0.12, pi, 2.5 * pi);
    cairo_line_to(context, c.x, c.y + size * 0.1);
    cairo_stroke(context);
    sheet.dot({c.x, c.y + size * 0.22}, size * 0.1);
}

}  // namespace

std::string verdict_word(Verdict verdict) {
    switch (verdict) {
        case Verdict::clear:
            return "CLEAR";
        case Verdict::tight:
            return "TIGHT";
        case Verdict::fails:
            return "FAILS";
        case Verdict::unknown:
            return "UNKNOWN";
    }
    return {};
}

void draw_symbol(Sheet& sheet, Verdict verdict, const Rect& box) {
    const double s = box.width;
    const auto at = [&](double x, double y) { return Vec2{box.x + s * x, box.y + s * y}; };
    const double line_width = s * 0.08;
    switch (verdict) {
        case Verdict::clear:
            ring(sheet, at(0.5, 0.5), s * 0.46, line_width, green);
            strokes(sheet, {at(0.27, 0.52), at(0.44, 0.7), at(0.74, 0.32)}, s * 0.11, black);
            break;
        case Verdict::tight:
            sheet.outline({at(0.5, 0.06), at(0.96, 0.93), at(0.04, 0.93)}, line_width, orange);
            strokes(sheet, {at(0.5, 0.35), at(0.5, 0.66)}, s * 0.1, black);
            sheet.dot(at(0.5, 0.79), s * 0.11);
            break;
        case Verdict::fails:
            sheet.fill({at(0, 0), at(1, 0), at(1, 1), at(0, 1)}, vermilion);
            sheet.outline({at(0, 0), at(1, 0), at(1, 1), at(0, 1)}, line_width, black);
            strokes(sheet, {at(0.24, 0.24), at(0.76, 0.76)}, s * 0.15, white);
            strokes(sheet, {at(0.76, 0.24), at(0.24, 0.76)}, s * 0.15, white);
            break;
        case Verdict::unknown:
            sheet.outline({at(0.5, 0), at(1, 0.5), at(0.5, 1), at(0, 0.5)}, line_width, blue, Dash::dashed);
            hook(sheet, at(0.5, 0.5), s);
            break;
    }
}

const Finding* main_finding(const SectionDrawing& drawing) {
    const auto reach = std::find_if(drawing.findings.begin(), drawing.findings.end(),
                                    [](const auto& f) { return f.rule.rfind("reach.", 0) == 0; });
    if (reach != drawing.findings.end()) return &*reach;
    return drawing.findings.empty() ? nullptr : &drawing.findings.front();
}

namespace {

/// Millimetres of the quantity along the gauge.
struct Axis {
    double low = 0;
    double high = 1;
    double step = 1;
    double left = 0;
    double right = 0;

    [[nodiscard]] double x(double value) const {
        return left + (std::clamp(value, low, high) - low) / (high - low) * (right - left);
    }
};

double round_step(double raw) {
    const double decade = std::pow(10, std::floor(std::log10(raw)));
    for (const double k : {1.0, 2.0, 5.0}) {
        if (k * decade >= raw * (1 - 1e-9)) return k * decade;
    }
    return 10 * decade;
}

std::optional<Axis> axis_for(const Finding& finding, double left, double right) {
    std::vector<double> values;
    for (const auto& v : {finding.nominal, finding.low, finding.high, finding.worst_low, finding.worst_high,
                          finding.statistical_low, finding.statistical_high, finding.need_low, finding.need_high}) {
        if (v && std::isfinite(*v)) values.push_back(*v);
    }
    if (values.empty()) return std::nullopt;
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    // Never so short a gauge that its ends cannot be told apart.
    const double span = std::max({*most - *least, 2.0, 1e-6 * std::abs(*most), 1e-6 * std::abs(*least)});
    const double middle = *least / 2 + *most / 2;
    return Axis{middle - 0.6 * span, middle + 0.6 * span, round_step(1.2 * span / 7), left, right};
}

void draw_ticks(Sheet& sheet, const Axis& axis, double y, const std::string& unit) {
    sheet.line({axis.left, y}, {axis.right, y}, medium);
    const double pitch = axis.step / (axis.high - axis.low) * (axis.right - axis.left);
    const double first = std::ceil(axis.low / axis.step);
    for (int i = 0; i < 12 && (first + i) * axis.step <= axis.high; ++i) {
        const double value = (first + i) * axis.step;
        const double x = axis.x(value);
        sheet.line({x, y}, {x, y + 1.3}, thin);
        // Not into the next label, nor into what stands beside the axis.
        const double half = std::min({(pitch - 0.6) / 2, 8.0, x - axis.left + 1.5, axis.right + 8 - x});
        std::string words = fmt::format("{:.6g}", std::abs(value));
        if (value < 0 && words != "0") words.insert(0, "\u2212");
        sheet.text(words, {x - half, y + 1.6, 2 * half, 3.4}, {.size = 2.3, .least = 1.6, .align = Align::centre});
    }
    sheet.text(unit, {axis.right + 9.5, y + 1.6, value_width - 10, 3.4}, {.size = 2.3});
}

std::vector<Vec2> corners(double left, double right, double top, double bottom) {
    return {{left, top}, {right, top}, {right, bottom}, {left, bottom}};
}

/// A bar over low..high; what lies outside the need is densely hatched.
void draw_band(Sheet& sheet, const Axis& axis, const Finding& finding, double low, double high, double y,
               double thickness) {
    const double top = y - thickness / 2;
    const double bottom = y + thickness / 2;
    const double left = axis.x(low);
    const double right = std::max(axis.x(high), left + 0.3);
    sheet.fill(corners(left, right, top, bottom), {0.87, 0.87, 0.87});
    const auto outside = [&](double from, double to) {
        if (to - from < 0.05) return;
        sheet.fill(corners(from, to, top, bottom), white);
        hatch_lines(sheet, corners(from, to, top, bottom), 45, 0.7, 0.3);
    };
    if (finding.need_low) outside(left, std::min(right, axis.x(*finding.need_low)));
    if (finding.need_high) outside(std::max(left, axis.x(*finding.need_high)), right);
    sheet.outline(corners(left, right, top, bottom), medium);
}

void draw_need(Sheet& sheet, const Axis& axis, const Finding& finding, double y, double down_to) {
    const double left = finding.need_low ? axis.x(*finding.need_low) : axis.left;
    const double right = finding.need_high ? axis.x(*finding.need_high) : axis.right;
    const auto band = corners(std::min(left, right), std::max(left, right), y - bar_height / 2, y + bar_height / 2);
    sheet.fill(band, {0.86, 0.94, 0.9});
    hatch_lines(sheet, band, 45, 1.6, 0.13);
    hatch_lines(sheet, band, -45, 1.6, 0.13);
    sheet.outline(band, heavy);
    // The limits run down past the bars, so that the eye sees what sticks out.
    if (finding.need_low) sheet.line({left, y + bar_height / 2}, {left, down_to}, medium, Dash::dashed);
    if (finding.need_high) sheet.line({right, y + bar_height / 2}, {right, down_to}, medium, Dash::dashed);
    // Without a limit on one side it runs on; where the limit is perhaps only not known, no arrow says so.
    if (finding.verdict == Verdict::unknown) return;
    constexpr double beyond = 2.2;
    if (!finding.need_low) sheet.arrow({axis.left - beyond, y}, {-1, 0});
    if (!finding.need_high) sheet.arrow({axis.right + beyond, y}, {1, 0});
}

std::string range_words(std::optional<double> low, std::optional<double> high) {
    if (low && high) return fmt::format("{} to {}", number(*low), number(*high));
    if (low) return "at least " + number(*low);
    if (high) return "at most " + number(*high);
    return "not known";
}

void row_text(Sheet& sheet, const Rect& pane, double y, const std::string& name, const std::string& value, bool bold) {
    const LetterStyle style{.size = 2.5, .least = 1.9, .bold = bold, .stand = Stand::middle};
    sheet.text(name, {pane.x + 2, y - 2.6, label_width - 3, 5.2}, style);
    sheet.text(value, {pane.right() - value_width + 2, y - 2.6, value_width - 4, 5.2}, style);
}

bool same_band(std::optional<double> a, std::optional<double> b) { return a && b && std::abs(*a - *b) < same_length; }

void draw_rows(Sheet& sheet, const Finding& finding, const Axis& axis, const Rect& pane, double top) {
    const std::array<double, 4> y{top, top + row_pitch, top + 2 * row_pitch, top + 3 * row_pitch};
    const double foot = top + 3.6 * row_pitch;
    const bool statistical =
        same_band(finding.low, finding.statistical_low) && same_band(finding.high, finding.statistical_high) &&
        !(same_band(finding.low, finding.worst_low) && same_band(finding.high, finding.worst_high));
    row_text(sheet, pane, y[0], "needed", range_words(finding.need_low, finding.need_high), true);
    row_text(sheet, pane, y[1], "nominal", finding.nominal ? number(*finding.nominal) : "not known", true);
    row_text(sheet, pane, y[2], statistical ? "worst case" : "worst case, judged",
             range_words(finding.worst_low, finding.worst_high), !statistical);
    row_text(sheet, pane, y[3], statistical ? "root-sum-square, judged" : "root-sum-square",
             range_words(finding.statistical_low, finding.statistical_high), statistical);
    if (finding.worst_low && finding.worst_high) {
        draw_band(sheet, axis, finding, *finding.worst_low, *finding.worst_high, y[2], bar_height);
    }
    if (finding.statistical_low && finding.statistical_high) {
        draw_band(sheet, axis, finding, *finding.statistical_low, *finding.statistical_high, y[3], bar_height / 2);
    }
    if (finding.need_low || finding.need_high) draw_need(sheet, axis, finding, y[0], foot);
    if (finding.nominal && std::isfinite(*finding.nominal)) {
        const double x = axis.x(*finding.nominal);
        sheet.line({x, y[1]}, {x, foot}, thin);
        sheet.fill({{x, y[1] - 2}, {x + 1.5, y[1]}, {x, y[1] + 2}, {x - 1.5, y[1]}}, black);
    }
    draw_ticks(sheet, axis, foot, finding.unit);
    sheet.text("hatched: outside the need", {pane.x + 2, foot + 1.2, label_width - 2, 3.4},
               {.size = 2.2, .least = 1.6});
}

}  // namespace

void draw_gauge(Sheet& sheet, const SectionDrawing& drawing, const Rect& pane) {
    const Finding* finding = main_finding(drawing);
    if (finding == nullptr) {
        sheet.text("Nothing was judged for this fitting.", {pane.x + 2, pane.y + 3, pane.width - 4, 8});
        return;
    }
    draw_symbol(sheet, finding->verdict, {pane.x + 3, pane.y + 3, 11, 11});
    sheet.text(verdict_word(finding->verdict), {pane.x + 16.5, pane.y + 2.5, 38, 12},
               {.size = 7.5, .bold = true, .stand = Stand::middle});
    sheet.text(finding->quantity, {pane.x + 56, pane.y + 2.5, pane.width - 58, 7},
               {.size = 3.2, .bold = true, .stand = Stand::middle});
    const Rect note{pane.x + 56, pane.y + 9.7, pane.width - 58, 5.6};
    const Finding& worst = drawing.findings.front();
    if (severity(worst.verdict) > severity(finding->verdict)) {
        // The large word must not hide what is worse.
        draw_symbol(sheet, worst.verdict, {note.x, note.y + 0.4, 4.4, 4.4});
        sheet.text(fmt::format("but {}: {}", verdict_word(worst.verdict), worst.rule),
                   {note.x + 6, note.y, note.width - 6, note.height},
                   {.size = 3.2, .bold = true, .stand = Stand::middle});
    } else if (!finding->source.empty()) {
        sheet.text("needed: " + finding->source, note, {.size = 2.3, .least = 1.9});
    }
    const auto axis = axis_for(*finding, pane.x + label_width + 2, pane.right() - value_width - 2);
    if (axis) {
        draw_rows(sheet, *finding, *axis, pane, pane.y + 20);
        return;
    }
    std::string words = "No number can be given.";
    for (std::size_t i = 0; i < finding->missing.size(); ++i)
        words += (i == 0 ? " Missing: " : "; ") + finding->missing[i];
    sheet.text(words, {pane.x + 3, pane.y + 18, pane.width - 6, pane.height - 20}, {.size = 3.2});
}

}  // namespace standproud::viewer
