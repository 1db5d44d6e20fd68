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

std::string score_words(const JoinsReport& report, const joins::JoinScore& score) {
    std::string words = fmt::format("{} new {}", score.sheets, score.sheets == 1 ? "sheet" : "sheets");
    if (report.priced) words += fmt::format(", price {:.2f}", score.cost);
    words += fmt::format(", waste {:.2f} m2", score.waste / 1e6);
    if (score.joins > 0) words += fmt::format(", {} mm off the middle", mm(std::round(score.asymmetry * 5) / 10));
    if (report.wishes.align)
        words += fmt::format(", {} mm off the line wanted", mm(std::round(score.misaligned * 10) / 10));
    return words;
}

std::string layout_text(const JoinsReport& report, const joins::JoinLayout& layout, int number) {
    std::string text = wrapped(fmt::format("{}; {}", places(layout.joins), score_words(report, layout.score)),
                               fmt::format("  {}. ", number), "     ");
    for (std::size_t i = 0; i < layout.pieces.size(); ++i) {
        const auto& piece = layout.pieces[i];
        text += fmt::format("     piece {}: {} wide, from {} (sheet {})\n", i + 1,
                            mm(std::round((piece.to - piece.from) * 100) / 100), report.stock.at(piece.stock),
                            piece.sheet + 1);
    }
    if (!layout.joins.empty())
        text += wrapped(
            layout.room < 0.1
                ? "holes, flanges and the least piece leave its tightest join no room: mark and cut it exactly"
                : fmt::format(
                      "holes, flanges and the least piece leave its tightest join {} mm; the sheets may leave less",
                      mm(std::floor(layout.room * 10) / 10)),
            "     ", "     ");
    if (layout.on_wettest) text += "     ! no layout keeps off the wettest line, under the outlet\n";
    return text;
}

std::string refused_text(const JoinsReport& report, const joins::RefusedLayout& refused) {
    std::string text =
        wrapped(fmt::format("{} would be better ({}), but:", places(refused.joins), score_words(report, refused.score)),
                "  - ", "    ");
    for (const auto& reason : refused.reasons) text += wrapped(reason, "      ", "      ");
    return text;
}

std::string wall_text(const JoinsReport& report, const WallJoins& wall, bool colour) {
    std::string text = "\n" + heading("WALL " + wall.wall, colour) + "\n";
    text += fmt::format("  as the job has it: {}\n", places(wall.drawn));
    if (wall.gap != report.rules.gap) text += fmt::format("  joins of this wall are {} wide\n", mm(wall.gap));
    if (!wall.answer.plan) return text + wrapped("no layout: " + wall.answer.refused, "  ! ", "    ");
    int number = 0;
    for (const auto& layout : wall.answer.plan->best) text += layout_text(report, layout, ++number);
    for (const auto& refused : wall.answer.plan->refused) text += refused_text(report, refused);
    if (!wall.answer.plan->best.empty() && !wall.answer.plan->best.front().joins.empty()) {
        text += "  To take the first over, under this wall in the job file, in place of its joins:\n";
        for (const double join : wall.answer.plan->best.front().joins)
            text += fmt::format("    [[walls.joins]]\n    across = {}\n    from = \"left bare\"\n", mm(join));
    }
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
        fmt::format(
            "Joins are upright, {} wide, at most {}; places in mm from the left bare corner to the middle of a "
            "join. Holes keep {} from an edge and flanges {}, set-out included; no piece under {}. Pieces are "
            "taken from sheets as full-height strips with {} of saw between them, each wall by itself: where sheets "
            "are "
            "few, two walls may ask for the same one. `bench` nests all walls together. All joins' places that can "
            "be best were tried.",
            mm(report.rules.gap), report.rules.most_joins, mm(report.rules.hole_edge), mm(report.rules.flange_edge),
            mm(report.rules.least_piece), mm(report.rules.kerf)),
        "", "");
    for (const auto& wall : report.walls) text += wall_text(report, wall, style.colour);
    return text;
}

}  // namespace standproud::viewer
