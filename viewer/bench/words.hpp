// Words and figures that the reports of the bench share.
#pragma once

#include <string>
#include <vector>

#include "viewer/bench_report.hpp"

namespace standproud::viewer {

/// One cut of a sheet. Distances are to the two sides of the kerf, from the edge of the part in hand that is its left
/// (upright cuts) or bottom (level cuts) seen from the front. Rear face up, that left edge is on the right.
struct SheetCut {
    bool upright = false;
    bool trims = false;
    nesting::Rect part;  ///< in the sheet, seen from the front
    double from = 0;
    double to = 0;
    std::string first;  ///< what is on the left or below, seen from the front
    std::string second;
};

/// In the order of sawing.
std::vector<SheetCut> cuts_of(const Bench& bench, const nesting::SheetLayout& sheet);

/// Whether the panels' outlines are sawn with the rear face up.
bool sawn_rear_up(const Bench& bench);

std::string to_string(cutting::EdgeSide side);
std::string to_string(cutting::Tool tool);
std::string to_string(cutting::Work work);
std::string to_string(cutting::Face face);
std::string to_string(JointKind kind);

/// The id of the task in which a step of a panel is done.
std::string task_of(const Bench& bench, const BenchPanel& panel, cutting::Work work);

/// "35 mm round", or "90 x 60 mm, corners 5 mm".
std::string size_words(const RoundedRect& shape);

/// "2026-03-31 08:00".
std::string minute_words(sequence::LocalMinute minute);

}  // namespace standproud::viewer
