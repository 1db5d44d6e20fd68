// `standproud view`: the window, or a picture of the recess.
#include <fmt/format.h>

#include <cstdio>

#include "program/commands.hpp"
#include "program/output.hpp"
#include "rules/words.hpp"
#include "viewer/snapshot.hpp"
#include "viewer/window.hpp"

namespace standproud::program {

namespace {

/// "1600x1000"; false when it is not of that form.
bool read_size(const std::string& text, int& width, int& height) {
    int end = 0;
    const bool good = std::sscanf(text.c_str(), "%5dx%5d%n", &width, &height, &end) == 2;
    return good && static_cast<std::size_t>(end) == text.size() && width >= 64 && width <= 8192 && height >= 64 &&
           height <= 8192;
}

int refuse(const std::string& says) {
    remark("standproud: {}\n", says);
    return bad_input;
}

int write_picture_of(const ViewOptions& options) {
    viewer::Document document = viewer::open_document(options.job);
    if (!document.faults.empty()) {
        for (const auto& fault : document.faults) remark("{}\n", to_string(fault));
        return refuse(fmt::format("{}: nothing to draw until the faults are put right", options.job));
    }
    viewer::Snapshot snapshot;
    snapshot.dark = options.dark;
    if (!options.size.empty() && !read_size(options.size, snapshot.width, snapshot.height)) {
        return refuse(fmt::format("--size {}: a size is WIDTHxHEIGHT in pixels, each 64 to 8192", options.size));
    }
    const auto& job = document.job->model.job;
    if (!options.wall.empty()) {
        snapshot.wall = options.wall;
        if (wall_index(job, options.wall) == job.walls.size()) {
            std::string walls;
            for (const auto& wall : job.walls) walls += (walls.empty() ? "" : ", ") + wall.id;
            return refuse(fmt::format("--wall {}: there is no such wall; there are {}", options.wall, walls));
        }
    }
    if (options.finding > 0) {
        const auto order = viewer::listed(*document.job, {});
        if (static_cast<std::size_t>(options.finding) > order.size()) {
            return refuse(fmt::format("--finding {}: there {} {}", options.finding, order.size() == 1 ? "is" : "are",
                                      rules::counted(order.size(), "finding")));
        }
        snapshot.finding = order[static_cast<std::size_t>(options.finding) - 1];
    }
    snapshot.look = options.look;
    if (const std::string fault = viewer::look_refused(document, options.look); !fault.empty())
        return refuse("--look " + fault);
    viewer::write_snapshot(std::move(document), snapshot, options.snapshot);
    print("{}: {} x {} pixels\n", options.snapshot, snapshot.width, snapshot.height);
    return all_well;
}

}  // namespace

int run_view(const ViewOptions& options) {
    if (!options.snapshot.empty()) {
        if (options.job.empty()) return refuse("view --snapshot needs a job file");
        return write_picture_of(options);
    }
    viewer::WindowOptions window;
    window.job = options.job;
    window.dark = options.dark;
    window.scale = options.scale;
    window.places = options.places;
    if (!options.size.empty() && !read_size(options.size, window.width, window.height)) {
        return refuse(fmt::format("--size {}: a size is WIDTHxHEIGHT in pixels, each 64 to 8192", options.size));
    }
    viewer::run_window(window);
    return all_well;
}

}  // namespace standproud::program
