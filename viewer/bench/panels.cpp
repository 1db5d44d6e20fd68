// Each panel: cut, weighed, moved, bonded.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "bench/work_out.hpp"
#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"
#include "modeler/panel_movement.hpp"

namespace standproud::viewer {

namespace {

/// A name for a hole: the fitting's, numbered when the fitting has several in all.
std::string hole_name(const Model& model, const PanelHole& hole) {
    const auto& placed = model.fittings[hole.fitting];
    const auto& id = fitting_of(model, placed).id;
    return type_of(model, placed).holes.size() > 1 ? fmt::format("{} {}", id, hole.need + 1) : id;
}

cutting::PanelShape shape_of(const Model& model, const Panel& panel, const std::string& id) {
    cutting::PanelShape shape{id, panel.outline, {}};
    // Corner 1 is the lower left one.
    auto& corners = shape.outline.points;
    const auto lower_left = [](Vec2 a, Vec2 b) { return a.x + a.y < b.x + b.y; };
    std::rotate(corners.begin(), std::min_element(corners.begin(), corners.end(), lower_left), corners.end());
    for (const auto& cut : panel.cuts) {
        shape.openings.push_back({model.job.walls[panel.wall].openings[cut.opening].name, cut.shape, cut.notch});
    }
    for (const auto& hole : panel.holes) shape.openings.push_back({hole_name(model, hole), hole.opening, false});
    return cutting::in_own_frame(shape);
}

cutting::BenchRules cutting_rules(const BenchSettings& settings) {
    cutting::BenchRules rules;
    rules.outline_saw = settings.saw == BenchSaw::table ? cutting::Tool::table_saw : cutting::Tool::circular_saw;
    rules.named_from = figure(settings, "named_from");
    rules.drill_largest = figure(settings, "drill_largest");
    rules.step_drill_largest = figure(settings, "step_drill_largest");
    return rules;
}

void lift_panel(BenchPanel& made, const BenchSettings& settings) {
    lifting::Lift from;
    from.reach = figure(settings, "reach");
    from.height = figure(settings, "lift_from");
    lifting::Lift to = from;
    to.height = figure(settings, "lift_to");
    from.travel = to.travel = std::abs(to.height - from.height);
    made.lift = lifting::judge_lift(made.mass, from, to);
}

void move_panel(const Model& model, const Panel& panel, const BenchJob& shown, BenchPanel& made) {
    const auto& strain = shown.strain;
    made.grows_across = strain.growth() * made.width;
    made.grows_up = strain.growth() * made.height;
    made.shrinks_across = strain.shrinkage() * made.width;
    made.shrinks_up = strain.shrinkage() * made.height;
    for (const auto& hole : panel.holes) {
        const auto& need = type_of(model, model.fittings[hole.fitting]).holes[hole.need];
        if (!need.passes || !need.passes->is_circle() || !hole.opening.is_circle()) continue;
        const double part = 2 * need.passes->half_width;
        auto moved = move_hole(panel, hole.opening, 2 * hole.opening.half_width - part, shown.hole_allowance, strain);
        moved.needed_diameter += part;
        made.holes.push_back({hole_name(model, hole), from_middle(panel, hole.opening), moved});
    }
}

void bond_panel(const cutting::PanelShape& shape, const BenchSettings& settings, BenchPanel& made) {
    bond::BondRules rules;
    rules.tape_spacing = figure(settings, "tape_spacing");
    rules.bead = figure(settings, "bead");
    rules.tape_width = figure(settings, "tape_width");
    rules.tape_inset = figure(settings, "tape_inset");
    rules.tape_clear = figure(settings, "tape_clear");
    rules.bead_clear = figure(settings, "bead_clear");
    rules.wave_length = figure(settings, "wave_length");
    rules.ring_offset = figure(settings, "ring_offset");
    rules.spacer_spacing = figure(settings, "spacer_spacing");
    std::vector<RoundedRect> holes;
    std::vector<RoundedRect> notches;
    for (const auto& opening : shape.openings) (opening.notch ? notches : holes).push_back(opening.shape);
    auto answer = bond::lay_bond(shape.outline, holes, rules, notches);
    made.bond = std::move(answer.bond);
    made.not_bonded = std::move(answer.refused);
}

constexpr double packing_grid = 25;
constexpr double thinnest_packing = 0.05;  ///< mm, over the bed; less is not shown

bool behind_panel(const Panel& panel, Vec2 at, double round = 0) {
    const auto spot = RoundedRect::circle(at, 2 * round);
    return room_on(panel, spot) >= -same_length &&
           std::all_of(panel.holes.begin(), panel.holes.end(),
                       [&](const auto& hole) { return gap_between(spot, hole.opening) >= -same_length; });
}

/// How much of a cell of the grid is behind the panel, by the middles of its 5 x 5 parts.
double share_behind(const Panel& panel, Vec2 middle, Vec2 cell) {
    if (behind_panel(panel, middle, norm(cell) / 2)) return 1;
    int inside = 0;
    for (int i = -2; i <= 2; ++i) {
        for (int j = -2; j <= 2; ++j)
            inside += behind_panel(panel, middle + Vec2{i * cell.x / 5, j * cell.y / 5}) ? 1 : 0;
    }
    return inside / 25.0;
}

/// Bed and packing behind a point of the panel, along n; nothing on a line where the panels end.
std::optional<double> bed_behind(const Model& model, const Panel& panel, Vec2 at) {
    const auto spot = model.room.walls[panel.wall].from_room(panel.place.to_room(at.x, at.y, 0));
    std::optional<double> bed;
    for (const auto& layer : build_up_at(model.job, model.room, panel.wall, spot[0], spot[1])) {
        if (layer.kind == LayerKind::bed) bed = bed.value_or(0) + layer.thickness.value;
    }
    return bed;
}

void bed_panel(const Model& model, const Panel& panel, BenchPanel& made) {
    const auto& bedding = model.room.faces[panel.wall].bedding;
    if (!bedding) return;
    const auto size = extent(panel.outline);
    const Vec2 middle = centroid(panel.outline);
    const auto count = [](double length) { return std::max(1, static_cast<int>(std::ceil(length / packing_grid))); };
    const int across = count(size[1] - size[0]);
    const int up = count(size[3] - size[2]);
    const Vec2 cell{(size[1] - size[0]) / across, (size[3] - size[2]) / up};
    const auto widen = [&](double bed) {
        made.bed_least = std::min(made.bed_least, bed);
        made.bed_most = std::max(made.bed_most, bed);
    };
    const auto look_at = [&](Vec2 at) {
        // A hair inwards: bed counts only between the panels' bottom and top lines.
        const auto bed = behind_panel(panel, at) ? bed_behind(model, panel, at + 1e-9 * (middle - at)) : std::nullopt;
        if (bed) widen(*bed);
    };
    made.bed_least = std::numeric_limits<double>::infinity();
    made.bed_most = 0;
    for (const Vec2 corner : panel.outline.points) look_at(corner);
    for (const auto& one : bedding->spots) {
        if (behind_panel(panel, on_panel(model, panel, {one.spot.u, one.spot.v}))) widen(one.bed);
    }
    double volume = 0;
    // The bed is counted along n, so its area is that on the wall's upright plane.
    const double upright = cell.x * cell.y * dot(panel.place.z, model.room.walls[panel.wall].z);
    for (int i = 0; i <= across; ++i) {
        for (int j = 0; j <= up; ++j) {
            const Vec2 node{size[0] + i * cell.x, size[2] + j * cell.y};
            look_at(node);
            if (i == across || j == up) continue;
            const Vec2 inside = node + 0.5 * cell;
            const double share = share_behind(panel, inside, cell);
            if (share > 0)
                volume +=
                    share * upright * std::max(0.0, bed_behind(model, panel, inside).value_or(made.bed) - made.bed);
        }
    }
    if (made.bed_least > made.bed_most) made.bed_least = made.bed_most = made.bed;  // nothing of it was met
    if (made.bed_most > made.bed + thinnest_packing) made.packing_volume = volume;
}

}  // namespace

std::vector<BenchPanel> panels_of(const CheckedJob& job, const BenchJob& shown, std::size_t index,
                                  const std::string& before) {
    std::vector<BenchPanel> panels;
    std::vector<Panel> all = job.model.panels;
    all.insert(all.end(), job.model.reveals.begin(), job.model.reveals.end());
    for (const auto& panel : all) {
        BenchPanel made;
        made.in_reveal = panels.size() >= job.model.panels.size();
        made.job = index;
        made.id = before + panel.id;
        made.wall = job.model.job.walls[panel.wall].id;
        const auto size = extent(panel.outline);
        made.at = {size[0], size[2]};
        made.width = size[1] - size[0];
        made.height = size[3] - size[2];
        made.thickness = panel.thickness;
        made.area = cut_area(panel);
        for (const auto& hole : panel.holes) made.area -= area(hole.opening);
        made.mass = lifting::panel_mass(made.area, panel.thickness, figure(shown.settings, "density"));
        lift_panel(made, shown.settings);
        made.shape = shape_of(job.model, panel, made.id);
        auto cut = cutting::plan_cutting(made.shape, cutting_rules(shown.settings));
        made.plan = std::move(cut.plan);
        made.not_cut = std::move(cut.refused);
        move_panel(job.model, panel, shown, made);
        made.bed = made.bed_least = made.bed_most = bed_of(job.model.job.walls[panel.wall]);
        if (!made.in_reveal) bed_panel(job.model, panel, made);
        // Holes that cross an edge cannot be ringed; the cutting says what is wrong with them.
        if (made.plan) {
            bond_panel(made.shape, shown.settings, made);
            // Sill and head stand on nothing.
            if (made.in_reveal && made.bond && runs_across(panel)) made.bond->spacers.clear();
            if (made.bond) {
                for (auto& step : cutting::plan_hanging(figure(shown.settings, "seal_after")))
                    made.plan->operations.push_back(std::move(step));
            }
        } else {
            made.not_bonded = "not laid, because the panel cannot be cut as drawn";
        }
        panels.push_back(std::move(made));
    }
    return panels;
}

}  // namespace standproud::viewer
