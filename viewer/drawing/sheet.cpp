#include "drawing/sheet.hpp"

#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "modeler/clean_text.hpp"

namespace standproud::viewer {

namespace {

constexpr double hair = 0.01;      // mm on paper; less is no overlap
constexpr double text_unit = 0.1;  // text is laid out in tenths of a millimetre
constexpr double arrow_length = 2.2;
constexpr double arrow_half_width = 0.4;

struct Unref {
    void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
using Layout = std::unique_ptr<PangoLayout, Unref>;

int pango_units(double mm) { return static_cast<int>(std::lround(std::clamp(mm, 0.0, 1e4) / text_unit * PANGO_SCALE)); }
double millimetres(int pango) { return static_cast<double>(pango) / PANGO_SCALE * text_unit; }

void set_context(PangoContext* context) {
    // The same layout for paper, screen and file: no hinting, no rounding to a device's pixels.
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(context, FALSE);
    pango_context_set_language(context, pango_language_from_string("en"));
    pango_context_set_base_dir(context, PANGO_DIRECTION_LTR);
}

void set_size(PangoLayout* layout, double size, bool bold) {
    PangoFontDescription* font = pango_font_description_from_string("DejaVu Sans");
    pango_font_description_set_absolute_size(font, size / text_unit * PANGO_SCALE);
    pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
}

Layout lay_out_text(PangoContext* letters, const std::string& line, double wrap_width, const LetterStyle& style) {
    Layout layout(pango_layout_new(letters));
    pango_layout_set_text(layout.get(), line.data(), static_cast<int>(line.size()));
    pango_layout_set_width(layout.get(), pango_units(wrap_width));
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    const PangoAlignment align[] = {PANGO_ALIGN_LEFT, PANGO_ALIGN_CENTER, PANGO_ALIGN_RIGHT};
    pango_layout_set_alignment(layout.get(), align[static_cast<int>(style.align)]);
    if (style.bold_bytes > 0) {
        PangoAttrList* list = pango_attr_list_new();
        PangoAttribute* bold = pango_attr_weight_new(PANGO_WEIGHT_BOLD);
        bold->end_index = static_cast<guint>(style.bold_bytes);
        pango_attr_list_insert(list, bold);
        pango_layout_set_attributes(layout.get(), list);
        pango_attr_list_unref(list);
    }
    set_size(layout.get(), style.size, style.bold);
    return layout;
}

Rect logical_box(PangoLayout* layout) {
    PangoRectangle logical;
    pango_layout_get_extents(layout, nullptr, &logical);
    return {millimetres(logical.x), millimetres(logical.y), millimetres(logical.width), millimetres(logical.height)};
}

bool fits(PangoLayout* layout, double width, double height) {
    const Rect box = logical_box(layout);
    return box.width <= width + hair && box.height <= height + hair;
}

/// Smaller in small steps; at the least size, cut off with dots; and smaller still only when not even one
/// line goes in (a script with tall letters in a low box).
void shrink_into(PangoLayout* layout, double width, double height, const LetterStyle& style) {
    double size = style.size;
    while (!fits(layout, width, height) && size > style.least) {
        size = std::max(style.least, size * 0.94);
        set_size(layout, size, style.bold);
    }
    if (fits(layout, width, height)) return;
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
    // A negative height is a number of lines.
    const double line = logical_box(layout).height / pango_layout_get_line_count(layout);
    pango_layout_set_height(layout, -std::max(1, static_cast<int>((height + hair) / line)));
    while (!fits(layout, width, height) && size > 0.2) {
        size *= 0.9;
        set_size(layout, size, style.bold);
    }
}

void set_dash(cairo_t* context, Dash dash) {
    static constexpr double centre[] = {6, 1.2, 0.8, 1.2};
    static constexpr double datum[] = {5, 0.9, 0.7, 0.9, 0.7, 0.9};
    static constexpr double dashed[] = {2, 1};
    switch (dash) {
        case Dash::solid:
            cairo_set_dash(context, nullptr, 0, 0);
            break;
        case Dash::centre:
            cairo_set_dash(context, centre, 4, 0);
            break;
        case Dash::datum:
            cairo_set_dash(context, datum, 6, 0);
            break;
        case Dash::dashed:
            cairo_set_dash(context, dashed, 2, 0);
            break;
    }
}

void set_ink(cairo_t* context, Ink ink) { cairo_set_source_rgb(context, ink.red, ink.green, ink.blue); }

void trace(cairo_t* context, const std::vector<Vec2>& outline) {
    cairo_new_path(context);
    for (const auto& p : outline) cairo_line_to(context, p.x, p.y);
    cairo_close_path(context);
}

}  // namespace

bool overlap(const Rect& a, const Rect& b) {
    return std::min(a.right(), b.right()) - std::max(a.x, b.x) > hair &&
           std::min(a.bottom(), b.bottom()) - std::max(a.y, b.y) > hair;
}

bool crosses(const Rect& box, Vec2 a, Vec2 b) {
    // The part of the segment inside each pair of sides; something must be left of it.
    double from = 0;
    double to = 1;
    const auto within = [&](double start, double step, double low, double high) {
        if (std::abs(step) < 1e-12) return start > low && start < high;
        const double at_low = (low - start) / step;
        const double at_high = (high - start) / step;
        from = std::max(from, std::min(at_low, at_high));
        to = std::min(to, std::max(at_low, at_high));
        return from < to;
    };
    return within(a.x, b.x - a.x, box.x + hair, box.right() - hair) &&
           within(a.y, b.y - a.y, box.y + hair, box.bottom() - hair);
}

Sheet::Sheet(cairo_t* context) : context_(context), letters_(pango_cairo_create_context(context), g_object_unref) {
    set_context(letters_.get());
    cairo_set_line_cap(context_, CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(context_, CAIRO_LINE_JOIN_MITER);
}

void Sheet::line(Vec2 from, Vec2 to, double line_width, Dash dash) {
    set_ink(context_, black);
    set_dash(context_, dash);
    cairo_set_line_width(context_, line_width);
    cairo_new_path(context_);
    cairo_move_to(context_, from.x, from.y);
    cairo_line_to(context_, to.x, to.y);
    cairo_stroke(context_);
    set_dash(context_, Dash::solid);
    lines_.push_back({from, to});
}

void Sheet::frame(const Rect& box, double line_width) {
    const std::vector<Vec2> corners{
        {box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}};
    outline(corners, line_width);
    for (std::size_t i = 0; i < 4; ++i) lines_.push_back({corners[i], corners[(i + 1) % 4]});
}

void Sheet::fill(const std::vector<Vec2>& outline, Ink ink) {
    set_ink(context_, ink);
    trace(context_, outline);
    cairo_fill(context_);
}

void Sheet::outline(const std::vector<Vec2>& outline, double line_width, Ink ink, Dash dash) {
    set_ink(context_, ink);
    set_dash(context_, dash);
    cairo_set_line_width(context_, line_width);
    trace(context_, outline);
    cairo_stroke(context_);
    set_dash(context_, Dash::solid);
}

void Sheet::dot(Vec2 centre, double diameter, Ink ink) {
    set_ink(context_, ink);
    cairo_new_path(context_);
    cairo_arc(context_, centre.x, centre.y, diameter / 2, 0, 2 * pi);
    cairo_fill(context_);
}

void Sheet::arrow(Vec2 tip, Vec2 direction) {
    const Vec2 back = tip - arrow_length * direction;
    const Vec2 side{-direction.y * arrow_half_width, direction.x * arrow_half_width};
    fill({tip, back + side, back - side}, black);
}

Vec2 Sheet::measure(const std::string& words, double wrap_width, const LetterStyle& style) const {
    const Layout layout = lay_out_text(letters_.get(), clean_text(words), wrap_width, style);
    const Rect box = logical_box(layout.get());
    return {box.width, box.height};
}

Rect Sheet::text(const std::string& words, const Rect& box, const LetterStyle& style) {
    const std::string line = clean_text(words);
    if (line.empty()) return {box.x, box.y, 0, 0};
    const double along = style.upwards ? box.height : box.width;
    const double across = style.upwards ? box.width : box.height;
    const Layout layout = lay_out_text(letters_.get(), line, along, style);
    shrink_into(layout.get(), along, across, style);
    const Rect filled = logical_box(layout.get());
    const double down = style.stand == Stand::middle ? (across - filled.height) / 2 : 0;

    cairo_save(context_);
    cairo_rectangle(context_, box.x, box.y, box.width, box.height);
    PangoRectangle ink;
    pango_layout_get_extents(layout.get(), &ink, nullptr);
    // Stacked accents can reach beyond their line; nothing of the text may reach beyond its box.
    if (millimetres(ink.y) + down < 0 || millimetres(ink.y + ink.height) + down > across) {
        cairo_clip(context_);
    } else {
        cairo_new_path(context_);
    }
    cairo_translate(context_, box.x, style.upwards ? box.bottom() : box.y);
    if (style.upwards) cairo_rotate(context_, -pi / 2);
    cairo_translate(context_, 0, down);
    cairo_scale(context_, text_unit, text_unit);
    set_ink(context_, style.ink);
    cairo_move_to(context_, 0, 0);
    pango_cairo_show_layout(context_, layout.get());
    cairo_restore(context_);

    const Rect placed = style.upwards ? Rect{box.x + down + filled.y, box.bottom() - filled.x - filled.width,
                                             filled.height, filled.width}
                                      : Rect{box.x + filled.x, box.y + down + filled.y, filled.width, filled.height};
    texts_.push_back({line, placed});
    return placed;
}

bool Sheet::is_free(const Rect& box) const {
    return std::none_of(texts_.begin(), texts_.end(), [&](const auto& t) { return overlap(t.box, box); }) &&
           std::none_of(lines_.begin(), lines_.end(), [&](const auto& l) { return crosses(box, l.from, l.to); });
}

namespace {

constexpr double column = 4;  // mm, height of a dimension's text

/// The place nearest to the middle of from..to where a text of this length finds room.
std::optional<double> room_for(const Sheet& sheet, double x, double middle, double length, double top, double bottom) {
    for (double away = 0; away < bottom - top; away += 0.5) {
        for (const double centre : {middle + away, middle - away}) {
            const Rect box{x - column - 0.3, centre - length / 2, column, length};
            if (box.y >= top && box.bottom() <= bottom && sheet.is_free(box)) return centre;
        }
    }
    return std::nullopt;
}

}  // namespace

void Sheet::upright_dimension(double x, double from, double to, double value, const std::string& words, double top,
                              double bottom, bool bold) {
    const double upper = std::min(from, to);
    const double lower = std::max(from, to);
    const bool arrows_inside = lower - upper > 3 * arrow_length;
    LetterStyle style{.size = 2.7, .bold = bold, .align = Align::centre, .stand = Stand::middle, .upwards = true};
    const double limit = 70;
    const double length = std::min(limit, measure(words, limit, style).x) + 1;
    auto centre = room_for(*this, x, (upper + lower) / 2, length, top, bottom);
    double reach_up = arrows_inside ? upper : upper - 2 * arrow_length;
    double reach_down = arrows_inside ? lower : lower + 2 * arrow_length;
    if (centre) {
        text(words, {x - column - 0.3, *centre - length / 2, column, length}, style);
        // The line runs on to underline text that stands beside the measured length.
        if (*centre - length / 2 < upper) reach_up = std::min(reach_up, *centre - length / 2);
        if (*centre + length / 2 > lower) reach_down = std::max(reach_down, *centre + length / 2);
    }
    line({x, reach_up}, {x, reach_down}, thin);
    const double inwards = arrows_inside ? 1 : -1;
    arrow({x, upper}, {0, -inwards});
    arrow({x, lower}, {0, inwards});
    dimensions_.push_back({{x, from}, {x, to}, value});
}

std::string number(double value) {
    if (!std::isfinite(value)) return "?";
    const std::string digits = fmt::format("{:.1f}", std::abs(value));
    const bool is_zero = digits.find_first_not_of("0.") == std::string::npos;
    return value < 0 && !is_zero ? "\u2212" + digits : digits;
}

std::string signed_number(double value) {
    const std::string plain = number(value);
    return value > 0 && std::isfinite(value) ? "+" + plain : plain;
}

}  // namespace standproud::viewer
