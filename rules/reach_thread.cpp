// reach.thread: with the flange seated, engagement = tail - (F - socket): enough turns, and no further than depth,
// length and taper of the threads let it go.
#include <fmt/format.h>

#include <algorithm>

#include "judge.hpp"
#include "rules/threads.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

std::optional<double> lesser(std::optional<double> a, std::optional<double> b) {
    if (a && b) return std::min(*a, *b);
    return a ? a : b;
}

namespace {

/// How far the male thread goes in by itself.
void limit_by_thread(ReachCase& reach, const FittingType& type, const std::optional<Thread>& thread) {
    reach.thread_high = most_of(type.thread_length);
    if (type.thread_length) {
        const Source& at = type.thread_length->source;
        reach.need_source += fmt::format("; thread {} mm long ({})", mm(type.thread_length->value),
                                         to_string(Source{at.file, at.line, 0}));
    }
    if (!thread || !thread->taper) return;
    const TaperReach& taper = *thread->taper;
    reach.taper = true;
    reach.thread_high = lesser(reach.thread_high, taper.basic);
    reach.need_source += fmt::format(
        "; a taper thread goes in as far as its useful thread, {} mm on the basic gauge length ({}; {} to {} as that "
        "may "
        "vary, from memory)",
        mm(taper.basic), thread->source, mm(taper.least), mm(taper.most));
    if (!type.thread_length)
        reach.need_missing.push_back("thread_length (of the taper thread) of " + type_source(type));
}

/// The stocked nipple that a fitting is fitted with; null for none.
const StockItem* nipple_of(const Model& model, const PlacedFitting& placed) {
    for (const auto& item : model.job.stock) {
        if (item.id == fitting_of(model, placed).with && item.kind == StockItem::Kind::nipple) return &item;
    }
    return nullptr;
}

/// Whether the nipple's own thread is long enough for the wall's; nothing to say where it is, or is not given.
std::optional<Finding> nipple_in_wall(const Model& model, const PlacedFitting& placed, const ReachCase& reach,
                                      const StockItem& nipple) {
    if (!nipple.thread_length || !reach.need.low) return std::nullopt;
    ReachCase own;
    own.rule = reach.rule;
    own.quantity = "nipple's thread in the wall";
    own.need.low = reach.need.low;
    own.need_source = reach.need_source;
    own.sum.add(nipple.name + ", its thread", nipple.thread_length, 1, nipple.source);
    Finding finding = reach_finding(model, placed, own);
    if (finding.verdict == Verdict::clear) return std::nullopt;
    finding.action = "Fit a nipple with a longer thread.";
    return finding;
}

}  // namespace

void need_turns(ReachCase& reach, const FittingType& type, const Limit& turns, const char* depth_name) {
    const auto thread = thread_named(type.connection);
    if (thread) {
        reach.need.low = turns.value * thread->pitch;
        reach.need_source =
            fmt::format("{:g} turns x {:g} mm pitch of {} ({}); {}; {}: {}", turns.value, thread->pitch,
                        type.connection, thread->source, limit_source(turns), depth_name, type_source(type));
    } else {
        reach.need_source = type_source(type);
        reach.need_missing.push_back(
            type.connection.empty()
                ? "connection (the thread) of " + type_source(type)
                : fmt::format("the pitch of thread \"{}\" of {}: known are G, R and Rp 1/8 to 1 and M3 to M6",
                              type.connection, type_source(type)));
    }
    limit_by_thread(reach, type, thread);
    reach.need.high = lesser(most_of(type.socket_depth), reach.thread_high);
    if (!type.socket_depth) reach.need_missing.push_back("socket_depth of " + type_source(type));
}

std::vector<Finding> check_thread(const Model& model, const PlacedFitting& placed, const Limits& limits) {
    const FittingType& type = type_of(model, placed);
    ReachCase reach;
    reach.rule = "reach.thread";
    reach.quantity = "thread engagement";
    need_turns(reach, type, limits.at("thread.turns"), "socket depth");
    reach.sum.add("tail length", type.tail_length, 1, type.source);
    add_face(reach.sum, model, placed, -1);
    add_seat(reach, model, placed, "socket mouth", 1);
    reach.seat_name = "socket mouth";
    reach.over_words = "flange held off the panel by";
    reach.stock = StockItem::Kind::nipple;
    const StockItem* nipple = nipple_of(model, placed);
    if (nipple && reach.taper && !nipple->thread_length) {
        reach.need_missing.push_back(fmt::format("thread_length (of the taper thread) of {} ({})", nipple->id,
                                                 to_string(Source{nipple->source.file, nipple->source.line, 0})));
    }
    std::vector<Finding> findings{reach_finding(model, placed, reach)};
    if (nipple) {
        if (auto finding = nipple_in_wall(model, placed, reach, *nipple)) findings.push_back(std::move(*finding));
    }
    return findings;
}

}  // namespace standproud::rules
