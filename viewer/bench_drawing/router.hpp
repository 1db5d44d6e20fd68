// A panel for a router, 1:1.
#pragma once

#include <string>

#include "viewer/bench_report.hpp"

namespace standproud::viewer {

/// SVG 1.1, one unit of the drawing a millimetre, front face up: groups "outline", "holes", "cut-outs" of closed paths
/// with true arcs. Kerf and tool radius are not compensated. Must hold: the panel has a plan.
std::string router_svg(const Bench& bench, const BenchPanel& panel);

}  // namespace standproud::viewer
