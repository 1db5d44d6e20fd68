#include "modeler/gaps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "modeler/openings.hpp"
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
        const auto x = extent(model.panels[a].outline);
        const auto y = extent(model.panels[b].outline);
        const auto rank = [](const Panel& panel, double left, double bottom) {
            return std::tuple(panel.column, panel.sides.left ? 0.0 : left, bottom);
        };
        return rank(model.panels[a], x[0], x[2]) < rank(model.panels[b], y[0], y[2]);
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

std::string key_of(const Wall& wall, const char* edge) {
    return fmt::format("{} in [walls.gaps] of wall {}", edge, wall.id);
}

class Joints {
  public:
    explicit Joints(const Model& model) : model_(model) {}

    std::vector<PanelJoint> run() {
        for (std::size_t w = 0; w < model_.job.walls.size(); ++w) along(w);
        for (const auto& corner : model_.room.corners) at(corner);
        for (PanelJoint& joint : joints_) {
            if (joint.at_face == 0) joint.at_face = joint.gap.width;
        }
        return std::move(joints_);
    }

  private:
    using Span = std::pair<double, double>;

    /// Two panels at a corner; `alone`: no others are there.
    struct Meeting {
        std::size_t left = 0;
        std::size_t right = 0;
        bool alone = true;
    };

    [[nodiscard]] const Panel& panel(std::size_t i) const { return model_.panels[i]; }
    [[nodiscard]] const Wall& wall(std::size_t w) const { return model_.job.walls[w]; }
    [[nodiscard]] EdgeGap gap(std::size_t w, Edge edge) const { return gap_at(model_.job, model_.room, w, edge); }

    [[nodiscard]] PanelJoint blank(JointKind kind, std::size_t w, const std::string& name,
                                   std::vector<std::size_t> panels) const {
        PanelJoint joint;
        joint.kind = kind;
        joint.wall = w;
        joint.name = name;
        joint.panels = std::move(panels);
        joint.depth = depth_of(wall(w));
        return joint;
    }

    void along(std::size_t w) {
        const auto panels = row(model_, w);
        const auto joins = placed_joins(model_.job, model_.room, w);
        const auto levels = placed_levels(model_.job, w);
        for (const std::size_t i : panels) {
            base_of(w, i);
            ceiling_of(w, i);
            at_openings(w, i);
            for (const std::size_t right : panels) {
                if (panel(right).column == panel(i).column + 1) join(w, i, right, joins[panel(i).column]);
                if (panel(right).row == panel(i).row + 1) level_join(w, i, right, levels[panel(i).row]);
            }
        }
    }

    /// The parts of `whole`, along x or y, that no opening of the wall takes out at `across`.
    [[nodiscard]] std::vector<Span> beside_openings(std::size_t w, const Panel& on, Span whole, bool level,
                                                    double across) const {
        std::vector<Span> left{whole};
        for (const auto& cut : cuts_of(model_.job, model_.room, w, on.place)) {
            const auto c = extent(cut.shape);
            const Span along = level ? Span{c[0], c[1]} : Span{c[2], c[3]};
            const Span over = level ? Span{c[2], c[3]} : Span{c[0], c[1]};
            if (across <= over.first || across >= over.second) continue;
            std::vector<Span> next;
            for (const Span& span : left) {
                if (std::min(span.second, along.first) > span.first)
                    next.emplace_back(span.first, std::min(span.second, along.first));
                if (span.second > std::max(span.first, along.second))
                    next.emplace_back(std::max(span.first, along.second), span.second);
            }
            left = next;
        }
        return left;
    }

    /// One gap for each of the spans, along x (`level`) or y, on the line `at`; numbered where there are several.
    void add_parts(const PanelJoint& whole, const std::vector<Span>& spans, bool level, double at) {
        for (std::size_t k = 0; k < spans.size(); ++k) {
            PanelJoint part = whole;
            if (spans.size() > 1) part.name = fmt::format("{}, part {}", whole.name, k + 1);
            const auto [from, to] = spans[k];
            part.from = level ? Vec2{from, at} : Vec2{at, from};
            part.to = level ? Vec2{to, at} : Vec2{at, to};
            part.length = to - from;
            joints_.push_back(std::move(part));
        }
    }

    void base_of(std::size_t w, std::size_t i) {
        if (!panel(i).sides.bottom || panel(i).row > 0) return;
        const auto e = extent(panel(i).outline);
        PanelJoint base = blank(JointKind::base, w, "base of " + panel(i).id, {i});
        base.gap = gap(w, Edge::bottom);
        base.key = key_of(wall(w), "bottom") + ", or tray_gap in [panels]";
        base.first_moves = height_of(panel(i)) / 2;
        add_parts(base, beside_openings(w, panel(i), {e[0], e[1]}, true, e[2]), true, e[2] - base.gap.width / 2);
    }

