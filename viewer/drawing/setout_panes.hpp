// The panes of a set-out sheet. Each draws inside its own box and nowhere else.
#pragma once

#include <string>
#include <vector>

#include "drawing/sheet.hpp"
#include "viewer/setout_sheet.hpp"

namespace standproud::viewer {

/// What one sheet shows; points into what it was made from.
struct SetOutJob {
    const Model& model;
    const WallSetOut& set_out;
    const std::vector<rules::Finding>& findings;

    [[nodiscard]] const Wall& wall() const { return model.job.walls[set_out.wall]; }
};

/// The bare wall on paper, seen from inside: u runs to the right and v up the page.
struct Elevation {
    double scale = 1;  ///< 1:scale
    Rect paper;        ///< the wall's outline

    [[nodiscard]] double x(double u) const { return paper.x + u / scale; }
    [[nodiscard]] double y(double v) const { return paper.bottom() - v / scale; }
};

/// The largest of 1:10, 1:20, 1:25, 1:50 and, for walls that are larger still, 1:100, 1:200, 1:500 at which the wall
/// goes into a room of this size.
double setout_scale(const Wall& wall, double width, double height);

/// A length as it is read on a tape: 381, 342.5.
std::string tape(double value);

/// Where figures go that want to be at `wanted` (in order) but must lie `pitch` apart between low and high: the places
/// nearest to those wanted, by least squares.
std::vector<double> spread(const std::vector<double>& wanted, double pitch, double low, double high);

/// The pane of the elevation and everything around the wall in it.
void draw_wall(Sheet& sheet, const SetOutJob& job, const Elevation& elevation);
/// Running dimensions in the box below the wall and heights in the box left of it. Returns how many figures found no
/// room.
std::size_t draw_figures(Sheet& sheet, const SetOutJob& job, const Elevation& elevation, const Rect& below,
                         const Rect& beside);
/// The crosses and their names, inside `room`. Returns how many names found no room.
std::size_t draw_crosses(Sheet& sheet, const SetOutJob& job, const Elevation& elevation, const Rect& room);

void draw_setout_tables(Sheet& sheet, const SetOutJob& job, const Rect& pane);

/// The whole sheet, on a sheet that remembers what was put where.
void draw_setout_on(Sheet& sheet, const SetOutJob& job);

}  // namespace standproud::viewer
