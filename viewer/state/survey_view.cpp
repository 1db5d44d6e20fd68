#include "viewer/survey_view.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "rules/words.hpp"

namespace standproud::viewer {

namespace {

std::optional<double> packing_at(const Model& model, std::size_t wall, double u, double v) {
    if (!model.room.faces[wall].bedding) return std::nullopt;
    if (v < panel_bottom(model.job, wall) || v > panel_top(model.job, model.room, wall, u)) return std::nullopt;
    for (const auto& layer : build_up_at(model.job, model.room, wall, u, v)) {
        if (layer.name == "packing") return layer.to - layer.from;
    }
    return std::nullopt;
}

}  // namespace

FaceGrid face_grid(const CheckedJob& job, std::size_t wall, double step) {
    const Model& model = job.model;
    const Wall& made = model.job.walls[wall];
    FaceGrid grid;
    grid.wall = wall;
    grid.columns = 1 + static_cast<std::size_t>(std::max(1.0, std::ceil(made.width / step)));
    grid.rows = 1 + static_cast<std::size_t>(std::max(1.0, std::ceil(made.height / step)));
    for (std::size_t row = 0; row < grid.rows; ++row) {
        const double v = made.height * static_cast<double>(row) / static_cast<double>(grid.rows - 1);
        const double left = bare_corner(model.job, model.room, wall, Side::left, v);
        const double right = bare_corner(model.job, model.room, wall, Side::right, v);
        for (std::size_t column = 0; column < grid.columns; ++column) {
            const double u =
                left + (right - left) * static_cast<double>(column) / static_cast<double>(grid.columns - 1);
            grid.nodes.push_back({u, v, model.room.faces[wall].bare.at(u, v).n, packing_at(model, wall, u, v)});
        }
    }
    return grid;
}

namespace {

/// Readings are found again by the line and column where they are written.
using Place = std::pair<int, int>;

struct Marker {
    const CheckedJob& job;
    std::map<Place, std::size_t> readings;
    std::vector<ReadingMark> marks;

    void add(const std::string& wall, double u, double v, const Source& source) {
        const auto found = readings.find({source.line, source.column});
        const std::size_t w = wall_index(job.model.job, wall);
        if (found == readings.end() || w == job.model.job.walls.size()) return;
        const auto& reading = job.model.survey->readings[found->second];
        marks.push_back({found->second, w, u, v,
                         reading.unit == "mm" ? rules::mm(reading.observed)
                                              : fmt::format("{} {}", rules::mm(reading.observed), reading.unit),
                         !suspicion(*job.model.survey, found->second).empty()});
    }
};

}  // namespace

std::vector<ReadingMark> reading_marks(const CheckedJob& job) {
    const Model& model = job.model;
    if (!model.survey || !model.job.survey) return {};
    Marker marker{job, {}, {}};
    for (std::size_t i = 0; i < model.survey->readings.size(); ++i) {
        const Source& source = model.survey->readings[i].source;
        marker.readings.emplace(Place{source.line, source.column}, i);
    }
    const SurveyReadings& read = *model.job.survey;
    const auto width = [&](const std::string& wall) {
        const std::size_t w = wall_index(model.job, wall);
        return w < model.job.walls.size() ? model.job.walls[w].width : 0.0;
    };
    const auto height = [&](const std::string& wall) {
        const std::size_t w = wall_index(model.job, wall);
        return w < model.job.walls.size() ? model.job.walls[w].height : 0.0;
    };
    for (const auto& r : read.widths) marker.add(r.wall, width(r.wall) / 2, r.height, r.reading.source);
    for (const auto& r : read.heights) marker.add(r.wall, r.u, height(r.wall), r.reading.source);
    for (const auto& r : read.wall_diagonals) {
        // A little off the middle: the two diagonals of a wall cross there.
        const double part = r.right_height > r.left_height ? 0.36 : 0.64;
        marker.add(r.wall, part * width(r.wall), r.left_height + part * (r.right_height - r.left_height),
                   r.reading.source);
    }
    for (const auto& set : read.offsets) {
        for (const auto& point : set.points) marker.add(set.wall, point.u, point.v, point.source);
    }
    for (const auto& r : read.levels) marker.add(r.wall, r.u, (r.from + r.to) / 2, r.reading.source);
    for (const auto& r : read.straightedges) marker.add(r.wall, r.u, r.v, r.reading.source);
    for (const auto& r : read.floors) marker.add(r.wall, r.u, 0, r.reading.source);
    for (const auto& r : read.fixings) marker.add(r.wall, r.u, r.v, r.reading.source);
    return std::move(marker.marks);
}

std::string suspicion(const Survey& survey, std::size_t reading) {
    for (const auto& suspect : survey.suspects) {
        if (suspect.reading == reading) return suspect.says;
    }
    return "";
}

std::array<double, 2> figures_between(const std::vector<FaceGrid>& grids, bool packing) {
    std::array<double, 2> ends{1e9, -1e9};
    for (const auto& grid : grids) {
        for (const auto& node : grid.nodes) {
            if (packing && !node.packing) continue;
            const double figure = packing ? *node.packing : node.n;
            ends = {std::min(ends[0], figure), std::max(ends[1], figure)};
        }
    }
    return ends[0] > ends[1] ? std::array<double, 2>{0, 0} : ends;
}

Colour cividis(double share) {
    constexpr std::array<std::array<double, 3>, 16> anchors{{{0, 34, 78},
                                                             {0, 46, 108},
                                                             {30, 58, 111},
                                                             {53, 69, 108},
                                                             {71, 81, 108},
                                                             {87, 93, 109},
                                                             {102, 105, 112},
                                                             {117, 117, 117},
                                                             {132, 130, 121},
                                                             {148, 142, 119},
                                                             {165, 156, 116},
                                                             {183, 169, 110},
                                                             {200, 184, 102},
                                                             {219, 199, 90},
                                                             {238, 214, 73},
                                                             {254, 232, 56}}};
    const double at = std::clamp(share, 0.0, 1.0) * (anchors.size() - 1);
    const std::size_t below = std::min(static_cast<std::size_t>(at), anchors.size() - 2);
    const double part = at - static_cast<double>(below);
    std::array<int, 3> mixed{};
    for (std::size_t c = 0; c < 3; ++c) {
        mixed[c] =
            static_cast<int>(std::lround(anchors[below][c] + part * (anchors[below + 1][c] - anchors[below][c])));
    }
    return {mixed[0], mixed[1], mixed[2]};
}

}  // namespace standproud::viewer
