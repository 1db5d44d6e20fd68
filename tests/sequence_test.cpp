// The order of work: textbook examples, brute force on random networks, iCalendar text read back by a strict reader.
#include "modeler/sequence.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <map>
#include <random>

namespace standproud::sequence {
namespace {

using namespace std::chrono_literals;
using std::chrono::days;
using std::chrono::local_days;

Sequence ordered(const std::vector<Task>& tasks) {
    const SequenceAnswer answer = order_tasks(tasks);
    EXPECT_TRUE(answer.sequence) << answer.refused;
    return answer.sequence.value_or(Sequence{});
}

Task task(const std::string& id, int work, std::vector<std::string> after, int wait = 0) {
    return {id, "do " + id, "installer", work, wait, std::move(after), ""};
}

struct Row {
    const char* id;
    int work;
    std::vector<std::string> after;
    int earliest_start;
    int earliest_finish;
    int latest_start;
    int latest_finish;
};

void expect_table(const std::vector<Row>& rows, int length) {
    std::vector<Task> tasks;
    for (const Row& row : rows) tasks.push_back(task(row.id, row.work, row.after));
    const Sequence s = ordered(tasks);
    EXPECT_EQ(s.length, length);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        EXPECT_EQ(s.tasks[i].earliest_start, rows[i].earliest_start) << rows[i].id;
        EXPECT_EQ(s.tasks[i].earliest_finish, rows[i].earliest_finish) << rows[i].id;
        EXPECT_EQ(s.tasks[i].latest_start, rows[i].latest_start) << rows[i].id;
        EXPECT_EQ(s.tasks[i].latest_finish, rows[i].latest_finish) << rows[i].id;
        EXPECT_EQ(s.tasks[i].critical, rows[i].earliest_start == rows[i].latest_start) << rows[i].id;
    }
}

// Published: Taylor, Introduction to Management Science, solutions to chapter 8 (project management), two network
// analyses; arrows of the book as tasks here.
TEST(Sequence, TextbookNetworks) {
    expect_table({{"1-2", 7, {}, 0, 7, 2, 9},
                  {"1-3", 10, {}, 0, 10, 0, 10},
                  {"2-4", 6, {"1-2"}, 7, 13, 9, 15},
                  {"3-4", 5, {"1-3"}, 10, 15, 10, 15},
                  {"3-5", 4, {"1-3"}, 10, 14, 14, 18},
                  {"4-5", 3, {"2-4", "3-4"}, 15, 18, 15, 18},
                  {"5-6", 2, {"3-5", "4-5"}, 18, 20, 18, 20}},
                 20);
    expect_table({{"1-2", 8, {}, 0, 8, 1, 9},
                  {"1-3", 10, {}, 0, 10, 0, 10},
                  {"1-4", 9, {}, 0, 9, 6, 15},
                  {"2-5", 6, {"1-2"}, 8, 14, 9, 15},
                  {"2-6", 4, {"1-2"}, 8, 12, 16, 20},
                  {"3-5", 5, {"1-3"}, 10, 15, 10, 15},
                  {"4-5", 0, {"1-4"}, 9, 9, 15, 15},
                  {"4-7", 7, {"1-4"}, 9, 16, 20, 27},
                  {"5-7", 12, {"2-5", "3-5", "4-5"}, 15, 27, 15, 27},
                  {"5-8", 15, {"2-5", "3-5", "4-5"}, 15, 30, 16, 31},
                  {"6-9", 18, {"2-6"}, 12, 30, 20, 38},
                  {"7-8", 4, {"4-7", "5-7"}, 27, 31, 27, 31},
                  {"8-9", 7, {"5-8", "7-8"}, 31, 38, 31, 38}},
                 38);
}

TEST(Sequence, HandoversBetweenTrades) {
    std::vector<Task> tasks{task("bodies", 60, {}), task("board", 120, {"bodies"}),
                            task("drill", 30, {"bodies", "board"})};
    tasks[0].trade = "plumber";
    tasks[1].trade = "builder";
    const Sequence s = ordered(tasks);
    ASSERT_EQ(s.handovers.size(), 3u);
    EXPECT_EQ(s.handovers[0].task, 1u);
    EXPECT_TRUE(s.handovers[0].decides);
    EXPECT_EQ(s.handovers[1].waits_for, 0u);
    EXPECT_FALSE(s.handovers[1].decides);
    EXPECT_TRUE(s.handovers[2].decides);
    EXPECT_EQ(s.tasks[2].held_by, 1u);
}

/// Longest way to a task and from it, over all ways: brute force.
struct Ways {
    const std::vector<Task>& tasks;
    std::map<std::string, std::size_t> index;

