// zone.electrical: electrical fittings against the zones of IEC 60364-7-701, as distances. The electrician decides.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "judge.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

Vec2 plan_of(const Model& model, const PlacedFitting& placed) {
    const double n = drawn_face(model.room, placed.wall, placed.u, placed.v) +
                     build_up(model.job, model.room, placed.wall, placed.u, placed.v);
    const RoomPoint p = model.room.walls[placed.wall].to_room(placed.u, placed.v, n);
    return {p.x, p.y};
}

struct Zone {
    double beyond = std::numeric_limits<double>::infinity();  ///< in plan from zone 1; below 0 inside it
    double top = 0;
    double top_off = 0;  ///< +/- of the top, where an outlet sets it
    std::string of;
};

void nearer(Zone& zone, double beyond, const std::string& of) {
    if (beyond >= zone.beyond) return;
    zone.beyond = beyond;
    zone.of = of;
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

/// The facts that a zone rests on, and which of them the job does not tell, each with what to add.
struct Water {
    std::vector<const PlacedFitting*> outlets;
    bool basin = false;                ///< zone 1 is bounded by the bath or basin; else it is counted from the outlets
    std::vector<std::string> missing;  ///< without these nobody can say where zone 1 is
    std::vector<std::string> unsure;   ///< without these nobody can say how high it reaches
};

Water water_of(const Model& model) {
    Water water;
    std::vector<std::string> open;
    for (const auto& placed : model.fittings) {
        const FittingType& type = type_of(model, placed);
        if (type.use == Use::water_outlet) water.outlets.push_back(&placed);
        if (type.family == Family::thread && type.use == Use::none) {
            open.push_back(fmt::format("use of type {}: \"water outlet\" or \"other\" ({})", type.id,
                                       to_string(Source{type.source.file, type.source.line, 0})));
        }
    }
    if (water.outlets.empty() && open.empty()) {
        open.emplace_back("the fixed water outlet: a fitting whose type has use = \"water outlet\"");
    }
    if (!model.job.bath_or_basin) {
        water.missing.emplace_back("bath_or_basin in [job]: whether the room has a bath or a shower basin");
        return water;
    }
    water.basin = *model.job.bath_or_basin;
    if (water.basin && !model.job.tray) water.missing.emplace_back("[tray]: where the bath or basin stands");
    if (!water.basin && model.job.tray && model.job.tray->rim > same_length) {
        water.missing.push_back(
            fmt::format("which holds: bath_or_basin = false, but the rim of {} is {} mm above the datum",
                        model.job.tray->name, mm(model.job.tray->rim)));
    }
    auto& asked = water.basin ? water.unsure : water.missing;
    asked.insert(asked.end(), open.begin(), open.end());
    return water;
}

/// Must hold: nothing of `water` is missing.
Zone zone_at(const Model& model, const Limits& limits, const Water& water, Vec2 at) {
    Zone zone;
    zone.top = limits.at("zone.height").value;
    if (water.basin) nearer(zone, from_bath(model, at), model.job.tray->name);
    for (const PlacedFitting* outlet : water.outlets) {
        if (outlet->v > zone.top) zone.top_off = limits.at("setout.hole").value;
        zone.top = std::max(zone.top, outlet->v);
        if (water.basin) continue;
        const double away = norm(plan_of(model, *outlet) - at);
        nearer(zone, away - limits.at("zone.radius").value, fitting_of(model, *outlet).name);
    }
    return zone;
}

void cannot_be_judged(Finding& finding, const std::string& name, const std::vector<std::string>& missing) {
    forget_figures(finding);
    finding.missing = missing;
    std::string names;
    for (const auto& one : missing) names += (names.empty() ? "" : "; ") + one;
    finding.says = fmt::format("{}: its zone cannot be judged: missing {}; the electrician decides", name, names);
    finding.action = fmt::format("Fill in: {}. Ask the electrician in any case.", names);
}

Finding zone_finding(const Model& model, const Limits& limits, const Water& water, const PlacedFitting& placed) {
    Finding finding = blank_finding(model, placed, "zone.electrical");
    const Fitting& fitting = fitting_of(model, placed);
    const FittingType& type = type_of(model, placed);
    finding.trade = Trade::electrician;
    finding.quantity = "beyond zone 1, in plan";
    std::vector<std::string> missing = water.missing;
    if (type.use != Use::electrical && type.use != Use::socket_outlet) {
        missing.push_back(fmt::format("use of type {}: \"electrical\" or \"socket outlet\" ({})", type.id,
                                      to_string(Source{type.source.file, type.source.line, 0})));
    }
    const bool socket = type.use == Use::socket_outlet;
    const Limit& limit = limits.at(socket ? "zone.socket" : water.basin ? "zone.two" : "zone.radius");
    finding.source = limit_source(limit) + "; " + limit_source(limits.at("zone.height"));
    if (!missing.empty()) {
        cannot_be_judged(finding, fitting.name, missing);
        return finding;
    }
    const Zone zone = zone_at(model, limits, water, plan_of(model, placed));
    const double need = socket || water.basin ? limit.value : 0;
    Sum sum;
    sum.add("beyond zone 1 of " + zone.of, zone.beyond, limits.at("setout.hole").value, fitting.source);
    judge(finding, sum, {need, std::nullopt}, model.job.statistical);
    // Over it only where its height and the zone's, each with its +/-, leave no doubt.
    const double off = limits.at("setout.hole").value;
    const double loose = model.job.statistical ? std::hypot(off, zone.top_off) : off + zone.top_off;
    const bool above = placed.v - loose > zone.top + same_length;
    const bool may_be_above = placed.v > zone.top + same_length;
    const bool inside = zone.beyond < 0 || (water.basin && zone.beyond == 0);
    if (above && !socket && finding.verdict != Verdict::clear) {
        // Over zone 1 there is none; but an outlet that nobody told of may be higher yet.
        if (!water.unsure.empty()) {
            cannot_be_judged(finding, fitting.name, water.unsure);
            return finding;
        }
        finding.verdict = Verdict::clear;
    } else if (may_be_above && !socket && finding.verdict == Verdict::fails) {
        finding.verdict = Verdict::tight;
    }
    // Zone 2 and the distance of sockets are advice that the electrician weighs.
    if (finding.verdict == Verdict::fails && !inside && !socket) finding.verdict = Verdict::tight;
    finding.says = fmt::format("{} lies {} mm {} zone 1 of {} in plan, {} above the datum; zone 1 reaches {} high",
                               fitting.name, mm(std::round(std::abs(zone.beyond))), inside ? "inside" : "beyond",
                               zone.of, mm(std::round(placed.v)), mm(zone.top));
    if (above) finding.says += ", so it lies over it";
    if (may_be_above && !above) finding.says += fmt::format(", so it may lie over it (+/- {} mm)", mm(loose));
    if (need > 0) finding.says += fmt::format("; {} mm wanted", mm(need));
    finding.says += "; the electrician decides";
    if (finding.verdict != Verdict::clear)
        finding.action = "Ask the electrician. Zones differ between codes and editions.";
    return finding;
}

/// By its use, its trade, or a cable that goes to it.
bool is_electrical(const Model& model, const PlacedFitting& placed) {
    const FittingType& type = type_of(model, placed);
    if (type.use == Use::electrical || type.use == Use::socket_outlet || type.trade == Trade::electrician) return true;
    const std::string& id = fitting_of(model, placed).id;
    return std::any_of(model.job.pipes.begin(), model.job.pipes.end(), [&](const PipeRun& pipe) {
        return pipe.kind == PipeRun::Kind::cable &&
               std::find(pipe.connects.begin(), pipe.connects.end(), id) != pipe.connects.end();
    });
}

}  // namespace

std::vector<Finding> check_zones(const Model& model, const Limits& limits) {
    const Water water = water_of(model);
    std::vector<Finding> findings;
    for (const auto& placed : model.fittings) {
        if (is_electrical(model, placed)) findings.push_back(zone_finding(model, limits, water, placed));
    }
    return findings;
}

}  // namespace standproud::rules
