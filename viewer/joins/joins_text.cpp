#include <fmt/format.h>

#include <cmath>

#include "rules/words.hpp"
#include "terminal/layout.hpp"
#include "viewer/joins_report.hpp"

namespace standproud::viewer {

namespace {

using rules::mm;

std::string places(const std::vector<double>& joins) {
    if (joins.empty()) return "no join";
    std::string words = joins.size() == 1 ? "join at " : "joins at ";
    for (std::size_t i = 0; i < joins.size(); ++i)
        words += fmt::format("{}{}", i == 0 ? "" : i + 1 == joins.size() ? " and " : ", ", mm(joins[i]));
    return words;
}

std::string places(const std::vector<double>& joins, const std::vector<double>& levels) {
    if (levels.empty()) return places(joins);
    std::string words = joins.empty() ? "" : places(joins) + ", ";
    words += levels.size() == 1 ? "level join at height " : "level joins at heights ";
    for (std::size_t i = 0; i < levels.size(); ++i)
        words += fmt::format("{}{}", i == 0 ? "" : " and ", mm(std::round(levels[i] * 100) / 100));
    return words;
}

std::string score_words(const JoinsReport& report, const joins::JoinScore& score) {
    std::string words = fmt::format("{} new {}", score.sheets, score.sheets == 1 ? "sheet" : "sheets");
    if (report.priced) words += fmt::format(", price {:.2f}", score.cost);
    words += fmt::format(", waste {:.2f} m2", score.waste / 1e6);
    if (score.joins > score.levels)
        words += fmt::format(", {} mm off the middle", mm(std::round(score.asymmetry * 5) / 10));
    if (report.wishes.align)
        words += fmt::format(", {} mm off the line wanted", mm(std::round(score.misaligned * 10) / 10));
    return words;
}

std::string layout_text(const JoinsReport& report, const joins::JoinLayout& layout, int number) {
    std::string text =
        wrapped(fmt::format("{}; {}", places(layout.joins, layout.levels), score_words(report, layout.score)),
                fmt::format("  {}. ", number), "     ");
    for (std::size_t i = 0; i < layout.pieces.size(); ++i) {
        const auto& piece = layout.pieces[i];
        const std::string high = layout.levels.empty()
                                     ? ""
                                     : fmt::format(", {} high", mm(std::round((piece.top - piece.bottom) * 100) / 100));
        text += fmt::format("     piece {}: {} wide{}, from {} (sheet {})\n", i + 1,
                            mm(std::round((piece.to - piece.from) * 100) / 100), high, report.stock.at(piece.stock),
                            piece.sheet + 1);
    }
    if (!layout.joins.empty() || !layout.levels.empty())
        text += wrapped(
            layout.room < 0.1
                ? "holes, flanges and the least piece leave its tightest join no room: mark and cut it exactly"
                : fmt::format(
                      "holes, flanges and the least piece leave its tightest join {} mm; the sheets may leave less",
                      mm(std::floor(layout.room * 10) / 10)),
            "     ", "     ");
    if (!layout.levels.empty())
        text +=
            wrapped(layout.below_outlet
                        ? "! a level join below the shower's outlet: water runs over it. A higher sheet would spare it"
                        : "! water stands on a level join: a higher sheet would spare it",
                    "     ", "       ");
    if (layout.on_wettest) text += "     ! no layout keeps off the wettest line, under the outlet\n";
    return text;
}

std::string refused_text(const JoinsReport& report, const joins::RefusedLayout& refused) {
    std::string text = wrapped(fmt::format("{} would be better ({}), but:", places(refused.joins, refused.levels),
                                           score_words(report, refused.score)),
                               "  - ", "    ");
    for (const auto& reason : refused.reasons) text += wrapped(reason, "      ", "      ");
    return text;
}

std::string wall_text(const JoinsReport& report, const WallJoins& wall, bool colour) {
    std::string text = "\n" + heading("WALL " + wall.wall, colour) + "\n";
    text += fmt::format("  as the job has it: {}\n", places(wall.drawn, wall.drawn_levels));
    if (wall.gap != report.rules.gap) text += fmt::format("  joins of this wall are {} wide\n", mm(wall.gap));
    if (!wall.answer.plan) return text + wrapped("no layout: " + wall.answer.refused, "  ! ", "    ");
    if (!wall.answer.plan->why_levels.empty())
        text += wrapped("level joins, because: " + wall.answer.plan->why_levels, "  ", "    ");
    int number = 0;
    for (const auto& layout : wall.answer.plan->best) text += layout_text(report, layout, ++number);
    for (const auto& refused : wall.answer.plan->refused) text += refused_text(report, refused);
    if (!wall.answer.plan->refused_whole)
        text += wrapped("layouts that break a rule were too many to search them all: a better one may be there", "  - ",
                        "    ");
    const auto& first = wall.answer.plan->best.front();
    if (!first.levels.empty() || !first.joins.empty()) {
        text += "  To take the first over, under this wall in the job file, in place of its joins:\n";
        for (const double join : first.joins)
            text += fmt::format("    [[walls.joins]]\n    across = {}\n    from = \"left bare\"\n", mm(join));
        for (const double level : first.levels)
            text += fmt::format("    [[walls.level_joins]]\n    height = {}\n", mm(level));
    }
    return text;
}

std::string nested_words(const JoinsReport& report, const nesting::Nesting& nesting) {
    std::string words = fmt::format("{} new {}", nesting.new_sheets, nesting.new_sheets == 1 ? "sheet" : "sheets");
    if (report.priced && !together_by_area(report)) words += fmt::format(", price {:.2f}", nesting.price);
    if (!report.priced || together_by_area(report)) words += fmt::format(", {:.2f} m2 of sheets", nesting.price);
    return words;
}

std::string together_text(const JoinsReport& report, bool colour) {
    std::string text = "\n" + heading("ALL WALLS TOGETHER", colour) + "\n";
    if (!report.together->choice) return text + wrapped("not nested: " + report.together->refused, "  ! ", "    ");
    const joins::JobChoice& choice = *report.together->choice;
    std::string which;
    for (std::size_t w = 0; w < report.walls.size(); ++w)
        which += fmt::format("{}{} {}", w == 0 ? "" : ", ", report.walls[w].wall, choice.best.layouts[w] + 1);
    text +=
        wrapped(fmt::format("best together: layout {}; {}", which, nested_words(report, *choice.best.answer.nesting)),
                "  ", "    ");
    if (!choice.own.answer.nesting) {
        text += wrapped("each wall's first: cannot be cut together: " + choice.own.answer.refused, "  ", "    ");
    } else if (choice.best.layouts == choice.own.layouts) {
        text += "  which is each wall's first\n";
    } else {
        text += wrapped("each wall's first: " + nested_words(report, *choice.own.answer.nesting), "  ", "    ");
    }
    const std::string left_out =
        choice.left_out == 0
            ? ""
            : fmt::format(", {} left out because the area of their pieces needs no less", choice.left_out);
    text += wrapped(fmt::format("{} of these layouts: {} nested{}. {}",
                                rules::counted(choice.combinations, "combination"), choice.nested, left_out,
                                choice.proved ? "Proved: none of them comes to less"
                                              : "Not proved: some may come to less than was found"),
                    "  ", "    ");
    return text;
}

}  // namespace

std::string text_joins(const JoinsReport& report, const TextStyle& style) {
    std::string text =
        heading(fmt::format("{}{}: joins", report.name, report.revision.empty() ? "" : ", revision " + report.revision),
                style.colour) +
        "\n";
    text += report.file + "\n";
    text += wrapped(
        fmt::format("Joins are {} wide, at most {} upright ones to a wall, each over its whole height; level ones, "
                    "over its whole "
                    "width, only {}. Places in mm from the left bare corner to the middle of a "
                    "join, heights from the datum. Holes keep {} from an edge and flanges {}, set-out included; no "
                    "piece under {} "
                    "wide. Pieces are "
                    "taken from sheets as strips with {} of saw between them, each wall by itself: where sheets are "
                    "few, two walls may ask for the same one; all walls nested together stand at the end. All joins' "
                    "places that "
                    "can be best were tried.",
                    mm(report.rules.gap), report.rules.most_joins,
                    report.wishes.levels_freely ? "where they score better" : "where there is no layout without",
                    mm(report.rules.hole_edge), mm(report.rules.flange_edge), mm(report.rules.least_piece),
                    mm(report.rules.kerf)),
        "", "");
    for (const auto& wall : report.walls) text += wall_text(report, wall, style.colour);
    if (report.together) text += together_text(report, style.colour);
    return text;
}

}  // namespace standproud::viewer
