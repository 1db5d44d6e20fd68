#include "rules/compare.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace standproud::rules {

bool VerdictChange::worse() const {
    // A finding that appears counts as worse only if it is bad: before it, nothing was said.
    const int was = before ? severity(*before) : 0;
    return after && severity(*after) > was;
}

bool VerdictChange::better() const {
    const int now = after ? severity(*after) : 0;
    return before && severity(*before) > now;
}

bool Comparison::worse() const {
    return std::any_of(verdicts.begin(), verdicts.end(), [](const VerdictChange& v) { return v.worse(); });
}

namespace {

const PlacedFitting* placed_of(const Model& model, const std::string& id) {
    for (const auto& placed : model.fittings) {
        if (fitting_of(model, placed).id == id) return &placed;
    }
    return nullptr;
}

std::optional<double> seat_of(const Model& model, const PlacedFitting& placed) {
    const auto& seat = fitting_of(model, placed).seat;
    return seat ? std::optional(seat->value) : std::nullopt;
}

bool differs(double difference) { return std::abs(difference) > same_length; }

bool differs(const std::optional<double>& a, const std::optional<double>& b) {
    return a.has_value() != b.has_value() || (a && differs(*a - *b));
}

FittingChange described(const Model& model, const PlacedFitting& placed, FittingChange::Kind kind) {
    FittingChange change;
    change.fitting = fitting_of(model, placed).id;
    change.wall = fitting_of(model, placed).wall;
    change.trade = type_of(model, placed).trade;
    change.kind = kind;
    return change;
}

std::optional<FittingChange> moved(const Model& old_model, const PlacedFitting& was, const Model& new_model,
                                   const PlacedFitting& is) {
    FittingChange change = described(new_model, is, FittingChange::Kind::moved);
    const std::string& old_wall = fitting_of(old_model, was).wall;
    if (old_wall != change.wall) change.old_wall = old_wall;
    change.across = is.u - was.u;
    change.up = is.v - was.v;
    change.face = build_up(new_model.job, new_model.room, is.wall, is.u, is.v) -
                  build_up(old_model.job, old_model.room, was.wall, was.u, was.v);
    change.old_seat = seat_of(old_model, was);
    change.new_seat = seat_of(new_model, is);
    change.other_type = type_of(old_model, was).id != type_of(new_model, is).id;
    const bool any = !change.old_wall.empty() || differs(change.across) || differs(change.up) || differs(change.face) ||
                     differs(change.old_seat, change.new_seat) || change.other_type;
    return any ? std::optional(change) : std::nullopt;
}

std::vector<FittingChange> fitting_changes(const Model& old_model, const Model& new_model) {
    std::vector<FittingChange> changes;
    for (const auto& is : new_model.fittings) {
        const PlacedFitting* was = placed_of(old_model, fitting_of(new_model, is).id);
        if (!was) {
            changes.push_back(described(new_model, is, FittingChange::Kind::appeared));
        } else if (auto change = moved(old_model, *was, new_model, is)) {
            changes.push_back(*change);
        }
    }
    for (const auto& was : old_model.fittings) {
        if (placed_of(new_model, fitting_of(old_model, was).id)) continue;
        changes.push_back(described(old_model, was, FittingChange::Kind::vanished));
    }
    return changes;
}

const WallOpening* opening_of(const Job& job, const std::string& wall, const std::string& id) {
    const std::size_t w = wall_index(job, wall);
    if (w == job.walls.size()) return nullptr;
    for (const auto& opening : job.walls[w].openings) {
        if (opening.id == id) return &opening;
    }
    return nullptr;
}

std::vector<OpeningChange> opening_changes(const Job& old_job, const Job& new_job) {
    using Kind = FittingChange::Kind;
    std::vector<OpeningChange> changes;
    for (const auto& wall : new_job.walls) {
        for (const auto& is : wall.openings) {
            const WallOpening* was = opening_of(old_job, wall.id, is.id);
            OpeningChange change{was ? Kind::moved : Kind::appeared, is.id, wall.id, 0, 0, 0, 0, {}, is.reveal};
            if (was) {
                change.left = is.left - was->left;
                change.right = is.right - was->right;
                change.bottom = is.bottom - was->bottom;
                change.top = is.top - was->top;
                change.old_reveal = was->reveal;
                const bool same = !differs(change.left) && !differs(change.right) && !differs(change.bottom) &&
                                  !differs(change.top) && !differs(was->reveal, is.reveal);
                if (same) continue;
            }
            changes.push_back(change);
        }
    }
    for (const auto& wall : old_job.walls) {
        for (const auto& was : wall.openings) {
            if (!opening_of(new_job, wall.id, was.id))
                changes.push_back({Kind::vanished, was.id, wall.id, 0, 0, 0, 0, was.reveal, {}});
        }
    }
    return changes;
}

/// What pairs findings: the words of a quantity may name another edge or size, so only its place in the rule counts.
std::map<std::string, const Finding*> by_name(const std::vector<Finding>& findings) {
    std::map<std::string, const Finding*> named;
    std::map<std::string, int> count;
    for (const auto& finding : findings) {
        const std::string name = finding.subject + " " + finding.rule + " " + finding.wall;
        named[name + " " + std::to_string(count[name]++)] = &finding;
    }
    return named;
}

VerdictChange changed(const Finding* was, const Finding* is) {
    const Finding& either = is ? *is : *was;
    VerdictChange change;
    change.fitting = either.subject;
    change.rule = either.rule;
    change.quantity = either.quantity;
    change.trade = either.trade;
    if (was) {
        change.before = was->verdict;
        change.nominal_before = was->nominal;
    }
    if (is) {
        change.after = is->verdict;
        change.nominal_after = is->nominal;
    }
    return change;
}

}  // namespace

Comparison compare(const Model& old_model, const std::vector<Finding>& old_findings, const Model& new_model,
                   const std::vector<Finding>& new_findings) {
    Comparison result;
    result.fittings = fitting_changes(old_model, new_model);
    result.openings = opening_changes(old_model.job, new_model.job);
    const auto before = by_name(old_findings);
    const auto after = by_name(new_findings);
    for (const auto& [name, is] : after) {
        const auto was = before.find(name);
        if (was == before.end()) {
            result.verdicts.push_back(changed(nullptr, is));
            result.verdicts.back().now_at = static_cast<std::size_t>(is - new_findings.data());
        } else if (was->second->verdict != is->verdict) {
            result.verdicts.push_back(changed(was->second, is));
            result.verdicts.back().now_at = static_cast<std::size_t>(is - new_findings.data());
        }
    }
    for (const auto& [name, was] : before) {
        if (!after.count(name)) result.verdicts.push_back(changed(was, nullptr));
    }
    std::stable_sort(result.verdicts.begin(), result.verdicts.end(), [](const auto& a, const auto& b) {
        const auto rank = [](const VerdictChange& v) { return v.worse() ? 0 : v.better() ? 2 : 1; };
        return rank(a) < rank(b);
    });
    return result;
}

}  // namespace standproud::rules
