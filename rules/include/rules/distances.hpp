// What a check measured between the things of a room, kept so that the next check measures only what changed.
#pragma once

#include <string>
#include <vector>

#include "modeler/scene.hpp"

namespace standproud::rules {

/// Empty before the first check. Holds for any job: what is not as it was is measured again.
struct Distances {
    std::vector<Thing> things;
    std::vector<Body> bodies;        ///< of things
    std::vector<Separation> near;    ///< pairs within what their rule asks for; indices into things
    std::vector<std::string> asked;  ///< what else decides which pairs are looked at: limits, and what pipes join
    std::size_t again = 0;           ///< how many bodies the last check measured from
};

}  // namespace standproud::rules
