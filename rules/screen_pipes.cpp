// screen.pipe: pipes and cables behind what holds a glass screen. How long its screws are is not told, so no more can
// be said than that they are there.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "judge.hpp"
#include "modeler/screens.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

struct Area {
    double left = 0;
    double right = 0;
    double bottom = 0;
    double top = 0;
};

double beside(const Area& area, Vec2 p) {
    return std::hypot(std::max({area.left - p.x, p.x - area.right, 0.0}),
                      std::max({area.bottom - p.y, p.y - area.top, 0.0}));
}

double beside(Vec2 from, Vec2 to, Vec2 p) {
    const Vec2 along = to - from;
    const double length = dot(along, along);
    const double share = length > 0 ? std::clamp(dot(p - from, along) / length, 0.0, 1.0) : 0;
    return norm(p - (from + share * along));
}

/// Whether a straight piece meets the area: as long as some of it is left within all four edges.
bool meets(const Area& area, Vec2 from, Vec2 to) {
    double first = 0;
    double last = 1;
    const auto within = [&](double a, double b, double low, double high) {
        if (std::abs(b - a) < same_length) {
            if (a < low || a > high) last = -1;
            return;
        }
        first = std::max(first, std::min((low - a) / (b - a), (high - a) / (b - a)));
        last = std::min(last, std::max((low - a) / (b - a), (high - a) / (b - a)));
    };
    within(from.x, to.x, area.left, area.right);
    within(from.y, to.y, area.bottom, area.top);
    return first <= last;
}

/// Between a straight piece of a pipe's middle line and the area, as seen on the wall; 0 where they meet.
double apart(const Area& area, Vec2 from, Vec2 to) {
    if (meets(area, from, to)) return 0;
    double least = std::min(beside(area, from), beside(area, to));
    for (const Vec2 corner : {Vec2{area.left, area.bottom}, Vec2{area.right, area.bottom}, Vec2{area.left, area.top},
                              Vec2{area.right, area.top}}) {
        least = std::min(least, beside(from, to, corner));
    }
    return least;
}

double apart(const Model& model, const ScreenHold& hold, const Area& area, const PipeRun& pipe) {
    const auto on_wall = [&](const WallPoint& p) {
        return Vec2{bare_corner(model.job, model.room, hold.wall, Side::left, p.v) + p.u, p.v};
    };
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 1; i < pipe.points.size(); ++i) {
        least = std::min(least, apart(area, on_wall(pipe.points[i - 1]), on_wall(pipe.points[i])));
    }
    return least;
}

Finding pipe_finding(const Screen& screen, const ScreenHold& hold, const PipeRun& pipe, double least,
                     const Limit& limit) {
    Finding finding;
    finding.rule = "screen.pipe";
    finding.subject = screen.id;
    finding.wall = screen.wall;
    finding.trade = Trade::installer;
    finding.verdict = Verdict::unknown;
    finding.quantity = "screws from " + pipe.id;
    finding.need_low = limit.value;
    finding.source = limit_source(limit);
    finding.spot = Vec2{hold.u, (hold.bottom + hold.top) / 2};
    finding.missing = {fmt::format("how long the screws of {} are", screen.id)};
    const auto [deepest, nearest] =
        std::minmax_element(pipe.points.begin(), pipe.points.end(), [](auto& a, auto& b) { return a.n < b.n; });
    const std::string place = hold.clamp ? fmt::format("its clamp at {}", mm(hold.bottom)) : std::string("its channel");
    const std::string where = least <= 0 ? "runs behind " + place
                                         : fmt::format("runs {} mm beside {}", mm(std::round(least * 10) / 10), place);
    finding.says = fmt::format(
        "{} {}, its middle {} to {}: how long the screws are is not told, so whether they reach it "
        "cannot be judged",
        pipe.name, where, depth(nearest->n), depth(deepest->n));
    finding.action = fmt::format("Mark {} on the wall and keep every screw {} mm clear of it, or move one of the two.",
                                 pipe.id, mm(limit.value));
    return finding;
}

}  // namespace

std::vector<Finding> check_screen_pipes(const Model& model, const Limits& limits) {
    const Limit& limit = limits.at("pipe.screw");
    std::vector<Finding> findings;
    for (const auto& screen : model.job.screens) {
        for (const auto& hold : holds_of(model, screen)) {
            const double half = half_width(screen);
            const double up = hold.clamp ? half : 0;
            const Area area{hold.u - half, hold.u + half, hold.bottom - up, hold.top + up};
            for (const auto& pipe : model.job.pipes) {
                if (wall_index(model.job, pipe.wall) != hold.wall) continue;
                const double least = apart(model, hold, area, pipe) - pipe.diameter / 2;
                if (least > limit.value + pipe.plus_minus + limits.at("setout.hole").value + same_length) continue;
                findings.push_back(pipe_finding(screen, hold, pipe, least, limit));
            }
        }
    }
    return findings;
}

}  // namespace standproud::rules
