// The drawings of the bench, from the same data as its reports.
#pragma once

#include <string>
#include <vector>

#include "viewer/bench_report.hpp"

namespace standproud::viewer {

/// A file that is not yet written.
struct BenchFile {
    std::string path;  ///< below the folder of the bench, with slashes
    std::string bytes;
};

/// In memory, so that a fault leaves nothing half written. The same bench gives the same bytes.
///
/// drawings.pdf                                     every sheet, in the order of the work
/// drawings/wall-ID.{pdf,svg,png}                   each wall's elevation
/// drawings/panel-ID-{front,rear}.{pdf,svg,png}     each panel; -not-to-be-cut where it cannot be cut as drawn
/// drawings/sheet-N.{pdf,svg,png}                   each stock sheet with its cuts
/// templates/panel-ID.pdf                           paper templates, 1:1, where there is something to put on paper
/// router/panel-ID-front-face-up.svg                each panel that can be cut, 1:1
///
/// Signs that not every file system takes become "-"; names that then are alike are numbered.
[[nodiscard]] std::vector<BenchFile> draw_bench(const Bench& bench);

}  // namespace standproud::viewer
