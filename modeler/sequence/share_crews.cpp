// Tasks on crews: a search over the orders in which tasks are taken in hand. Each task in turn starts as early as what
// it needs and the first free crew of its trade allow.
//
// That some order gives the earliest end: take any schedule and list its tasks by start. Taken in hand in that order no
// task starts later than in the schedule, for a later start never ends earlier, and the tasks listed before it that are
// still in hand are at most those of the schedule.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "sequence/clock.hpp"
#include "sequence/links.hpp"

namespace standproud::sequence {

namespace {

constexpr std::size_t kept_states = 40;  // of one set of tasks taken in hand; more are searched, not remembered

struct Crew {
    LocalMinute free;
    std::optional<std::size_t> last{};  ///< task it had in hand
};

/// Some tasks in hand or done.
struct State {
    std::vector<bool> taken;
    std::vector<LocalMinute> head;         ///< of each task: what it needs is ready, as far as it is taken
    std::vector<std::vector<Crew>> crews;  ///< of each trade, the first free first
    std::vector<DatedTask> tasks;
    std::vector<std::size_t> order;
    LocalMinute end;
};

class Search {
  public:
    Search(const std::vector<Task>& tasks, const Links& links, const Crews& crews, const WorkHours& hours,
           LocalMinute start, long effort)
        : tasks_(tasks), links_(links), clock_(hours), start_(start), effort_(effort), after_(tasks.size()) {
        std::map<std::string, std::size_t> trades;
        for (std::size_t i = 0; i < tasks.size(); ++i) {
            const auto [at, fresh] = trades.emplace(tasks[i].trade, trades.size());
            trade_.push_back(at->second);
            if (fresh) {
                const auto known = crews.find(tasks[i].trade);
                crews_.push_back(known == crews.end() ? 1 : known->second);
            }
            for (const std::size_t b : links.before[i]) after_[b].push_back(i);
        }
        tail_.assign(tasks.size(), 0);
        for (auto i = links.order.rbegin(); i != links.order.rend(); ++i) {
            tail_[*i] += tasks[*i].wait;
            for (const std::size_t b : links.before[*i]) tail_[b] = std::max(tail_[b], tasks[*i].work + tail_[*i]);
        }
    }

    CrewsAnswer run() {
        State state = root();
        const LocalMinute bound = std::max(bound_of(state), bound_of_trades(state));
        go_on(state);
        CrewsAnswer answer;
        answer.calendar.tasks = best_->tasks;
        answer.calendar.end = best_->end;
        answer.order = best_->order;
        std::stable_sort(answer.order.begin(), answer.order.end(),
                         [&](std::size_t a, std::size_t b) { return best_->tasks[a].start < best_->tasks[b].start; });
        answer.bound = effort_ > 0 ? best_->end : std::min(bound, best_->end);
        answer.proved = answer.bound == best_->end;
        return answer;
    }

  private:
    [[nodiscard]] State root() const {
        State state;
        state.taken.assign(tasks_.size(), false);
        for (const Task& task : tasks_) state.head.push_back(std::max(start_, task.not_before.value_or(start_)));
        for (const int count : crews_) state.crews.emplace_back(static_cast<std::size_t>(count), Crew{start_});
        state.tasks.resize(tasks_.size());
        state.end = start_;
        return state;
    }

    [[nodiscard]] LocalMinute starts(std::size_t i, LocalMinute head, const State& state) const {
        if (tasks_[i].work == 0) return head;
        return clock_.opens(std::max(head, state.crews[trade_[i]].front().free), tasks_[i]);
    }

    void take(State& state, std::size_t i) const {
        const Task& task = tasks_[i];
        DatedTask& dated = state.tasks[i];
        dated.start = starts(i, state.head[i], state);
        dated.finish = clock_.after_work(dated.start, task);
        dated.ready = dated.finish + minutes(task.wait);
        for (const std::size_t b : links_.before[i]) {
            if (!dated.held_by || state.tasks[b].ready > state.tasks[*dated.held_by].ready) dated.held_by = b;
        }
        if (task.work > 0) {
            auto& crews = state.crews[trade_[i]];
            if (dated.start > clock_.opens(state.head[i], task)) dated.busy_with = crews.front().last;
            crews.front() = {dated.finish, i};
            std::stable_sort(crews.begin(), crews.end(), [](const auto& a, const auto& b) { return a.free < b.free; });
        }
        for (const std::size_t k : after_[i]) state.head[k] = std::max(state.head[k], dated.ready);
        state.taken[i] = true;
        state.order.push_back(i);
        state.end = std::max(state.end, dated.ready);
    }

    /// The end if from here on every task had the first free crew to itself.
    [[nodiscard]] LocalMinute bound_of(const State& state) const {
        LocalMinute end = state.end;
        std::vector<LocalMinute> head = state.head;
        std::vector<int> work(crews_.size(), 0);
        std::vector<int> tail(crews_.size(), 0);
        std::vector<std::optional<LocalMinute>> from(crews_.size());
        for (const std::size_t i : links_.order) {
            if (state.taken[i]) continue;
            const LocalMinute at = starts(i, head[i], state);
            const LocalMinute ready = clock_.after_work(at, tasks_[i]) + minutes(tasks_[i].wait);
            for (const std::size_t k : after_[i]) head[k] = std::max(head[k], ready);
            end = std::max(end, ready);
            if (tasks_[i].work == 0) continue;
            const std::size_t t = trade_[i];
            tail[t] = from[t] ? std::min(tail[t], tail_[i]) : tail_[i];
            from[t] = from[t] ? std::min(*from[t], at) : at;
            work[t] += tasks_[i].work;
        }
        for (std::size_t t = 0; t < crews_.size(); ++t) {
            if (from[t]) end = std::max(end, worked(*from[t], work[t], crews_[t]) + minutes(tail[t]));
        }
        return end;
    }

