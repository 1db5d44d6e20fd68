#include "clash_rules.hpp"

#include <algorithm>

#include "modeler/openings.hpp"

namespace standproud::rules {

namespace {

using Kind = Thing::Kind;

bool is_lining(const Thing& t) {
    return t.layer == "board" || t.layer == "membrane" || t.layer == "bed" || t.layer == "panel";
}
/// A strip that lines a reveal, or its bed: no fitting belongs in it.
bool is_strip(const Thing& t) { return t.name == reveal_strip || t.name == reveal_bed; }
bool is_structure(const Thing& t) {
    return t.kind == Kind::solid && (is_lining(t) || t.layer == "frame" || t.layer == "masonry" || t.layer == "tray");
}
bool is_body(const Thing& t) { return t.layer == "body" || t.layer == "box" || t.layer == "niche"; }
bool is_cover(const Thing& t) { return t.layer == "flange" || t.layer == "plate"; }
bool is_cable(const Thing& t) { return t.layer == to_string(PipeRun::Kind::cable); }
bool is_hot(const Thing& t) { return t.layer == to_string(PipeRun::Kind::hot); }

/// One of the two joins the other.
bool joined(const Model& model, const std::string& a, const std::string& b) {
    return std::any_of(model.job.pipes.begin(), model.job.pipes.end(), [&](const PipeRun& pipe) {
        const auto joins = [&](const std::string& id) {
            return std::find(pipe.connects.begin(), pipe.connects.end(), id) != pipe.connects.end();
        };
        return (pipe.id == a && joins(b)) || (pipe.id == b && joins(a));
    });
}

PairRule apart(const Limits& limits, const std::string& rule, const std::string& limit) {
    return {rule, limits.at(limit).value, limits.at(limit).advice, false, limit};
}

std::optional<PairRule> with_pipe(const Model& model, const Limits& limits, const Thing& pipe, const Thing& other) {
    if (joined(model, pipe.owner, other.owner)) return std::nullopt;
    switch (other.kind) {
        case Kind::pipe:
            // A hot pipe warms cold water and spoils a cable.
            if (is_hot(pipe) != is_hot(other) || (is_hot(pipe) && is_cable(other))) {
                return apart(limits, "pipe.hot", "pipe.hot_gap");
            }
            return PairRule{"clash.pipe", 0, false, false, ""};
        case Kind::drill:
            return apart(limits, "pipe.drill", "pipe.drill");
        case Kind::access:
            if (other.layer == "heat" || other.layer == "swing") return std::nullopt;
            return PairRule{"access." + other.layer.substr(0, other.layer.find(' ')), 0, false, false, ""};
        case Kind::solid:
            break;
    }
    if (other.layer == "masonry") return std::nullopt;  // it is chased in
    if (other.layer == "frame") return PairRule{"pipe.timber", 0, false, true, ""};
    if (other.layer == "screw") return apart(limits, "pipe.screw", "pipe.screw");
    return PairRule{"clash.pipe", 0, false, false, ""};
}

std::optional<PairRule> with_access(const Thing& access, const Thing& other) {
    if (other.kind != Kind::solid) return std::nullopt;
    if (access.layer == "heat") {
        if (other.layer != "panel") return std::nullopt;
        return PairRule{"heat.panel", 0, false, false, ""};
    }
    if (is_structure(other) && other.wall == access.wall) return std::nullopt;  // it begins at its own wall
    return PairRule{"access." + access.layer.substr(0, access.layer.find(' ')), 0, false, false, ""};
}

/// A part of a fitting or a screen against walls, linings, tray.
std::optional<PairRule> with_structure(const Limits& limits, const Thing& part, const Thing& structure) {
    const bool own_wall = structure.wall == part.wall;
    if (own_wall && is_strip(structure) && is_cover(part)) return std::nullopt;
    if (own_wall && !is_strip(structure) && (is_lining(structure) || structure.layer == "masonry")) return std::nullopt;
    if (part.layer == "screen" && own_wall) return std::nullopt;
    if (own_wall && structure.layer == "frame") {
        if (part.layer == "screw") return std::nullopt;
        return PairRule{"clash.timber", 0, false, true, ""};
    }
    if (is_cover(part) && structure.layer == "panel") return apart(limits, "flange.corner", "flange.corner");
    return PairRule{"clash.solid", 0, false, false, ""};
}

/// Linings are put on so that nothing can overlap; but a panel's edge that touches has no gap to seal or to move in.
std::optional<PairRule> between_linings(const Limits& limits, const Thing& a, const Thing& b) {
    // What lines a reveal stands out of its wall's plane, and may run into what the next wall carries.
    if (a.wall != b.wall && (is_strip(a) || is_strip(b)) && !(a.layer == "panel" && b.layer == "panel") &&
        a.layer != "tray" && b.layer != "tray")
        return PairRule{"clash.solid", 0, false, true, ""};
    const auto edged = [](const Thing& t) { return t.layer == "panel" || t.layer == "tray"; };
    if (!edged(a) || !edged(b) || (a.layer == "tray" && b.layer == "tray")) return std::nullopt;
    PairRule rule = apart(limits, "panel.gap", "panel.gap");
    rule.as_fixed = true;
    return rule;
}

}  // namespace

std::optional<PairRule> pair_rule(const Model& model, const Limits& limits, const Thing& a, const Thing& b) {
    if (a.owner == b.owner) return std::nullopt;
    if (a.kind == Kind::pipe) return with_pipe(model, limits, a, b);
    if (b.kind == Kind::pipe) return with_pipe(model, limits, b, a);
    if (a.kind == Kind::drill || b.kind == Kind::drill) return std::nullopt;
    if (a.kind == Kind::access && b.kind == Kind::access) return std::nullopt;
    if (a.kind == Kind::access) return with_access(a, b);
    if (b.kind == Kind::access) return with_access(b, a);
    if (is_structure(a) && is_structure(b)) return between_linings(limits, a, b);
    if (is_structure(b)) return with_structure(limits, a, b);
    if (is_structure(a)) return with_structure(limits, b, a);
    if (is_body(a) && is_body(b) && a.wall == b.wall) return apart(limits, "body.apart", "body.apart");
    return PairRule{"clash.solid", 0, false, false, ""};
}

double looked_for(const Thing& a, const Thing& b, const PairRule& rule) {
    if (rule.as_fixed) return rule.need > 0 ? rule.need - by_lean : 0;
    return rule.need + a.plus_minus + b.plus_minus;
}

double largest_need(const Limits& limits) {
    double largest = 0;
    for (const char* name : {"pipe.hot_gap", "pipe.drill", "pipe.screw", "flange.corner", "body.apart", "panel.gap"}) {
        largest = std::max(largest, limits.at(name).value);
    }
    return largest;
}

std::string called(const Thing& thing) {
    if (thing.owner != thing.id || thing.kind == Thing::Kind::pipe) return thing.owner;
    if (thing.wall.empty()) return thing.id;
    return "wall " + thing.wall;
}

}  // namespace standproud::rules
