// What to do about two things that are too near: the moves that clear them, and the words.
#include "rules/advise.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "clash_rules.hpp"
#include "moves.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

/// "cold 16.1 mm up, or hot 16.1 mm down".
std::string move_words(const std::vector<Move>& moves) {
    std::string words;
    for (const auto& move : moves) {
        const double by = move.across + move.up + move.out;
        const char* way = move.across != 0 ? (by > 0 ? "to the right" : "to the left")
                          : move.up != 0   ? (by > 0 ? "up" : "down")
                                           : (by > 0 ? "out towards the room" : "further into the wall");
        words += fmt::format("{}{} {} mm {}", words.empty() ? "" : ", or ", move.id, mm(std::abs(by)), way);
    }
    return words;
}

/// `a` is the subject.
std::string what_to_do(const std::string& rule, const std::vector<Move>& moves, const Thing& a, const Thing& b) {
    const std::string other = called(b);
    if (rule == "heat.panel") {
        return fmt::format("Keep {} off the panels, or ask its maker and the panel's what shield they want.", a.owner);
    }
    if (rule == "panel.gap") {
        return "Leave a gap there: see [panels] gap, corner_gap, join_gap and tray_gap, [walls.gaps], and gap in "
               "[[walls.joins]].";
    }
    if (rule == "access.swing") {
        return fmt::format("Hang {} elsewhere or stop it before it meets {}, or move {}.", a.owner, other, other);
    }
    if (rule == "pipe.drill") {
        return fmt::format("Mark it on the wall; drill this hole at the bench or with a depth stop{}.",
                           moves.empty() ? "" : ", or move " + move_words(moves));
    }
    if (moves.empty()) {
        return fmt::format(
            "No single move of up to {:.0f} mm clears {} without meeting something else: find another "
            "place for one of them.",
            longest_move, a.owner == other ? other : a.owner + " and " + other);
    }
    return fmt::format("Move {}.", move_words(moves));
}

/// What can be moved: a fitting or a pipe.
bool movable(const Thing& thing) { return thing.kind == Thing::Kind::pipe || thing.owner != thing.id; }

const Thing* thing_of(const Distances& measured, const std::string& id) {
    const auto found = std::find_if(measured.things.begin(), measured.things.end(),
                                    [&](const Thing& thing) { return thing.id == id; });
    return found == measured.things.end() ? nullptr : &*found;
}

}  // namespace

void advise(const Model& model, const Limits& limits, const Distances& measured, Finding& finding) {
    if (!finding.clash || finding.clash->advised) return;
    Clash& clash = *finding.clash;
    clash.advised = true;
    if (finding.rule == "pipe.timber") return;
    const Thing* a = thing_of(measured, clash.part_a);
    const Thing* b = thing_of(measured, clash.part_b);
    if (!a || !b) return;
    if (finding.rule != "heat.panel" && finding.rule != "access.swing" && finding.rule != "panel.gap") {
        const Mover mover(model, limits, measured);
        for (const Thing* thing : {a, b}) {
            // A hole stays where its fitting is; the pipe gives way.
            if (!movable(*thing) || thing->kind == Thing::Kind::drill) continue;
            if (auto move = mover.least(thing->owner, called(thing == a ? *b : *a))) clash.moves.push_back(*move);
        }
    }
    finding.action = what_to_do(finding.rule, clash.moves, *a, *b);
}

void advise(const Model& model, const Limits& limits, const Distances& measured, std::vector<Finding>& findings) {
    for (auto& finding : findings) advise(model, limits, measured, finding);
}

}  // namespace standproud::rules
