// What a picture shows of two things that are too near, as plain values.
#pragma once

#include <optional>
#include <string>

#include "viewer/report.hpp"

namespace standproud::viewer {

/// The points of two things that are nearest, in the room, mm. In each other: the ends of the push that frees them.
struct ClashFigure {
    bool overlap = false;
    RoomPoint on_a;
    RoomPoint on_b;
    double distance = 0;  ///< between them; of an overlap its depth, above 0
    std::string part_a;   ///< ids, as in rules::Clash
    std::string part_b;
};

/// Nothing for a finding about one thing, or where the rule gives no direction (timber left beside a hole).
std::optional<ClashFigure> clash_figure(const rules::Finding& finding);

}  // namespace standproud::viewer
