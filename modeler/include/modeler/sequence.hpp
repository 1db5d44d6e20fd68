// The order of work: tasks of several trades, what must be done before what, hold points, waiting times; as plain
// times, as a calendar, and as iCalendar text. Plain values in, plain values out; nothing reads the clock.
//
// `order_tasks` and `date_tasks` know no people: two tasks of one trade may fall on the same hours. `share_crews`
// shares each trade's crews out.
#pragma once

#include <chrono>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace standproud::sequence {

/// A minute on the site's own clock; no time zone.
using LocalMinute = std::chrono::local_time<std::chrono::minutes>;

/// Something to be done by one trade.
struct Task {
    std::string id;    ///< unique
    std::string name;  ///< in words
    std::string trade;
    int work = 0;  ///< minutes of work, in working hours; 0: an event
    int wait =
        0;  ///< minutes that must then pass, day and night, before what comes after: 24 h before joints are sealed
    std::vector<std::string> after;  ///< ids of the tasks that must be done before
    std::string hold;  ///< a hold point: what must be checked and recorded before anything after goes on; empty: none
    std::optional<LocalMinute> not_before{};  ///< in the calendar; `order_tasks` leaves it out of account
    int unit = 0;  ///< minutes of work that are begun only where they can be done before the site closes: a panel is
                   ///< not left half bonded overnight. 0, or longer than a day: the work may stop at any minute
};

/// A task in time, minutes from the start of the work, nights left out of account.
struct TimedTask {
    int earliest_start = 0;
    int earliest_finish = 0;  ///< of the work; what comes after may start `wait` later
    int latest_start = 0;     ///< without making the whole longer
    int latest_finish = 0;
    int slack = 0;                       ///< latest less earliest start
    bool critical = false;               ///< no slack
    std::optional<std::size_t> held_by;  ///< the task before that is ready last; the first listed where several are
};

/// A trade that cannot go on before another is ready.
struct Handover {
    std::size_t task = 0;
    std::size_t waits_for = 0;  ///< a task of another trade
    bool decides = false;       ///< it is the last to be ready
};

struct Sequence {
    std::vector<TimedTask> tasks;     ///< in the order given
    std::vector<std::size_t> order;   ///< every task after all it needs; of those that could be next, the first given
    std::vector<Handover> handovers;  ///< in that order
    int length = 0;                   ///< minutes, with the waits of the last tasks
};

struct SequenceAnswer {
    std::optional<Sequence> sequence;
    std::string refused;  ///< names the task: id given twice, unknown task before, a circle, a time below 0
};

/// Critical path method (Kelley and Walker 1959).
[[nodiscard]] SequenceAnswer order_tasks(const std::vector<Task>& tasks);

/// When the site works.
struct WorkHours {
    int from = 8 * 60;  ///< minutes after midnight
    int to = 16 * 60;
    bool days[7] = {true, true, true, true, true, false, false};  ///< Monday first
    std::vector<std::chrono::local_days> closed;                  ///< days off besides
};

/// A task in the calendar.
struct DatedTask {
    LocalMinute start;
    LocalMinute finish;                      ///< of the work
    LocalMinute ready;                       ///< finish and wait: what comes after may start
    std::optional<std::size_t> held_by;      ///< the task it needs that is ready last
    std::optional<std::size_t> busy_with{};  ///< it could start sooner but for this task, which its trade is busy with
};

struct CalendarAnswer {
    std::vector<DatedTask> tasks;  ///< in the order given
    LocalMinute end;               ///< the last that is ready
    std::string refused;
};

/// How many crews a trade has, by the trade's name; one that is not named has one.
using Crews = std::map<std::string, int>;

struct CrewsAnswer {
    CalendarAnswer calendar;         ///< at no time has a trade more tasks in hand than crews
    std::vector<std::size_t> order;  ///< by start; every task after all it needs
    LocalMinute bound;               ///< no way of sharing the crews ends before this
    bool proved = false;             ///< `calendar.end` is the bound
    std::string refused;             ///< as of `date_tasks`; crews below 1
};

/// Earliest dates. Work runs only in working hours and stops overnight; waits run on. Starts at or after `start`.
[[nodiscard]] CalendarAnswer date_tasks(const std::vector<Task>& tasks, const WorkHours& hours, LocalMinute start);

/// Earliest end with each trade's crews shared out. A task takes one crew of its trade from its start to the end of its
/// work, nights within included, and is not broken off for another; an event (no work) and a wait take none. First what
/// can start first is taken in hand, of these the longest way to the end (schedule generation with critical-path
/// priority, Kelley 1963, from memory), then branch and bound over every other order; `effort` counts the orders begun:
/// after so many the best found stands, and the bound is what holds without looking at all orders. The same input gives
/// the same answer.
[[nodiscard]] CrewsAnswer share_crews(const std::vector<Task>& tasks, const Crews& crews, const WorkHours& hours,
                                      LocalMinute start, long effort = 100'000);

/// What the text needs besides.
struct CalendarText {
    std::string job;                     ///< name of the job, for people
    std::string uid;                     ///< the same for every revision of the job, different for every job
    std::chrono::sys_seconds made_at{};  ///< DTSTAMP: when the text was made
};

/// iCalendar (RFC 5545): one event a task, times without zone. Lines end in CRLF and are folded at 75 octets, never
/// inside a UTF-8 character. Must hold: `dated` belongs to `tasks`.
[[nodiscard]] std::string icalendar_text(const std::vector<Task>& tasks, const CalendarAnswer& dated,
                                         const CalendarText& text);

}  // namespace standproud::sequence
