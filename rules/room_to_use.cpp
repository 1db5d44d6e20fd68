// room.circle, room.area, height.control, height.rail: what is left to use between finished faces, and at what height.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "judge.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

constexpr const char* own_code = "; your code may differ";

/// A finding of advice: tight at worst.
void finish(Finding& finding, const std::string& action) {
    if (finding.verdict == Verdict::fails) finding.verdict = Verdict::tight;
    if (finding.verdict != Verdict::clear) finding.action = action;
}

Vec2 in_plan(RoomPoint p) { return {p.x, p.y}; }

/// The recess in plan at a height, between bare or finished faces: corners from the left free end on, anticlockwise.
/// An open run is closed by the straight line between its free ends.
std::optional<Polygon> plan_at(const Model& model, double v, bool finished) {
    Polygon plan;
    const std::size_t walls = model.job.walls.size();
    const auto point = [&](std::size_t w, Side side) {
        std::optional<double> u = bare_corner(model.job, model.room, w, side, v);
        if (finished && corner_at(model.room, w, side)) u = finished_corner(model.job, model.room, w, side, v);
        const double n =
            finished ? finished_face(model.job, model.room, w, *u, v) : model.room.faces[w].bare.at(*u, v).n;
        return in_plan(model.room.walls[w].to_room(*u, v, n));
    };
    for (std::size_t w = 0; w < walls; ++w) plan.points.push_back(point(w, Side::left));
    if (!model.job.closed) plan.points.push_back(point(walls - 1, Side::right));
    if (area(plan) < 0) std::reverse(plan.points.begin(), plan.points.end());
    const auto& p = plan.points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 a = p[(i + 1) % p.size()] - p[i];
        const Vec2 b = p[(i + 2) % p.size()] - p[(i + 1) % p.size()];
        if (cross(a, b) <= 0) return std::nullopt;  // an outside corner: no simple answer
    }
    return plan;
}

/// Diameter of the largest circle in a convex polygon: it touches three of its sides and lies inside all.
double largest_circle(const Polygon& plan) {
    struct Line {
        Vec2 inward;
        double offset = 0;
    };
    std::vector<Line> lines;
    const auto& p = plan.points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 edge = p[(i + 1) % p.size()] - p[i];
        if (norm(edge) < same_length) continue;
        const Vec2 inward = 1 / norm(edge) * Vec2{-edge.y, edge.x};
        lines.push_back({inward, dot(inward, p[i])});
    }
    double best = 0;
    const std::size_t count = lines.size();
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t j = i + 1; j < count; ++j) {
            for (std::size_t k = j + 1; k < count; ++k) {
                // inward . c - r = offset for the three: differences leave two equations for c when r is taken out.
                const Vec2 a = lines[i].inward - lines[j].inward;
                const Vec2 b = lines[i].inward - lines[k].inward;
                const double turned = cross(a, b);
                if (std::abs(turned) < 1e-12) continue;
                const double s = lines[i].offset - lines[j].offset;
                const double t = lines[i].offset - lines[k].offset;
                const Vec2 centre = 1 / turned * Vec2{s * b.y - t * a.y, a.x * t - b.x * s};
                double radius = 1e300;
                for (const auto& line : lines) radius = std::min(radius, dot(line.inward, centre) - line.offset);
                best = std::max(best, radius);
            }
        }
    }
    return 2 * best;
}

Finding room_finding(const Model& model, const Limits& limits, const std::string& rule, const std::string& quantity,
                     double bare, double finished, double scale, const char* unit) {
    const Limit& limit = limits.at(rule);
    Finding finding;
    finding.rule = rule;
    finding.subject = "recess";
    finding.trade = Trade::builder;
    finding.quantity = quantity;
    finding.unit = limit.unit;
    finding.source = limit_source(limit) + own_code;
    Sum sum;
    sum.add("between bare faces", bare, 0, model.job.walls.front().source);
    sum.add("taken by the linings", finished - bare, 0, model.job.walls.front().source);
    judge(finding, sum, {limit.value, std::nullopt}, model.job.statistical);
    finding.says =
        fmt::format("{}: {} {} between finished faces, {} between bare ones; {} asked for", quantity,
                    mm(std::round(finished / scale * 100) / 100), unit, mm(std::round(bare / scale * 100) / 100),
                    mm(std::round(limit.value / scale * 100) / 100));
    finish(finding, "Show this to the builder before the walls are lined.");
    return finding;
}

Finding height_finding(const Model& model, const Limits& limits, const PlacedFitting& placed, const std::string& rule,
                       const std::string& quantity, double top_over_centre) {
    Finding finding = blank_finding(model, placed, rule);
    finding.quantity = quantity;
    const Limit& low = limits.at(rule + "_low");
    const Limit& high = limits.at(rule + "_high");
    finding.source = limit_source(low) + "; " + limit_source(high) + own_code;
    Sum sum;
    const Fitting& fitting = fitting_of(model, placed);
    sum.add("height of the fitting", placed.v, limits.at("setout.hole").value, fitting.height_source);
    if (top_over_centre > 0) sum.add("its top over that", top_over_centre, 0, type_of(model, placed).source);
    judge(finding, sum, {low.value, high.value}, model.job.statistical);
    finding.says = fmt::format("{}: {} mm above the datum, {} to {} asked for", quantity, mm(*finding.nominal),
                               mm(low.value), mm(high.value));
    finish(finding, "Agree the height with whoever will use it before it is fixed.");
    return finding;
}

/// Half the height of a level rail.
std::optional<double> level_rail(const FittingType& type) {
    for (const auto& part : type.parts) {
        if (part.role == "rail" && part.axis == TypePart::Axis::across) return extent(part.outline)[1];
    }
    return std::nullopt;
}

}  // namespace

std::vector<Finding> check_room(const Model& model, const Limits& limits) {
    std::vector<Finding> findings;
    if (model.job.walls.size() >= 3 && model.job.tray) {
        const double v = limits.at("room.level").value;
        const auto bare = plan_at(model, v, false);
        const auto finished = plan_at(model, v, true);
        if (bare && finished) {
            findings.push_back(room_finding(model, limits, "room.circle", "largest circle in plan",
                                            largest_circle(*bare), largest_circle(*finished), 1, "mm"));
            findings.push_back(
                room_finding(model, limits, "room.area", "area in plan", area(*bare), area(*finished), 1e6, "m2"));
        }
    }
    for (const auto& placed : model.fittings) {
        const FittingType& type = type_of(model, placed);
        if (type.use == Use::control) {
            findings.push_back(height_finding(model, limits, placed, "height.control", "height of the control", 0));
        }
        if (type.use == Use::grab_rail) {
            if (const auto half = level_rail(type)) {
                findings.push_back(height_finding(model, limits, placed, "height.rail", "top of the rail", *half));
            }
        }
    }
    return findings;
}

}  // namespace standproud::rules
