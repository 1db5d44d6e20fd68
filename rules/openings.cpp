// pipe.opening: a pipe or cable that runs through a window, doorway or hatch, where there is no wall to hold or hide
// it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "judge.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

/// Narrows the share of a straight piece at which a coordinate lies strictly between two values.
void narrow(std::pair<double, double>& share, double from, double to, double low, double high) {
    if (std::abs(to - from) < same_length) {
        if (from <= low + same_length || from >= high - same_length) share = {1, 0};
        return;
    }
    double first = (low - from) / (to - from);
    double second = (high - from) / (to - from);
    if (first > second) std::swap(first, second);
    share = {std::max(share.first, first), std::min(share.second, second)};
}

/// mm of a pipe's middle line within an opening, in the depth of its wall or before it.
double within(const PipeRun& pipe, const Wall& wall, const WallOpening& opening) {
    constexpr double far = 1e6;
    double length = 0;
    for (std::size_t i = 1; i < pipe.points.size(); ++i) {
        const WallPoint& a = pipe.points[i - 1];
        const WallPoint& b = pipe.points[i];
        std::pair<double, double> share{0, 1};
        narrow(share, a.u, b.u, opening.left, opening.right);
        narrow(share, a.v, b.v, opening.bottom, opening.top);
        narrow(share, a.n, b.n, -wall_depth(wall).value_or(far), far);  // further back it runs behind the wall
        if (share.second > share.first)
            length += (share.second - share.first) * norm(RoomPoint{b.u - a.u, b.v - a.v, b.n - a.n});
    }
    return length;
}

}  // namespace

std::vector<Finding> check_openings(const Model& model) {
    std::vector<Finding> findings;
    for (const auto& pipe : model.job.pipes) {
        const std::size_t w = wall_index(model.job, pipe.wall);
        for (const auto& opening : model.job.walls[w].openings) {
            const double length = within(pipe, model.job.walls[w], opening);
            if (length <= same_length) continue;
            Finding finding;
            finding.rule = "pipe.opening";
            finding.subject = pipe.id;
            finding.wall = pipe.wall;
            finding.trade = pipe.kind == PipeRun::Kind::cable ? Trade::electrician : Trade::plumber;
            finding.quantity = fmt::format("in opening {}", opening.id);
            Sum sum;
            sum.add(fmt::format("{} within {}", pipe.id, opening.name), length, 0, pipe.source);
            judge(finding, sum, {std::nullopt, 0}, model.job.statistical);
            finding.says = fmt::format("{} mm of {} run through the opening \"{}\", where there is no wall",
                                       mm(std::round(length)), pipe.name, opening.name);
            finding.action = fmt::format("Lead {} round the opening: {} to {} across, {} to {} up.", pipe.id,
                                         mm(opening.left), mm(opening.right), mm(opening.bottom), mm(opening.top));
            finding.source = "an opening holds no pipe; from the job's own figures";
            finding.spot = {(opening.left + opening.right) / 2, (opening.bottom + opening.top) / 2};
            findings.push_back(std::move(finding));
        }
    }
    return findings;
}

}  // namespace standproud::rules
