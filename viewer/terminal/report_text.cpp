#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "rules/words.hpp"
#include "terminal/comparison.hpp"
#include "terminal/layout.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

using rules::Finding;
using rules::mm;
using rules::Verdict;

Tally tally(const std::vector<Finding>& findings) {
    Tally count;
    for (const auto& finding : findings) {
        switch (finding.verdict) {
            case Verdict::clear:
                ++count.clear;
                break;
            case Verdict::tight:
                ++count.tight;
                break;
            case Verdict::fails:
                ++count.fails;
                break;
            case Verdict::unknown:
                ++count.unknown;
                break;
        }
    }
    return count;
}

namespace {

Verdict worst_of(const std::vector<const Finding*>& findings) {
    Verdict worst = Verdict::clear;
    for (const auto* finding : findings) {
        if (severity(finding->verdict) > severity(worst)) worst = finding->verdict;
    }
    return worst;
}

std::string range_text(const std::optional<double>& low, const std::optional<double>& high) {
    if (low && high) return fmt::format("{} to {}", mm(*low), mm(*high));
    if (low) return fmt::format("{} or more", mm(*low));
    if (high) return fmt::format("{} or less", mm(*high));
    return "not known";
}

std::string from_corner(double bare, const std::optional<double>& finished) {
    const auto tenth = [](double value) { return mm(std::round(value * 10) / 10); };  // a tape shows no more
    return fmt::format("{} / {}", tenth(bare), finished ? tenth(*finished) : "-");
}

/// One line a fitting: the reach finding that is worst, and the worst verdict of all its findings.
Row fitting_row(const CheckedJob& job, const PlacedFitting& placed, bool colour) {
    const Fitting& fitting = fitting_of(job.model, placed);
    std::vector<const Finding*> all;
    const Finding* reach = nullptr;
    for (const auto& finding : job.findings) {
        if (finding.subject != fitting.id) continue;
        all.push_back(&finding);
        const bool of_reach = finding.rule.rfind("reach.", 0) == 0;
        if (of_reach && (!reach || severity(finding.verdict) > severity(reach->verdict))) reach = &finding;
    }
    const double face = build_up(job.model.job, job.model.room, placed.wall, placed.u, placed.v);
    std::string other;
    for (const auto* finding : all) {
        if (finding->rule.rfind("reach.", 0) == 0 || finding->verdict == Verdict::clear) continue;
        if (other.find(finding->rule) == std::string::npos) other += " " + finding->rule;
    }
    const Verdict worst = worst_of(all);
    std::string last = verdict_word(worst, colour);
    if (!other.empty()) last += "  see" + other;
    const bool electrical =
        std::any_of(all.begin(), all.end(), [](const auto* finding) { return finding->rule == "zone.electrical"; });
    if (electrical) last += "  the electrician decides";
    return {fitting.id,
            from_corner(placed.from_left_bare, placed.from_left_finished),
            from_corner(placed.from_right_bare, placed.from_right_finished),
            mm(placed.v),
            mm(face),
            reach ? reach->quantity : "",
            reach && reach->nominal ? mm(*reach->nominal) : "?",
            reach && reach->low ? range_text(reach->low, reach->high) : "?",
            reach ? range_text(reach->need_low, reach->need_high) : "",
            last};
}

/// Least and most packing at the fittings of a wall and where its bed is thickest.
std::string packing_words(const Model& model, std::size_t wall) {
    const auto& bedding = model.room.faces[wall].bedding;
    if (!bedding) return "";
    const auto tenth = [](double value) { return mm(std::round(value * 10) / 10 + 0.0); };
    return fmt::format(", and packing of {} to {} behind flat panels", tenth(0), tenth(bedding->greatest_packing));
}

std::string build_up_line(const Model& model, std::size_t wall) {
    std::string text;
    double worst = 0;
    bool known = true;
    double face = 0;
    for (const auto& layer : model.job.walls[wall].layers) {
        text += fmt::format("{}{} {}", text.empty() ? "" : " + ", layer.name, mm(layer.thickness.value));
        face += layer.thickness.value;
        known = known && layer.thickness.tolerance;
        worst += layer.thickness.tolerance.value_or(0);
    }
    if (text.empty()) return "not lined: the bare face is the finished face";
    return fmt::format("build-up: {} = {}{}{}", text, mm(face),
                       known ? fmt::format(" +/- {}", mm(worst)) : " (a +/- is missing)", packing_words(model, wall));
}

/// How the wall stands, as surveyed.
std::string stands_line(const Model& model, std::size_t wall) {
    if (!model.survey || !model.survey->converged) return "";
    const WallSurvey& read = model.survey->walls[wall];
    const auto figure = [&](const Estimate& e) {
        if (!is_known(*model.survey, e)) return std::string("unknown");
        return fmt::format("{} +/- {}{}", mm(std::round(e.value * 10) / 10 + 0.0),
                           mm(std::ceil(2 * e.standard_error * 10) / 10), e.rests_on.empty() ? "" : " (assumed)");
    };
    return wrapped(fmt::format("as surveyed: {} wide (drawn {}), leans {} mm per m{}, {} spots read",
                               figure(read.width), mm(read.drawn_width), figure(read.lean),
                               std::abs(read.lean.value) < 0.05 ? ""
                               : read.lean.value > 0            ? ", top inwards"
                                                                : ", top outwards",
                               read.points.size()),
                   "  ", "    ");
}

/// A wall's own findings, as rows of its table.
void add_wall_rows(const CheckedJob& job, const std::string& wall, std::vector<Row>& rows, bool colour) {
    for (const auto& finding : job.findings) {
        if (finding.subject != "wall " + wall || finding.rule.rfind("panel.", 0) == 0)
            continue;  // of gaps, not of the face
        rows.push_back(
            {finding.rule, "", "", finding.spot ? mm(std::round(finding.spot->y)) : "", "", finding.quantity,
             finding.nominal ? mm(std::round(*finding.nominal * 10) / 10) : "?",
             finding.low ? range_text(std::round(*finding.low * 10) / 10, std::round(*finding.high * 10) / 10) : "?",
             finding.need_high ? fmt::format("up to {}", mm(*finding.need_high)) : "?",
             verdict_word(finding.verdict, colour)});
    }
}

std::string wall_section(const CheckedJob& job, std::size_t w, const TextStyle& style) {
    const Job& source = job.model.job;
    const Wall& wall = source.walls[w];
    const auto tenth = [](double value) { return mm(std::round(value * 10) / 10); };
    std::string title = fmt::format("WALL {} ({}): {} wide on the bare face", wall.id, wall.name, tenth(wall.width));
    if (wall.name == wall.id) title = fmt::format("WALL {}: {} wide on the bare face", wall.id, tenth(wall.width));
    const double level = (panel_bottom(source, w) + panel_top(source, job.model.room, w, wall.width / 2)) / 2;
    const auto left = finished_corner(source, job.model.room, w, Side::left, level);
    const auto right = finished_corner(source, job.model.room, w, Side::right, level);
    if (left && right) title += fmt::format(", {} between finished corners", tenth(*right - *left));
    std::string text = "\n" + heading(title, style.colour) + "\n" + stands_line(job.model, w) +
                       wrapped(build_up_line(job.model, w), "  ", "    ");
    std::vector<Row> rows{
        {"fitting", "from left", "from right", "height", "F", "what is judged", "is", "band", "needed", "verdict"},
        {"", "bare / fin.", "bare / fin.", "", "", "", "", "", "", ""}};
    for (const auto& placed : job.model.fittings) {
        if (placed.wall == w) rows.push_back(fitting_row(job, placed, style.colour));
    }
    if (rows.size() == 2) text += "  no fittings on this wall\n";
    add_wall_rows(job, wall.id, rows, style.colour);
    if (rows.size() == 2) return text;
    return text + table(rows, {false, true, true, true, true, false, true, true, true, false}, style.colour);
}

std::string to_do(const CheckedJob& job, bool colour) {
    constexpr std::array<Trade, 4> trades{Trade::plumber, Trade::electrician, Trade::builder, Trade::installer};
    std::string text;
    for (const Trade trade : trades) {
        std::vector<const Finding*> mine;
        for (const auto& finding : job.findings) {
            if (finding.trade == trade && finding.verdict != Verdict::clear) mine.push_back(&finding);
        }
        std::stable_sort(mine.begin(), mine.end(),
                         [](const auto* a, const auto* b) { return severity(a->verdict) > severity(b->verdict); });
        if (!mine.empty()) text += "\n" + heading(fmt::format("TO DO: {}", to_string(trade)), colour) + "\n";
        if (!mine.empty() && trade == Trade::electrician) {
            text += "  The electrician decides; rules for zones and wiring differ between codes and editions.\n";
        }
        for (const auto* finding : mine) {
            text += wrapped(fmt::format("{} ({}): {}", finding->subject, finding->rule, finding->says),
                            fmt::format("  {}  ", padded(verdict_word(finding->verdict, colour), 9)), "             ");
            if (!finding->action.empty()) text += wrapped(finding->action, "             -> ", "                ");
            text += wrapped("Source: " + finding->source, "             ", "                ");
        }
    }
    return text.empty() ? "\nNothing to do that these rules can see.\n" : text;
}

/// What was measured after rough-in, and what that changed.
std::string as_built_section(const CheckedJob& job, bool colour) {
    if (!job.since_design) return "";
    std::string text = "\n" + heading("AS BUILT: measured figures are judged in place of the design's", colour) + "\n";
    for (const auto& fitting : job.model.job.fittings) {
        if (!fitting.as_built) continue;
        text += wrapped(fmt::format("{} measured {} by {}", fitting.id, fitting.as_built->date, fitting.as_built->by),
                        "  ", "    ");
    }
    return text + "  Since the design:\n" + comparison_lines(*job.since_design, job.findings, colour);
}

std::string arithmetic(const CheckedJob& job, bool colour) {
    std::string text = "\n" + heading("ARITHMETIC", colour) + "\n";
    for (const auto& finding : job.findings) {
        text += fmt::format("  {} {}: {}\n", finding.subject, finding.rule, finding.quantity);
        for (const auto& term : finding.terms) {
            text += fmt::format("    {}  {}  +/- {}  {}\n", padded(term.name, 34),
                                padded(fmt::format("{:+.2f}", term.value), 9, true),
                                padded(term.tolerance ? mm(*term.tolerance) : "?", 5), to_string(term.source));
        }
        text += fmt::format("    {}  {}  worst case {}, root-sum-square {}; needed {}\n", padded("=", 34),
                            padded(finding.nominal ? fmt::format("{:+.2f}", *finding.nominal) : "?", 9, true),
                            range_text(finding.worst_low, finding.worst_high),
                            range_text(finding.statistical_low, finding.statistical_high),
                            range_text(finding.need_low, finding.need_high));
        if (!finding.clash) continue;
        for (const auto& also : finding.clash->also) text += fmt::format("    also {}\n", also);
    }
    return text;
}

std::string limits_text(const rules::Limits& limits) {
    std::string text;
    for (const auto& [name, limit] : limits) {
        if (!limit.overridden) continue;
        text += wrapped(fmt::format("{} = {:g} {} in place of {:g} ({}), set at {}", name, limit.value, limit.unit,
                                    limit.standard, limit.says, to_string(limit.overridden_at)),
                        "  ", "    ");
    }
    return text.empty() ? text : "\nLimits set by this job:\n" + text;
}

constexpr const char* cautions =
    "\nBefore work: isolate water and power. Find cables and pipes before drilling. Wear eye protection and a dust\n"
    "mask. A full sheet is heavy: two people. Plumbing and electrical work are for licensed trades. Local codes and\n"
    "the makers' own sheets come before these figures; measure on site before drilling.\n";

}  // namespace