    int into(std::size_t i) const {
        int longest = 0;
        for (const auto& id : tasks[i].after) {
            const std::size_t b = index.at(id);
            longest = std::max(longest, into(b) + tasks[b].work + tasks[b].wait);
        }
        return longest;
    }
    int out_of(std::size_t i) const {
        int longest = 0;
        for (std::size_t k = 0; k < tasks.size(); ++k) {
            const auto& after = tasks[k].after;
            if (std::find(after.begin(), after.end(), tasks[i].id) == after.end()) continue;
            longest = std::max(longest, tasks[k].work + tasks[k].wait + out_of(k));
        }
        return longest;
    }
};

std::vector<Task> random_tasks(std::mt19937& random, std::size_t count) {
    std::vector<Task> tasks;
    for (std::size_t i = 0; i < count; ++i) {
        Task t = task("t" + std::to_string(i), static_cast<int>(random() % 500), {},
                      random() % 4 == 0 ? static_cast<int>(random() % 2000) : 0);
        for (std::size_t k = 0; k < i; ++k) {
            if (random() % 3 == 0) t.after.push_back("t" + std::to_string(k));
        }
        tasks.push_back(t);
    }
    std::shuffle(tasks.begin(), tasks.end(), random);
    return tasks;
}

TEST(Sequence, AgreesWithAllWaysOnRandomNetworks) {
    const unsigned seed = 6701;
    std::mt19937 random(seed);
    for (int round = 0; round < 400; ++round) {
        const auto tasks = random_tasks(random, 1 + random() % 9);
        const Sequence s = ordered(tasks);
        Ways ways{tasks, {}};
        for (std::size_t i = 0; i < tasks.size(); ++i) ways.index[tasks[i].id] = i;
        int length = 0;
        for (std::size_t i = 0; i < tasks.size(); ++i) {
            length = std::max(length, ways.into(i) + tasks[i].work + tasks[i].wait);
        }
        EXPECT_EQ(s.length, length) << "seed " << seed << " round " << round;
        std::vector<std::size_t> place(tasks.size());
        for (std::size_t k = 0; k < s.order.size(); ++k) place[s.order[k]] = k;
        int critical = 0;
        for (std::size_t i = 0; i < tasks.size(); ++i) {
            const int slack = length - ways.into(i) - tasks[i].work - tasks[i].wait - ways.out_of(i);
            EXPECT_EQ(s.tasks[i].earliest_start, ways.into(i)) << "seed " << seed << " round " << round;
            EXPECT_EQ(s.tasks[i].slack, slack) << "seed " << seed << " round " << round;
            critical += slack == 0 ? 1 : 0;
            for (const auto& id : tasks[i].after) EXPECT_LT(place[ways.index[id]], place[i]);
        }
        EXPECT_GT(critical, 0);
        // A circle is found and named.
        if (tasks.size() > 1 && !s.tasks[s.order.back()].held_by) continue;
        if (tasks.size() < 2) continue;
        auto circle = tasks;
        std::size_t first = s.order.back();
        while (s.tasks[first].held_by) first = *s.tasks[first].held_by;
        circle[first].after.push_back(tasks[s.order.back()].id);
        const std::string refused = order_tasks(circle).refused;
        EXPECT_NE(refused.find("circle"), std::string::npos);
        EXPECT_NE(refused.find(tasks[first].id), std::string::npos) << refused;
    }
}

const local_days monday{std::chrono::year(2026) / 3 / 2};

TEST(Calendar, WorkStopsOvernightAndWaitsRunOn) {
    // Closed form, by hand. 8:00 to 16:00, Monday to Friday.
    std::vector<Task> tasks{task("bond", 10 * 60, {}, 24 * 60), task("seal", 120, {"bond"}), task("show", 0, {"seal"})};
    const auto c = date_tasks(tasks, {}, monday + 9h);
    ASSERT_TRUE(c.refused.empty());
    EXPECT_EQ(c.tasks[0].start, monday + 9h);
    EXPECT_EQ(c.tasks[0].finish, monday + 24h + 11h);  // 7 h on Monday, 3 h on Tuesday
    EXPECT_EQ(c.tasks[0].ready, monday + 48h + 11h);
    EXPECT_EQ(c.tasks[1].start, monday + 48h + 11h);
    EXPECT_EQ(c.tasks[2].start, monday + 48h + 13h);
    EXPECT_EQ(c.end, monday + 48h + 13h);
    // On Thursday: bonding ends on Friday, 24 h later it is Saturday: sealing on Monday morning, or Tuesday when the
    // Monday is closed.
    const local_days thursday = monday + std::chrono::days(3);
    EXPECT_EQ(date_tasks(tasks, {}, thursday + 9h).tasks[1].start, monday + std::chrono::days(7) + 8h);
    WorkHours hours;
    hours.closed = {monday + std::chrono::days(7)};
    EXPECT_EQ(date_tasks(tasks, hours, thursday + 9h).tasks[1].start, monday + std::chrono::days(8) + 8h);
    // At the last minute of the day there is a minute left; at the end of the day none.
    EXPECT_EQ(date_tasks(tasks, {}, monday + 15h + 59min).tasks[0].start, monday + 15h + 59min);
    EXPECT_EQ(date_tasks(tasks, {}, monday + 16h).tasks[0].start, monday + 24h + 8h);
}

TEST(Calendar, RoundTheClockItIsThePlainSequence) {
    const unsigned seed = 6702;
    std::mt19937 random(seed);
    WorkHours always;
    always.from = 0;
    always.to = 24 * 60;
    std::fill(std::begin(always.days), std::end(always.days), true);
    for (int round = 0; round < 200; ++round) {
        const auto tasks = random_tasks(random, 8);
        const Sequence s = ordered(tasks);
        const auto c = date_tasks(tasks, always, monday + 0min);
        const auto day_work = date_tasks(tasks, {}, monday + 0min);
        EXPECT_EQ((c.end - (monday + 0min)).count(), s.length) << "seed " << seed << " round " << round;
        for (std::size_t i = 0; i < tasks.size(); ++i) {
            EXPECT_EQ((c.tasks[i].start - (monday + 0min)).count(), s.tasks[i].earliest_start);
            EXPECT_GE(day_work.tasks[i].start, c.tasks[i].start);  // fewer hours are never earlier
        }
    }
}

TEST(Sequence, RefusesInWords) {
    EXPECT_NE(order_tasks({task("a", 1, {}), task("a", 1, {})}).refused.find("a is given twice"), std::string::npos);
    EXPECT_NE(order_tasks({task("a", 1, {"b"})}).refused.find("a comes after b, which is not there"),
              std::string::npos);
    EXPECT_NE(order_tasks({task("a", -1, {})}).refused.find("work -1"), std::string::npos);
    EXPECT_NE(order_tasks({task("a", 1, {}, -2)}).refused.find("wait -2"), std::string::npos);
    EXPECT_NE(order_tasks({task("a", 1, {"a"})}).refused.find("a after a"), std::string::npos);
    WorkHours hours;
    hours.from = hours.to;
    EXPECT_FALSE(date_tasks({task("a", 1, {})}, hours, monday + 0min).refused.empty());
    hours = {};
    std::fill(std::begin(hours.days), std::end(hours.days), false);
    EXPECT_FALSE(date_tasks({task("a", 1, {})}, hours, monday + 0min).refused.empty());
    EXPECT_TRUE(ordered({}).order.empty());
}

// A strict reader of RFC 5545 text; throws in words.

struct Event {
    std::map<std::string, std::string> values;
};

std::vector<std::string> content_lines(const std::string& text) {
    std::vector<std::string> lines;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = text.find("\r\n", at);
        if (end == std::string::npos) throw std::runtime_error("a line does not end in CRLF");
        const std::string line = text.substr(at, end - at);
        if (line.find_first_of("\r\n") != std::string::npos) throw std::runtime_error("a bare CR or LF");
        if (line.size() > 75) throw std::runtime_error("a line of " + std::to_string(line.size()) + " octets");
        if (line.empty()) throw std::runtime_error("an empty line");
        if (line[0] == ' ' && !lines.empty()) {
            if (line.size() > 1 && (static_cast<unsigned char>(line[1]) & 0xc0) == 0x80) {
                throw std::runtime_error("folded inside a character");
            }
            lines.back() += line.substr(1);
        } else {
            lines.push_back(line);
        }
        at = end + 2;
    }
    return lines;
}

