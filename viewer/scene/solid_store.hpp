// Solids with their meshes, made once for each shape of part and kept while the job is edited.
#pragma once

#include <TopoDS_Shape.hxx>
#include <atomic>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "modeler/parts.hpp"

namespace standproud::viewer {

/// Everything that a part's solid depends on, as text: the same text, the same solid.
std::string shape_key(const Part& part);

struct MadeSolid {
    TopoDS_Shape shape;  ///< with its mesh; null when it could not be made
    std::string fault;
};

using SolidStore = std::map<std::string, MadeSolid>;

/// How far a long piece of work is; whoever waits may set `stop`.
struct Progress {
    std::atomic<std::size_t> done{0};
    std::atomic<std::size_t> all{0};
    std::atomic<bool> stop{false};
};

/// Makes what `store` lacks. Touches nothing shared but `progress`, so that it can run beside the window.
SolidStore make_missing(const std::vector<Part>& parts, const std::vector<std::string>& have, Progress& progress);

std::vector<std::string> keys_of(const SolidStore& store);

}  // namespace standproud::viewer
