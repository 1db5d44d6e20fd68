// A wall's elevation, seen from the front: its panels with their gaps, openings and flanges, and what stays.
#pragma once

#include "bench_drawing/page.hpp"

namespace standproud::viewer {

void draw_wall_sheet(Sheet& sheet, const Bench& bench, const BenchWall& wall);

}  // namespace standproud::viewer
