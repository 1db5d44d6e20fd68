#include "timber.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "judge.hpp"
#include "modeler/setout.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

using Three = std::array<double, 3>;

std::string tenth(double value) { return mm(std::round(value * 10) / 10 + 0.0); }

/// The stretch of a leg inside a box that is `grown` on all sides, as parts of the leg.
std::optional<std::pair<double, double>> inside(const Three& from, const Three& to, const Three& low, const Three& high,
                                                double grown) {
    double enter = 0;
    double leave = 1;
    for (std::size_t i = 0; i < 3; ++i) {
        const double run = to[i] - from[i];
        const double a = low[i] - grown - from[i];
        const double b = high[i] + grown - from[i];
        if (std::abs(run) < same_length) {
            if (a > 0 || b < 0) return std::nullopt;
            continue;
        }
        enter = std::max(enter, std::min(a / run, b / run));
        leave = std::min(leave, std::max(a / run, b / run));
    }
    return enter < leave ? std::optional(std::pair{enter, leave}) : std::nullopt;
}

struct Passage {
    double left = 0;  ///< timber beside the hole, mm; below 0 it breaks out
    RoomPoint at;
};

/// Where a pipe's legs pass through a straight timber, and the least left beside it. The timber's long side is given.
std::optional<Passage> passage(const Pipe& pipe, const Part& timber) {
    const auto e = extent(timber.outline);
    const Three low{e[0], e[2], 0};
    const Three high{e[1], e[3], timber.length};
    const std::size_t grain = high[1] - low[1] > high[0] - low[0] ? 1 : 0;
    std::optional<Passage> worst;
    for (std::size_t i = 0; i + 1 < pipe.points.size(); ++i) {
        const Three from = timber.place.from_room(pipe.points[i]);
        const Three to = timber.place.from_room(pipe.points[i + 1]);
        const auto span = inside(from, to, low, high, pipe.diameter / 2);
        if (!span) continue;
        const double middle = (span->first + span->second) / 2;
        std::size_t along = 0;
        Three at{};
        for (std::size_t k = 0; k < 3; ++k) {
            at[k] = from[k] + middle * (to[k] - from[k]);
            if (std::abs(to[k] - from[k]) > std::abs(to[along] - from[along])) along = k;
        }
        Passage here{1e300, timber.place.to_room(at[0], at[1], at[2])};
        for (std::size_t k = 0; k < 3; ++k) {
            if (k == grain || k == along) continue;
            here.left = std::min(here.left, std::min(at[k] - low[k], high[k] - at[k]) - pipe.diameter / 2);
        }
        if (!worst || here.left < worst->left) worst = here;
    }
    return worst;
}

}  // namespace

std::optional<Finding> timber_finding(const Model& model, const Limits& limits, const Scene& scene,
                                      std::pair<std::size_t, std::size_t> pair) {
    const Thing& pipe = scene.things[pair.first];
    const Thing& timber = scene.things[pair.second];
    std::size_t number = 0;
    while (number < model.job.pipes.size() && model.job.pipes[number].id != pipe.id) ++number;
    if (number == model.job.pipes.size() || pair.second >= scene.part_of.size()) return std::nullopt;
    const auto through = passage(scene.pipes[number], scene.parts[scene.part_of[pair.second]]);
    if (!through) return std::nullopt;
    const Limit& limit = limits.at("timber.hole_edge");
    Finding finding;
    finding.rule = "pipe.timber";
    finding.subject = pipe.owner;
    finding.wall = timber.wall;
    finding.trade = Trade::builder;
    finding.quantity = "timber left beside the pipe";
    finding.source = limit_source(limit);
    Sum sum;
    sum.add("edge of the hole to the edge of " + timber.id, through->left, pipe.plus_minus, pipe.source);
    judge(finding, sum, {limit.value, std::nullopt}, model.job.statistical);
    // However much is left, whether it may be drilled is not for this program to say.
    finding.verdict = *finding.nominal < 0 ? Verdict::fails : Verdict::tight;
    const auto seen = model.room.walls[wall_index(model.job, timber.wall)].from_room(through->at);
    const std::string where = fmt::format("{:.0f} above the datum", seen[1]);
    finding.says = *finding.nominal < 0
                       ? fmt::format("{} breaks out of {} ({}) by {} mm, {}: that is a notch", pipe.name, timber.name,
                                     timber.id, tenth(-*finding.nominal), where)
                       : fmt::format("{} passes through {} ({}), {}: {} mm of timber left beside the hole ({} to {})",
                                     pipe.name, timber.name, timber.id, where, tenth(*finding.nominal),
                                     tenth(*finding.low), tenth(*finding.high));
    finding.action = "Ask the builder before drilling or notching it.";
    Clash clash;
    clash.other = timber.id;
    clash.other_trade = timber.trade;
    clash.part_a = pipe.id;
    clash.part_b = timber.id;
    clash.distance = *finding.nominal;
    clash.at = through->at;
    clash.on_wall = {seen[0], seen[1], seen[2]};
    clash.finished_corner = false;
    finding.clash = clash;
    return finding;
}

std::vector<Finding> check_backing(const Model& model) {
    std::vector<Finding> findings;
    for (const auto& wall : set_out(model)) {
        for (const auto& need : wall.noggins) {
            if (need.there || need.purpose != "body") continue;
            Finding finding;
            finding.rule = "contact.timber";
            finding.subject = need.fitting;
            finding.wall = model.job.walls[wall.wall].id;
            finding.trade = Trade::builder;
            finding.verdict = Verdict::tight;
            finding.quantity = "timber behind the body";
            finding.source = "a body is fixed to something: common practice, no source";
            finding.says = fmt::format(
                "nothing of the frame lies behind the whole body: {:.0f} to {:.0f} mm from the left "
                "bare corner, {:.0f} to {:.0f} above the datum, its face {}",
                need.left, need.right, need.bottom, need.top, depth(need.face));
            finding.action = "Fix a noggin or backing board there, or say how the body is held.";
            findings.push_back(std::move(finding));
        }
    }
    return findings;
}

}  // namespace standproud::rules
