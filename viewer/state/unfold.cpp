// The walls side by side, seen from inside, with what can be taken hold of.
#include <algorithm>

#include "modeler/cut_away.hpp"
#include "modeler/openings.hpp"
#include "viewer/bench_view.hpp"

namespace standproud::viewer {

namespace {

void take_in(std::array<double, 4>& all, Vec2 p) {
    all = {std::min(all[0], p.x), std::max(all[1], p.x), std::min(all[2], p.y), std::max(all[3], p.y)};
}

/// Half-way up the panels: where job files count the places of joins.
double counted_at(const Model& model, std::size_t w) {
    return (panel_bottom(model.job, w) + panel_top(model.job, model.room, w, model.job.walls[w].width / 2)) / 2;
}

void find_joins(const Model& model, UnfoldedWall& made) {
    const std::size_t w = made.wall;
    auto levels = extent(made.panels.front().outline);
    for (const auto& panel : made.panels) {
        const auto e = extent(panel.outline);
        levels[2] = std::min(levels[2], e[2]);
        levels[3] = std::max(levels[3], e[3]);
    }
    const double middle = counted_at(model, w);
    const double corner = bare_corner(model.job, model.room, w, Side::left, middle);
    const Frame& place = model.panels[made.outline.panels.front()].place;
    const auto x_of = [&](double u) { return on_plane(model.room.walls[w], place, {u, middle}).x; };
    made.corner = x_of(corner);
    const auto& written = model.job.walls[w].joins;
    for (std::size_t j = 0; j < written.size(); ++j) {
        const auto u = along_wall(model.job, model.room, w, written[j], middle);
        if (!u) continue;
        const bool right =
            written[j].from == Across::From::right_bare || written[j].from == Across::From::right_finished;
        made.joins.push_back({j, x_of(*u), levels[2], levels[3], written[j].distance, right ? -1.0 : 1.0, *u - corner});
    }
}

UnfoldedPanel unfolded(const Panel& panel) {
    UnfoldedPanel made{panel.id, panel.outline, inner_cuts(panel), {}, cut_outline(panel)};
    const auto e = extent(panel.outline);
    for (const auto& cut : panel.cuts) {
        if (!cut.notch) continue;
        made.notches.push_back(within(cut.shape, e));
        made.notches.back().radius = 0;  // what is taken off, not how it is cut
    }
    return made;
}

}  // namespace

std::vector<UnfoldedWall> unfold(const CheckedJob& job) {
    const Model& model = job.model;
    std::vector<UnfoldedWall> walls;
    for (auto& outline : walls_with_panels(job)) {
        UnfoldedWall made;
        made.outline = std::move(outline);
        made.wall = wall_index(model.job, made.outline.id);
        made.extent = extent(made.outline.bare);
        for (const std::size_t p : made.outline.panels) {
            UnfoldedPanel panel = unfolded(model.panels[p]);
            for (const auto& hole : model.panels[p].holes) panel.openings.push_back(hole.opening);
            for (const Vec2 corner : panel.outline.points) take_in(made.extent, corner);
            made.panels.push_back(std::move(panel));
        }
        for (const auto& stay : made.outline.stays) {
            for (const Vec2 p : stay.line) take_in(made.extent, p);
        }
        find_joins(model, made);
        walls.push_back(std::move(made));
    }
    return walls;
}

}  // namespace standproud::viewer