std::string unescaped(const std::string& text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == ',' || text[i] == ';') throw std::runtime_error("an unescaped , or ;");
        if (text[i] != '\\') {
            out += text[i];
            continue;
        }
        if (++i == text.size()) throw std::runtime_error("a \\ at the end");
        if (text[i] == 'n' || text[i] == 'N') {
            out += '\n';
        } else if (text[i] == '\\' || text[i] == ';' || text[i] == ',') {
            out += text[i];
        } else {
            throw std::runtime_error("an unknown escape");
        }
    }
    return out;
}

std::vector<Event> read_calendar(const std::string& text) {
    std::vector<Event> events;
    std::vector<std::string> inside;
    std::map<std::string, std::string> calendar;
    for (const std::string& line : content_lines(text)) {
        const std::size_t colon = line.find(':');
        if (colon == std::string::npos) throw std::runtime_error("no colon: " + line);
        const std::string name = line.substr(0, colon);
        const std::string value = line.substr(colon + 1);
        if (name.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ-") != std::string::npos) {
            throw std::runtime_error("bad name: " + name);
        }
        if (name == "BEGIN") {
            inside.push_back(value);
            if (value == "VEVENT") events.emplace_back();
        } else if (name == "END") {
            if (inside.empty() || inside.back() != value) throw std::runtime_error("END does not match");
            inside.pop_back();
        } else if (inside.empty()) {
            throw std::runtime_error("outside of everything: " + line);
        } else {
            auto& values = inside.back() == "VEVENT" ? events.back().values : calendar;
            if (!values.emplace(name, value).second) throw std::runtime_error("twice: " + name);
        }
    }
    if (!inside.empty()) throw std::runtime_error("not closed");
    if (calendar["VERSION"] != "2.0" || calendar["PRODID"].empty()) throw std::runtime_error("VERSION or PRODID");
    for (const Event& e : events) {
        for (const char* needed : {"UID", "DTSTAMP", "DTSTART"}) {
            if (!e.values.count(needed)) throw std::runtime_error(std::string("no ") + needed);
        }
    }
    return events;
}

