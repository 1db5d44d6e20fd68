// Scores of joins in words.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"
#include "viewer/bench_view.hpp"

namespace standproud::viewer {

namespace {

void add(std::string& words, const std::string& more) { words += (words.empty() ? "" : ", ") + more; }

std::string counted(int number, const char* one) { return rules::counted(static_cast<std::size_t>(number), one); }

/// As it is printed, so that what looks the same is the same.
double off_middle(const joins::JoinScore& score) { return std::round(score.asymmetry * 5) / 10; }

}  // namespace

std::string lack_words(const BenchLack& lack) {
    if (lack.panels) return "The job has no panels to cut: give a wall a layer of kind \"panel\".";
    if (lack.bench && lack.sheets)
        return "Joins are scored and panels are cut from sheets, with a saw: the job needs [[sheets]], once for each "
               "kind of sheet, and [bench], with kerf, trim and the other figures of the bench.";
    if (lack.bench)
        return "The job has [[sheets]], but no [bench]: kerf, trim and the other figures of cutting and bonding.";
    if (lack.sheets) return "The job has [bench], but no [[sheets]] to cut the panels from.";
    return "";
}

bool sheets_priced(const CheckedJob& job) {
    const auto& sheets = job.model.job.sheets;
    return std::all_of(sheets.begin(), sheets.end(), [](const auto& sheet) { return sheet.price || sheet.offcut; });
}

std::string score_words(const joins::JoinScore& score, bool priced, bool cut_from_sheets) {
    std::string words = score.joins == 0 ? "no join" : counted(score.joins, "join");
    if (cut_from_sheets) {
        add(words, counted(score.sheets, "new sheet"));
        if (priced) add(words, fmt::format("price {:.2f}", score.cost));
        add(words, fmt::format("waste {:.2f}\u00a0m\u00b2", score.waste / 1e6));
    }
    if (score.joins > 0) add(words, fmt::format("{} mm off the middle", rules::mm(off_middle(score))));
    return words;
}

std::string difference_words(const joins::JoinScore& layout, const joins::JoinScore& drawn, bool priced) {
    std::string words;
    const int joins = layout.joins - drawn.joins;
    const int sheets = layout.sheets - drawn.sheets;
    if (joins != 0) add(words, counted(std::abs(joins), "join") + (joins < 0 ? " fewer" : " more"));
    if (sheets != 0) add(words, counted(std::abs(sheets), "sheet") + (sheets < 0 ? " fewer" : " more"));
    const double price = std::round(100 * (layout.cost - drawn.cost)) / 100;
    if (priced && price != 0) add(words, fmt::format("price {:.2f} {}", std::abs(price), price < 0 ? "less" : "more"));
    const double waste = std::round((layout.waste - drawn.waste) / 1e4) / 100;
    if (waste != 0)
        add(words, fmt::format("{:.2f}\u00a0m\u00b2 {} waste", std::abs(waste), waste < 0 ? "less" : "more"));
    const double middle = std::round(10 * (off_middle(layout) - off_middle(drawn))) / 10;
    if (middle != 0 && layout.joins > 0 && drawn.joins > 0)
        add(words,
            fmt::format("{} mm {} the middle", rules::mm(std::abs(middle)), middle < 0 ? "nearer to" : "farther from"));
    return words.empty() ? "the same" : words;
}

}  // namespace standproud::viewer
