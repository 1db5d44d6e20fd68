// What goes into files of solids.
#pragma once

#include <vector>

#include "modeler/exchange.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

struct ExportContents {
    std::vector<Part> parts;
    std::vector<PipeSolid> pipes;
    std::vector<Overlap> overlaps;  ///< of every finding in which two things are in each other, if asked for
};

ExportContents export_contents(const CheckedJob& job, bool with_clashes);

}  // namespace standproud::viewer
