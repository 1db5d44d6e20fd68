// screen.join, screen.backing: what holds a glass screen lies on one panel, off its edges, and on something that a
// screw holds in. A finding for each clamp, or for the one channel.
#include "modeler/screens.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "judge.hpp"
#include "moves.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

constexpr double any_depth = std::numeric_limits<double>::infinity();

constexpr const char* judge_again = " Check again then: what it meets there has not been asked.";

constexpr const char* wider_than_glass = " What holds it is wider than its glass: give its profile.";

/// One screen, and the rules' figures for it.
struct Held {
    const Model& model;
    const Limits& limits;
    const Screen& screen;
    const Wall& wall;
    std::vector<ScreenHold> holds;

    [[nodiscard]] double off() const { return limits.at("setout.hole").value; }
    [[nodiscard]] double least() const { return limits.at("screen.edge").value; }
    [[nodiscard]] double at_face() const { return limits.at("timber.face").value; }
};

std::string called(const ScreenHold& hold) {
    return hold.clamp ? fmt::format("its clamp at {}", mm(hold.bottom)) : "its channel";
}

/// "its clamp at 750, 40 mm wide,", or the glass where nobody told what holds it.
std::string described(const Held& held, const ScreenHold& hold) {
    if (held.screen.profile) return fmt::format("{}, {} mm wide,", called(hold), mm(*held.screen.profile));
    return fmt::format("the glass by itself, {} mm thick{},", mm(held.screen.thickness),
                       hold.clamp ? fmt::format(" at {}", mm(hold.bottom)) : "");
}

const NearEdge* nearest(const std::vector<NearEdge>& edges) {
    const auto found = std::min_element(edges.begin(), edges.end(), [](const NearEdge& a, const NearEdge& b) {
        return a.room < b.room - same_length;  // the first of two that are as near
    });
    return found == edges.end() ? nullptr : &*found;
}

ScreenHold moved(ScreenHold hold, double by) {
    hold.u += by;
    return hold;
}

bool clear_of_edges(const Held& held, double by) {
    return std::all_of(held.holds.begin(), held.holds.end(), [&](const ScreenHold& hold) {
        const auto edges = edges_near(held.model, moved(hold, by), half_width(held.screen));
        const NearEdge* edge = nearest(edges);
        return !edge || edge->room >= held.least() + held.off() - same_length;
    });
}

bool held_everywhere(const Held& held, double by) {
    return std::all_of(held.holds.begin(), held.holds.end(), [&](const ScreenHold& hold) {
        const auto beyond = timber_beyond(held.wall, moved(hold, by), held.at_face());
        return beyond && *beyond >= half_width(held.screen) + held.off() - same_length;
    });
}

/// Moves along the wall that just clear an edge, or just come onto timber, in tenths; the least first.
std::vector<double> moves_worth_trying(const Held& held) {
    std::vector<double> tries;
    const auto add = [&](double move) {
        if (!std::isfinite(move) || std::abs(move) > longest_move) return;
        const double tenths = std::copysign(tenth_up(std::abs(move)), move);
        tries.push_back(tenths);
        tries.push_back(tenths + std::copysign(0.1, move));  // on a plane that leans, a mm along it is a little less
    };
    const double half = half_width(held.screen);
    const double clear = held.least() + held.off();
    for (const auto& hold : held.holds) {
        for (const auto& edge : edges_near(held.model, hold, half)) {
            if (!edge.beside) continue;
            add(edge.left - clear);
            add(edge.right + clear);
        }
        for (const auto& [left, right] : timber_across(held.wall, held.at_face())) {
            add(left + half + held.off() - hold.u);
            add(right - half - held.off() - hold.u);
        }
    }
    std::sort(tries.begin(), tries.end(), [](double a, double b) { return std::abs(a) < std::abs(b); });
    return tries;
}

/// The least moves along the wall that would do, to the right.
struct Ways {
    std::optional<double> off_edges;
    std::optional<double> held_too;  ///< and with timber or masonry behind
};

Ways ways_of(const Held& held) {
    Ways ways;
    for (const double by : moves_worth_trying(held)) {
        if (!clear_of_edges(held, by)) continue;
        if (!ways.off_edges) ways.off_edges = by;
        if (!held_everywhere(held, by)) continue;
        ways.held_too = by;
        break;
    }
    return ways;
}

std::string move_words(double by) {
    return fmt::format("{} mm to the {}", mm(std::abs(by)), by < 0 ? "left" : "right");
}

