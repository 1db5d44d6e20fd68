// hole.size, hole.edge, flange.cover: each gives one finding for a fitting, for its worst hole.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "judge.hpp"
#include "modeler/openings.hpp"
#include "modeler/panel_movement.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

struct HoleAt {
    const Panel* panel = nullptr;
    const PanelHole* hole = nullptr;
    const HoleNeed* need = nullptr;
};

std::vector<HoleAt> holes_of(const Model& model, std::size_t placed) {
    std::vector<HoleAt> found;
    const FittingType& type = type_of(model, model.fittings[placed]);
    for (const auto& panel : model.panels) {
        for (const auto& hole : panel.holes) {
            if (hole.fitting == placed) found.push_back({&panel, &hole, &type.holes[hole.need]});
        }
    }
    return found;
}

/// A finding with less to spare, or a worse verdict, is the worse one.
double slack(const Finding& finding) {
    return finding.nominal && finding.need_low ? *finding.nominal - *finding.need_low : 0;
}

void keep_worst(std::optional<Finding>& worst, Finding finding) {
    const bool worse = !worst || severity(finding.verdict) > severity(worst->verdict) ||
                       (finding.verdict == worst->verdict && slack(finding) < slack(*worst));
    if (worse) worst = std::move(finding);
}

/// Judges one margin of one hole, known to +/- `tolerance`, against its least value.
Finding margin_finding(const Model& model, std::size_t placed, const std::string& rule, const std::string& quantity,
                       Sum sum, double least, bool advice) {
    Finding finding = blank_finding(model, model.fittings[placed], rule);
    finding.trade = Trade::installer;
    finding.quantity = quantity;
    judge(finding, sum, {least, std::nullopt}, model.job.statistical);
    if (advice && finding.verdict == Verdict::fails) finding.verdict = Verdict::tight;
    if (finding.verdict == Verdict::unknown) {
        finding.says = fmt::format("{} cannot be judged: missing {}", quantity, finding.missing.front());
        finding.action = fmt::format("Find and fill in: {}.", finding.missing.front());
        return finding;
    }
    finding.says = fmt::format("{}: {} mm ({} to {}), at least {} mm needed", quantity, mm(*finding.nominal),
                               mm(*finding.low), mm(*finding.high), mm(least));
    if (*finding.low < least - same_length) {
        const double by = least - (finding.verdict == Verdict::fails ? *finding.nominal : *finding.low);
        finding.says += fmt::format("; short by {} mm{}", mm(by),
                                    finding.verdict == Verdict::tight ? " at the end of the band" : "");
    }
    return finding;
}

std::string of_hole(const HoleAt& at) {
    const auto& opening = at.hole->opening;
    return opening.is_circle()
               ? fmt::format("{} mm hole", mm(2 * opening.radius))
               : fmt::format("{} x {} mm cut-out", mm(2 * opening.half_width), mm(2 * opening.half_height));
}

/// The room that a hole leaves all round for movement and set-out, and what it rests on.
struct HoleRoom {
    double movement = 0;
    std::string source;
};

std::string figure_source(const BenchSettings& bench, const char* key) {
    for (const auto& one : bench.figures) {
        if (one.key != key) continue;
        return fmt::format("{} = {} {}, {}", key, mm(one.value), one.unit,
                           one.set ? to_string(Source{one.set->file, one.set->line, 0}) : one.shipped);
    }
    return key;
}

/// With [bench] by its climate, heat and moisture; else by the limits, heat alone. Bonded all over, a panel moves about
/// its middle: alpha x r x dT.
HoleRoom room_for_movement(const Model& model, const Limits& limits, const HoleAt& at) {
    const double away = from_middle(*at.panel, at.hole->opening);
    if (!model.job.bench) {
        return {limits.at("panel.expansion").value * 1e-6 * away * limits.at("panel.temperature_swing").value,
                limit_source(limits.at("panel.expansion"))};
    }
    const auto& bench = *model.job.bench;
    const auto strain = strain_of(bench);
    const bool grows = strain.growth() >= strain.shrinkage();
    return {move_hole(*at.panel, at.hole->opening, 0, 0, strain).moves,
            fmt::format("[bench] {}; {}; {}", figure_source(bench, "fixed_at"),
                        figure_source(bench, grows ? "hottest" : "coldest"),
                        figure_source(bench, grows ? "wettest" : "driest"))};
}

