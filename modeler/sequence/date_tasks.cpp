#include <fmt/format.h>

#include <algorithm>

#include "sequence/clock.hpp"
#include "sequence/links.hpp"

namespace standproud::sequence {

std::string refuse_hours(const WorkHours& hours) {
    if (!(hours.from >= 0 && hours.from < hours.to && hours.to <= 24 * 60)) {
        return fmt::format("working hours from minute {} to {}; they must rise within 0 to 1440", hours.from, hours.to);
    }
    if (std::none_of(std::begin(hours.days), std::end(hours.days), [](bool d) { return d; })) {
        return "no day of the week is a working day";
    }
    return {};
}

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
        LocalMinute ready = std::max(start, tasks[i].not_before.value_or(start));
        for (const std::size_t b : links.before[i]) {
            ready = std::max(ready, answer.tasks[b].ready);
            if (!t.held_by || answer.tasks[b].ready > answer.tasks[*t.held_by].ready) t.held_by = b;
        }
        t.start = tasks[i].work > 0 ? clock.opens(ready, tasks[i]) : ready;
        t.finish = clock.after_work(t.start, tasks[i]);
        t.ready = t.finish + minutes(tasks[i].wait);
        answer.end = std::max(answer.end, t.ready);
    }
    return answer;
}

}  // namespace standproud::sequence
