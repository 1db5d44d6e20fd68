// What is written beside and under a section: findings, the arithmetic, and what goes into the title block.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "drawing/section_panes.hpp"
#include "drawing/title_block.hpp"
#include "modeler/clean_text.hpp"
#include "rules/words.hpp"

namespace standproud::viewer {

namespace {

using rules::Finding;

constexpr double symbol = 3.6;
constexpr double indent = 6.5;
constexpr double between = 1.4;

struct FindingText {
    std::string says;
    std::size_t bold_bytes = 0;
    std::string action;
    double says_height = 0;
    double action_height = 0;

    [[nodiscard]] double height() const { return std::max(symbol, says_height + action_height) + between; }
};

FindingText words_of(const Finding& finding) {
    FindingText text;
    text.says = clean_text(fmt::format("{} {}", verdict_word(finding.verdict), finding.rule));
    text.bold_bytes = text.says.size();
    text.says += ": " + finding.says;
    const char* lead = " Missing: ";
    for (const auto& name : finding.missing) {
        if (finding.says.find(name) != std::string::npos) continue;
        text.says += lead + name;
        lead = "; ";
    }
    if (!finding.action.empty()) text.action = fmt::format("do ({}): {}", to_string(finding.trade), finding.action);
    return text;
}

double measure_all(Sheet& sheet, std::vector<FindingText>& texts, double width, LetterStyle style) {
    double total = 0;
    for (auto& text : texts) {
        style.bold_bytes = text.bold_bytes;
        text.says_height = sheet.measure(text.says, width - indent, style).y;
        style.bold_bytes = 0;
        text.action_height = text.action.empty() ? 0 : sheet.measure(text.action, width - indent, style).y;
        total += text.height();
    }
    return total;
}

void put_finding(Sheet& sheet, const Finding& finding, const FindingText& text, const Rect& box, LetterStyle style) {
    draw_symbol(sheet, finding.verdict, {box.x, box.y + 0.2, symbol, symbol});
    const double width = box.width - indent;
    // Where even one finding is too long for its box, what to do keeps half of the room.
    const double spare = std::max(box.height / 2, box.height - text.action_height);
    const double says = text.action.empty() ? box.height : std::min(text.says_height, spare);
    style.bold_bytes = text.bold_bytes;
    sheet.text(text.says, {box.x + indent, box.y, width, says + 0.02}, style);
    style.bold_bytes = 0;
    if (text.action.empty()) return;
    sheet.text(text.action, {box.x + indent, box.y + says + 0.02, width, box.height - says - 0.04}, style);
}

void heading(Sheet& sheet, const std::string& words, const Rect& pane) {
    sheet.text(words, {pane.x + 2, pane.y + 1.2, pane.width - 4, 4}, {.size = 2.8, .bold = true});
}

}  // namespace

void draw_findings(Sheet& sheet, const SectionDrawing& drawing, const Rect& pane) {
    heading(sheet, "Findings, worst first", pane);
    const Rect room{pane.x + 2, pane.y + 6, pane.width - 4, pane.height - 7};
    std::vector<FindingText> texts;
    for (const auto& finding : drawing.findings) texts.push_back(words_of(finding));
    LetterStyle style{.size = 2.8, .least = 2.1};
    double total = measure_all(sheet, texts, room.width, style);
    while (total > room.height && style.size > style.least + 0.05) {
        // The area that text takes goes with the square of its size.
        const double guess = style.size * std::sqrt(room.height / total);
        style.size = std::clamp(guess, style.least, style.size - 0.05);
        total = measure_all(sheet, texts, room.width, style);
    }
    constexpr double more_line = 3.6;
    double y = room.y;
    std::size_t shown = 0;
    for (; shown < texts.size(); ++shown) {
        const bool last = shown + 1 == texts.size();
        const double bottom = room.bottom() - (last ? 0 : more_line);
        const double height = texts[shown].height();
        if (shown > 0 && y + height - between > bottom + 1e-6) break;
        const double given = std::min(height - between, bottom - y);
        put_finding(sheet, drawing.findings[shown], texts[shown], {room.x, y, room.width, given + 0.05}, style);
        y += given + between;
    }
    if (shown < texts.size()) {
        sheet.text(fmt::format("and {} more in the report", texts.size() - shown),
                   {room.x + indent, room.bottom() - more_line, room.width - indent, more_line},
                   {.size = 2.6, .bold = true, .stand = Stand::middle});
    }
}

namespace {

constexpr double row = 3.9;
constexpr std::size_t most_rows = 8;

struct Row {
    std::string name;
    std::string tolerance;
    std::string value;
};

std::string tolerance_words(std::optional<double> tolerance) {
    return tolerance ? "±" + number(*tolerance) : "± not given";
}

/// All terms when they go in; else the first ones and one row for the rest, so that the column still adds up.
std::vector<Row> rows_of(const Finding& finding) {
    std::vector<Row> rows;
    const std::size_t count = finding.terms.size() > most_rows ? most_rows - 1 : finding.terms.size();
    for (std::size_t i = 0; i < count; ++i) {
        const auto& term = finding.terms[i];
        rows.push_back({term.name, tolerance_words(term.tolerance), signed_number(term.value)});
    }
    if (count == finding.terms.size()) return rows;
    double value = 0;
    std::optional<double> tolerance = 0.0;
    for (std::size_t i = count; i < finding.terms.size(); ++i) {
        const auto& term = finding.terms[i];
        value += term.value;
        tolerance = tolerance && term.tolerance ? std::optional(*tolerance + std::abs(*term.tolerance)) : std::nullopt;
    }
    rows.push_back({fmt::format("and {} together", rules::counted(finding.terms.size() - count, "more term")),
                    tolerance_words(tolerance), signed_number(value)});
    return rows;
}

Row sum_row(const Finding& finding) {
    double sum = 0;
    std::optional<double> tolerance = 0.0;
    for (const auto& term : finding.terms) {
        sum += term.value;
        tolerance = tolerance && term.tolerance ? std::optional(*tolerance + std::abs(*term.tolerance)) : std::nullopt;
    }
    // A sum that lacks a term is not the quantity, and must not look like it.
    if (!finding.nominal) return {finding.quantity + ": a number is missing", "", "not known"};
    if (std::abs(sum - *finding.nominal) > 1e-6) {
        return {finding.quantity + ": not the plain sum of these", "", number(*finding.nominal)};
    }
    return {finding.quantity, tolerance_words(tolerance), number(sum)};
}

void put_row(Sheet& sheet, const Row& words, const Rect& pane, double y, bool bold) {
    LetterStyle style{.size = 2.6, .least = 1.9, .bold = bold, .stand = Stand::middle};
    const double value = 24;
    const double tolerance = 24;
    const double name = pane.width - value - tolerance - 6;
    sheet.text(words.name, {pane.x + 2, y, name, row}, style);
    style.align = Align::right;
    sheet.text(words.tolerance, {pane.x + 3 + name, y, tolerance, row}, style);
    sheet.text(words.value, {pane.x + 4 + name + tolerance, y, value, row}, style);
}

}  // namespace

double terms_height(const SectionDrawing& drawing) {
    const Finding* finding = main_finding(drawing);
    const auto rows = finding == nullptr ? 0 : std::min(most_rows, finding->terms.size());
    return 7 + row * (static_cast<double>(rows) + 1) + 2;
}

void draw_terms(Sheet& sheet, const SectionDrawing& drawing, const Rect& pane) {
    heading(sheet, "The arithmetic, mm", pane);
    const Finding* finding = main_finding(drawing);
    double y = pane.y + 6;
    if (finding == nullptr || finding->terms.empty()) {
        sheet.text("no sum: see the finding", {pane.x + 2, y, pane.width - 4, row}, {.size = 2.6});
        return;
    }
    for (const auto& words : rows_of(*finding)) {
        put_row(sheet, words, pane, y, false);
        y += row;
    }
    sheet.line({pane.x + pane.width / 2, y + 0.3}, {pane.right() - 2, y + 0.3}, medium);
    put_row(sheet, sum_row(*finding), pane, y + 0.8, true);
}

void draw_title_block(Sheet& sheet, const SectionDrawing& drawing, double scale, const Rect& pane) {
    draw_title_block(sheet,
                     {"fitting", drawing.title, drawing.wall, drawing.job, drawing.revision,
                      "position of the fitting's axis, mm", drawing.position, drawing.datum, scale},
                     pane);
}

}  // namespace standproud::viewer
