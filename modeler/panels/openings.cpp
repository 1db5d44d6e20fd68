#include "modeler/openings.hpp"

#include <algorithm>
#include <cmath>

#include "modeler/cut_away.hpp"
#include "modeler/gaps.hpp"

namespace standproud {

namespace {

constexpr double nothing_left = 1;  // mm beside a cut

bool reaches_into(const RoundedRect& shape, const Polygon& outline) {
    const auto e = extent(shape);
    Polygon common = clipped(outline, {1, 0}, e[0]);
    common = clipped(common, {-1, 0}, -e[1]);
    common = clipped(common, {0, 1}, e[2]);
    common = clipped(common, {0, -1}, -e[3]);
    if (common.points.size() < 3) return false;
    const auto c = extent(common);
    return std::min(c[1] - c[0], c[3] - c[2]) > same_length;
}

/// The part of a panel on one side of a line across its plane; nothing when less than a sliver.
void add_side(const Panel& whole, Vec2 normal, double offset, bool PanelSides::*at_opening,
              std::vector<Panel>& pieces) {
    Panel piece = whole;
    piece.outline = clipped(whole.outline, normal, offset);
    if (piece.outline.points.size() < 3) return;
    const auto e = extent(piece.outline);
    if (std::min(e[1] - e[0], e[3] - e[2]) <= nothing_left) return;
    piece.sides.*at_opening = false;
    pieces.push_back(std::move(piece));
}

/// Parts a panel where a cut goes from side to side of it; false: it does not.
bool parted(const Panel& panel, const RoundedRect& cut, std::vector<Panel>& pieces) {
    if (!reaches_into(cut, panel.outline)) return false;
    const auto e = extent(panel.outline);
    const auto c = extent(cut);
    const bool across = c[0] <= e[0] + nothing_left && c[1] >= e[1] - nothing_left;
    const bool up = c[2] <= e[2] + nothing_left && c[3] >= e[3] - nothing_left;
    if (!across && !up) return false;
    if (across && !up) {
        add_side(panel, {0, -1}, -c[2], &PanelSides::top, pieces);
        add_side(panel, {0, 1}, c[3], &PanelSides::bottom, pieces);
    }
    if (up && !across) {
        add_side(panel, {-1, 0}, -c[0], &PanelSides::right, pieces);
        add_side(panel, {1, 0}, c[1], &PanelSides::left, pieces);
    }
    return true;
}

/// A cut that reaches over an edge goes on well beyond it, so that only inside corners are round.
PanelCut as_made(const PanelCut& cut, const Polygon& outline) {
    PanelCut made = cut;
    made.notch = margin_inside(cut.shape, outline) <= same_length;
    if (!made.notch) return made;
    const auto e = extent(outline);
    auto c = extent(cut.shape);
    const Vec2 middle{(std::max(c[0], e[0]) + std::min(c[1], e[1])) / 2,
                      (std::max(c[2], e[2]) + std::min(c[3], e[3])) / 2};
    const auto outside = [&](Vec2 at) { return margin_inside(RoundedRect::circle(at, 0), outline) <= same_length; };
    const double beyond = cut.shape.radius + 10;
    if (outside({c[0], middle.y})) c[0] = std::min(c[0], e[0] - beyond);
    if (outside({c[1], middle.y})) c[1] = std::max(c[1], e[1] + beyond);
    if (outside({middle.x, c[2]})) c[2] = std::min(c[2], e[2] - beyond);
    if (outside({middle.x, c[3]})) c[3] = std::max(c[3], e[3] + beyond);
    made.shape = RoundedRect::rect({(c[0] + c[1]) / 2, (c[2] + c[3]) / 2}, c[1] - c[0], c[3] - c[2], cut.shape.radius);
    return made;
}

}  // namespace

const WallOpening* opening_at(const Wall& wall, Vec2 at) {
    const auto found = std::find_if(wall.openings.begin(), wall.openings.end(), [&](const WallOpening& o) {
        return at.x > o.left && at.x < o.right && at.y > o.bottom && at.y < o.top;
    });
    return found == wall.openings.end() ? nullptr : &*found;
}

EdgeGap gap_of(const Job& job, const WallOpening& opening) { return opening.gap.value_or(job.panels.gaps.opening); }

double kept_back(const Job& job, std::size_t wall, const WallOpening& opening) {
    const double gap = gap_of(job, opening).width;
    return opening.reveal ? std::max(0.0, gap - bed_of(job.walls[wall])) : gap;
}

double largest_corner_radius(const Job& job, std::size_t wall, const WallOpening& opening) {
    const double gap = gap_of(job, opening).width;
    // An arc of radius r leaves r (sqrt 2 - 1) of its corner's diagonal, which is gap x sqrt 2 long.
    if (!opening.reveal) return gap / (1 - std::sqrt(0.5));
    // A strip starts `along` from the panel's corner and lies `off` from its edge: (r - along)^2 + (r - off)^2 = r^2.
    const double off = kept_back(job, wall, opening);
    const double along = off + gap;
    return along + off + std::sqrt(2 * along * off);
}

RoundedRect opening_on(const Frame& wall, const Frame& place, const WallOpening& opening, double by,
                       double corner_radius) {
    Polygon corners;
    for (const double u : {opening.left - by, opening.right + by}) {
        for (const double v : {opening.bottom - by, opening.top + by}) {
            corners.points.push_back(on_plane(wall, place, {u, v}));
        }
    }
    const auto e = extent(corners);
    return RoundedRect::rect({(e[0] + e[1]) / 2, (e[2] + e[3]) / 2}, e[1] - e[0], e[3] - e[2], corner_radius);
}

std::vector<PanelCut> cuts_of(const Job& job, const Room& room, std::size_t wall, const Frame& place) {
    std::vector<PanelCut> cuts;
    const auto& openings = job.walls[wall].openings;
    for (std::size_t i = 0; i < openings.size(); ++i) {
        const double by = kept_back(job, wall, openings[i]);
        cuts.push_back({i, opening_on(room.walls[wall], place, openings[i], by, openings[i].corner_radius), false});
    }
    return cuts;
}

std::vector<Panel> cut_round(const Panel& panel, const std::vector<PanelCut>& cuts) {
    std::vector<Panel> pieces{panel};
    for (const auto& cut : cuts) {
        std::vector<Panel> next;
        for (const auto& piece : pieces) {
            if (!parted(piece, cut.shape, next)) next.push_back(piece);
        }
        pieces = std::move(next);
    }
    for (auto& piece : pieces) {
        for (const auto& cut : cuts) {
            if (reaches_into(cut.shape, piece.outline)) piece.cuts.push_back(as_made(cut, piece.outline));
        }
    }
    std::stable_sort(pieces.begin(), pieces.end(), [](const Panel& a, const Panel& b) {
        const auto x = extent(a.outline);
        const auto y = extent(b.outline);
        return std::abs(x[0] - y[0]) > nothing_left ? x[0] < y[0] : x[2] < y[2];
    });
    return pieces;
}

Polygon cut_outline(const Panel& panel) {
    std::vector<RoundedRect> notches;
    for (const auto& cut : panel.cuts) {
        if (cut.notch) notches.push_back(cut.shape);
    }
    return cut_away(panel.outline, notches);
}

std::vector<RoundedRect> inner_cuts(const Panel& panel) {
    std::vector<RoundedRect> inner;
    for (const auto& cut : panel.cuts) {
        if (!cut.notch) inner.push_back(cut.shape);
    }
    return inner;
}

double cut_area(const Panel& panel) {
    double left = area(cut_outline(panel));
    for (const auto& cut : inner_cuts(panel)) left -= area(cut);
    return left;
}

double room_on(const Panel& panel, const RoundedRect& shape) {
    double room = margin_inside(shape, panel.outline);
    for (const auto& cut : panel.cuts) room = std::min(room, gap_between(shape, cut.shape));
    return room;
}

}  // namespace standproud