/// The hole against its part: room for the panel's movement there and for setting out.
Finding size_finding(const Model& model, std::size_t placed, const Limits& limits, const HoleAt& at) {
    const HoleRoom moves = room_for_movement(model, limits, at);
    const double allowance = moves.movement + limits.at("setout.hole").value;
    Sum sum;
    if (at.need->passes) {
        const double room = 2 * margin_inside(*at.need->passes, at.need->opening);
        sum.add("hole less part", room, 0, at.need->source);
    } else {
        sum.missing.push_back(fmt::format("the part's diameter, passes ({})",
                                          to_string(Source{at.need->source.file, at.need->source.line, 0})));
    }
    Finding finding =
        margin_finding(model, placed, "hole.size", of_hole(at) + " larger than its part by", sum, 2 * allowance, false);
    finding.source =
        fmt::format("2 x (movement {} mm at {} mm from the panel's middle + set-out {} mm); {}; {}", mm(moves.movement),
                    mm(from_middle(*at.panel, at.hole->opening)), mm(limits.at("setout.hole").value), moves.source,
                    limit_source(limits.at("setout.hole")));
    if (finding.nominal && finding.verdict != Verdict::clear) {
        finding.action = fmt::format("Drill or cut it {} mm larger, and check that the flange still covers it.",
                                     mm(std::ceil((2 * allowance - *finding.nominal) * 10 - 1e-6) / 10));
    }
    return finding;
}

/// "left edge", or "edge at bathroom window".
std::string nearest_edge(const Model& model, const Panel& panel, const RoundedRect& opening) {
    const auto e = extent(panel.outline);
    std::vector<std::pair<double, std::string>> edges{{opening.centre.x - opening.half_width - e[0], "left edge"},
                                                      {e[1] - opening.centre.x - opening.half_width, "right edge"},
                                                      {opening.centre.y - opening.half_height - e[2], "bottom edge"},
                                                      {e[3] - opening.centre.y - opening.half_height, "top edge"}};
    for (const auto& cut : panel.cuts) {
        edges.emplace_back(gap_between(opening, cut.shape),
                           "edge at " + model.job.walls[panel.wall].openings[cut.opening].name);
    }
    return std::min_element(edges.begin(), edges.end())->second;
}

Finding edge_finding(const Model& model, std::size_t placed, const Limits& limits, const HoleAt& at) {
    const Limit& limit = limits.at("hole.edge");
    const double setout = limits.at("setout.hole").value;
    const std::string edge = nearest_edge(model, *at.panel, at.hole->opening);
    Sum sum;
    sum.add("hole edge to panel edge", room_on(*at.panel, at.hole->opening), setout, at.panel->source);
    Finding finding = margin_finding(model, placed, "hole.edge",
                                     fmt::format("{} from the {} of panel {}", of_hole(at), edge, at.panel->id), sum,
                                     limit.value, limit.advice);
    finding.source = limit_source(limit);
    if (finding.verdict != Verdict::clear) {
        finding.action = fmt::format("Move the panel's {} or the fitting {} mm further apart.", edge,
                                     mm(std::ceil((limit.value - *finding.low) * 10 - 1e-6) / 10));
    }
    return finding;
}

