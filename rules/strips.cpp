// panel.strip: what is left of the panels beside the openings of a wall. One finding for a wall, of the narrowest.
#include <fmt/format.h>

#include <algorithm>

#include "judge.hpp"
#include "modeler/openings.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

struct Strip {
    const Panel* panel = nullptr;
    double width = 0;
    std::string where;
    Vec2 at;
};

/// Beside each side of a cut that lies within the panel, and of a panel that an opening parted.
std::vector<Strip> strips_of(const Model& model, const Panel& panel) {
    std::vector<Strip> strips;
    const auto e = extent(panel.outline);
    const Vec2 middle{(e[0] + e[1]) / 2, (e[2] + e[3]) / 2};
    for (const auto& cut : panel.cuts) {
        const auto c = extent(cut.shape);
        const std::string& name = model.job.walls[panel.wall].openings[cut.opening].name;
        const auto add = [&](const char* word, double width, Vec2 at) {
            if (width > same_length) strips.push_back({&panel, width, fmt::format("{} {}", word, name), at});
        };
        const Vec2 mid{(std::max(c[0], e[0]) + std::min(c[1], e[1])) / 2,
                       (std::max(c[2], e[2]) + std::min(c[3], e[3])) / 2};
        add("left of", c[0] - e[0], {(c[0] + e[0]) / 2, mid.y});
        add("right of", e[1] - c[1], {(c[1] + e[1]) / 2, mid.y});
        add("under", c[2] - e[2], {mid.x, (c[2] + e[2]) / 2});
        add("over", e[3] - c[3], {mid.x, (c[3] + e[3]) / 2});
    }
    const auto& s = panel.sides;
    if (!s.left || !s.right) strips.push_back({&panel, e[1] - e[0], "between the openings or ends beside it", middle});
    if (!s.bottom || !s.top) strips.push_back({&panel, e[3] - e[2], "between the opening and the panels' end", middle});
    return strips;
}

}  // namespace

std::vector<Finding> check_strips(const Model& model, const Limits& limits) {
    const Limit& limit = limits.at("panel.strip");
    std::vector<Finding> findings;
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        std::vector<Strip> strips;
        for (const auto& panel : model.panels) {
            if (panel.wall != w) continue;
            for (auto& strip : strips_of(model, panel)) strips.push_back(std::move(strip));
        }
        if (strips.empty()) continue;
        const auto narrowest = std::min_element(strips.begin(), strips.end(),
                                                [](const Strip& a, const Strip& b) { return a.width < b.width; });
        const Wall& wall = model.job.walls[w];
        Finding finding;
        finding.rule = "panel.strip";
        finding.subject = "wall " + wall.id;
        finding.wall = wall.id;
        finding.trade = Trade::installer;
        finding.quantity = fmt::format("panel {} {}", narrowest->panel->id, narrowest->where);
        Sum sum;
        sum.add("strip of panel", narrowest->width, 0, narrowest->panel->source);
        judge(finding, sum, {limit.value, std::nullopt}, model.job.statistical);
        if (finding.verdict == Verdict::fails && limit.advice) finding.verdict = Verdict::tight;
        finding.says = fmt::format("{} mm of panel {} are left {}; at least {} mm are usual", mm(narrowest->width),
                                   narrowest->panel->id, narrowest->where, mm(limit.value));
        if (finding.verdict != Verdict::clear)
            finding.action = "Move a join into the opening or to its edge, so that no narrow strip is left to break.";
        finding.source = limit_source(limit);
        finding.spot = narrowest->at;
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace standproud::rules