    void ceiling_of(std::size_t w, std::size_t i) {
        const auto e = extent(panel(i).outline);
        const double middle = (e[0] + e[1]) / 2;
        if (!panel(i).sides.top || panel(i).row < wall(w).level_joins.size()) return;
        if (top_is_free(model_.job, model_.room, w, middle)) return;
        PanelJoint top = blank(JointKind::ceiling, w, "top of " + panel(i).id, {i});
        top.gap = gap(w, Edge::top);
        top.key = key_of(wall(w), "top") + ", or top_gap in [panels]";
        top.first_moves = height_of(panel(i)) / 2;
        add_parts(top, beside_openings(w, panel(i), {e[0], e[1]}, true, e[3]), true, e[3] + top.gap.width / 2);
    }

    void join(std::size_t w, std::size_t left, std::size_t right, const PlacedJoin& placed) {
        if (!panel(left).sides.right || !panel(right).sides.left) return;
        const auto e = extent(panel(left).outline);
        const auto next = extent(panel(right).outline);
        const Span both{std::max(e[2], next[2]), std::min(e[3], next[3])};
        if (both.second <= both.first) return;
        PanelJoint joint =
            blank(JointKind::join, w, fmt::format("join {} / {}", panel(left).id, panel(right).id), {left, right});
        joint.gap = placed.gap;
        joint.entry = placed.entry;
        joint.key = fmt::format("gap in its [[walls.joins]], or join in [walls.gaps] of wall {}", wall(w).id);
        joint.first_moves = width_of(panel(left)) / 2;
        joint.second_moves = width_of(panel(right)) / 2;
        const double middle = (e[1] + next[0]) / 2;
        add_parts(joint, beside_openings(w, panel(left), both, false, middle), false, middle);
    }

    void level_join(std::size_t w, std::size_t below, std::size_t above, const PlacedLevel& placed) {
        if (!panel(below).sides.top || !panel(above).sides.bottom) return;
        const auto e = extent(panel(below).outline);
        const auto next = extent(panel(above).outline);
        const Span both{std::max(e[0], next[0]), std::min(e[1], next[1])};
        if (both.second <= both.first) return;
        PanelJoint joint = blank(JointKind::join, w,
                                 fmt::format("level join {} / {}", panel(below).id, panel(above).id), {below, above});
        joint.gap = placed.gap;
        joint.entry = placed.entry;
        joint.level = true;
        joint.key = fmt::format("gap in its [[walls.level_joins]], or join in [walls.gaps] of wall {}", wall(w).id);
        joint.first_moves = height_of(panel(below)) / 2;
        joint.second_moves = height_of(panel(above)) / 2;
        const double middle = (e[3] + next[2]) / 2;
        add_parts(joint, beside_openings(w, panel(below), both, true, middle), true, middle);
    }

    /// Where a panel runs along an edge of an opening: the gap between it and the frame, or the strip of the reveal.
    void at_openings(std::size_t w, std::size_t i) {
        const Panel& own = panel(i);
        const auto e = extent(own.outline);
        const Vec2 middle{(e[0] + e[1]) / 2, (e[2] + e[3]) / 2};
        constexpr double beside = 0.01;  // mm: in the panel, not on its edge
        Polygon turned;
        for (const Vec2 p : own.outline.points) turned.points.push_back({p.y, p.x});
        for (const auto& cut : cuts_of(model_.job, model_.room, w, own.place)) {
            const WallOpening& opening = wall(w).openings[cut.opening];
            const auto c = extent(cut.shape);
            const auto edge = [&](const char* word, const Profile& seen, double at, double outside, Span along,
                                  bool level, double centre) {
                PanelJoint joint =
                    blank(JointKind::opening, w, fmt::format("{} of {}, {}", word, opening.name, own.id), {i});
                joint.gap = gap_of(model_.job, opening);
                joint.entry = cut.opening;
                if (opening.reveal) joint.gap.width = std::max(joint.gap.width, bed_of(wall(w)));
                joint.key =
                    fmt::format("gap of opening {} of wall {}, or opening_gap in [panels]", opening.id, wall(w).id);
                // Growing, the edge moves away from the panel's middle: into the gap, or out of it where the middle
                // lies across.
                joint.first_moves = -outside * (at - centre);
                std::vector<Span> spans;
                for (const auto& [from, to] : spans_at(seen, at + outside * beside)) {
                    const Span both{std::max(from, along.first), std::min(to, along.second)};
                    if (both.second - both.first >= 1) spans.push_back(both);
                }
                add_parts(joint, spans, level, at - outside * joint.gap.width / 2);
            };
            edge("left", turned, c[0], -1, {c[2], c[3]}, false, middle.x);
            edge("right", turned, c[1], 1, {c[2], c[3]}, false, middle.x);
            edge("sill", own.outline, c[2], -1, {c[0], c[1]}, true, middle.y);
            edge("head", own.outline, c[3], 1, {c[0], c[1]}, true, middle.y);
        }
    }

