#include <fmt/format.h>

#include <algorithm>

#include "rules/words.hpp"
#include "terminal/comparison.hpp"
#include "terminal/layout.hpp"
#include "terminal/what_moved.hpp"

namespace standproud::viewer {

using rules::FittingChange;
using rules::mm;
using rules::VerdictChange;

namespace {

std::string shift(double by, const char* positive, const char* negative) {
    return by == 0 ? "" : fmt::format("{} mm {}", mm(std::abs(by)), by > 0 ? positive : negative);
}

std::string seat_words(const FittingChange& change) {
    if (change.old_seat == change.new_seat) return "";
    const auto said = [](const std::optional<double>& seat) { return seat ? rules::depth(*seat) : "not known"; };
    std::string text = fmt::format("seat was {}, is {}", said(change.old_seat), said(change.new_seat));
    if (change.old_seat && change.new_seat) {
        text += fmt::format(" ({})", shift(*change.new_seat - *change.old_seat, "further out", "further in"));
    }
    return text;
}

}  // namespace

std::string what_moved(const FittingChange& change) {
    switch (change.kind) {
        case FittingChange::Kind::appeared:
            return "is new";
        case FittingChange::Kind::vanished:
            return "is gone";
        case FittingChange::Kind::moved:
            break;
    }
    std::vector<std::string> parts;
    if (!change.old_wall.empty()) {
        parts.push_back(fmt::format("went from wall {} to wall {}", change.old_wall, change.wall));
    } else {
        parts.push_back(shift(change.across, "to the right", "to the left"));
        parts.push_back(shift(change.up, "up", "down"));
    }
    parts.push_back(seat_words(change));
    const std::string face = shift(change.face, "further out", "further in");
    if (!face.empty()) parts.push_back("finished face there " + face);
    if (change.other_type) parts.push_back("another type");
    std::string text;
    for (const auto& part : parts) {
        if (!part.empty()) text += (text.empty() ? "" : "; ") + part;
    }
    return text;
}

std::string what_moved(const rules::OpeningChange& change) {
    if (change.kind == FittingChange::Kind::appeared) return "is new";
    if (change.kind == FittingChange::Kind::vanished) return "is gone";
    std::string text;
    const auto add = [&](const std::string& part) { text += (text.empty() ? "" : "; ") + part; };
    const auto edge = [&](const char* name, double by, const char* positive, const char* negative) {
        if (by != 0) add(fmt::format("{} {}", name, shift(by, positive, negative)));
    };
    edge("left edge", change.left, "to the right", "to the left");
    edge("right edge", change.right, "to the right", "to the left");
    edge("sill", change.bottom, "up", "down");
    edge("head", change.top, "up", "down");
    const auto deep = [](const std::optional<double>& reveal) {
        return reveal ? fmt::format("lined {} mm deep", mm(*reveal)) : "not lined";
    };
    if (change.old_reveal != change.new_reveal)
        add(fmt::format("reveal was {}, is {}", deep(change.old_reveal), deep(change.new_reveal)));
    return text;
}

namespace {

std::string verdict_change_words(const VerdictChange& change, bool colour) {
    const auto said = [&](const std::optional<rules::Verdict>& verdict) {
        return verdict ? verdict_word(*verdict, colour) : std::string("not judged");
    };
    std::string text = fmt::format("{} ({}): {} -> {}, {}", change.fitting, change.rule, said(change.before),
                                   said(change.after), change.quantity);
    if (change.nominal_before && change.nominal_after) {
        text += fmt::format(" {} -> {} mm", mm(*change.nominal_before), mm(*change.nominal_after));
    } else if (change.nominal_after) {
        text += fmt::format(" {} mm", mm(*change.nominal_after));
    }
    if (change.rule == "zone.electrical") text += "; the electrician decides";
    return text;
}

}  // namespace

std::string comparison_lines(const rules::Comparison& changes, const std::vector<rules::Finding>& now, bool colour) {
    std::string text;
    for (const auto& change : changes.fittings)
        text += wrapped(fmt::format("{} {}", change.fitting, what_moved(change)), "  ", "    ");
    for (const auto& change : changes.openings)
        text += wrapped(fmt::format("opening {} of wall {}: {}", change.opening, change.wall, what_moved(change)), "  ",
                        "    ");
    for (const Trade trade : {Trade::plumber, Trade::electrician, Trade::builder, Trade::installer}) {
        bool first = true;
        for (const auto& change : changes.verdicts) {
            if (change.trade != trade) continue;
            if (first) text += fmt::format("  {}:\n", to_string(trade));
            first = false;
            const char* mark = change.worse() ? "    WORSE   " : change.better() ? "    better  " : "    other   ";
            text += wrapped(verdict_change_words(change, colour), mark, "            ");
            if (change.worse() && change.now_at && !now[*change.now_at].action.empty())
                text += wrapped(now[*change.now_at].action, "            -> ", "               ");
        }
    }
    return text.empty() ? "  nothing changed that is compared: fittings, openings, verdicts\n" : text;
}

std::string text_comparison(const CheckedJob& old_job, const CheckedJob& new_job, const rules::Comparison& changes,
                            const TextStyle& style) {
    const auto called = [](const CheckedJob& job) {
        const auto& revision = job.model.job.revision;
        return fmt::format("{}{}", job.model.job.file, revision.empty() ? "" : " (revision " + revision + ")");
    };
    std::string text = heading(fmt::format("{}: what changed", new_job.model.job.name), style.colour) + "\n";
    text += wrapped(fmt::format("From {} to {}. Lengths in mm.", called(old_job), called(new_job)), "", "");
    text += comparison_lines(changes, new_job.findings, style.colour);
    const auto count = [&](auto which) {
        return std::count_if(changes.verdicts.begin(), changes.verdicts.end(), which);
    };
    const auto worse = count([](const auto& v) { return v.worse(); });
    text += fmt::format("{} verdict{} got worse, {} better\n", worse, worse == 1 ? "" : "s",
                        count([](const auto& v) { return v.better(); }));
    return text;
}

}  // namespace standproud::viewer
