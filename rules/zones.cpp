// zone.electrical: electrical fittings against the zones of IEC 60364-7-701, as distances. The electrician decides.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "judge.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

/// A tray whose rim stands this far over its base holds water like a bath, mm.
constexpr double basin_depth = 100;

Vec2 plan_of(const Model& model, const PlacedFitting& placed) {
    const double n = drawn_face(model.room, placed.wall, placed.u, placed.v) +
                     build_up(model.job, model.room, placed.wall, placed.u, placed.v);
    const RoomPoint p = model.room.walls[placed.wall].to_room(placed.u, placed.v, n);
    return {p.x, p.y};
}

struct Zone {
    double beyond = std::numeric_limits<double>::infinity();  ///< in plan from zone 1; below 0 inside it
    double top = 0;
    std::string of;
};

void nearer(Zone& zone, double beyond, double top, const std::string& of) {
    zone.top = std::max(zone.top, top);
    if (beyond < zone.beyond) {
        zone.beyond = beyond;
        zone.of = of;
    }
}

/// Distance in plan from the rectangle that a bath covers.
double from_bath(const Model& model, Vec2 at) {
    const Tray& tray = *model.job.tray;
    const Frame& wall = model.room.walls[wall_index(model.job, tray.wall)];
    const auto seen = wall.from_room({at.x, at.y, 0});
    const double du = std::max({tray.left - seen[0], seen[0] - tray.left - tray.width, 0.0});
    const double dn = std::max({-seen[2], seen[2] - tray.depth, 0.0});
    return std::hypot(du, dn);
}

Zone zone_at(const Model& model, const Limits& limits, Vec2 at) {
    Zone zone;
    const bool basin = model.job.tray && model.job.tray->rim - model.job.tray->base > basin_depth;
    if (basin) nearer(zone, from_bath(model, at), limits.at("zone.height").value, model.job.tray->name);
    for (const auto& outlet : model.fittings) {
        if (type_of(model, outlet).use != Use::water_outlet) continue;
        const double away = norm(plan_of(model, outlet) - at);
        const double top = std::max(limits.at("zone.height").value, outlet.v);
        if (basin) {
            zone.top = std::max(zone.top, top);
        } else {
            nearer(zone, away - limits.at("zone.radius").value, top, fitting_of(model, outlet).name);
        }
    }
    return zone;
}

}  // namespace

std::vector<Finding> check_zones(const Model& model, const Limits& limits) {
    std::vector<Finding> findings;
    const bool basin = model.job.tray && model.job.tray->rim - model.job.tray->base > basin_depth;
    for (const auto& placed : model.fittings) {
        const Use use = type_of(model, placed).use;
        if (use != Use::electrical && use != Use::socket_outlet) continue;
        const Zone zone = zone_at(model, limits, plan_of(model, placed));
        if (!std::isfinite(zone.beyond)) continue;
        Finding finding = blank_finding(model, placed, "zone.electrical");
        finding.trade = Trade::electrician;
        const bool socket = use == Use::socket_outlet;
        const Limit& limit = limits.at(socket ? "zone.socket" : basin ? "zone.two" : "zone.radius");
        const double need = socket ? limit.value : basin ? limit.value : 0;
        finding.quantity = "beyond zone 1, in plan";
        finding.source = limit_source(limit) + "; " + limit_source(limits.at("zone.height"));
        Sum sum;
        sum.add("beyond zone 1 of " + zone.of, zone.beyond, limits.at("setout.hole").value,
                placed.wall < model.job.walls.size() ? fitting_of(model, placed).source : Source{});
        judge(finding, sum, {need, std::nullopt}, model.job.statistical);
        const bool above = placed.v > zone.top;
        const bool inside = zone.beyond < 0 || (basin && zone.beyond == 0);
        // Over zone 1 there is none; zone 2 and the distance of sockets are advice that the electrician weighs.
        if (above && !socket) finding.verdict = Verdict::clear;
        if (finding.verdict == Verdict::fails && !inside && !socket) finding.verdict = Verdict::tight;
        finding.says = fmt::format("{} lies {} mm {} zone 1 of {} in plan, {} above the datum; zone 1 reaches {} high",
                                   fitting_of(model, placed).name, mm(std::round(std::abs(zone.beyond))),
                                   inside ? "inside" : "beyond", zone.of, mm(std::round(placed.v)), mm(zone.top));
        if (above) finding.says += ", so it lies over it";
        if (need > 0) finding.says += fmt::format("; {} mm wanted", mm(need));
        if (finding.verdict != Verdict::clear)
            finding.action = "Ask the electrician. Zones differ between codes and editions.";
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace standproud::rules
