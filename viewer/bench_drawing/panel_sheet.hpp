// A panel as it is marked on one face: the drawing and the tables beside it.
#pragma once

#include "bench_drawing/page.hpp"

namespace standproud::viewer {

/// One face of one panel. Must hold: the panel has a plan. `view` and everything drawn are as seen on that face.
struct PanelFace {
    const Bench& bench;
    const BenchPanel& panel;
    const cutting::SeenPanel& seen;
    OnPaper on;

    [[nodiscard]] bool rear() const { return seen.face == cutting::Face::rear; }
    /// A point of the panel's own frame, which is seen from the front, as seen here.
    [[nodiscard]] Vec2 see(Vec2 front) const { return rear() ? Vec2{panel.width - front.x, front.y} : front; }
};

/// The panel with its openings and, on the rear, what is stuck to it. Figures go into the boxes below and beside.
/// Returns how many found no room.
std::size_t draw_panel(Sheet& sheet, const PanelFace& face, const Rect& pane, const Rect& below, const Rect& beside);

/// Tape, beads, rings, spacers, paint.
void draw_bond(Sheet& sheet, const PanelFace& face);

void draw_panel_tables(Sheet& sheet, const PanelFace& face, const Rect& pane);

/// The strips of wall that are painted behind the joins beside this panel, in the panel's own frame.
std::vector<bond::PaintStrip> paint_beside(const PanelFace& face);

/// Whole sheets.
void draw_panel_sheet(Sheet& sheet, const Bench& bench, const BenchPanel& panel, cutting::Face face);
void draw_refused_panel(Sheet& sheet, const Bench& bench, const BenchPanel& panel);

}  // namespace standproud::viewer
