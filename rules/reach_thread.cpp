// reach.thread: with the flange seated, engagement = tail - (F - socket): enough turns, and not bottoming.
#include <fmt/format.h>

#include "judge.hpp"
#include "rules/threads.hpp"

namespace standproud::rules {

void need_turns(ReachCase& reach, const FittingType& type, const Limit& turns, const char* depth_name) {
    if (const auto thread = thread_named(type.connection)) {
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
    reach.need.high = most_of(type.socket_depth);
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
    return {reach_finding(model, placed, reach)};
}

}  // namespace standproud::rules