    /// A trade's work cannot be done sooner than by all its crews at once.
    [[nodiscard]] LocalMinute worked(LocalMinute from, int work, int crews) const {
        return clock_.after_work(from, (work + crews - 1) / crews);
    }

    /// For every trade, its tasks that cannot start before some time and leave at least so much to do after them.
    [[nodiscard]] LocalMinute bound_of_trades(const State& state) const {
        std::vector<LocalMinute> head = state.head;
        for (const std::size_t i : links_.order) {
            head[i] = starts(i, head[i], state);
            const LocalMinute ready = clock_.after_work(head[i], tasks_[i]) + minutes(tasks_[i].wait);
            for (const std::size_t k : after_[i]) head[k] = std::max(head[k], ready);
        }
        LocalMinute end = start_;
        for (std::size_t a = 0; a < tasks_.size(); ++a) {
            for (std::size_t b = 0; b < tasks_.size(); ++b) {
                if (trade_[a] != trade_[b] || tasks_[a].work == 0) continue;
                int work = 0;
                for (std::size_t i = 0; i < tasks_.size(); ++i) {
                    const bool counts = trade_[i] == trade_[a] && head[i] >= head[a] && tail_[i] >= tail_[b];
                    work += counts ? tasks_[i].work : 0;
                }
                if (work > 0) end = std::max(end, worked(head[a], work, crews_[trade_[a]]) + minutes(tail_[b]));
            }
        }
        return end;
    }

    /// Whether the same tasks were taken before, with nothing later.
    bool seen_better(const State& state) {
        std::vector<LocalMinute> times{state.end};
        for (std::size_t i = 0; i < tasks_.size(); ++i) {
            if (!state.taken[i]) times.push_back(state.head[i]);
        }
        for (const auto& crews : state.crews) {
            for (const Crew& crew : crews) times.push_back(crew.free);
        }
        auto& seen = seen_[state.taken];
        const auto no_later = [](const auto& a, const auto& b) {
            return std::equal(a.begin(), a.end(), b.begin(), [](auto x, auto y) { return x <= y; });
        };
        if (std::any_of(seen.begin(), seen.end(), [&](const auto& one) { return no_later(one, times); })) return true;
        std::erase_if(seen, [&](const auto& one) { return no_later(times, one); });
        if (seen.size() < kept_states) seen.push_back(std::move(times));
        return false;
    }

    void go_on(const State& state) {
        if (state.order.size() == tasks_.size()) {
            if (!best_ || state.end < best_->end) best_ = state;
            return;
        }
        std::vector<std::size_t> next;
        for (std::size_t i = 0; i < tasks_.size(); ++i) {
            const auto& before = links_.before[i];
            if (!state.taken[i] &&
                std::all_of(before.begin(), before.end(), [&](std::size_t b) { return state.taken[b]; }))
                next.push_back(i);
        }
        // What can start first, of these the longest way to the end.
        std::stable_sort(next.begin(), next.end(), [&](std::size_t a, std::size_t b) {
            const LocalMinute at_a = starts(a, state.head[a], state);
            const LocalMinute at_b = starts(b, state.head[b], state);
            return at_a != at_b ? at_a < at_b : tasks_[a].work + tail_[a] > tasks_[b].work + tail_[b];
        });
        // An event takes nobody: there is nothing to choose.
        const auto event = std::find_if(next.begin(), next.end(), [&](std::size_t i) { return tasks_[i].work == 0; });
        if (event != next.end()) next = {*event};
        for (const std::size_t i : next) {
            if (best_ && effort_ <= 0) return;
            --effort_;
            State further = state;
            take(further, i);
            if (best_ && (bound_of(further) >= best_->end || seen_better(further))) continue;
            go_on(further);
        }
    }

    const std::vector<Task>& tasks_;
    const Links& links_;
    const Clock clock_;
    const LocalMinute start_;
    long effort_;
    std::vector<std::vector<std::size_t>> after_;
    std::vector<std::size_t> trade_;
    std::vector<int> crews_;
    std::vector<int> tail_;  ///< minutes at least from the end of a task's work to the end of all
    std::map<std::vector<bool>, std::vector<std::vector<LocalMinute>>> seen_;
    std::optional<State> best_;
};

std::string refuse_crews(const Crews& crews) {
    for (const auto& [trade, count] : crews) {
        if (count < 1) return fmt::format("{} has {} crews; it must be at least 1", trade, count);
    }
    return {};
}

}  // namespace

CrewsAnswer share_crews(const std::vector<Task>& tasks, const Crews& crews, const WorkHours& hours, LocalMinute start,
                        long effort) {
    const Links links = link_tasks(tasks);
    std::string refused = links.refused.empty() ? refuse_hours(hours) : links.refused;
    if (refused.empty()) refused = refuse_crews(crews);
    if (!refused.empty()) {
        CrewsAnswer answer;
        answer.refused = answer.calendar.refused = refused;
        return answer;
    }
    return Search(tasks, links, crews, hours, start, effort).run();
}

}  // namespace standproud::sequence
