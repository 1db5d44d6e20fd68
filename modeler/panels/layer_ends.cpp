#include "panels/layer_ends.hpp"

#include <algorithm>

#include "room/corners.hpp"

// Corner rule. Walls are lined in the job's order. Going outwards from the bare faces stage by stage (first
// boards, second boards, membranes, then bed and panel together), the wall lined first runs to what its neighbour
// already carries, and the neighbour stops at the face that the first wall has by then. With depths c measured on
// the other wall, slices kept to n_other >= c (internal corner) or n_other <= c (external corner) cannot overlap:
// see tests/panels_test.cpp. Edges are cut square. Corners within 45 degrees of straight are mitred.

namespace standproud {

namespace {

constexpr int behind_face = -1;

/// The stage a layer is put on at: boards one after the other, membranes after all boards, bed and panel last.
int stage_of(const std::vector<Layer>& layers, int index) {
    if (index < 0) return behind_face;
    const Layer& layer = layers[static_cast<std::size_t>(index)];
    if (layer.kind >= LayerKind::bed) return 1000;
    int ordinal = 0;
    for (int i = 0; i < index; ++i) ordinal += layers[static_cast<std::size_t>(i)].kind == layer.kind ? 1 : 0;
    return static_cast<int>(layer.kind) * 100 + ordinal;
}

struct Depths {
    double before = 0;  ///< what a wall carries before a stage: its face then
    double with = 0;    ///< and after it
    double back = 0;    ///< of the panel
};

Depths depths_at(const Wall& wall, int stage) {
    Depths d;
    if (stage == behind_face) {
        d.before = wall.masonry ? -wall.masonry->thickness : 0;
        return d;
    }
    for (std::size_t i = 0; i < wall.layers.size(); ++i) {
        const int of_layer = stage_of(wall.layers, static_cast<int>(i));
        const double thickness = wall.layers[i].thickness.value;
        if (of_layer < stage) d.before += thickness;
        if (of_layer <= stage) d.with += thickness;
        if (wall.layers[i].kind < LayerKind::panel) d.back += thickness;
    }
    return d;
}

bool lined_before(const Job& job, std::size_t a, std::size_t b) {
    const auto& order = job.panels.order;
    return std::find(order.begin(), order.end(), job.walls[a].id) <
           std::find(order.begin(), order.end(), job.walls[b].id);
}

double end_distance(const Job& job, const Corner& corner, std::size_t wall, int layer, double from, double to) {
    const std::size_t other = neighbour(corner, wall);
    const int stage = stage_of(job.walls[wall].layers, layer);
    const Depths theirs = depths_at(job.walls[other], stage);
    const bool panel = stage >= 1000;
    const double gap = panel ? job.panels.gaps.corner : 0;
    if (is_wide(corner.angle)) return mitred_end(from, to, gap, corner.angle);
    const bool internal = corner.angle < 180;
    const bool covered = panel && theirs.with > theirs.back;  // the neighbour has a panel of its own
    if (lined_before(job, wall, other)) {
        // External: the neighbour's panel will cover this edge, so leave the gap behind its back.
        const double c = internal ? theirs.before + gap : covered ? theirs.back - gap : theirs.before;
        return butted_end(c, from, to, corner.angle);
    }
    // External: this panel covers the first one's edge and ends flush with its face.
    return butted_end(theirs.with + (internal ? gap : 0), from, to, corner.angle);
}

}  // namespace

std::pair<double, double> layer_ends(const Job& job, const Room& room, std::size_t wall, int layer, double from,
                                     double to) {
    std::pair<double, double> ends{0, job.walls[wall].width};
    if (const Corner* left = corner_at(room, wall, Side::left)) {
        ends.first = end_distance(job, *left, wall, layer, from, to);
    }
    if (const Corner* right = corner_at(room, wall, Side::right)) {
        ends.second -= end_distance(job, *right, wall, layer, from, to);
    }
    return ends;
}

}  // namespace standproud