Finding blank(const Held& held, const ScreenHold& hold, const std::string& rule, Trade trade) {
    Finding finding;
    finding.rule = rule;
    finding.subject = held.screen.id;
    finding.wall = held.wall.id;
    finding.trade = trade;
    finding.spot = Vec2{hold.u, (hold.bottom + hold.top) / 2};
    return finding;
}

/// Nobody told how wide it is, and the glass by itself does not fail.
void without_width(Finding& finding, const Held& held, const std::string& needed_for) {
    forget_figures(finding);
    const Source& at = held.screen.source;
    finding.missing.push_back(
        fmt::format("profile of screen {} ({})", held.screen.id, to_string(Source{at.file, at.line, 0})));
    finding.says =
        fmt::format("{} cannot be judged: how wide its channel or clamps are on the wall is not told", needed_for);
    finding.action = fmt::format("Find and fill in: {}, the width on the panel of what holds it.", finding.missing[0]);
}

std::optional<Finding> join_finding(const Held& held, const ScreenHold& hold) {
    const auto edges = edges_near(held.model, hold, half_width(held.screen));
    const NearEdge* edge = nearest(edges);
    if (!edge) return std::nullopt;
    const Limit& limit = held.limits.at("screen.edge");
    Finding finding = blank(held, hold, "screen.join", Trade::installer);
    finding.quantity = fmt::format("{} from joins and edges of panels", called(hold));
    finding.source = limit_source(limit) + "; a screen is held on one panel: common practice, no source";
    Sum sum;
    sum.add("to " + edge->of, edge->room, held.off(), held.screen.across.source);
    judge(finding, sum, {limit.value, std::nullopt}, held.model.job.statistical);
    const bool on_it = edge->room < -same_length;
    if (finding.verdict == Verdict::fails && !on_it && limit.advice) finding.verdict = Verdict::tight;
    if (!held.screen.profile && !on_it) {
        without_width(finding, held, fmt::format("how far {} is from {}", called(hold), edge->of));
        return finding;
    }
    if (on_it) {
        finding.says = fmt::format("{} lies over {}, by {} mm", described(held, hold), edge->of, mm(-edge->room));
    } else {
        finding.says = fmt::format("{} is {} mm from {} ({} to {}), at least {} mm needed", described(held, hold),
                                   mm(edge->room), edge->of, mm(*finding.low), mm(*finding.high), mm(limit.value));
    }
    if (finding.verdict == Verdict::clear) return finding;
    const Ways ways = ways_of(held);
    if (!ways.off_edges) {
        finding.action =
            "Hold it by clamps that are each on one panel, or lay the panels otherwise: no place near along the wall "
            "is clear.";
        return finding;
    }
    finding.move = Move{held.screen.id, *ways.off_edges, 0, 0};
    finding.action = "Move it " + move_words(*ways.off_edges);
    if (ways.held_too && std::abs(*ways.held_too - *ways.off_edges) > same_length)
        finding.action += fmt::format(", or {} to where timber or masonry holds it too", move_words(*ways.held_too));
    finding.action += edge->stays ? "." : "; or lay the panels so that their edge is not under it.";
    finding.action += judge_again;
    if (!held.screen.profile) finding.action += wider_than_glass;
    return finding;
}

/// "702 to 742 across, 710 to 790 up": what timber must cover.
std::string behind(const Held& held, const ScreenHold& hold) {
    const double half = half_width(held.screen) + held.off();  // wherever within its +/- the screen comes to stand
    const double up = hold.clamp ? half : 0;
    return fmt::format(
        "behind {} to {} mm from the left bare corner, {} to {} above the datum, its face level with "
        "the bare face",
        mm(std::floor((hold.u - half) * 10 + 1e-6) / 10), mm(tenth_up(hold.u + half)), mm(hold.bottom - up),
        mm(hold.top + up));
}

void say_how_to_hold(Finding& finding, const Held& held, const ScreenHold& hold) {
    finding.action = fmt::format("Before the wall is lined, fix a {} {}",
                                 hold.clamp ? "noggin" : "stud or backing board", behind(held, hold));
    if (const auto by = ways_of(held).held_too) {
        finding.move = Move{held.screen.id, *by, 0, 0};
        finding.action += fmt::format("; or move it {}", move_words(*by));
    }
    finding.action += ".";
    if (finding.move) finding.action += judge_again;
    if (!held.screen.profile) finding.action += wider_than_glass;
}

