// The panes of a section sheet. Each draws inside its own box and nowhere else.
#pragma once

#include "drawing/sheet.hpp"
#include "viewer/section.hpp"

namespace standproud::viewer {

/// A window on the wall's (u, n) plane and where it lies on paper. u runs to the right and n, into the room,
/// down the page: a plan seen from above by somebody who faces the wall.
struct View {
    double scale = 1;  ///< 1:scale
    double left = 0;   ///< u of the window's left side
    double back = 0;   ///< n of the window's top side
    Rect paper;
    bool cropped = false;  ///< the fitting itself runs on beyond the window

    [[nodiscard]] double x(double u) const { return paper.x + (u - left) / scale; }
    [[nodiscard]] double y(double n) const { return paper.y + (n - back) / scale; }
    [[nodiscard]] double right() const { return left + paper.width * scale; }
    [[nodiscard]] double front() const { return back + paper.height * scale; }
    [[nodiscard]] std::vector<Vec2> on_paper(const Polygon& outline) const;
    /// The part of a convex outline inside the window.
    [[nodiscard]] Polygon inside(const Polygon& outline) const;
};

/// The finding that the gauge and the arithmetic show: the worst about reach, else the worst; null for none.
const rules::Finding* main_finding(const SectionDrawing& drawing);

/// The largest of 1:1, 1:2, 1:5, 1:10 at which the fitting and all layers fit into `room`.
View choose_view(const SectionDrawing& drawing, const Rect& room);

void draw_pieces(Sheet& sheet, const SectionDrawing& drawing, const View& view);
void draw_dimensions(Sheet& sheet, const SectionDrawing& drawing, const View& view, const Rect& columns);
void draw_labels(Sheet& sheet, const SectionDrawing& drawing, const View& view, const Rect& column);

void draw_gauge(Sheet& sheet, const SectionDrawing& drawing, const Rect& pane);
void draw_findings(Sheet& sheet, const SectionDrawing& drawing, const Rect& pane);
/// How high the pane of the arithmetic must be.
double terms_height(const SectionDrawing& drawing);
void draw_terms(Sheet& sheet, const SectionDrawing& drawing, const Rect& pane);
void draw_title_block(Sheet& sheet, const SectionDrawing& drawing, double scale, const Rect& pane);

/// A shape of its own for each verdict, so that it reads without colour: ring and tick, triangle, filled
/// square with a cross, dashed diamond.
void draw_symbol(Sheet& sheet, rules::Verdict verdict, const Rect& box);
/// CLEAR, TIGHT, FAILS, UNKNOWN.
std::string verdict_word(rules::Verdict verdict);

/// The whole sheet, on a sheet that remembers what was put where.
void draw_section_on(Sheet& sheet, const SectionDrawing& drawing);

}  // namespace standproud::viewer