    /// Panels that meet at the end of a wall's row.
    [[nodiscard]] std::vector<std::size_t> at_end(std::size_t w, bool right) const {
        std::vector<std::size_t> found;
        const auto panels = row(model_, w);
        for (const std::size_t i : panels) {
            const std::size_t column = panel(right ? panels.back() : panels.front()).column;
            if (panel(i).column == column && (right ? panel(i).sides.right : panel(i).sides.left)) found.push_back(i);
        }
        return found;
    }

    /// The end of a wall's row of panels, as a joint there. Openings shorten it; it is drawn where most of it is left.
    PanelJoint& end(const Corner& corner, std::size_t w, double width, const Meeting& meeting) {
        const auto [left, right, alone] = meeting;
        const bool at_right = w == corner.left_wall;
        const Panel& own = panel(at_right ? left : right);
        joints_.push_back(
            blank(JointKind::corner, w, fmt::format("corner {} / {}", panel(left).id, panel(right).id), {left, right}));
        PanelJoint& joint = joints_.back();
        joint.gap = gap(w, at_right ? Edge::right : Edge::left);
        joint.gap.width = width;
        joint.key = key_of(wall(w), at_right ? "right" : "left");
        const auto e = extent(own.outline);
        const auto f = extent(panel(at_right ? right : left).outline);
        const double edge = at_right ? e[1] : e[0];
        const Span whole = alone ? Span{e[2], e[3]} : Span{std::max(e[2], f[2]), std::min(e[3], f[3])};
        const auto spans = beside_openings(w, own, whole, false, edge);
        double taken = whole.second - whole.first;
        Span longest{whole.first, whole.first};
        for (const Span& span : spans) {
            taken -= span.second - span.first;
            if (span.second - span.first > longest.second - longest.first) longest = span;
        }
        joint.from = {at_right ? edge + width / 2 : edge - width / 2, longest.first};
        joint.to = {joint.from.x, longest.second};
        joint.length =
            (alone ? std::min(height_of(panel(left)), height_of(panel(right))) : whole.second - whole.first) - taken;
        joint.first_moves = width_of(own) / 2;
        return joint;
    }

    /// Each panel of one wall with each of the other that it meets.
    void at(const Corner& corner) {
        const auto lefts = at_end(corner.left_wall, true);
        const auto rights = at_end(corner.right_wall, false);
        if (rights.empty()) at_bare(corner, corner.left_wall, lefts);
        if (lefts.empty()) at_bare(corner, corner.right_wall, rights);
        const bool alone = lefts.size() == 1 && rights.size() == 1;
        for (const std::size_t left : lefts) {
            for (const std::size_t right : rights) {
                const auto e = extent(panel(left).outline);
                const auto f = extent(panel(right).outline);
                if (alone || std::min(e[3], f[3]) > std::max(e[2], f[2])) meet(corner, {left, right, alone});
            }
        }
    }

    /// Where a wall meets one without panels. Outside a corner nothing stands in its way.
    void at_bare(const Corner& corner, std::size_t w, const std::vector<std::size_t>& ends) {
        if (corner.angle > 180 && !is_wide(corner.angle)) return;
        const bool at_right = w == corner.left_wall;
        const Edge edge = at_right ? Edge::right : Edge::left;
        for (const std::size_t i : ends) {
            const auto e = extent(panel(i).outline);
            const double at = at_right ? e[1] : e[0];
            PanelJoint joint =
                blank(JointKind::end, w,
                      fmt::format("end of {} at wall {}", panel(i).id, wall(neighbour(corner, w)).id), {i});
            joint.gap = gap(w, edge);
            joint.entry = at_right ? 1 : 0;
            joint.key = key_of(wall(w), at_right ? "right" : "left");
            joint.first_moves = width_of(panel(i)) / 2;
            square_to_gap(joint, share_of(corner.angle));
            if (!is_wide(corner.angle)) lean(joint, corner.angle);
            add_parts(joint, beside_openings(w, panel(i), {e[2], e[3]}, false, at), false,
                      at + (at_right ? 1 : -1) * joint.gap.width / 2);
        }
    }

    /// How much of a movement along a wall is square to the gap at its end.
    static double share_of(double angle) {
        if (is_wide(angle)) return std::abs(std::sin(angle / 2 * pi / 180));
        return angle == 90 || angle == 270 ? 1 : std::abs(std::sin(angle * pi / 180));
    }

