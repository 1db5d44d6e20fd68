#include <fmt/format.h>

#include "modeler/sequence.hpp"

namespace standproud::sequence {

namespace {

constexpr std::size_t fold_at = 75;  // octets, RFC 5545 3.1

/// TEXT (RFC 5545 3.3.11): control characters other than a new line cannot be said and are left out.
std::string escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        const auto octet = static_cast<unsigned char>(c);
        if (c == '\n') {
            out += "\\n";
        } else if (c == '\\' || c == ';' || c == ',') {
            out += '\\';
            out += c;
        } else if (octet >= 0x20 && octet != 0x7f) {
            out += c;
        }
    }
    return out;
}

bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xc0) == 0x80; }

void add_line(std::string& out, const std::string& line) {
    std::size_t at = 0;
    std::size_t room = fold_at;
    while (line.size() - at > room) {
        std::size_t end = at + room;
        while (end > at + 1 && continues_character(line[end])) --end;
        out.append(line, at, end - at);
        out += "\r\n ";
        at = end;
        room = fold_at - 1;  // the space that a folded line starts with counts
    }
    out.append(line, at, std::string::npos);
    out += "\r\n";
}

template <typename Time>
std::string date_time(Time at, int seconds) {
    const auto day = std::chrono::floor<std::chrono::days>(at);
    const std::chrono::year_month_day date(day);
    const int minute = static_cast<int>(std::chrono::floor<std::chrono::minutes>(at - day).count());
    return fmt::format("{:04}{:02}{:02}T{:02}{:02}{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), minute / 60, minute % 60,
                       seconds);
}

std::string description(const std::vector<Task>& tasks, const CalendarAnswer& dated, std::size_t index) {
    const Task& task = tasks[index];
    std::string words;
    const auto add = [&](const std::string& line) { words += (words.empty() ? "" : "\n") + line; };
    for (const std::string& id : task.after) {
        for (const Task& before : tasks) {
            if (before.id == id) add("After: " + before.name + " (" + before.trade + ")");
        }
    }
    if (const auto busy = dated.tasks[index].busy_with) {
        add("Waits for its own trade, busy with: " + tasks[*busy].name);
    }
    if (!task.hold.empty()) add("HOLD POINT: " + task.hold);
    if (task.wait > 0) {
        const LocalMinute ready = dated.tasks[index].ready;
        const auto day = std::chrono::floor<std::chrono::days>(ready);
        const std::chrono::year_month_day date(day);
        const int minute = static_cast<int>((ready - day).count());
        add(fmt::format("What comes after waits {} h {} min, until {:04}-{:02}-{:02} {:02}:{:02}", task.wait / 60,
                        task.wait % 60, static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                        static_cast<unsigned>(date.day()), minute / 60, minute % 60));
    }
    return words;
}

}  // namespace

std::string icalendar_text(const std::vector<Task>& tasks, const CalendarAnswer& dated, const CalendarText& text) {
    std::string out;
    const std::string stamp =
        date_time(text.made_at, static_cast<int>(text.made_at.time_since_epoch().count() % 60)) + "Z";
    add_line(out, "BEGIN:VCALENDAR");
    add_line(out, "VERSION:2.0");
    add_line(out, "PRODID:-//standproud//sequence of work//EN");
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        const Task& task = tasks[i];
        const DatedTask& d = dated.tasks[i];
        add_line(out, "BEGIN:VEVENT");
        add_line(out, "UID:" + escaped(task.id + "." + text.uid));
        add_line(out, "DTSTAMP:" + stamp);
        add_line(out, "DTSTART:" + date_time(d.start, 0));
        const LocalMinute end = task.work > 0 ? d.finish : d.ready;      // a wait takes nobody, but time
        if (end > d.start) add_line(out, "DTEND:" + date_time(end, 0));  // must be later, 3.8.2.2
        add_line(out, "SUMMARY:" + escaped(task.trade + ": " + task.name + (task.hold.empty() ? "" : " [hold point]")));
        add_line(out, "LOCATION:" + escaped(text.job));
        if (!task.trade.empty()) add_line(out, "CATEGORIES:" + escaped(task.trade));
        const std::string words = description(tasks, dated, i);
        if (!words.empty()) add_line(out, "DESCRIPTION:" + escaped(words));
        add_line(out, "END:VEVENT");
    }
    add_line(out, "END:VCALENDAR");
    return out;
}

}  // namespace standproud::sequence
