#include <fmt/format.h>

#include <cmath>
#include <tuple>

#include "rules/words.hpp"
#include "terminal/csv.hpp"
#include "terminal/layout.hpp"
#include "viewer/setout_report.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

/// A tape shows no more than tenths.
std::string tenth(double value) { return mm(std::round(value * 10) / 10); }
std::string tenth(const std::optional<double>& value) { return value ? tenth(*value) : "-"; }

const rules::Finding* reach_of(const CheckedJob& job, const std::string& fitting) {
    for (const auto& finding : job.findings) {
        if (finding.subject == fitting && finding.rule.rfind("reach.", 0) == 0) return &finding;
    }
    return nullptr;
}

std::string seat_words(const CheckedJob& job, const SetOutMark& mark, bool masonry) {
    if (mark.seat) return rules::depth(*mark.seat);
    const rules::Finding* reach = reach_of(job, mark.fitting);
    return reach && reach->rule == "reach.screw" ? (masonry ? "screwed to masonry" : "screwed to timber")
                                                 : "not decided";
}

std::string works_words(const CheckedJob& job, const SetOutMark& mark) {
    const rules::Finding* reach = reach_of(job, mark.fitting);
    if (!reach || reach->rule == "reach.screw") return "";
    const auto works = rules::seat_for_all(job.findings, mark.fitting);
    return works ? rules::depth_range(*works) : "see check";
}

std::string marks_table(const CheckedJob& job, const WallSetOut& wall, bool colour) {
    std::vector<Row> rows{{"fitting", "trade", "mark at", "or at", "finished", "height", "seat", "works from .. to"},
                          {"", "", "from left", "from right", "left / right", "datum / floor", "", ""}};
    const bool masonry = job.model.job.walls[wall.wall].masonry.has_value();
    for (const auto& mark : wall.marks) {
        const bool known = !mark.unknown;
        rows.push_back({mark.fitting, to_string(mark.trade), known ? tenth(mark.left_bare) : "unknown",
                        known ? tenth(mark.right_bare) : "unknown",
                        fmt::format("{} / {}", tenth(mark.left_finished), tenth(mark.right_finished)),
                        fmt::format("{} / {}", tenth(mark.height), tenth(mark.above_floor)),
                        seat_words(job, mark, masonry), works_words(job, mark)});
    }
    return table(rows, {false, false, true, true, true, true, false, false}, colour);
}

/// How far a mark may be off by the survey, and what was assumed for it.
std::string doubts_words(const WallSetOut& wall) {
    std::string text;
    double most = 0;
    for (const auto& mark : wall.marks) most = std::max(most, mark.plus_minus);
    if (most > 0)
        text += wrapped(fmt::format("By the survey these distances are good to +/- {} or better.",
                                    tenth(std::ceil(most * 10) / 10)),
                        "  ", "  ");
    for (const auto& mark : wall.marks) {
        std::string on;
        for (const auto& says : mark.assumes) on += (on.empty() ? "" : ", ") + says;
        if (!on.empty())
            text += wrapped(fmt::format("{} rests on what nobody measured: {}", mark.fitting, on), "  ! ", "    ");
    }
    return text;
}

std::string pair_words(const SetOutPair& pair) {
    return fmt::format(
        "{} and {}: centre line {} from left bare, {} from right bare ({} / {} finished), {} above the "
        "datum, {} apart",
        pair.left, pair.right, tenth(pair.left_bare), tenth(pair.right_bare), tenth(pair.left_finished),
        tenth(pair.right_finished), tenth(pair.height), tenth(pair.apart));
}

std::string opening_words(const SetOutOpening& opening) {
    return fmt::format("{}: {} from left bare, {} wide, {} from right bare; {} to {} above the datum", opening.name,
                       tenth(opening.left_bare), tenth(opening.width), tenth(opening.right_bare), tenth(opening.bottom),
                       tenth(opening.top));
}

std::string held_words(const SetOutScreen& screen) {
    const std::string wide = screen.profile ? fmt::format("{} wide", tenth(*screen.profile)) : "width not told";
    if (screen.fixings.empty()) return fmt::format("held by a channel, {}", wide);
    std::string at;
    for (const double height : screen.fixings) at += (at.empty() ? "" : ", ") + tenth(height);
    return fmt::format("held by clamps at {}, {}", at, wide);
}

