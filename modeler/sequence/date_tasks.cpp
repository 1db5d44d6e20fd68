#include <fmt/format.h>

#include <algorithm>

#include "sequence/links.hpp"

namespace standproud::sequence {

namespace {

using std::chrono::days;
using std::chrono::local_days;
using std::chrono::minutes;

class Clock {
  public:
    explicit Clock(const WorkHours& hours) : hours_(hours) {}

    /// The first working minute at or after a time; for an event any working minute or the end of a day will do.
    [[nodiscard]] LocalMinute opens(LocalMinute at) const {
        local_days day = std::chrono::floor<days>(at);
        if (works(day)) {
            if (at < day + minutes(hours_.from)) return day + minutes(hours_.from);
            if (at < day + minutes(hours_.to)) return at;
        }
        do {
            day += days(1);
        } while (!works(day));
        return day + minutes(hours_.from);
    }

    [[nodiscard]] LocalMinute after_work(LocalMinute start, int work) const {
        LocalMinute at = start;
        while (work > 0) {
            at = opens(at);
            const local_days day = std::chrono::floor<days>(at);
            const int left = static_cast<int>((day + minutes(hours_.to) - at).count());
            const int done = std::min(left, work);
            at += minutes(done);
            work -= done;
        }
        return at;
    }

  private:
    [[nodiscard]] bool works(local_days day) const {
        const std::chrono::weekday weekday(day);
        return hours_.days[weekday.iso_encoding() - 1] &&
               std::find(hours_.closed.begin(), hours_.closed.end(), day) == hours_.closed.end();
    }

    const WorkHours& hours_;
};

std::string refuse_hours(const WorkHours& hours) {
    if (!(hours.from >= 0 && hours.from < hours.to && hours.to <= 24 * 60)) {
        return fmt::format("working hours from minute {} to {}; they must rise within 0 to 1440", hours.from, hours.to);
    }
    if (std::none_of(std::begin(hours.days), std::end(hours.days), [](bool d) { return d; })) {
        return "no day of the week is a working day";
    }
    return {};
}

}  // namespace

CalendarAnswer date_tasks(const std::vector<Task>& tasks, const WorkHours& hours, LocalMinute start) {
    CalendarAnswer answer;
    const Links links = link_tasks(tasks);
    answer.refused = links.refused.empty() ? refuse_hours(hours) : links.refused;
    if (!answer.refused.empty()) return answer;
    const Clock clock(hours);
    answer.tasks.resize(tasks.size());
    answer.end = start;
    for (const std::size_t i : links.order) {
        DatedTask& t = answer.tasks[i];
        LocalMinute ready = start;
        for (const std::size_t b : links.before[i]) {
            if (t.held_by && answer.tasks[b].ready <= ready) continue;
            ready = std::max(start, answer.tasks[b].ready);
            t.held_by = b;
        }
        t.start = tasks[i].work > 0 ? clock.opens(ready) : ready;
        t.finish = clock.after_work(t.start, tasks[i].work);
        t.ready = t.finish + minutes(tasks[i].wait);
        answer.end = std::max(answer.end, t.ready);
    }
    return answer;
}

}  // namespace standproud::sequence
