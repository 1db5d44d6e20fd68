#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "modeler/cutting.hpp"

namespace standproud::cutting {

namespace {

constexpr const char* common = "common practice, no source";

std::string refuse_outline(const Polygon& outline) {
    const auto& p = outline.points;
    if (p.size() < 3) return fmt::format("the outline has {} corners; at least 3 are needed", p.size());
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (!std::isfinite(p[i].x) || !std::isfinite(p[i].y)) {
            return fmt::format("corner {} of the outline is not a number", i + 1);
        }
        const Vec2 in = p[i] - p[(i + p.size() - 1) % p.size()];
        const Vec2 out = p[(i + 1) % p.size()] - p[i];
        if (norm(out) < 0.01) return fmt::format("corners {} and the next are {} mm apart", i + 1, norm(out));
        if (cross(in, out) <= 0) {
            return fmt::format("corner {} at ({}, {}) does not turn left: the outline must be convex and anticlockwise",
                               i + 1, p[i].x, p[i].y);
        }
    }
    return {};
}

std::string refuse_opening(const PanelShape& panel, std::size_t index) {
    const Opening& o = panel.openings[index];
    const RoundedRect& s = o.shape;
    const bool sized = std::isfinite(s.centre.x) && std::isfinite(s.centre.y) && s.half_width > 0 &&
                       s.half_height > 0 && s.radius >= 0 &&
                       s.radius <= std::min(s.half_width, s.half_height) + same_length;
    if (!sized) {
        return fmt::format(
            "opening {} at ({}, {}): {} x {} mm with corner radius {}; the radius must be 0 to half the lesser side",
            o.name, s.centre.x, s.centre.y, 2 * s.half_width, 2 * s.half_height, s.radius);
    }
    if (s.radius <= 0) return fmt::format("opening {} has square corners: give it a corner radius over 0", o.name);
    const double margin = margin_inside(s, panel.outline);
    if (margin <= same_length && !o.notch) {
        return fmt::format("opening {} crosses or touches the panel's edge: {:.2f} mm from it", o.name, margin);
    }
    for (std::size_t j = 0; j < index; ++j) {
        const double gap = gap_between(s, panel.openings[j].shape);
        if (gap <= same_length) {
            return fmt::format("openings {} and {} cross or touch", panel.openings[j].name, o.name);
        }
    }
    return {};
}

class Planner {
  public:
    Planner(const BenchRules& rules, CuttingPlan& plan) : rules_(rules), plan_(plan) {}

    void run() {
        const bool table = rules_.outline_saw == Tool::table_saw;
        add(Work::saw_outline, rules_.outline_saw, table ? Face::front : Face::rear, {}, {},
            table ? "Saw the outline on the table saw, rear face down."
                  : "Saw the outline, circular saw, REAR FACE UP: its teeth chip the side they come out of.");
        // What is drilled is drilled first, while the panel is still whole.
        for (std::size_t i = 0; i < plan_.front.openings.size(); ++i) corners(i);
        for (std::size_t i = 0; i < plan_.front.openings.size(); ++i) round_hole(i);
        for (std::size_t i = 0; i < plan_.front.openings.size(); ++i) cut_out(i);
        add(Work::finish_edges, Tool::plane_or_sand, Face::front, {}, {},
            "Plane the edges once, or sand them 100 then 240 grit.");
    }

  private:
    void add(Work work, Tool tool, Face up, std::optional<std::size_t> opening, std::vector<Place> places,
             std::string says) {
        const bool mirrored = up == Face::rear;
        if (mirrored) says += " Marked MIRRORED: left and right are swapped.";
        plan_.operations.push_back(
            {work, tool, up, mirrored, false, opening, std::move(places), std::move(says), common});
    }

