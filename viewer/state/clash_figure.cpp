#include "viewer/clash_figure.hpp"

#include <cmath>

#include "modeler/clearance.hpp"

namespace standproud::viewer {

std::optional<ClashFigure> clash_figure(const rules::Finding& finding) {
    if (!finding.clash) return std::nullopt;
    const rules::Clash& clash = *finding.clash;
    ClashFigure figure;
    figure.part_a = clash.part_a;
    figure.part_b = clash.part_b;
    figure.overlap = clash.distance < -touch_length;
    figure.distance = std::abs(clash.distance);
    const bool directed = std::abs(norm(clash.push) - 1) < 1e-6;
    if (!directed && !figure.overlap) return std::nullopt;
    // Clash::at is half-way between the two; the way from a to b is that of the push.
    const double half = directed ? clash.distance / 2 : 0;
    figure.on_a = clash.at - half * clash.push;
    figure.on_b = clash.at + half * clash.push;
    return figure;
}

}  // namespace standproud::viewer
