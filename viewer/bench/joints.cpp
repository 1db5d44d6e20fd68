// The gaps about the panels: joins, corners, base, ceiling.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "bench/work_out.hpp"

namespace standproud::viewer {

namespace {

/// A top line lower than this below the wall's own top is a free edge, mm.
constexpr double free_edge = 20;

double width_of(const Panel& panel) {
    const auto e = extent(panel.outline);
    return e[1] - e[0];
}
double height_of(const Panel& panel) {
    const auto e = extent(panel.outline);
    return e[3] - e[2];
}

/// The panels of a wall from left to right.
std::vector<const Panel*> row(const Model& model, std::size_t wall) {
    std::vector<const Panel*> panels;
    for (const auto& panel : model.panels) {
        if (panel.wall == wall) panels.push_back(&panel);
    }
    std::sort(panels.begin(), panels.end(),
              [](const Panel* a, const Panel* b) { return extent(a->outline)[0] < extent(b->outline)[0]; });
    return panels;
}

/// Panel and bed: from the panel's face to what it is stuck to.
double depth_of(const Wall& wall) {
    double depth = 0;
    for (const auto& layer : wall.layers) {
        if (layer.kind == LayerKind::bed || layer.kind == LayerKind::panel) depth += layer.thickness.value;
    }
    return depth;
}

class Joints {
  public:
    Joints(const CheckedJob& job, const BenchJob& shown, std::size_t index, std::string before)
        : model_(job.model), shown_(shown), index_(index), before_(std::move(before)) {}

    std::vector<BenchJoint> run() {
        for (std::size_t w = 0; w < model_.job.walls.size(); ++w) along(w);
        for (const auto& corner : model_.room.corners) at(corner);
        return std::move(joints_);
    }

  private:
    /// Where a gap lies: its middle line, and the panels beside it.
    struct Place {
        std::size_t wall = 0;
        Vec2 from;
        Vec2 to;
        std::vector<const Panel*> panels;
    };

    void add(JointKind kind, const std::string& name, const Place& place, double gap, double length, double depth,
             std::array<double, 2> moves, std::optional<bond::PaintStrip> paint = {}) {
        if (gap <= 0) return;
        static constexpr movement::SealantClass classes[] = {movement::SealantClass::c25, movement::SealantClass::c20,
                                                             movement::SealantClass::c12_5,
                                                             movement::SealantClass::c7_5};
        BenchJoint joint;
        joint.job = index_;
        joint.kind = kind;
        joint.name = before_ + name;
        joint.wall = before_ + model_.job.walls[place.wall].id;
        for (const auto* panel : place.panels) joint.panels.push_back(before_ + panel->id);
        joint.from = place.from;
        joint.to = place.to;
        joint.gap = gap;
        joint.length = length;
        joint.depth = depth;
        joint.paint = paint;
        const movement::Gap moved{gap, moves[0], moves[1]};
        joint.moved = movement::move_gap(moved, shown_.strain);
        const auto sealant = classes[shown_.settings.sealant];
        joint.needed = movement::width_needed(moved, shown_.strain, sealant);
        joint.within = movement::within_class(joint.moved, sealant);
        joint.seal = bond::seal_joint({joint.name, gap, depth, length}, figure(shown_.settings, "sealant_depth"));
        joints_.push_back(std::move(joint));
    }

    void along(std::size_t wall) {
        const auto& gaps = model_.job.panels.gaps;
        const double depth = depth_of(model_.job.walls[wall]);
        const auto panels = row(model_, wall);
        for (std::size_t i = 0; i < panels.size(); ++i) {
            const Panel& panel = *panels[i];
            const auto e = extent(panel.outline);
            const Place base{wall, {e[0], e[2] - gaps.tray / 2}, {e[1], e[2] - gaps.tray / 2}, {&panel}};
            add(JointKind::base, fmt::format("base of {}", panel.id), base, gaps.tray, width_of(panel), depth,
                {height_of(panel) / 2, 0});
            const double middle = (e[0] + e[1]) / 2;
            if (wall_top(model_.job, model_.room, wall, middle) - panel_top(model_.job, model_.room, wall, middle) <
                free_edge) {
                const Place top{wall, {e[0], e[3] + gaps.top / 2}, {e[1], e[3] + gaps.top / 2}, {&panel}};
                add(JointKind::ceiling, fmt::format("top of {}", panel.id), top, gaps.top, width_of(panel), depth,
                    {height_of(panel) / 2, 0});
            }
            if (i + 1 == panels.size()) continue;
            const auto next = extent(panels[i + 1]->outline);
            const double length = std::min(e[3], next[3]) - std::max(e[2], next[2]);
            const double join = (e[1] + next[0]) / 2;
            const Place between{
                wall, {join, std::max(e[2], next[2])}, {join, std::min(e[3], next[3])}, {&panel, panels[i + 1]}};
            const auto paint = bond::paint_behind(join, gaps.join, std::max(e[2], next[2]), std::min(e[3], next[3]),
                                                  figure(shown_.settings, "paint_beyond"));
            add(JointKind::join, fmt::format("join {} / {}", panel.id, panels[i + 1]->id), between, gaps.join, length,
                depth, {width_of(panel) / 2, width_of(*panels[i + 1]) / 2}, paint);
        }
    }

    /// Where a panel stops a gap short of the face of the wall lined before it. The first one's edge lies behind.
    void at(const Corner& corner) {
        const auto left = row(model_, corner.left_wall);
        const auto right = row(model_, corner.right_wall);
        if (left.empty() || right.empty()) return;
        const auto& order = model_.job.panels.order;
        const auto place = [&](std::size_t wall) {
            return std::find(order.begin(), order.end(), model_.job.walls[wall].id) - order.begin();
        };
        const bool left_stops = place(corner.left_wall) > place(corner.right_wall);
        const Panel& stops = left_stops ? *left.back() : *right.front();
        const std::size_t wall = left_stops ? corner.left_wall : corner.right_wall;
        const auto e = extent(stops.outline);
        const double gap = model_.job.panels.gaps.corner;
        const double x = left_stops ? e[1] + gap / 2 : e[0] - gap / 2;
        const Place place_of{wall, {x, e[2]}, {x, e[3]}, {left.back(), right.front()}};
        add(JointKind::corner, fmt::format("corner {} / {}", left.back()->id, right.front()->id), place_of, gap,
            std::min(height_of(*left.back()), height_of(*right.front())), depth_of(model_.job.walls[wall]),
            {width_of(stops) / 2, 0});
    }

    const Model& model_;
    const BenchJob& shown_;
    std::size_t index_;
    std::string before_;
    std::vector<BenchJoint> joints_;
};

}  // namespace

std::vector<BenchJoint> joints_of(const CheckedJob& job, const BenchJob& shown, std::size_t index,
                                  const std::string& before) {
    return Joints(job, shown, index, before).run();
}

}  // namespace standproud::viewer
