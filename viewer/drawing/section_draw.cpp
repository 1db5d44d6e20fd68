// The sheet as a whole: which pane lies where.
#include <fmt/format.h>

#include "drawing/section_panes.hpp"
#include "drawing/title_block.hpp"

namespace standproud::viewer {

namespace {

constexpr double border = 8;
constexpr double title_height = 28;
constexpr double view_width = 168;
constexpr double gauge_height = 52;
constexpr double dimension_columns = 31;
constexpr double window_width = 88;
constexpr double label_column = 36;

void draw_view(Sheet& sheet, const SectionDrawing& drawing, const View& view, const Rect& pane) {
    sheet.text(fmt::format("Level section at {} above datum{}, seen from above, scale 1:{:g}", number(drawing.v),
                           drawing.one_of_several ? ", through the screw judged" : "", view.scale),
               {pane.x + 2, pane.y + 1.5, pane.width - 4, 4.5}, {.size = 3.2, .bold = true, .stand = Stand::middle});
    draw_pieces(sheet, drawing, view);
    const Rect& box = view.paper;
    // Beside the centre line, on the side where there is more room.
    const double axis = view.x(drawing.u);
    const bool on_left = axis - box.x >= box.width / 2 - 1e-6;
    const double x = on_left ? box.x : axis + 3;
    const double room = (on_left ? axis : box.right()) - x - 3;
    const LetterStyle style{.size = 2.8, .bold = true, .stand = Stand::middle};
    sheet.text("inside the wall", {x, box.y - 5.5, room, 4}, style);
    sheet.text(view.cropped ? "room side; the fitting runs on" : "room side", {x, box.bottom() + 1.6, room, 4}, style);
    draw_dimensions(sheet, drawing, view, {pane.x, pane.y + 7, dimension_columns, pane.height - 15});
    draw_labels(sheet, drawing, view, {pane.right() - label_column - 1, pane.y + 8, label_column, pane.height - 17});
    draw_scale_bar(sheet, view.scale, {pane.right() - 145, pane.bottom() - 5.5, 142, 3.8});
}

}  // namespace

void draw_section_on(Sheet& sheet, const SectionDrawing& drawing) {
    sheet.fill({{0, 0}, {Sheet::width, 0}, {Sheet::width, Sheet::height}, {0, Sheet::height}}, white);
    const Rect all{border, border, Sheet::width - 2 * border, Sheet::height - 2 * border};
    const double title_top = all.bottom() - title_height;
    const double view_height = all.height - title_height;
    const Rect pane{all.x, all.y, view_width, view_height};
    const Rect window_room{pane.x + dimension_columns + 1, pane.y + 14, window_width, view_height - 30};
    const View view = choose_view(drawing, window_room);
    draw_view(sheet, drawing, view, pane);

    const double right = all.x + view_width;
    const double width = all.width - view_width;
    const double terms = terms_height(drawing);
    const Rect gauge{right, all.y, width, gauge_height};
    const Rect findings{right, gauge.bottom(), width, view_height - gauge_height - terms};
    draw_gauge(sheet, drawing, gauge);
    draw_findings(sheet, drawing, findings);
    draw_terms(sheet, drawing, {right, findings.bottom(), width, terms});
    draw_title_block(sheet, drawing, view.scale, {all.x, title_top, all.width, title_height});

    sheet.frame(all, heavy);
    sheet.line({all.x, title_top}, {all.right(), title_top}, heavy);
    sheet.line({right, all.y}, {right, title_top}, medium);
    sheet.line({right, gauge.bottom()}, {all.right(), gauge.bottom()}, thin);
    sheet.line({right, findings.bottom()}, {all.right(), findings.bottom()}, thin);
}

void draw_section(cairo_t* context, const SectionDrawing& drawing) {
    Sheet sheet(context);
    draw_section_on(sheet, drawing);
}

}  // namespace standproud::viewer
