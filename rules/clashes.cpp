// Findings about two things that are too near or in each other, the worst of each two, what hurts most first.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "clash_rules.hpp"
#include "judge.hpp"
#include "measure.hpp"
#include "rules/words.hpp"
#include "timber.hpp"

namespace standproud::rules {

namespace {

std::string tenth(double value) { return mm(std::round(value * 10) / 10 + 0.0); }

Trade trade_named(const std::string& word) {
    for (const Trade trade : {Trade::plumber, Trade::electrician, Trade::builder, Trade::installer}) {
        if (to_string(trade) == word) return trade;
    }
    return Trade::builder;
}

/// Who is asked to move: a fitting, pipe or screen before a wall; access before what is in its way.
bool first_is_subject(const Thing& a, const Thing& b) {
    const auto rank = [](const Thing& t) {
        if (t.kind == Thing::Kind::access || t.kind == Thing::Kind::drill) return 0;
        if (t.kind == Thing::Kind::pipe) return 1;
        return t.owner != t.id ? 2 : 3;
    };
    return std::tuple(rank(a), a.id) < std::tuple(rank(b), b.id);
}

/// The subject's wall: its own, or, of what stands on no wall, the other's.
std::size_t wall_of(const Model& model, const Thing& a, const Thing& b) {
    const std::size_t own = wall_index(model.job, a.wall);
    return own < model.job.walls.size() ? own : wall_index(model.job, b.wall);
}

void place(const Model& model, std::size_t w, Clash& clash) {
    if (w >= model.job.walls.size()) return;
    const auto seen = model.room.walls[w].from_room(clash.at);
    const auto corner = finished_corner(model.job, model.room, w, Side::left, seen[1]);
    clash.finished_corner = corner.has_value();
    clash.on_wall = {
        seen[0] - corner.value_or(bare_corner(model.job, model.room, w, Side::left, seen[1])), seen[1],
        seen[2] - drawn_face(model.room, w, seen[0], seen[1]) - build_up(model.job, model.room, w, seen[0], seen[1])};
}

std::string where_words(const Clash& clash) {
    return fmt::format("{:.0f} right of the left {} corner, {:.0f} above the datum, {:.0f} {} the finished face",
                       std::abs(clash.on_wall.u), clash.finished_corner ? "finished" : "bare", clash.on_wall.v,
                       std::abs(clash.on_wall.n), clash.on_wall.n < 0 ? "behind" : "in front of");
}

struct Pair {
    const Thing* a = nullptr;  ///< the subject
    const Thing* b = nullptr;
    PairRule rule;
    Separation separation;
};

std::string quantity_of(const Pair& pair) {
    if (pair.rule.rule == "pipe.drill") return "drill from the pipe";
    if (pair.rule.rule.rfind("access.", 0) == 0) return pair.a->layer + " free";
    if (pair.rule.rule == "heat.panel") return "heat zone from the panel";
    return "clear of " + called(*pair.b);
}

/// "mixer/handle to slide/rail: 3.2 mm in each other".
std::string pair_words(const Clash& clash) {
    return fmt::format("{} to {}: {} mm {}", clash.part_a, clash.part_b, tenth(std::abs(clash.distance)),
                       clash.distance < 0 ? "in each other" : "apart");
}

void say(Finding& finding, const Pair& pair) {
    const Clash& clash = *finding.clash;
    const std::string both = fmt::format("{} and {}", pair.a->name, pair.b->name);
    if (clash.distance < -touch_length) {
        finding.says = pair.a->kind == Thing::Kind::access
                           ? fmt::format("{} reaches {} mm into {}", pair.a->name, tenth(-clash.distance), pair.b->name)
                           : fmt::format("{} overlap by {} mm", both, tenth(-clash.distance));
        if (clash.volume) finding.says += fmt::format(" ({:.1f} cm3)", *clash.volume / 1000);
    } else if (pair.rule.rule == "pipe.drill") {
        finding.says = fmt::format("{} passes {} mm from {}", pair.a->name, tenth(clash.distance), pair.b->name);
    } else {
        finding.says = fmt::format("{} are {} mm apart", both, tenth(clash.distance));
    }
    if (finding.low && *finding.high > *finding.low + same_length) {
        // Below 0 is depth: said in words, so that nobody reads a sign.
        const auto end = [](double d) { return fmt::format("{} {}", tenth(std::abs(d)), d < 0 ? "deep" : "apart"); };
        finding.says += *finding.low < 0 ? fmt::format(" (from {} to {})", end(*finding.low), end(*finding.high))
                                         : fmt::format(" ({} to {})", tenth(*finding.low), tenth(*finding.high));
    }
    if (pair.rule.need > 0) finding.says += fmt::format(", at least {} mm needed", mm(pair.rule.need));
    finding.says += fmt::format("; at {}", where_words(clash));
}

Finding clash_finding(const Model& model, const Limits& limits, const Scene& scene, const Pair& pair) {
    Finding finding;
    finding.rule = pair.rule.rule;
    finding.subject = called(*pair.a);
    finding.wall = pair.a->wall.empty() ? pair.b->wall : pair.a->wall;
    finding.trade = trade_named(pair.a->trade);
    finding.quantity = quantity_of(pair);
    finding.source =
        pair.rule.limit.empty() ? "two things cannot be in one place" : limit_source(limits.at(pair.rule.limit));
    Sum sum;
    sum.add(fmt::format("{} to {}", pair.a->id, pair.b->id), pair.separation.distance, 0, pair.a->source);
    if (!pair.rule.as_fixed) {
        for (const Thing* thing : {pair.a, pair.b}) {
            if (thing->plus_minus > 0) sum.add("where " + thing->owner + " is", 0, thing->plus_minus, thing->source);
        }
    }
    // What touches may touch: the depth to which two things must be in each other to count.
    const double need = pair.rule.need > 0 ? pair.rule.need - (pair.rule.as_fixed ? by_lean : 0) : -touch_length;
    judge(finding, sum, {need, std::nullopt}, model.job.statistical);
    finding.need_low = pair.rule.need;
    // Where a screw or a drill may be in a pipe or cable, within the +/- of both, that is no advice any more.
    const bool may_hit =
        (pair.rule.rule == "pipe.screw" || pair.rule.rule == "pipe.drill") && *finding.low < -touch_length;
    if (pair.rule.advice && finding.verdict == Verdict::fails && !may_hit &&
        pair.separation.distance >= -touch_length) {
        finding.verdict = Verdict::tight;
    }
    Clash clash;
    clash.other = called(*pair.b);
    clash.other_trade = pair.b->trade;
    clash.part_a = pair.a->id;
    clash.part_b = pair.b->id;
    clash.distance = pair.separation.distance;
    clash.push = pair.separation.direction;
    clash.at = pair.separation.common;
    if (overlaps(pair.separation)) {
        clash.volume = common_volume(scene.bodies[pair.separation.a], scene.bodies[pair.separation.b]);
    }
    const std::size_t w = wall_of(model, *pair.a, *pair.b);
    place(model, w, clash);
    finding.clash = clash;
    say(finding, pair);
    return finding;
}

bool worse(const Finding& a, const Finding& b) {
    if (severity(a.verdict) != severity(b.verdict)) return severity(a.verdict) > severity(b.verdict);
    return *a.nominal - *a.need_low < *b.nominal - *b.need_low - same_length;
}

/// a as the subject. Turning the pair round turns the push.
Pair turned(const Scene& scene, Separation s, PairRule rule) {
    const Thing* a = &scene.things[s.a];
    const Thing* b = &scene.things[s.b];
    if (!first_is_subject(*a, *b)) {
        std::swap(a, b);
        std::swap(s.a, s.b);
        std::swap(s.on_a, s.on_b);
        s.direction = -1.0 * s.direction;
    }
    return {a, b, std::move(rule), s};
}

}  // namespace

std::vector<Finding> check_clashes(const Model& model, const Limits& limits, Distances& kept) {
    const Scene scene = build_scene(model, limits.at("setout.hole").value, limits.at("drill.depth").value);
    measure(model, limits, scene, kept);
    std::map<std::tuple<std::string, std::string, std::string>, std::pair<Finding, Pair>> worst;
    for (const auto& separation : kept.near) {
        const auto rule = pair_rule(model, limits, scene.things[separation.a], scene.things[separation.b]);
        if (!rule) continue;
        const Pair pair = turned(scene, separation, *rule);
        auto finding = rule->rule == "pipe.timber" ? timber_finding(model, limits, scene,
                                                                    pair.a == &scene.things[separation.a]
                                                                        ? std::pair{separation.a, separation.b}
                                                                        : std::pair{separation.b, separation.a})
                                                   : std::optional(clash_finding(model, limits, scene, pair));
        if (!finding || finding->verdict == Verdict::clear) continue;
        const auto key = std::tuple(rule->rule, finding->subject, finding->clash->other);
        const auto found = worst.find(key);
        if (found == worst.end()) {
            worst.emplace(key, std::pair(std::move(*finding), pair));
            continue;
        }
        if (worse(*finding, found->second.first)) {
            std::swap(*finding, found->second.first);
            found->second.second = pair;
            std::swap(finding->clash->also, found->second.first.clash->also);
        }
        found->second.first.clash->also.push_back(pair_words(*finding->clash));
    }
    std::vector<Finding> findings;
    for (auto& [key, found] : worst) {
        Finding& finding = found.first;
        const std::size_t also = finding.clash->also.size();
        if (also > 0 && finding.rule != "pipe.timber") {
            finding.says += fmt::format("; {} more {} of their parts", also, also == 1 ? "pair" : "pairs");
        }
        findings.push_back(std::move(finding));
    }
    std::stable_sort(findings.begin(), findings.end(), worse);
    return findings;
}

}  // namespace standproud::rules
