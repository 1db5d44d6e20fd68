#include "modeler/gaps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "room/corners.hpp"

namespace standproud {

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
std::vector<std::size_t> row(const Model& model, std::size_t wall) {
    std::vector<std::size_t> panels;
    for (std::size_t i = 0; i < model.panels.size(); ++i) {
        if (model.panels[i].wall == wall) panels.push_back(i);
    }
    std::sort(panels.begin(), panels.end(), [&](std::size_t a, std::size_t b) {
        return extent(model.panels[a].outline)[0] < extent(model.panels[b].outline)[0];
    });
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

double bed_of(const Wall& wall) {
    double depth = 0;
    for (const auto& layer : wall.layers) depth += layer.kind == LayerKind::bed ? layer.thickness.value : 0;
    return depth;
}

std::string key_of(const Wall& wall, const char* edge) {
    return fmt::format("{} in [walls.gaps] of wall {}", edge, wall.id);
}

bool lined_first(const Job& job, std::size_t a, std::size_t b) {
    const auto& order = job.panels.order;
    return std::find(order.begin(), order.end(), job.walls[a].id) <
           std::find(order.begin(), order.end(), job.walls[b].id);
}

class Joints {
  public:
    explicit Joints(const Model& model) : model_(model) {}

    std::vector<PanelJoint> run() {
        for (std::size_t w = 0; w < model_.job.walls.size(); ++w) along(w);
        for (const auto& corner : model_.room.corners) at(corner);
        return std::move(joints_);
    }

  private:
    [[nodiscard]] const Panel& panel(std::size_t i) const { return model_.panels[i]; }
    [[nodiscard]] const Wall& wall(std::size_t w) const { return model_.job.walls[w]; }
    [[nodiscard]] EdgeGap gap(std::size_t w, Edge edge) const { return gap_at(model_.job, model_.room, w, edge); }

    PanelJoint& add(JointKind kind, std::size_t w, const std::string& name, std::vector<std::size_t> panels) {
        PanelJoint joint;
        joint.kind = kind;
        joint.wall = w;
        joint.name = name;
        joint.panels = std::move(panels);
        joint.depth = depth_of(wall(w));
        joints_.push_back(std::move(joint));
        return joints_.back();
    }

    void along(std::size_t w) {
        const auto panels = row(model_, w);
        const auto joins = placed_joins(model_.job, model_.room, w);
        for (std::size_t i = 0; i < panels.size(); ++i) {
            ends_of_panel(w, panels[i]);
            if (i + 1 < panels.size()) join(w, panels[i], panels[i + 1], joins[i].gap);
        }
    }

    void ends_of_panel(std::size_t w, std::size_t i) {
        const auto e = extent(panel(i).outline);
        PanelJoint& base = add(JointKind::base, w, "base of " + panel(i).id, {i});
        base.gap = gap(w, Edge::bottom);
        base.key = key_of(wall(w), "bottom") + ", or tray_gap in [panels]";
        base.from = {e[0], e[2] - base.gap.width / 2};
        base.to = {e[1], base.from.y};
        base.length = width_of(panel(i));
        base.first_moves = height_of(panel(i)) / 2;
        const double middle = (e[0] + e[1]) / 2;
        if (wall_top(model_.job, model_.room, w, middle) - panel_top(model_.job, model_.room, w, middle) >= free_edge)
            return;
        PanelJoint& top = add(JointKind::ceiling, w, "top of " + panel(i).id, {i});
        top.gap = gap(w, Edge::top);
        top.key = key_of(wall(w), "top") + ", or top_gap in [panels]";
        top.from = {e[0], e[3] + top.gap.width / 2};
        top.to = {e[1], top.from.y};
        top.length = width_of(panel(i));
        top.first_moves = height_of(panel(i)) / 2;
    }

    void join(std::size_t w, std::size_t left, std::size_t right, const EdgeGap& gap) {
        const auto e = extent(panel(left).outline);
        const auto next = extent(panel(right).outline);
        PanelJoint& joint =
            add(JointKind::join, w, fmt::format("join {} / {}", panel(left).id, panel(right).id), {left, right});
        joint.gap = gap;
        joint.key = fmt::format("gap in its [[walls.joins]], or join in [walls.gaps] of wall {}", wall(w).id);
        const double middle = (e[1] + next[0]) / 2;
        joint.from = {middle, std::max(e[2], next[2])};
        joint.to = {middle, std::min(e[3], next[3])};
        joint.length = joint.to.y - joint.from.y;
        joint.first_moves = width_of(panel(left)) / 2;
        joint.second_moves = width_of(panel(right)) / 2;
    }

    /// The end of a wall's row of panels, as a joint there.
    PanelJoint& end(const Corner& corner, std::size_t w, double width) {
        const std::size_t left = row(model_, corner.left_wall).back();
        const std::size_t right = row(model_, corner.right_wall).front();
        const bool at_right = w == corner.left_wall;
        const Panel& own = panel(at_right ? left : right);
        PanelJoint& joint =
            add(JointKind::corner, w, fmt::format("corner {} / {}", panel(left).id, panel(right).id), {left, right});
        joint.gap = gap(w, at_right ? Edge::right : Edge::left);
        joint.gap.width = width;
        joint.key = key_of(wall(w), at_right ? "right" : "left");
        const auto e = extent(own.outline);
        joint.from = {at_right ? e[1] + width / 2 : e[0] - width / 2, e[2]};
        joint.to = {joint.from.x, e[3]};
        joint.length = std::min(height_of(panel(left)), height_of(panel(right)));
        joint.first_moves = width_of(own) / 2;
        return joint;
    }

    /// Inside a corner the wall lined second stops a gap short of the face of the first, whose edge lies behind it, a
    /// gap from what was there. Outside, the second covers the edge of the first,
    /// which keeps behind its bed and packing: the gap is told where it is narrowest. Mitred, each gives half its gap.
    void at(const Corner& corner) {
        if (row(model_, corner.left_wall).empty() || row(model_, corner.right_wall).empty()) return;
        const bool left_first = lined_first(model_.job, corner.left_wall, corner.right_wall);
        const std::size_t first = left_first ? corner.left_wall : corner.right_wall;
        const std::size_t second = left_first ? corner.right_wall : corner.left_wall;
        const auto own = [&](std::size_t w) { return gap(w, w == corner.left_wall ? Edge::right : Edge::left); };
        if (is_wide(corner.angle)) {
            PanelJoint& joint = end(corner, second, (own(first).width + own(second).width) / 2);
            const std::size_t of_first = left_first ? joint.panels.front() : joint.panels.back();
            joint.second_moves = width_of(panel(of_first)) / 2;
            joint.key += fmt::format(", {}", key_of(wall(first), left_first ? "right" : "left"));
            square_to_gap(joint, std::abs(std::sin(corner.angle / 2 * pi / 180)));
            return;
        }
        const double share =
            corner.angle == 90 || corner.angle == 270 ? 1 : std::abs(std::sin(corner.angle * pi / 180));
        if (corner.angle > 180) {
            const std::size_t of_first = left_first ? row(model_, first).back() : row(model_, first).front();
            square_to_gap(end(corner, first, std::max(own(first).width, behind_back(of_first, second))), share);
            return;
        }
        square_to_gap(end(corner, second, own(second).width), share);
        PanelJoint& behind = end(corner, first, own(first).width);
        behind.name = fmt::format("edge of {} behind {}", panel(left_first ? behind.panels[0] : behind.panels[1]).id,
                                  panel(left_first ? behind.panels[1] : behind.panels[0]).id);
        behind.sealed = false;
        square_to_gap(behind, share);
    }

    /// How far a panel keeps behind the backs of another wall's panels, where it comes nearest to them: the bed there
    /// with its packing, or the panel's gap.
    [[nodiscard]] double behind_back(std::size_t i, std::size_t other) const {
        const Frame back = panel_plane(model_.job, model_.room, other);
        const auto& bedding = model_.room.faces[panel(i).wall].bedding;
        const double bed = std::max(bed_of(wall(panel(i).wall)), bedding ? bedding->greatest_bed : 0);
        double least = std::numeric_limits<double>::infinity();
        for (const Vec2 at : panel(i).outline.points) {
            for (const double z : {-bed, panel(i).thickness})
                least = std::min(least, -back.from_room(panel(i).place.to_room(at.x, at.y, z))[2]);
        }
        return least;
    }

    static void square_to_gap(PanelJoint& joint, double share) {
        joint.first_moves *= share;
        joint.second_moves *= share;
    }

    const Model& model_;
    std::vector<PanelJoint> joints_;
};

}  // namespace

EdgeGap gap_at(const Job& job, const Room& room, std::size_t wall, Edge edge) {
    const WallGaps& own = job.walls[wall].gaps;
    switch (edge) {
        case Edge::left:
        case Edge::right: {
            const auto& end = edge == Edge::left ? own.left : own.right;
            const bool meets = corner_at(room, wall, edge == Edge::left ? Side::left : Side::right) != nullptr;
            return end.value_or(meets ? job.panels.gaps.corner : EdgeGap{0, {}});
        }
        case Edge::bottom:
            return own.bottom.value_or(job.panels.gaps.tray);
        case Edge::top:
            break;
    }
    return own.top.value_or(job.panels.gaps.top);
}

EdgeGap join_gap(const Job& job, std::size_t wall) { return job.walls[wall].gaps.join.value_or(job.panels.gaps.join); }

EdgeGap gap_of(const Job& job, std::size_t wall, const Join& join) { return join.gap.value_or(join_gap(job, wall)); }

std::vector<PlacedJoin> placed_joins(const Job& job, const Room& room, std::size_t wall) {
    std::vector<PlacedJoin> placed;
    const double half = job.walls[wall].width / 2;
    const double mid = (panel_bottom(job, wall) + panel_top(job, room, wall, half)) / 2;
    for (const auto& join : job.walls[wall].joins) {
        if (const auto u = along_wall(job, room, wall, join, mid)) placed.push_back({*u, gap_of(job, wall, join)});
    }
    std::stable_sort(placed.begin(), placed.end(), [](const auto& a, const auto& b) { return a.u < b.u; });
    return placed;
}

std::vector<PanelJoint> panel_joints(const Model& model) { return Joints(model).run(); }

}  // namespace standproud
