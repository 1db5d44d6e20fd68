// Panel outlines: between corners, joins, the rim below and the top line above, a gap at every edge.
#include <fmt/format.h>

#include <algorithm>

#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"
#include "panels/bounds.hpp"

namespace standproud {

namespace {

/// Index of the wall's panel layer; -1 for none.
int panel_layer(const Wall& wall) {
    int found = -1;
    for (std::size_t i = 0; i < wall.layers.size(); ++i) {
        if (wall.layers[i].kind == LayerKind::panel) found = static_cast<int>(i);
    }
    return found;
}

/// Right or left of an upright line across the wall at u.
HalfSpace right_of(const Frame& wall, double u) { return {wall.x, dot(wall.x, wall.origin) + u}; }
HalfSpace left_of(const Frame& wall, double u) { return {-1.0 * wall.x, -dot(wall.x, wall.origin) - u}; }

/// What every panel of a wall keeps inside of.
std::vector<HalfSpace> bounds_of(const Job& job, const Room& room, std::size_t w, int layer) {
    std::vector<HalfSpace> bounds = ends_of(job, room, w, layer);
    const double top = gap_at(job, room, w, Edge::top).width;
    bounds.push_back(above_level(panel_bottom(job, w) + gap_at(job, room, w, Edge::bottom).width));
    bounds.push_back(under_top(job, room, w, top));
    const auto line = job.walls[w].panel_top ? job.walls[w].panel_top : job.panels.top;
    if (line) bounds.push_back(below_level(*line - top));
    return bounds;
}

/// How far behind the panel's back its bed reaches, at most.
double deepest_bed(const Room& room, std::size_t w, double bed) {
    const auto& bedding = room.faces[w].bedding;
    return bedding ? std::max(bed, bedding->greatest_bed) : bed;
}

}  // namespace

std::vector<Panel> lay_panels(const Job& job, const Room& room) {
    std::vector<Panel> panels;
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        const Wall& wall = job.walls[w];
        const int index = panel_layer(wall);
        if (index < 0) continue;
        const Layer& layer = wall.layers[static_cast<std::size_t>(index)];
        const double thickness = layer.thickness.value;
        const Frame place = panel_plane(job, room, w);
        const auto bounds = bounds_of(job, room, w, index);
        // The bed is cut to the panel, so both keep clear through their whole depth.
        const double back = -deepest_bed(room, w, bed_of(wall));
        const auto joins = placed_joins(job, room, w);
        const auto cuts = cuts_of(job, room, w, place);
        std::size_t number = 0;
        const auto levels = placed_levels(job, w);
        for (std::size_t i = 0; i <= joins.size(); ++i) {
            auto column = bounds;
            if (i > 0) column.push_back(right_of(room.walls[w], joins[i - 1].u + joins[i - 1].gap.width / 2));
            if (i < joins.size()) column.push_back(left_of(room.walls[w], joins[i].u - joins[i].gap.width / 2));
            for (std::size_t k = 0; k <= levels.size(); ++k) {
                auto mine = column;
                if (k > 0) mine.push_back(above_level(levels[k - 1].v + levels[k - 1].gap.width / 2));
                if (k < levels.size()) mine.push_back(below_level(levels[k].v - levels[k].gap.width / 2));
                const Polygon outline = outline_within(job, w, place, back, thickness, mine);
                Panel whole{"", w, place, outline, thickness, {}, layer.source};
                whole.column = i;
                whole.row = k;
                for (auto& panel : cut_round(whole, cuts)) {
                    panel.id = fmt::format("{}-{}", wall.id, ++number);
                    panels.push_back(std::move(panel));
                }
            }
        }
    }
    return panels;
}

Vec2 on_plane(const Frame& wall, const Frame& place, Vec2 at) {
    const RoomPoint foot = wall.to_room(at.x, at.y, 0);
    const double out = dot(place.z, place.origin - foot) / dot(place.z, wall.z);
    const auto local = place.from_room(foot + out * wall.z);
    return {local[0], local[1]};
}

Vec2 on_panel(const Model& model, const Panel& panel, Vec2 at) {
    return on_plane(model.room.walls[panel.wall], panel.place, at);
}

std::size_t panel_of(const Model& model, std::size_t wall, Vec2 at) {
    const auto& panels = model.panels;
    std::size_t best = panels.size();
    double best_margin = 0;
    for (std::size_t i = 0; i < panels.size(); ++i) {
        if (panels[i].wall != wall) continue;
        const double margin = margin_inside(RoundedRect::circle(on_panel(model, panels[i], at), 0), panels[i].outline);
        if (best == panels.size() || margin > best_margin) {
            best = i;
            best_margin = margin;
        }
    }
    return best;
}

}  // namespace standproud
