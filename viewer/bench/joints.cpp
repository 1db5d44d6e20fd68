// The gaps about the panels, with what seals them.
#include "bench/work_out.hpp"
#include "modeler/panel_movement.hpp"

namespace standproud::viewer {

std::vector<BenchJoint> joints_of(const CheckedJob& job, const BenchJob& shown, std::size_t index,
                                  const std::string& before) {
    const Model& model = job.model;
    std::vector<BenchJoint> joints;
    for (const auto& one : panel_joints(model)) {
        if (!one.sealed || one.gap.width <= 0) continue;
        BenchJoint joint;
        joint.job = index;
        joint.kind = one.kind;
        joint.name = before + one.name;
        joint.wall = before + model.job.walls[one.wall].id;
        for (const std::size_t panel : one.panels) joint.panels.push_back(before + model.panels[panel].id);
        joint.from = one.from;
        joint.to = one.to;
        joint.gap = one.gap.width;
        joint.length = one.length;
        joint.depth = one.depth;
        const JointMovement movement = move_joint(one, shown.strain, sealant_of(shown.settings));
        joint.moved = movement.moved;
        joint.needed = movement.needed;
        joint.within = movement.within;
        joint.seal = bond::seal_joint({joint.name, joint.gap, joint.depth, joint.length},
                                      figure(shown.settings, "sealant_depth"));
        if (joint.kind == JointKind::join) {
            joint.paint = bond::paint_behind(joint.from.x, joint.gap, joint.from.y, joint.to.y,
                                             figure(shown.settings, "paint_beyond"));
        }
        joints.push_back(std::move(joint));
    }
    return joints;
}

}  // namespace standproud::viewer