std::string screen_words(const SetOutScreen& screen) {
    return fmt::format(
        "{}, {}: middle line {} from left bare, {} from right bare ({} / {} finished), upright; glass {} to {} above "
        "the "
        "datum, {} thick; {}",
        screen.screen, screen.name, tenth(screen.left_bare), tenth(screen.right_bare), tenth(screen.left_finished),
        tenth(screen.right_finished), tenth(screen.bottom), tenth(screen.top), tenth(screen.thickness),
        held_words(screen));
}

std::string noggin_words(const NogginNeed& need) {
    const std::string high =
        need.top - need.bottom < 0.05 ? tenth(need.top) : fmt::format("{} to {}", tenth(need.bottom), tenth(need.top));
    std::string text = fmt::format("{}, {}: timber behind {} to {} across, {} high, its face {}", need.fitting,
                                   need.purpose, tenth(need.left), tenth(need.right), high, rules::depth(need.face));
    if (!need.in_opening.empty()) text += fmt::format("; some of that lies in the opening \"{}\"", need.in_opening);
    if (need.left_stud && need.right_stud) {
        text += *need.left_stud == *need.right_stud
                    ? fmt::format(", at the stud at {}", tenth(*need.left_stud))
                    : fmt::format(", between the studs at {} and {}", tenth(*need.left_stud), tenth(*need.right_stud));
    }
    return text;
}

}  // namespace

std::string text_setout(const CheckedJob& job, const std::vector<WallSetOut>& walls, const TextStyle& style) {
    const Job& source = job.model.job;
    std::string text = heading(fmt::format("{}{}: set-out on the bare walls", source.name,
                                           source.revision.empty() ? "" : ", revision " + source.revision),
                               style.colour) +
                       "\n";
    text += wrapped(
        fmt::format("{}. Lengths in mm, across from the bare corners; heights above the datum ({}); seats "
                    "from the bare face at that spot. Distances hold at the fitting's own height. The linings "
                    "of both side walls are counted. {}",
                    source.file, source.datum,
                    source.survey ? "Walls stand as surveyed." : "No survey: walls are taken as plumb and flat."),
        "", "");
    for (const auto& wall : walls) {
        const Wall& here = source.walls[wall.wall];
        text += "\n" +
                heading(fmt::format("WALL {}: {} wide on the bare face", here.id, tenth(here.width)), style.colour) +
                "\n";
        if (!wall.marks.empty()) text += marks_table(job, wall, style.colour) + doubts_words(wall);
        for (const auto& screen : wall.screens) text += wrapped(screen_words(screen), "  screen  ", "          ");
        for (const auto& opening : wall.openings) text += wrapped(opening_words(opening), "  opening ", "          ");
        for (const auto& pair : wall.pairs) text += wrapped(pair_words(pair), "  pair    ", "          ");
        for (const auto& need : wall.noggins) {
            text += wrapped(noggin_words(need), need.there ? "  there   " : "  TO FIX  ", "          ");
        }
    }
    if (walls.empty()) text += "no fittings\n";
    return text +
           "\nIsolate water and power before work. Find cables and pipes before drilling. Check every figure on "
           "site;\nlocal codes and the makers' own sheets come first.\n";
}

std::string csv_setout(const CheckedJob& job, const std::vector<WallSetOut>& walls) {
    const auto figure = [](const std::optional<double>& value) { return value ? fmt::format("{:.1f}", *value) : ""; };
    std::string text =
        "wall,fitting,name,trade,left_bare_mm,right_bare_mm,left_finished_mm,right_finished_mm,height_mm,above_floor_"
        "mm,plus_minus_mm,seat_n_mm,"
        "seat_from_n_mm,seat_to_n_mm,face_n_mm,as_fixed\r\n";
    for (const auto& wall : walls) {
        for (const auto& mark : wall.marks) {
            std::optional<double> from;
            std::optional<double> to;
            if (const auto works = rules::seat_for_all(job.findings, mark.fitting)) {
                std::tie(from, to) = rules::rounded_inwards(*works);
            }
            text += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},\r\n",
                                csv_cell(job.model.job.walls[wall.wall].id), csv_cell(mark.fitting),
                                csv_cell(mark.name), to_string(mark.trade), mark.unknown ? "" : figure(mark.left_bare),
                                mark.unknown ? "" : figure(mark.right_bare), figure(mark.left_finished),
                                figure(mark.right_finished), figure(mark.height), figure(mark.above_floor),
                                mark.plus_minus > 0 ? figure(mark.plus_minus) : "", figure(mark.seat), figure(from),
                                figure(to), figure(mark.face));
        }
    }
    return text;
}

}  // namespace standproud::viewer