/// The frame is not told, and what is told does not do.
void without_frame(Finding& finding, const Held& held, const ScreenHold& hold) {
    forget_figures(finding);
    const Source& at = held.wall.source;
    finding.missing.push_back(fmt::format("[walls.studs] or [walls.masonry] of wall {} ({})", held.wall.id,
                                          to_string(Source{at.file, at.line, 0})));
    finding.says = fmt::format("what is behind {} is not told: the job gives wall {} neither studs nor masonry",
                               called(hold), held.wall.id);
    finding.action = fmt::format("Find and fill in: {}; or fix a noggin {}, and enter it.", finding.missing.back(),
                                 behind(held, hold));
}

/// All that is behind the glass by itself.
bool behind_glass(const Held& held, const std::optional<double>& beyond) {
    return beyond && *beyond >= held.screen.thickness / 2 - same_length;
}

/// What stands against it, where the frame is told.
void say_what_is_behind(Finding& finding, const Held& held, const ScreenHold& hold, std::optional<double> beyond) {
    if (behind_glass(held, beyond)) {
        finding.verdict = Verdict::tight;
        finding.says =
            fmt::format("timber or masonry ends {} mm {} the edge of {} ({} to {}): screws near that edge may miss it",
                        mm(std::abs(*finding.nominal)), *finding.nominal < 0 ? "short of" : "beyond", called(hold),
                        mm(*finding.low), mm(*finding.high));
    } else if (behind_glass(held, timber_beyond(held.wall, hold, any_depth))) {
        finding.verdict = Verdict::tight;
        finding.says = fmt::format(
            "the timber behind {} is set back from the bare face: its screws must reach it, and nothing may give "
            "between",
            called(hold));
    } else {
        finding.verdict = Verdict::fails;
        const double half = held.screen.thickness / 2;
        if (beyond && *beyond > -half) {
            finding.says = fmt::format("timber or masonry is behind only {} of the {} mm of the glass over {}",
                                       mm(half + *beyond), mm(2 * half), called(hold));
        } else {
            finding.says = fmt::format("nothing solid is behind the glass over {}", called(hold));
            if (beyond)
                finding.says += fmt::format(": the nearest that would do is {} mm beside it", mm(-*beyond - half));
        }
    }
    say_how_to_hold(finding, held, hold);
}

Finding backing_finding(const Held& held, const ScreenHold& hold) {
    Finding finding = blank(held, hold, "screen.backing", Trade::builder);
    finding.quantity = fmt::format("timber or masonry beyond {}", called(hold));
    finding.source =
        "a screen is screwed to something solid behind the whole width of what holds it: common practice, no source; " +
        limit_source(held.limits.at("timber.face"));
    finding.need_low = 0;
    const auto beyond = timber_beyond(held.wall, hold, held.at_face());
    if (beyond) {
        Sum sum;
        sum.add("its edge beyond the middle line", *beyond, held.off(), held.screen.across.source);
        sum.add("half of what holds it", -half_width(held.screen), 0, held.screen.source);
        judge(finding, sum, {0, std::nullopt}, held.model.job.statistical);
    }
    if (held.screen.profile && finding.verdict == Verdict::clear) {
        finding.says = fmt::format("{} has timber or masonry behind it, {} mm beyond it ({} to {})",
                                   described(held, hold), mm(*finding.nominal), mm(*finding.low), mm(*finding.high));
    } else if (!held.screen.profile && behind_glass(held, timber_beyond(held.wall, hold, any_depth))) {
        without_width(finding, held, fmt::format("whether what is behind {} is wide enough", called(hold)));
    } else if (!held.wall.studs && !held.wall.masonry) {
        without_frame(finding, held, hold);
    } else {
        say_what_is_behind(finding, held, hold, beyond);
    }
    return finding;
}

}  // namespace

std::vector<Finding> check_screens(const Model& model, const Limits& limits) {
    std::vector<Finding> findings;
    for (const auto& screen : model.job.screens) {
        const Held held{model, limits, screen, model.job.walls[wall_index(model.job, screen.wall)],
                        holds_of(model, screen)};
        for (const auto& hold : held.holds) {
            if (auto finding = join_finding(held, hold)) findings.push_back(std::move(*finding));
            findings.push_back(backing_finding(held, hold));
        }
    }
    return findings;
}

}  // namespace standproud::rules
