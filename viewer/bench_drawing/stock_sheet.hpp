// A stock sheet as it lies on the bench: panels, offcuts to keep, waste, and its cuts in order.
#pragma once

#include "bench_drawing/page.hpp"

namespace standproud::viewer {

/// The sheet of that number, from 0. As seen on the face that is up when the outlines are sawn.
void draw_stock_sheet(Sheet& sheet, const Bench& bench, std::size_t index);

}  // namespace standproud::viewer
