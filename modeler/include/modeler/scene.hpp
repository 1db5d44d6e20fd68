// Everything in the room that can be in the way of something else: solids, pipes, the room that things need, and where
// the drill goes. What the clearance rules look at.
#pragma once

#include <string>
#include <vector>

#include "modeler/clearance.hpp"
#include "modeler/parts.hpp"

namespace standproud {

struct Thing {
    enum class Kind {
        solid,
        pipe,
        access,  ///< room that a fitting or a door needs
        drill,   ///< where the tool goes that makes a hole in a panel
    };
    Kind kind = Kind::solid;
    std::string id;
    std::string name;  ///< in words
    std::string trade;
    std::string layer;      ///< as Part::layer; of a pipe its kind in words; of a drill "drill"
    std::string wall;       ///< id; empty for none
    std::string owner;      ///< id of the fitting, pipe or screen it belongs to; else the part's own id
    double plus_minus = 0;  ///< of where it is, mm
    Source source;
};

/// things[i] is bodies[i].
struct Scene {
    std::vector<Part> parts;  ///< of the solids, then of access and drills
    std::vector<Thing> things;
    std::vector<std::size_t> part_of;  ///< index into parts; parts.size() for a pipe
    std::vector<Body> bodies;
    std::vector<Pipe> pipes;  ///< in the room; one for each of the job's
};

/// The pipes of a job where they run in the room.
std::vector<Pipe> lay_pipes(const Model& model);

/// The straight legs of all pipes as parts, without their bends: for pictures. `fitting` is the pipe's id.
std::vector<Part> pipe_legs(const Model& model);

/// `setout` is the +/- of where fittings are put along the wall, `drill_depth` how far tools go behind a panel's back.
Scene build_scene(const Model& model, double setout, double drill_depth);

}  // namespace standproud
