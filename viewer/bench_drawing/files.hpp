// The sheets of a bench, before they are files.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "bench_drawing/page.hpp"
#include "viewer/bench_drawing.hpp"

namespace standproud::viewer {

struct BenchPage {
    std::string title;
    std::string stem;  ///< of the file's path, without its ending
    std::function<void(Sheet&)> draw;
};

/// Elevations, stock sheets, panels: in the order in which they are used. They point into the bench.
std::vector<BenchPage> bench_pages(const Bench& bench);

/// The tiles of a panel's templates; none: nothing to put on paper.
std::vector<BenchPage> template_pages(const Bench& bench, const BenchPanel& panel);

/// A name that any file system takes.
std::string file_name(const std::string& id);

}  // namespace standproud::viewer