std::string random_text(std::mt19937& random) {
    static const std::vector<std::string> bits{"a",  "word ", ",",   ";",  "\\", "\n", ":",
                                               "\"", "é",     "Ø",   "–",  "界", "😀",  "long-long-long-long-word ",
                                               " ",  "n",     "\\n", "<b>"};
    std::string text;
    for (auto i = random() % 60; i > 0; --i) text += bits[random() % bits.size()];
    return text;
}

TEST(ICalendar, ReadBackByAStrictReader) {
    const unsigned seed = 6703;
    std::mt19937 random(seed);
    int folded = 0;
    for (int round = 0; round < 500; ++round) {
        auto tasks = random_tasks(random, 5);
        for (Task& t : tasks) {
            t.name = random_text(random);
            t.trade = "trade" + std::to_string(random() % 3);
            if (random() % 2 == 0) t.hold = "record " + random_text(random);
        }
        const auto dated = date_tasks(tasks, {}, monday + 8h);
        CalendarText about{random_text(random), "job-17@example.invalid", {}};
        about.made_at = std::chrono::sys_days(std::chrono::year(2026) / 2 / 28) + 23h + 5min + 9s;
        const std::string text = icalendar_text(tasks, dated, about);
        folded += text.find("\r\n ") != std::string::npos ? 1 : 0;
        std::vector<Event> events;
        ASSERT_NO_THROW(events = read_calendar(text)) << "seed " << seed << " round " << round << '\n' << text;
        ASSERT_EQ(events.size(), tasks.size());
        for (std::size_t i = 0; i < tasks.size(); ++i) {
            auto& v = events[i].values;
            EXPECT_EQ(unescaped(v["UID"]), tasks[i].id + ".job-17@example.invalid");
            EXPECT_EQ(v["DTSTAMP"], "20260228T230509Z");
            EXPECT_EQ(unescaped(v["SUMMARY"]),
                      tasks[i].trade + ": " + tasks[i].name + (tasks[i].hold.empty() ? "" : " [hold point]"));
            EXPECT_EQ(unescaped(v["LOCATION"]), about.job);
            EXPECT_EQ(v.count("DTEND"), tasks[i].work > 0 ? 1u : 0u);
            if (!tasks[i].hold.empty()) {
                EXPECT_NE(unescaped(v["DESCRIPTION"]).find("HOLD POINT: " + tasks[i].hold), std::string::npos);
            }
        }
        EXPECT_EQ(text, icalendar_text(tasks, dated, about));
    }
    EXPECT_GT(folded, 400);
}

