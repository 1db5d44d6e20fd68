#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "modeler/sequence.hpp"
#include "sequence/links.hpp"

namespace standproud::sequence {

namespace {

constexpr int longest = 10 * 365 * 24 * 60;  // ten years

std::string refuse_task(const Task& task) {
    if (task.id.empty()) return "a task has no id";
    if (task.work < 0 || task.work > longest) {
        return fmt::format("task {}: work {} minutes; it must be 0 to {}", task.id, task.work, longest);
    }
    if (task.unit < 0 || task.unit > longest) {
        return fmt::format("task {}: unit {} minutes; it must be 0 to {}", task.id, task.unit, longest);
    }
    if (task.wait < 0 || task.wait > longest) {
        return fmt::format("task {}: wait {} minutes; it must be 0 to {}", task.id, task.wait, longest);
    }
    return {};
}

/// Follows what is not done yet until a task comes round again.
std::string circle(const std::vector<Task>& tasks, const Links& links, const std::vector<bool>& done) {
    std::size_t at = 0;
    while (done[at]) ++at;
    std::vector<std::size_t> way;
    while (std::find(way.begin(), way.end(), at) == way.end()) {
        way.push_back(at);
        for (const std::size_t before : links.before[at]) {
            if (done[before]) continue;
            at = before;
            break;
        }
    }
    std::string words = "tasks wait for each other in a circle: ";
    for (auto i = std::find(way.begin(), way.end(), at); i != way.end(); ++i) words += tasks[*i].id + " after ";
    return words + tasks[at].id;
}

}  // namespace

Links link_tasks(const std::vector<Task>& tasks) {
    Links links;
    std::map<std::string, std::size_t> index;
    const auto refuse = [&](const std::string& one) {
        if (!one.empty()) links.refused += (links.refused.empty() ? "" : "; ") + one;
    };
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        refuse(refuse_task(tasks[i]));
        if (!index.emplace(tasks[i].id, i).second) refuse(fmt::format("task {} is given twice", tasks[i].id));
    }
    links.before.resize(tasks.size());
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        for (const std::string& id : tasks[i].after) {
            const auto at = index.find(id);
            if (at == index.end()) {
                refuse(fmt::format("task {} comes after {}, which is not there", tasks[i].id, id));
            } else {
                links.before[i].push_back(at->second);
            }
        }
    }
    if (!links.refused.empty()) return links;
    std::vector<bool> done(tasks.size(), false);
    while (links.order.size() < tasks.size()) {
        std::size_t next = 0;
        const auto can_be_next = [&](std::size_t i) {
            return !done[i] &&
                   std::all_of(links.before[i].begin(), links.before[i].end(), [&](std::size_t b) { return done[b]; });
        };
        while (next < tasks.size() && !can_be_next(next)) ++next;
        if (next == tasks.size()) {
            links.refused = circle(tasks, links, done);
            return links;
        }
        done[next] = true;
        links.order.push_back(next);
    }
    return links;
}

namespace {

void go_forward(const std::vector<Task>& tasks, const Links& links, Sequence& sequence) {
    for (const std::size_t i : links.order) {
        TimedTask& t = sequence.tasks[i];
        for (const std::size_t b : links.before[i]) {
            const int ready = sequence.tasks[b].earliest_finish + tasks[b].wait;
            if (t.held_by && ready <= t.earliest_start) continue;
            t.earliest_start = ready;
            t.held_by = b;
        }
        t.earliest_finish = t.earliest_start + tasks[i].work;
        sequence.length = std::max(sequence.length, t.earliest_finish + tasks[i].wait);
    }
}

void go_back(const std::vector<Task>& tasks, const Links& links, Sequence& sequence) {
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        sequence.tasks[i].latest_finish = sequence.length - tasks[i].wait;
    }
    for (auto i = links.order.rbegin(); i != links.order.rend(); ++i) {
        TimedTask& t = sequence.tasks[*i];
        t.latest_start = t.latest_finish - tasks[*i].work;
        t.slack = t.latest_start - t.earliest_start;
        t.critical = t.slack == 0;
        for (const std::size_t b : links.before[*i]) {
            int& finish = sequence.tasks[b].latest_finish;
            finish = std::min(finish, t.latest_start - tasks[b].wait);
        }
    }
}

}  // namespace

SequenceAnswer order_tasks(const std::vector<Task>& tasks) {
    SequenceAnswer answer;
    const Links links = link_tasks(tasks);
    answer.refused = links.refused;
    if (!answer.refused.empty()) return answer;
    Sequence sequence;
    sequence.tasks.resize(tasks.size());
    sequence.order = links.order;
    go_forward(tasks, links, sequence);
    go_back(tasks, links, sequence);
    for (const std::size_t i : links.order) {
        for (const std::size_t b : links.before[i]) {
            if (tasks[b].trade == tasks[i].trade) continue;
            sequence.handovers.push_back({i, b, sequence.tasks[i].held_by == b});
        }
    }
    answer.sequence = std::move(sequence);
    return answer;
}

}  // namespace standproud::sequence
