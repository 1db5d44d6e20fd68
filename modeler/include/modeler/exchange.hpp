// Files for other programs. No kernel types here.
#pragma once

#include <filesystem>
#include <string>
#include <variant>
#include <vector>

#include "modeler/clearance.hpp"
#include "modeler/colour.hpp"
#include "modeler/parts.hpp"

namespace standproud {

struct StepHeader {
    std::string title;     ///< the job's name
    std::string revision;  ///< goes in the description
};

/// STEP AP242, millimetres: an assembly by trade, then wall (then fitting), each part named, coloured, on its
/// layer. The same parts give the same bytes. Written whole or not at all.
/// Throws std::runtime_error naming the path or the part. One call at a time is worked on; others wait.
void write_step(const std::vector<Part>& parts, const StepHeader& header, const std::filesystem::path& path);

/// A pipe: `part` says what it is (id, name, trade, layer, wall), `pipe` its shape.
struct PipeSolid {
    Part part;
    Pipe pipe;
};

/// Two things that overlap: what both fill becomes a solid on the layer "clash", in an assembly of its own.
struct Overlap {
    std::string id;
    std::string name;
    std::variant<Part, PipeSolid> a;
    std::variant<Part, PipeSolid> b;
};

/// The same with pipes and overlaps. An overlap in which the kernel finds nothing is left out. Returns how many
/// overlaps were written.
std::size_t write_step(const std::vector<Part>& parts, const std::vector<PipeSolid>& pipes,
                       const std::vector<Overlap>& overlaps, const StepHeader& header,
                       const std::filesystem::path& path);

/// The colour that the job gives a part, else that of its layer: the one table for STEP, drawings and the window.
Colour colour_of(const Part& part);

}  // namespace standproud
