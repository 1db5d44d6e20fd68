#include "measure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "clash_rules.hpp"

namespace standproud::rules {

namespace {

constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

/// Scenes of so many things are measured on all cores; a single room is done before threads have started
/// (scripts/bench.sh).
constexpr std::size_t many = 1000;

std::vector<std::string> asked_of(const Model& model, const Limits& limits) {
    std::vector<std::string> asked;
    for (const auto& [name, limit] : limits) asked.push_back(fmt::format("{} {} {}", name, limit.value, limit.advice));
    for (const auto& pipe : model.job.pipes)
        asked.push_back(fmt::format("{} joins {}", pipe.id, fmt::join(pipe.connects, " ")));
    return asked;
}

/// Whether a thing is looked at as it was. Words and places in the file do not count: they are read anew.
bool same(const Thing& a, const Thing& b) {
    const auto parts = [](const Thing& t) { return std::tie(t.kind, t.id, t.layer, t.wall, t.owner, t.plus_minus); };
    return parts(a) == parts(b);
}

/// Old index to new index.
std::vector<std::size_t> where_now(const std::vector<Thing>& old, const std::vector<Thing>& now) {
    std::map<std::pair<std::string, Thing::Kind>, std::size_t> by_id;
    for (std::size_t i = 0; i < now.size(); ++i) by_id.emplace(std::pair(now[i].id, now[i].kind), i);
    std::vector<std::size_t> to(old.size(), nowhere);
    for (std::size_t i = 0; i < old.size(); ++i) {
        const auto found = by_id.find({old[i].id, old[i].kind});
        if (found != by_id.end()) to[i] = found->second;
    }
    return to;
}

Separation renumbered(Separation s, std::size_t a, std::size_t b) {
    s.a = a;
    s.b = b;
    if (a < b) return s;
    std::swap(s.a, s.b);
    std::swap(s.on_a, s.on_b);
    s.direction = -1.0 * s.direction;
    return s;
}

Nearness nearness_of(const Model& model, const Limits& limits, const Scene& scene) {
    const auto within = [&model, &limits, &scene](std::size_t i, std::size_t j) {
        const auto rule = pair_rule(model, limits, scene.things[i], scene.things[j]);
        return rule ? looked_for(scene.things[i], scene.things[j], *rule) : -1.0;
    };
    double loosest = 0;
    for (const auto& thing : scene.things) loosest = std::max(loosest, thing.plus_minus);
    Nearness nearness;
    nearness.largest = largest_need(limits) + 2 * loosest;
    nearness.within = within;
    nearness.threads = scene.things.size() > many ? 0 : 1;
    return nearness;
}

}  // namespace

void measure(const Model& model, const Limits& limits, const Scene& scene, Distances& kept) {
    auto asked = asked_of(model, limits);
    if (asked != kept.asked) kept = {};
    const auto to = where_now(kept.things, scene.things);
    std::vector<char> stays(scene.things.size(), 0);
    for (std::size_t i = 0; i < to.size(); ++i) {
        if (to[i] == nowhere) continue;
        stays[to[i]] = same(kept.things[i], scene.things[to[i]]) && same(kept.bodies[i], scene.bodies[to[i]]);
    }
    std::vector<std::size_t> changed;
    for (std::size_t i = 0; i < stays.size(); ++i) {
        if (!stays[i]) changed.push_back(i);
    }
    const Nearness nearness = nearness_of(model, limits, scene);
    if (2 * changed.size() > scene.things.size()) {
        kept.near = near_pairs(scene.bodies, nearness);
    } else {
        std::vector<Separation> before;
        for (const auto& s : kept.near) {
            if (to[s.a] == nowhere || to[s.b] == nowhere || !stays[to[s.a]] || !stays[to[s.b]]) continue;
            before.push_back(renumbered(s, to[s.a], to[s.b]));
        }
        std::sort(before.begin(), before.end(),
                  [](const Separation& x, const Separation& y) { return std::pair(x.a, x.b) < std::pair(y.a, y.b); });
        kept.near = near_pairs(before, scene.bodies, changed, nearness);
    }
    kept.things = scene.things;
    kept.bodies = scene.bodies;
    kept.asked = std::move(asked);
    kept.again = changed.size();
}

}  // namespace standproud::rules
