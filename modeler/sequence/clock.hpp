// Inside the sequence: working hours.
#pragma once

#include <algorithm>
#include <string>

#include "modeler/sequence.hpp"

namespace standproud::sequence {

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

    /// The first minute at or after a time when a task's first unit can be done before the site closes.
    [[nodiscard]] LocalMinute opens(LocalMinute at, const Task& task) const {
        return begins(at, std::min(unit_of(task), task.work));
    }

    /// The end of a task begun then. A later start never ends earlier.
    [[nodiscard]] LocalMinute after_work(LocalMinute start, const Task& task) const {
        const int unit = unit_of(task);
        if (unit == 0) return after_work(start, task.work);
        LocalMinute at = start;
        for (int left = task.work; left > 0; left -= unit) {
            const int piece = std::min(left, unit);
            at = begins(at, piece) + minutes(piece);
        }
        return at;
    }

    [[nodiscard]] LocalMinute after_work(LocalMinute start, int work) const {
        LocalMinute at = start;
        while (work > 0) {
            at = opens(at);
            const int done = std::min(left_of_day(at), work);
            at += minutes(done);
            work -= done;
        }
        return at;
    }

  private:
    [[nodiscard]] int left_of_day(LocalMinute at) const {
        return static_cast<int>((std::chrono::floor<days>(at) + minutes(hours_.to) - at).count());
    }
    [[nodiscard]] int unit_of(const Task& task) const { return task.unit <= hours_.to - hours_.from ? task.unit : 0; }
    [[nodiscard]] LocalMinute begins(LocalMinute at, int piece) const {
        at = opens(at);
        return left_of_day(at) >= piece ? at : opens(at + minutes(left_of_day(at)));
    }

    [[nodiscard]] bool works(local_days day) const {
        const std::chrono::weekday weekday(day);
        return hours_.days[weekday.iso_encoding() - 1] &&
               std::find(hours_.closed.begin(), hours_.closed.end(), day) == hours_.closed.end();
    }

    const WorkHours& hours_;
};

/// Why these are no working hours; empty if they are.
std::string refuse_hours(const WorkHours& hours);

}  // namespace standproud::sequence
