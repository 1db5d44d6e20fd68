// The gaps about the panels, with what seals them.
#include <fmt/format.h>

#include <cmath>

#include "bench/work_out.hpp"
#include "modeler/openings.hpp"
#include "modeler/panel_movement.hpp"

namespace standproud::viewer {

namespace {

/// What the job's climate does to a gap, and what seals it.
BenchJoint worked_out(const PanelJoint& one, const BenchJob& shown) {
    BenchJoint joint;
    joint.kind = one.kind;
    joint.name = one.name;
    joint.from = one.from;
    joint.to = one.to;
    joint.gap = one.gap.width;
    joint.length = one.length;
    joint.depth = one.depth;
    const JointMovement movement = move_joint(one, shown.strain, sealant_of(shown.settings));
    joint.moved = movement.moved;
    joint.needed = movement.needed;
    joint.within = movement.within;
    joint.at_face = one.at_face;
    const double deepest = figure(shown.settings, "sealant_depth");
    const double mean = one.at_face + one.widens * std::min(joint.depth, deepest) / 2;
    joint.seal = bond::seal_joint({joint.name, mean, joint.depth, joint.length}, deepest);
    return joint;
}

/// Of a level join: what is across is up.
bond::PaintStrip turned(const bond::PaintStrip& strip) {
    return {strip.bottom, strip.top, strip.from, strip.to, strip.area};
}

/// Each strip of a reveal has a gap along the frame; a jamb also at its ends, to sill or floor and head.
std::vector<PanelJoint> reveal_joints(const Model& model, const Panel& strip) {
    const Wall& wall = model.job.walls[strip.wall];
    const WallOpening* opening = nullptr;
    for (const auto& one : wall.openings) {
        for (const char* which : {"sill", "left-jamb", "right-jamb", "head"}) {
            if (strip.id == fmt::format("{}-{}-{}", wall.id, one.id, which)) opening = &one;
        }
    }
    if (!opening) return {};
    const auto e = extent(strip.outline);
    const double along = runs_across(strip) ? e[1] - e[0] : e[3] - e[2];
    const double deep = runs_across(strip) ? e[3] - e[2] : e[1] - e[0];
    PanelJoint frame;
    frame.kind = JointKind::opening;
    frame.wall = strip.wall;
    frame.gap = gap_of(model.job, *opening);
    frame.at_face = frame.gap.width;
    frame.depth = strip.thickness + bed_of(wall);
    frame.name = "frame along " + strip.id;
    frame.length = along;
    frame.first_moves = deep / 2;
    std::vector<PanelJoint> joints{frame};
    if (runs_across(strip)) return joints;
    for (const char* end : {"foot", "head"}) {
        PanelJoint corner = frame;
        corner.name = fmt::format("{} of {}", end, strip.id);
        corner.length = deep;
        corner.first_moves = along / 2;
        joints.push_back(corner);
    }
    return joints;
}

}  // namespace

std::vector<BenchJoint> joints_of(const CheckedJob& job, const BenchJob& shown, std::size_t index,
                                  const std::string& before) {
    const Model& model = job.model;
    std::vector<BenchJoint> joints;
    const auto add = [&](const PanelJoint& one, const std::vector<std::string>& panels) {
        if (!one.sealed || one.gap.width <= 0) return;
        BenchJoint joint = worked_out(one, shown);
        joint.job = index;
        joint.name = before + joint.name;
        joint.wall = before + model.job.walls[one.wall].id;
        for (const auto& panel : panels) joint.panels.push_back(before + panel);
        joint.sealant = sealant_on(model.job, one.wall).colour;
        joint.level = joint.kind == JointKind::join && joint.from.y == joint.to.y;
        if (joint.kind == JointKind::join && !joint.sealant) {
            const double beyond = figure(shown.settings, "paint_beyond");
            joint.paint = joint.level
                              ? turned(bond::paint_behind(joint.from.y, joint.gap, joint.from.x, joint.to.x, beyond))
                              : bond::paint_behind(joint.from.x, joint.gap, joint.from.y, joint.to.y, beyond);
        }
        joints.push_back(std::move(joint));
    };
    for (const auto& one : panel_joints(model)) {
        std::vector<std::string> panels;
        for (const std::size_t panel : one.panels) panels.push_back(model.panels[panel].id);
        add(one, panels);
    }
    for (const auto& strip : model.reveals) {
        for (const auto& one : reveal_joints(model, strip)) {
            const std::size_t before_it = joints.size();
            add(one, {strip.id});
            if (joints.size() > before_it) joints.back().in_reveal = true;
        }
    }
    return joints;
}

}  // namespace standproud::viewer
