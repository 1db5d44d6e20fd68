// Each panel: cut, weighed, moved, bonded.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench/work_out.hpp"
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

}  // namespace

std::vector<BenchPanel> panels_of(const CheckedJob& job, const BenchJob& shown, std::size_t index,
                                  const std::string& before) {
    std::vector<BenchPanel> panels;
    std::vector<Panel> all = job.model.panels;
    all.insert(all.end(), job.model.reveals.begin(), job.model.reveals.end());
    for (const auto& panel : all) {
        BenchPanel made;
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
        // Holes that cross an edge cannot be ringed; the cutting says what is wrong with them.
        if (made.plan) {
            bond_panel(made.shape, shown.settings, made);
        } else {
            made.not_bonded = "not laid, because the panel cannot be cut as drawn";
        }
        panels.push_back(std::move(made));
    }
    return panels;
}

}  // namespace standproud::viewer
