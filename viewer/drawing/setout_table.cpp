// What is marked, in figures, with a box for what was fixed; and the timber behind.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "drawing/section_panes.hpp"
#include "drawing/setout_panes.hpp"
#include "modeler/clean_text.hpp"
#include "rules/words.hpp"

namespace standproud::viewer {

namespace {

using rules::Finding;

constexpr double floor_size = 2.2;  // no text of the tables is smaller
constexpr double head_height = 10.5;
constexpr double least_row = 8.6;  // leaves 8 mm and more to write in
constexpr double most_row = 11.5;
constexpr double more_height = 4.4;
constexpr double timber_head = 9.6;
constexpr double least_timber_row = 3.7;
constexpr double most_timber_row = 4.8;
constexpr double signature = 7;

struct Cell {
    std::string says;
    std::string below;  ///< smaller, on a second line
};

constexpr std::size_t columns = 8;
struct Row {
    std::array<Cell, columns - 1> cells;
    bool to_fill = true;  ///< has a box for the figure as fixed
};

constexpr std::array<const char*, columns> headings{"fitting",
                                                    "trade; worst finding",
                                                    "from left BARE (finished)",
                                                    "from right BARE (finished)",
                                                    "up from datum (floor)",
                                                    "seat, from bare face",
                                                    "seat works from .. to ..",
                                                    "as fixed"};
/// The least width of each column, mm; together the narrowest pane.
constexpr std::array<double, columns> least_widths{25, 17, 18, 18, 15, 17, 24, 26};

Cell bare_and_finished(double bare, const std::optional<double>& finished) {
    return {tape(bare), finished ? fmt::format("({})", tape(*finished)) : "(no corner)"};
}

Cell depth_cell(const std::optional<double>& n) {
    if (!n) return {"", "not given"};
    const std::string figure = tape(std::abs(*n));
    if (figure == "0") return {"0", "level"};
    return {figure, *n < 0 ? "behind" : "in front"};
}

std::string without(std::string words, const std::string& what) {
    const std::size_t at = words.find(what);
    if (at != std::string::npos) words.erase(at, what.size());
    return words;
}

/// The range of the seat that suits every finding about reach, in the words of the report, shortened.
Cell works_cell(const std::vector<Finding>& findings, const std::string& fitting, bool masonry) {
    const auto works = rules::seat_for_all(findings, fitting);
    if (!works) {
        const bool screwed = std::any_of(findings.begin(), findings.end(), [&](const Finding& finding) {
            return finding.subject == fitting && finding.rule == "reach.screw";
        });
        return {"", !screwed ? "no depth suits all" : masonry ? "in masonry" : "in timber"};
    }
    const std::string words = without(without(rules::depth_range(*works), " the bare face"), " of");
    // "24 to 31 mm behind" goes on two lines; what runs through the bare face needs them both as it is.
    const std::size_t unit = words.rfind(" mm ");
    const std::size_t first = words.find(" mm ");
    if (unit == std::string::npos || unit != first) return {"", without(without(words, " mm"), " mm")};
    if (words.rfind("from ", 0) == 0) return {"", without(words, " mm")};
    return {words.substr(0, unit), words.substr(unit + 4)};
}

std::string worst_word(const std::vector<Finding>& findings, const std::string& fitting) {
    const Finding* worst = nullptr;
    for (const auto& finding : findings) {
        if (finding.subject != fitting) continue;
        if (worst == nullptr || severity(finding.verdict) > severity(worst->verdict)) worst = &finding;
    }
    return worst == nullptr ? "not judged" : verdict_word(worst->verdict);
}

std::string screen_held(const SetOutScreen& screen) {
    const bool channel = screen.fixings.empty();
    std::string words = fmt::format("{} {}", channel ? "channel" : "clamps",
                                    screen.profile ? tape(*screen.profile) + " wide" : "of unknown width");
    for (std::size_t i = 0; i < screen.fixings.size(); ++i) words += (i > 0 ? ", " : ", at ") + tape(screen.fixings[i]);
    return words;
}

std::vector<Row> rows_of(const SetOutJob& job) {
    std::vector<Row> rows;
    for (const auto& mark : job.set_out.marks) {
        rows.push_back({{{{mark.fitting, mark.name == mark.fitting ? "" : mark.name},
                          {to_string(mark.trade), worst_word(job.findings, mark.fitting)},
                          bare_and_finished(mark.left_bare, mark.left_finished),
                          bare_and_finished(mark.right_bare, mark.right_finished),
                          {tape(mark.height), mark.above_floor ? fmt::format("({})", tape(*mark.above_floor)) : ""},
                          depth_cell(mark.seat),
                          works_cell(job.findings, mark.fitting, job.wall().masonry.has_value())}},
                        true});
    }
    for (const auto& screen : job.set_out.screens) {
        rows.push_back({{{{screen.screen, screen.name == screen.screen ? "" : screen.name},
                          {to_string(Trade::installer), worst_word(job.findings, screen.screen)},
                          bare_and_finished(screen.left_bare, screen.left_finished),
                          bare_and_finished(screen.right_bare, screen.right_finished),
                          {tape(screen.bottom), fmt::format("to {}", tape(screen.top))},
                          {"", "on the panel"},
                          {"", screen_held(screen)}}},
                        true});
    }
    for (const auto& pair : job.set_out.pairs) {
        rows.push_back({{{{"centre line", fmt::format("{} + {}", pair.left, pair.right)},
                          {"", ""},
                          bare_and_finished(pair.left_bare, pair.left_finished),
                          bare_and_finished(pair.right_bare, pair.right_finished),
                          {tape(pair.height), ""},
                          {tape(pair.apart), "apart"},
                          {"", ""}}},
                        false});
    }
    return rows;
}

/// Left sides of the columns and the right side of the last.
std::array<double, columns + 1> column_sides(const Rect& pane) {
    double least = 0;
    for (const double width : least_widths) least += width;
    const double spare = (pane.width - least) / static_cast<double>(columns);
    std::array<double, columns + 1> sides{pane.x};
    for (std::size_t i = 0; i < columns; ++i) sides[i + 1] = sides[i] + least_widths[i] + spare;
    sides[columns] = pane.right();
    return sides;
}

/// Figures stay on one line; words may wrap.
void put_cell(Sheet& sheet, const Cell& cell, const Rect& box, bool figures, double size) {
    const LetterStyle strong{.size = size,
                             .least = floor_size,
                             .bold = true,
                             .align = figures ? Align::centre : Align::left,
                             .stand = Stand::middle};
    LetterStyle plain = strong;
    plain.size = 3.0;
    plain.bold = false;
    const Rect inner{box.x + 1, box.y + 0.35, box.width - 2, box.height - 0.7};
    constexpr double one_line = 5.2;
    if (cell.below.empty()) {
        sheet.text(cell.says, {inner.x, box.centre().y - one_line / 2, inner.width, one_line}, strong);
    } else if (cell.says.empty()) {
        sheet.text(cell.below, inner, plain);
    } else {
        const double upper = std::min(one_line, inner.height * 0.55);
        const double lower = std::min(one_line, inner.height - upper - 0.02);
        const double y = inner.y + (inner.height - upper - lower) / 2;
        sheet.text(cell.says, {inner.x, y, inner.width, upper}, strong);
        sheet.text(cell.below, {inner.x, y + upper + 0.01, inner.width, lower}, plain);
    }
}

void put_row(Sheet& sheet, const Row& row, const std::array<double, columns + 1>& sides, double y, double height) {
    for (std::size_t i = 0; i + 1 < columns; ++i) {
        put_cell(sheet, row.cells[i], {sides[i], y, sides[i + 1] - sides[i], height}, i >= 2, i == 1 ? 3.0 : 3.9);
    }
    if (row.to_fill) sheet.frame({sides[columns - 1], y, sides[columns] - sides[columns - 1], height}, medium);
}

void put_more(Sheet& sheet, std::size_t count, const Rect& box) {
    sheet.text(fmt::format("and {} more: see the text report", count), box,
               {.size = 3.0, .least = floor_size, .bold = true, .stand = Stand::middle});
}

void put_headings(Sheet& sheet, const std::array<double, columns + 1>& sides, double y) {
    for (std::size_t i = 0; i < columns; ++i) {
        sheet.text(headings[i], {sides[i] + 0.8, y + 0.4, sides[i + 1] - sides[i] - 1.6, head_height - 0.8},
                   {.size = i + 1 == columns ? 3.6 : 2.7,
                    .least = floor_size,
                    .bold = true,
                    .align = i >= 2 ? Align::centre : Align::left,
                    .stand = Stand::middle});
    }
}

/// Returns where the table ends.
double draw_marks(Sheet& sheet, const std::vector<Row>& rows, const Rect& pane, double kept) {
    const auto sides = column_sides(pane);
    put_headings(sheet, sides, pane.y);
    double room = pane.height - head_height;
    auto shown = std::min(rows.size(), static_cast<std::size_t>(std::floor(room / least_row + 1e-9)));
    const bool more = shown < rows.size();
    if (more) {
        room -= more_height;
        shown = static_cast<std::size_t>(std::floor(room / least_row + 1e-9));
    }
    const double height =
        std::clamp((room - kept) / static_cast<double>(std::max<std::size_t>(1, shown)), least_row, most_row);
    double y = pane.y + head_height;
    for (std::size_t i = 0; i < shown; ++i) {
        sheet.line({pane.x, y}, {pane.right(), y}, i == 0 ? medium : thin);
        put_row(sheet, rows[i], sides, y, height);
        y += height;
    }
    for (std::size_t i = 1; i < columns; ++i) sheet.line({sides[i], pane.y}, {sides[i], y}, thin);
    sheet.line({pane.x, y}, {pane.right(), y}, medium);
    if (!more) return y;
    put_more(sheet, rows.size() - shown, {pane.x + 1, y + 0.2, pane.width - 2, more_height - 0.4});
    sheet.line({pane.x, y + more_height}, {pane.right(), y + more_height}, medium);
    return y + more_height;
}

constexpr std::size_t timber_columns = 6;
using TimberRow = std::array<std::string, timber_columns>;
constexpr std::array<double, timber_columns> timber_shares{0.24, 0.19, 0.18, 0.14, 0.15, 0.10};

std::string range(double from, double to) {
    return tape(from) == tape(to) ? tape(from) : fmt::format("{} to {}", tape(from), tape(to));
}

std::string studs_words(const NogginNeed& need, bool any) {
    if (!any) return "studs not given";
    if (need.left_stud && need.right_stud) {
        const std::string studs = range(*need.left_stud, *need.right_stud);
        return tape(*need.left_stud) == tape(*need.right_stud) ? "on stud " + studs : studs;
    }
    if (need.left_stud) return fmt::format("{} to the end", tape(*need.left_stud));
    if (need.right_stud) return fmt::format("the end to {}", tape(*need.right_stud));
    return "no stud beside";
}

TimberRow timber_row(const NogginNeed& need, bool studs) {
    const Cell face = depth_cell(need.face);
    std::string height = tape((need.bottom + need.top) / 2);
    if (tape(need.bottom) != tape(need.top)) height += fmt::format(" ({} high)", tape(need.top - need.bottom));
    return {fmt::format("{}: {}", need.fitting, need.purpose),
            range(need.left, need.right),
            height,
            face.says == "0" ? "level" : fmt::format("{} {}", face.says, face.below),
            studs_words(need, studs),
            need.there                ? "there"
            : need.in_opening.empty() ? "TO FIX"
                                      : "IN OPENING"};
}

void put_timber(Sheet& sheet, const TimberRow& words, const Rect& pane, double y, double height, bool head) {
    double x = pane.x;
    for (std::size_t i = 0; i < timber_columns; ++i) {
        const double width = pane.width * timber_shares[i];
        const bool strong = head || words[i] == "TO FIX";
        sheet.text(words[i], {x + 1, y + 0.05, width - 1.6, height - 0.1},
                   {.size = head ? 2.5 : 3.0, .least = floor_size, .bold = strong, .stand = Stand::middle});
        x += width;
    }
}

/// Returns where the table ends.
double draw_timber_table(Sheet& sheet, const SetOutJob& job, const Rect& pane) {
    const auto& needs = job.set_out.noggins;
    const Rect title{pane.x + 1, pane.y + 0.5, pane.width - 2, 4.4};
    const LetterStyle bold{.size = 3.0, .least = floor_size, .bold = true, .stand = Stand::middle};
    if (needs.empty()) {
        sheet.text(job.wall().masonry ? "Solid wall behind: no noggins" : "No noggins worked out for these fittings",
                   title, bold);
        return title.bottom() + 0.5;
    }
    sheet.text("Noggins: timber to hold them (dashed on the drawing where still to fix)", title, bold);
    put_timber(sheet, {"for", "across, from left bare", "centre height", "timber's face", "between studs at", "state"},
               pane, pane.y + 5, timber_head - 5, true);
    double room = pane.height - timber_head;
    const auto fit = [&] {
        return static_cast<std::size_t>(std::max(0.0, std::floor(room / least_timber_row + 1e-9)));
    };
    std::size_t shown = std::min(needs.size(), fit());
    const bool more = shown < needs.size();
    if (more) {
        room -= more_height;
        shown = std::min(needs.size(), fit());
    }
    const double height =
        std::clamp(room / static_cast<double>(std::max<std::size_t>(1, shown)), least_timber_row, most_timber_row);
    double y = pane.y + timber_head;
    for (std::size_t i = 0; i < shown; ++i) {
        sheet.line({pane.x, y}, {pane.right(), y}, thin);
        put_timber(sheet, timber_row(needs[i], job.wall().studs.has_value()), pane, y, height, false);
        y += height;
    }
    sheet.line({pane.x, y}, {pane.right(), y}, thin);
    if (!more) return y;
    put_more(sheet, needs.size() - shown, {pane.x + 1, y + 0.2, pane.width - 2, more_height - 0.4});
    return y + more_height;
}

/// What the report says of this wall's fittings before anything is fixed, worst first.
struct Note {
    std::string says;
    std::size_t bold_bytes = 0;
};

std::vector<Note> notes_of(const SetOutJob& job) {
    std::vector<const Finding*> open;
    for (const auto& finding : job.findings) {
        const bool here = std::any_of(job.set_out.marks.begin(), job.set_out.marks.end(),
                                      [&](const auto& mark) { return mark.fitting == finding.subject; }) ||
                          std::any_of(job.set_out.screens.begin(), job.set_out.screens.end(),
                                      [&](const auto& screen) { return screen.screen == finding.subject; });
        if (here && finding.verdict != rules::Verdict::clear) open.push_back(&finding);
    }
    std::stable_sort(open.begin(), open.end(),
                     [](const auto* a, const auto* b) { return severity(a->verdict) > severity(b->verdict); });
    std::vector<Note> notes;
    for (const auto* finding : open) {
        Note note;
        note.says = clean_text(fmt::format("{} {}", finding->subject, verdict_word(finding->verdict)));
        note.bold_bytes = note.says.size();
        note.says += ": " + (finding->action.empty() ? finding->says : finding->action);
        notes.push_back(std::move(note));
    }
    return notes;
}

/// As many whole notes as go into the pane, and how many there are besides.
void draw_notes(Sheet& sheet, const SetOutJob& job, const Rect& pane) {
    constexpr double heading = 5.2;
    constexpr double between = 0.8;
    const auto notes = notes_of(job);
    LetterStyle style{.size = 3.0, .least = floor_size};
    double y = pane.y + heading;
    std::size_t shown = 0;
    for (; shown < notes.size(); ++shown) {
        style.bold_bytes = notes[shown].bold_bytes;
        const double height = sheet.measure(notes[shown].says, pane.width - 2, style).y + 0.05;
        const double bottom = pane.bottom() - (shown + 1 == notes.size() ? 0.3 : more_height);
        if (y + height > bottom) break;
        sheet.text(notes[shown].says, {pane.x + 1, y, pane.width - 2, height}, style);
        y += height + between;
    }
    if (shown == 0) {
        // No room for even one: say that there are some.
        if (notes.empty() || pane.height < more_height) return;
        sheet.text(
            fmt::format("To settle before fixing: {}, see the text report", rules::counted(notes.size(), "finding")),
            {pane.x + 1, pane.y, pane.width - 2, more_height - 0.2},
            {.size = 3.0, .least = floor_size, .bold = true, .stand = Stand::middle});
        return;
    }
    sheet.text("Settle before fixing", {pane.x + 1, pane.y + 0.5, pane.width - 2, heading - 1},
               {.size = 3.0, .least = floor_size, .bold = true, .stand = Stand::middle});
    if (shown < notes.size()) {
        put_more(sheet, notes.size() - shown,
                 {pane.x + 1, pane.bottom() - more_height + 0.2, pane.width - 2, more_height - 0.4});
    }
}

}  // namespace

void draw_setout_tables(Sheet& sheet, const SetOutJob& job, const Rect& pane) {
    const auto needs = static_cast<double>(job.set_out.noggins.size());
    // However many fittings there are, a few lines are kept for the timber.
    const double least = needs == 0 ? 5.5 : timber_head + least_timber_row * std::min(needs, 3.0) + more_height;
    const double wanted = needs == 0 ? 5.5 : timber_head + most_timber_row * needs;
    const Rect tables{pane.x, pane.y, pane.width, pane.height - signature};
    const double y = draw_marks(sheet, rows_of(job), {tables.x, tables.y, tables.width, tables.height - least},
                                std::max(0.0, wanted - least));
    const double end = draw_timber_table(sheet, job, {tables.x, y, tables.width, tables.bottom() - y});
    draw_notes(sheet, job, {tables.x, end + 1.5, tables.width, tables.bottom() - end - 1.5});
    sheet.line({pane.x, tables.bottom()}, {pane.right(), tables.bottom()}, thin);
    const LetterStyle style{.size = 2.8, .least = floor_size, .stand = Stand::middle};
    sheet.text("as fixed, measured by", {pane.x + 1, tables.bottom() + 0.5, 40, signature - 1}, style);
    sheet.text("date", {pane.x + pane.width * 0.65, tables.bottom() + 0.5, 12, signature - 1}, style);
}

}  // namespace standproud::viewer