    void corners(std::size_t i) {
        const MarkedOpening& o = plan_.front.openings[i];
        if (o.corner_holes.empty()) return;
        std::vector<Place> places;
        for (const Vec2 at : o.corner_holes) places.push_back({at, o.corner_diameter});
        add(Work::drill_corners, drill_for(o.corner_diameter), Face::front, i, std::move(places),
            fmt::format("{}: first drill {} corner hole{} of {:g} mm from the front, slowly.", o.seen.name,
                        o.corner_holes.size(), o.corner_holes.size() == 1 ? "" : "s", o.corner_diameter));
    }

    [[nodiscard]] Tool drill_for(double diameter) const {
        if (diameter <= rules_.drill_largest + same_length) return Tool::drill;
        return diameter <= rules_.step_drill_largest + same_length ? Tool::step_drill : Tool::hole_saw;
    }

    void round_hole(std::size_t i) {
        const MarkedOpening& o = plan_.front.openings[i];
        if (!o.corner_holes.empty()) return;
        const double diameter = 2 * o.seen.shape.radius;
        const Place front{o.seen.shape.centre, diameter};
        const Tool tool = drill_for(diameter);
        if (tool != Tool::hole_saw) {
            add(Work::drill, tool, Face::front, i, {front},
                fmt::format("{}: {:g} mm, drilled from the front. {}", o.seen.name, diameter,
                            tool == Tool::step_drill ? "Start small, open it out with the step drill, turns kept down."
                                                     : "A new bit grabs and chips: take a used one, turns kept down."));
            return;
        }
        add(Work::hole_saw_front, tool, Face::front, i, {front},
            fmt::format("{}: hole saw {:g} mm from the front to half depth.", o.seen.name, diameter));
        add(Work::hole_saw_rear, tool, Face::rear, i, {{plan_.rear.openings[i].seen.shape.centre, diameter}},
            fmt::format("{}: turn over and finish from the rear on the same pilot hole.", o.seen.name));
    }

    void cut_out(std::size_t i) {
        const MarkedOpening& o = plan_.front.openings[i];
        if (o.corner_holes.empty()) return;
        const RoundedRect& s = o.seen.shape;
        if (o.seen.notch) {
            std::vector<Place> corners;
            for (const auto& corner : o.inside) corners.push_back({corner.at, 0});
            add(Work::saw_opening, Tool::jigsaw, Face::front, i, std::move(corners),
                fmt::format("{}: NOTCH, saw in from the edge to the corner hole{} with the jigsaw, rear face down: "
                            "a fine blade that cuts downwards.",
                            o.seen.name, o.inside.size() == 1 ? "" : "s"));
            return;
        }
        add(Work::saw_opening, Tool::jigsaw, Face::front, i, {{s.centre, 0}},
            fmt::format(
                "{}: saw from corner hole to corner hole with the jigsaw, rear face down: {:g} x {:g} mm, a fine "
                "blade that cuts downwards.",
                o.seen.name, 2 * s.half_width, 2 * s.half_height));
    }

    const BenchRules& rules_;
    CuttingPlan& plan_;
};

}  // namespace

CuttingAnswer plan_cutting(const PanelShape& panel, const BenchRules& rules) {
    CuttingAnswer answer;
    const auto refuse = [&](const std::string& one) {
        if (!one.empty()) answer.refused += (answer.refused.empty() ? "" : "; ") + one;
    };
    if (rules.outline_saw != Tool::circular_saw && rules.outline_saw != Tool::table_saw) {
        refuse("the outline is sawn with the circular saw or the table saw");
    }
    refuse(refuse_outline(panel.outline));
    if (answer.refused.empty()) {
        for (std::size_t i = 0; i < panel.openings.size(); ++i) refuse(refuse_opening(panel, i));
    }
    if (!answer.refused.empty()) {
        answer.refused = "panel " + panel.id + ": " + answer.refused;
        return answer;
    }
    CuttingPlan plan;
    plan.front = see_panel(panel, Face::front, rules);
    plan.rear = see_panel(panel, Face::rear, rules);
    Planner(rules, plan).run();
    answer.plan = std::move(plan);
    return answer;
}

}  // namespace standproud::cutting
