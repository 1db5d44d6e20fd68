// Panel outlines: between corners, joins, the rim below and the top line above, a gap at every edge.
#include <fmt/format.h>

#include <algorithm>

#include "modeler/model.hpp"
#include "panels/layer_ends.hpp"

namespace standproud {

namespace {

struct PanelLayer {
    int index = -1;
    double back = 0;
    double bed_back = 0;
};

PanelLayer panel_layer(const Wall& wall) {
    PanelLayer found;
    double n = 0;
    for (std::size_t i = 0; i < wall.layers.size(); ++i) {
        const Layer& layer = wall.layers[i];
        if (layer.kind < LayerKind::bed) found.bed_back = n + layer.thickness.value;
        if (layer.kind == LayerKind::panel) {
            found.index = static_cast<int>(i);
            found.back = n;
        }
        n += layer.thickness.value;
    }
    return found;
}

Polygon rectangle(double left, double right, double bottom, double top) {
    return {{{left, bottom}, {right, bottom}, {right, top}, {left, top}}};
}

std::vector<double> join_centres(const Job& job, const Room& room, std::size_t wall) {
    std::vector<double> centres;
    const double mid = (panel_bottom(job, wall) + panel_top(job, wall)) / 2;
    for (const auto& join : job.walls[wall].joins) {
        if (const auto u = along_wall(job, room, wall, join, mid)) centres.push_back(*u);
    }
    std::sort(centres.begin(), centres.end());
    return centres;
}

}  // namespace

std::vector<Panel> lay_panels(const Job& job, const Room& room) {
    std::vector<Panel> panels;
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        const Wall& wall = job.walls[w];
        const PanelLayer at = panel_layer(wall);
        if (at.index < 0) continue;
        const Layer& layer = wall.layers[static_cast<std::size_t>(at.index)];
        const double face = at.back + layer.thickness.value;
        // The bed is cut to the panel, so both keep clear through their whole depth.
        const auto [left, right] = layer_ends(job, room, w, at.index, at.bed_back, face);
        const double bottom = panel_bottom(job, w) + job.panels.gaps.tray;
        const double top = panel_top(job, w) - job.panels.gaps.top;
        double from = left;
        int number = 0;
        std::vector<double> ends = join_centres(job, room, w);
        ends.push_back(right + job.panels.gaps.join / 2);
        for (const double end : ends) {
            const double to = end - job.panels.gaps.join / 2;
            panels.push_back({fmt::format("{}-{}", wall.id, ++number),
                              w,
                              rectangle(from, to, bottom, top),
                              at.back,
                              layer.thickness.value,
                              {},
                              layer.source});
            from = end + job.panels.gaps.join / 2;
        }
    }
    return panels;
}

std::size_t panel_of(const std::vector<Panel>& panels, std::size_t wall, Vec2 centre) {
    std::size_t best = panels.size();
    double best_margin = 0;
    for (std::size_t i = 0; i < panels.size(); ++i) {
        if (panels[i].wall != wall) continue;
        const double margin = margin_inside(RoundedRect::circle(centre, 0), panels[i].outline);
        if (best == panels.size() || margin > best_margin) {
            best = i;
            best_margin = margin;
        }
    }
    return best;
}

}  // namespace standproud
