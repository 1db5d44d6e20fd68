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

/// Why these are no working hours; empty if they are.
std::string refuse_hours(const WorkHours& hours);

}  // namespace standproud::sequence