TEST(ICalendar, DatesAndControlCharacters) {
    std::vector<Task> tasks{task("a", 90, {})};
    tasks[0].name = "one\r\ntwo\x07three";
    const auto dated = date_tasks(tasks, {}, monday + 8h + 30min);
    const auto events = read_calendar(icalendar_text(tasks, dated, {"job", "x", {}}));
    EXPECT_EQ(events[0].values.at("DTSTART"), "20260302T083000");
    EXPECT_EQ(events[0].values.at("DTEND"), "20260302T100000");
    EXPECT_EQ(unescaped(events[0].values.at("SUMMARY")), "installer: one\ntwothree");
    EXPECT_EQ(events[0].values.at("DTSTAMP"), "19700101T000000Z");
}

TEST(ICalendar, LinesFoldAtExactlySeventyFiveOctets) {
    // "SUMMARY:installer: " is 19 octets: a name of 56 fits on one line, 57 folds after 75.
    for (const std::size_t length : {56u, 57u}) {
        std::vector<Task> tasks{task("a", 90, {})};
        tasks[0].name = std::string(length, 'x');
        const auto dated = date_tasks(tasks, {}, monday + 8h);
        const std::string text = icalendar_text(tasks, dated, {"job", "x", {}});
        const std::string full = "SUMMARY:installer: " + std::string(56, 'x') + "\r\n";
        EXPECT_NE(text.find(length == 56 ? full : full + " x\r\n"), std::string::npos);
    }
}

// Closed form: 8 to 16 h, Friday 15:52: 8 minutes are left, a panel takes 45, so the first begins on Monday. Ten take
// 450 of a day's 480; the eleventh goes to Tuesday.
TEST(Sequence, WhatIsNotLeftOvernightWaitsForTheMorning) {
    const auto friday = local_days(2026y / 6 / 19);
    const auto dated = [&](int work, int unit, LocalMinute start) {
        Task one = task("bond", work, {});
        one.unit = unit;
        const auto answer = date_tasks({one}, {}, start);
        const auto shared = share_crews({one}, {}, {}, start);
        EXPECT_EQ(shared.calendar.tasks.at(0).start, answer.tasks.at(0).start);
        EXPECT_EQ(shared.calendar.tasks.at(0).finish, answer.tasks.at(0).finish);
        return answer.tasks.at(0);
    };
    const auto late = dated(3 * 45, 45, friday + 15h + 52min);
    EXPECT_EQ(late.start, friday + days(3) + 8h);
    EXPECT_EQ(late.finish, friday + days(3) + 10h + 15min);
    const auto many = dated(11 * 45, 45, friday + days(3));
    EXPECT_EQ(many.start, friday + days(3) + 8h);
    EXPECT_EQ(many.finish, friday + days(4) + 8h + 45min);
    // Just fits, and just does not.
    EXPECT_EQ(dated(45, 45, friday + 15h + 15min).start, friday + 15h + 15min);
    EXPECT_EQ(dated(45, 45, friday + 15h + 16min).start, friday + days(3) + 8h);
    // Without a unit, or with one that no day holds, it stops and goes on.
    EXPECT_EQ(dated(45, 0, friday + 15h + 52min).finish, friday + days(3) + 8h + 37min);
    EXPECT_EQ(dated(500, 500, friday + 8h).finish, friday + days(3) + 8h + 20min);
}

// Relation, and what the search over orders rests on: a later start never ends earlier; no unit runs past closing time.
TEST(Sequence, ALaterStartNeverEndsEarlierWithUnitsEither) {
    const unsigned seed = 551;
    std::mt19937 random(seed);
    const auto pick = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
    const auto from = local_days(2026y / 6 / 15);
    for (int round = 0; round < 200; ++round) {
        SCOPED_TRACE(::testing::Message() << "seed " << seed << " round " << round);
        Task one = task("bond", 0, {});
        one.unit = pick(1, 480);
        const int count = pick(1, 6);
        one.work = count * one.unit;
        LocalMinute before{};
        for (LocalMinute start = from; start < from + days(8); start += std::chrono::minutes(pick(1, 200))) {
            const auto dated = date_tasks({one}, {}, start).tasks.at(0);
            EXPECT_GE(dated.finish, before);
            before = dated.finish;
            // Its last unit lies within one day's hours.
            const auto day = std::chrono::floor<days>(dated.finish);
            EXPECT_GE(dated.finish - std::chrono::minutes(one.unit), day + 8h);
            EXPECT_LE(dated.finish, day + 16h);
        }
    }
}

}  // namespace
}  // namespace standproud::sequence