/// What is left between this hole and the nearest hole of another fitting on the same panel.
std::optional<Finding> apart_finding(const Model& model, std::size_t placed, const Limits& limits, const HoleAt& at) {
    const Limit& limit = limits.at("hole.apart");
    const PanelHole* other = nullptr;
    double least = 0;
    for (const auto& hole : at.panel->holes) {
        if (hole.fitting == placed) continue;
        const double gap = gap_between(hole.opening, at.hole->opening);
        if (!other || gap < least) {
            other = &hole;
            least = gap;
        }
    }
    if (!other || least - limits.at("setout.hole").value >= limit.value) return std::nullopt;
    Sum sum;
    sum.add("between the two holes", least, limits.at("setout.hole").value, at.need->source);
    const std::string& name = fitting_of(model, model.fittings[other->fitting]).id;
    Finding finding =
        margin_finding(model, placed, "hole.edge", fmt::format("{} from the hole of {}", of_hole(at), name), sum,
                       limit.value, limit.advice && least > 0);
    finding.source = limit_source(limit);
    finding.action = fmt::format("Move this fitting and {} apart, or make one hole for both.", name);
    return finding;
}

Finding cover_finding(const Model& model, std::size_t placed, const Limits& limits, const HoleAt& at) {
    const FittingType& type = type_of(model, model.fittings[placed]);
    const Limit& limit = limits.at("flange.margin");
    double best = -1e300;
    for (const auto& flange : type.flanges) best = std::max(best, margin_inside(at.need->opening, flange.shape));
    Sum sum;
    if (type.flanges.empty()) {
        sum.missing.push_back(fmt::format("the flange of {}", type_source(type)));
    } else {
        sum.add("flange beyond the hole", best, limits.at("setout.hole").value, at.need->source);
    }
    Finding finding =
        margin_finding(model, placed, "flange.cover", fmt::format("flange beyond the edge of its {}", of_hole(at)), sum,
                       limit.value, limit.advice);
    finding.source = fmt::format("{}; {}", limit_source(limit), type_source(type));
    if (finding.nominal && finding.verdict != Verdict::clear) {
        finding.action = fmt::format("Use a flange {} mm larger across, or a smaller hole if its part allows.",
                                     mm(std::ceil(2 * (limit.value - *finding.low) * 10 - 1e-6) / 10));
    }
    return finding;
}

Finding one_panel_finding(const Model& model, std::size_t placed, const Limits& limits, const FlangeShape& flange) {
    const PlacedFitting& where = model.fittings[placed];
    RoundedRect shape = moved(flange.shape, {where.u, where.v});
    const Panel& panel = model.panels[panel_of(model, where.wall, shape.centre)];
    shape.centre = on_panel(model, panel, shape.centre);
    const std::string edge = nearest_edge(model, panel, shape);
    Sum sum;
    sum.add("flange edge to panel edge", room_on(panel, shape), limits.at("setout.hole").value, flange.source);
    Finding finding = margin_finding(model, placed, "flange.cover",
                                     fmt::format("flange from the {} of panel {}", edge, panel.id), sum, 0, false);
    finding.source = "a flange sits on one panel: common practice, no source";
    if (finding.verdict != Verdict::clear) {
        finding.action =
            fmt::format("Move the panel's {} or the fitting {} mm further apart, so that the flange sits on one panel.",
                        edge, mm(std::ceil(-*finding.low * 10 - 1e-6) / 10));
    }
    return finding;
}

}  // namespace

std::vector<Finding> check_holes(const Model& model, std::size_t placed, const Limits& limits) {
    std::optional<Finding> size;
    std::optional<Finding> edge;
    std::optional<Finding> apart;
    std::optional<Finding> cover;
    std::optional<Finding> one_panel;
    const auto holes = holes_of(model, placed);
    for (const auto& at : holes) {
        keep_worst(size, size_finding(model, placed, limits, at));
        keep_worst(edge, edge_finding(model, placed, limits, at));
        keep_worst(cover, cover_finding(model, placed, limits, at));
        if (auto near = apart_finding(model, placed, limits, at)) keep_worst(apart, std::move(*near));
    }
    if (!holes.empty()) {
        for (const auto& flange : type_of(model, model.fittings[placed]).flanges) {
            keep_worst(one_panel, one_panel_finding(model, placed, limits, flange));
        }
    }
    std::vector<Finding> findings;
    for (auto* found : {&size, &edge, &apart, &cover, &one_panel}) {
        if (*found) findings.push_back(std::move(**found));
    }
    return findings;
}

}  // namespace standproud::rules
