// The drawings of the bench, from the same data as its reports.
#pragma once

#include <string>
#include <vector>

#include "viewer/bench_report.hpp"

typedef struct _cairo cairo_t;

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

/// The sheets in drawings.pdf, by their titles, in that order.
[[nodiscard]] std::vector<std::string> page_titles(const Bench& bench);

/// Draws one of them: A4 landscape, 297 x 210 mm. The context's units must be mm, y down, origin top left. Must hold:
/// `page` counts `page_titles`.
void draw_page(cairo_t* context, const Bench& bench, std::size_t page);

}  // namespace standproud::viewer