    /// Inside a corner the wall lined second stops a gap short of the face of the first, whose edge lies behind it, a
    /// gap from what was there. Outside, the second covers the edge of the first,
    /// which keeps behind its bed and packing: the gap is told where it is narrowest. Mitred, each gives half its gap.
    void meet(const Corner& corner, const Meeting& meeting) {
        const bool left_first = lined_before(model_.job, corner.left_wall, corner.right_wall);
        const std::size_t first = left_first ? corner.left_wall : corner.right_wall;
        const std::size_t second = left_first ? corner.right_wall : corner.left_wall;
        const auto own = [&](std::size_t w) { return gap(w, w == corner.left_wall ? Edge::right : Edge::left); };
        if (is_wide(corner.angle)) {
            PanelJoint& joint = end(corner, second, (own(first).width + own(second).width) / 2, meeting);
            const std::size_t of_first = left_first ? joint.panels.front() : joint.panels.back();
            joint.second_moves = width_of(panel(of_first)) / 2;
            joint.key += fmt::format(", {}", key_of(wall(first), left_first ? "right" : "left"));
            square_to_gap(joint, share_of(corner.angle));
            return;
        }
        const double share = share_of(corner.angle);
        if (corner.angle > 180) {
            const std::size_t of_first = left_first ? meeting.left : meeting.right;
            const double width = std::max(own(first).width, behind_back(of_first, second));
            square_to_gap(end(corner, first, width, meeting), share);
            return;
        }
        PanelJoint& front = end(corner, second, own(second).width, meeting);
        square_to_gap(front, share);
        lean(front, corner.angle);
        PanelJoint& behind = end(corner, first, own(first).width, meeting);
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

    /// A square-cut edge against a face that stands at an angle to it, inside a corner.
    void lean(PanelJoint& joint, double angle) const {
        const bool first = panel(joint.panels.front()).wall == joint.wall;
        const Panel& own = panel(first ? joint.panels.front() : joint.panels.back());
        const auto& bedding = model_.room.faces[own.wall].bedding;
        const double deep = own.thickness + std::max(bed_of(wall(own.wall)), bedding ? bedding->greatest_bed : 0);
        joint.widens = angle == 90 ? 0 : std::cos(angle * pi / 180);
        joint.at_face = joint.gap.width + deep * std::max(0.0, -joint.widens);
    }

    static void square_to_gap(PanelJoint& joint, double share) {
        joint.first_moves *= share;
        joint.second_moves *= share;
    }

    const Model& model_;
    std::vector<PanelJoint> joints_;
};

}  // namespace

bool has_panels(const Wall& wall) { return !wall.layers.empty() && wall.layers.back().kind == LayerKind::panel; }

double bed_of(const Wall& wall) {
    double depth = 0;
    for (const auto& layer : wall.layers) depth += layer.kind == LayerKind::bed ? layer.thickness.value : 0;
    return depth;
}

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

const SealantLook& sealant_on(const Job& job, std::size_t wall) {
    const auto& own = job.walls[wall].sealant;
    return own ? *own : job.panels.sealant;
}

bool top_is_free(const Job& job, const Room& room, std::size_t wall, double u) {
    return wall_top(job, room, wall, u) - panel_top(job, room, wall, u) >= free_edge;
}

EdgeGap join_gap(const Job& job, std::size_t wall) { return job.walls[wall].gaps.join.value_or(job.panels.gaps.join); }

EdgeGap gap_of(const Job& job, std::size_t wall, const Join& join) { return join.gap.value_or(join_gap(job, wall)); }
EdgeGap gap_of(const Job& job, std::size_t wall, const LevelJoin& join) {
    return join.gap.value_or(join_gap(job, wall));
}

std::vector<PlacedLevel> placed_levels(const Job& job, std::size_t wall) {
    std::vector<PlacedLevel> placed;
    const auto& joins = job.walls[wall].level_joins;
    for (std::size_t i = 0; i < joins.size(); ++i) placed.push_back({joins[i].height, gap_of(job, wall, joins[i]), i});
    std::stable_sort(placed.begin(), placed.end(), [](const auto& a, const auto& b) { return a.v < b.v; });
    return placed;
}

std::vector<PlacedJoin> placed_joins(const Job& job, const Room& room, std::size_t wall) {
    std::vector<PlacedJoin> placed;
    const double half = job.walls[wall].width / 2;
    const double mid = (panel_bottom(job, wall) + panel_top(job, room, wall, half)) / 2;
    const auto& joins = job.walls[wall].joins;
    for (std::size_t i = 0; i < joins.size(); ++i) {
        if (const auto u = along_wall(job, room, wall, joins[i], mid))
            placed.push_back({*u, gap_of(job, wall, joins[i]), i});
    }
    std::stable_sort(placed.begin(), placed.end(), [](const auto& a, const auto& b) { return a.u < b.u; });
    return placed;
}

std::vector<PanelJoint> panel_joints(const Model& model) { return Joints(model).run(); }

}  // namespace standproud