std::string text_report(const CheckedJob& job, const TextStyle& style) {
    const Job& source = job.model.job;
    std::string text =
        heading(fmt::format("{}{}", source.name, source.revision.empty() ? "" : ", revision " + source.revision),
                style.colour) +
        "\n";
    text += wrapped(
        fmt::format("{}. Datum: {}. Lengths in mm. Judged on the {} band. F is the finished face from the bare face.",
                    source.file, source.datum, source.statistical ? "root-sum-square" : "worst case"),
        "", "");
    if (source.survey && job.model.survey->converged) {
        text += wrapped(
            "Walls stand as surveyed; F counts the packing at each spot, and a band what the survey leaves open there. "
            "All readings: standproud survey.",
            "", "");
    }
    for (std::size_t w = 0; w < source.walls.size(); ++w) text += wall_section(job, w, style);
    text += as_built_section(job, style.colour);
    text += to_do(job, style.colour);
    if (style.arithmetic) text += arithmetic(job, style.colour);
    text += limits_text(job.limits);
    const Tally count = tally(job.findings);
    text += fmt::format("\n{}: {} clear, {} tight, {} {}, {} unknown\n", rules::counted(job.findings.size(), "finding"),
                        count.clear, count.tight, count.fails, count.fails == 1 ? "fails" : "fail", count.unknown);
    return text + cautions;
}

}  // namespace standproud::viewer
