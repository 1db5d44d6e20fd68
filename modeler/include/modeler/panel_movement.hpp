// Movement of a model's panels: what the bench's climate does to their gaps and about their holes. What `check` judges
// and the bench prints. mm.
#pragma once

#include "modeler/gaps.hpp"
#include "modeler/movement.hpp"

namespace standproud {

/// Of the bench's climate and material.
movement::Strain strain_of(const BenchSettings& bench);

/// Of its sealant.
movement::SealantClass sealant_of(const BenchSettings& bench);

struct JointMovement {
    movement::GapMovement moved;  ///< of a gap of 0 mm without the two strains
    double needed = 0;            ///< the width from which the sealant stays within its class, the panel cut to it
    bool within = false;          ///< its class, as drawn
};

JointMovement move_joint(const PanelJoint& joint, const movement::Strain& strain, movement::SealantClass sealant);

/// How far a hole is from the middle that its panel moves about.
double from_middle(const Panel& panel, const RoundedRect& opening);

/// The room about the part in a hole, less what movement and `allowance` for set-out take of it. `room` is hole less
/// part, across.
movement::HoleMovement move_hole(const Panel& panel, const RoundedRect& opening, double room, double allowance,
                                 const movement::Strain& strain);

}  // namespace standproud
