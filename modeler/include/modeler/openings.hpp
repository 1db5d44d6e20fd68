// Openings of walls (windows, doorways, hatches): what they take out of layers and panels, and what lines their
// reveals.
//
// An opening is upright and measured on the bare face. Boards and masonry end at its edge; panels stay back from it by
// their gap. An opening that reaches from one side of a panel to the other parts it into two panels; one that reaches
// over an edge is a notch in it.
#pragma once

#include <string>
#include <vector>

#include "modeler/model.hpp"

namespace standproud {

/// Names of the parts that line reveals, and of what they are bedded in.
inline constexpr const char* reveal_strip = "reveal strip";
inline constexpr const char* reveal_bed = "bed of a reveal strip";

/// The opening that a spot of the wall lies in, its edges not counted; null for none.
const WallOpening* opening_at(const Wall& wall, Vec2 at);

/// The gap between the panels of a wall and an opening: its own, else the job's.
EdgeGap gap_of(const Job& job, const WallOpening& opening);

/// How far the panels stay back from its edge, mm. The strips of a lined reveal cover the panels' edges, as outside a
/// corner, and their bed is part of the gap.
double kept_back(const Job& job, std::size_t wall, const WallOpening& opening);

/// The largest radius of the panels' inside corners that leaves the opening's own corners free, or the ends of its
/// strips, mm. Closed form.
double largest_corner_radius(const Job& job, std::size_t wall, const WallOpening& opening);

/// An opening grown by `by` on all sides, seen square to a plane along its wall: the box round its four corners there.
RoundedRect opening_on(const Frame& wall, const Frame& place, const WallOpening& opening, double by,
                       double corner_radius);

/// What a wall's openings take out of the plane of its panels; none is a notch yet.
std::vector<PanelCut> cuts_of(const Job& job, const Room& room, std::size_t wall, const Frame& place);

/// A panel with the cuts made: parted where one goes from side to side, otherwise with them in `Panel::cuts`. Less than
/// 1 mm beside a cut does not count. Pieces from left to right, then from below.
std::vector<Panel> cut_round(const Panel& panel, const std::vector<PanelCut>& cuts);

/// The outline less its notches: see cut_away.
Polygon cut_outline(const Panel& panel);

/// What lies within the outline and is no hole: cuts that are not notches.
std::vector<RoundedRect> inner_cuts(const Panel& panel);

/// Area of a panel less its cuts, mm2; holes not taken off. Rounded corners of notches to 0.1 mm2.
double cut_area(const Panel& panel);

/// Room between a shape on a panel and the nearest edge, its own or that of a cut, mm; below 0 they cross by that much.
double room_on(const Panel& panel, const RoundedRect& shape);

/// The strips that line the reveals of a wall's openings, as panels with a place of their own: "back-window-sill". Sill
/// and head run from jamb to jamb, the jambs stand between them, each a gap from what it meets. They are bedded on the
/// reveal in the wall's bed, and end flush with the wall's panels in front and a gap short of the frame behind. Seen
/// from the middle of the opening: x along the strip and y into the wall for sill and head; y up for jambs. An opening
/// that starts at or below the panels has no sill.
std::vector<Panel> lay_reveals(const Job& job, const Room& room);

}  // namespace standproud
