#include "bench_drawing/stock_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench/words.hpp"
#include "drawing/hatch.hpp"

namespace standproud::viewer {

namespace {

constexpr double heading_height = 8;
constexpr double margin = 9;  // around the sheet
constexpr double widest_pane = 138;
constexpr double narrowest_pane = 80;

class StockSheet {
  public:
    StockSheet(Sheet& sheet, const Bench& bench, std::size_t index, const OnPaper& on, const Rect& pane)
        : sheet_(sheet),
          bench_(bench),
          layout_(bench.sheets.nesting->sheets[index]),
          stock_(bench.stock[layout_.stock]),
          rear_(sawn_rear_up(bench)),
          on_(on),
          pane_(pane) {}

    /// Returns how many names found no room.
    std::size_t draw() {
        using Kind = nesting::CutPart::Kind;
        for (const auto& part : layout_.parts) {
            if (part.kind == Kind::waste) draw_waste(part.at);
        }
        draw_closed(sheet_, corners({0, 0, stock_.width, stock_.height}), thin);
        for (const auto& part : layout_.parts) {
            if (part.kind == Kind::offcut) sheet_.outline(corners(part.at), thin, black, Dash::dashed);
        }
        for (const auto& placed : layout_.placed) draw_closed(sheet_, corners(placed.at), medium);
        draw_cuts();
        std::size_t missed = 0;
        for (const auto& placed : layout_.placed) missed += name_panel(placed);
        for (const auto& offcut : layout_.offcuts) missed += name_offcut(offcut);
        return missed + name_cuts();
    }

    struct Small {
        std::string letter;
        std::size_t piece = 0;
    };
    [[nodiscard]] const std::vector<Small>& small() const { return small_; }

  private:
    [[nodiscard]] Vec2 see(Vec2 p) const { return on_.at(rear_ ? Vec2{stock_.width - p.x, p.y} : p); }

    [[nodiscard]] std::vector<Vec2> corners(const nesting::Rect& r) const {
        const Vec2 a = see({r.x, r.y});
        const Vec2 b = see({r.x + r.width, r.y + r.height});
        const Vec2 low{std::min(a.x, b.x), std::max(a.y, b.y)};
        const Vec2 high{std::max(a.x, b.x), std::min(a.y, b.y)};
        return {low, {high.x, low.y}, high, {low.x, high.y}};
    }

    [[nodiscard]] Rect box(const nesting::Rect& r) const {
        const auto c = corners(r);
        return {c[3].x, c[3].y, c[1].x - c[0].x, c[0].y - c[3].y};
    }

    void draw_waste(const nesting::Rect& r) {
        hatch_lines(sheet_, corners(r), 45, 1.2, 0.13);
        sheet_.outline(corners(r), 0.13);
    }

    void draw_cuts() {
        for (const auto& part : layout_.parts) {
            if (const auto ends = line_of(part)) sheet_.line(ends->first, ends->second, heavy);
        }
    }

    /// The middle of the kerf, from end to end.
    [[nodiscard]] std::optional<std::pair<Vec2, Vec2>> line_of(const nesting::CutPart& part) const {
        using Kind = nesting::CutPart::Kind;
        const double at = (part.from + part.to) / 2;
        if (part.kind == Kind::cut_upright)
            return std::pair(see({at, part.at.y}), see({at, part.at.y + part.at.height}));
        if (part.kind == Kind::cut_level) return std::pair(see({part.at.x, at}), see({part.at.x + part.at.width, at}));
        return std::nullopt;
    }

    std::size_t name_panel(const nesting::Placed& placed) {
        const Rect r = box(placed.at);
        const LetterStyle bold{.size = 4, .least = least_text, .bold = true, .stand = Stand::middle};
        const LetterStyle plain{.size = 2.7, .least = least_text, .stand = Stand::middle};
        const std::string& id = bench_.pieces[placed.piece].id;
        LetterStyle upright = bold;
        upright.upwards = true;
        std::size_t missed = 0;
        if (!draw_name(sheet_, id, r.centre(), {r}, bold) && !draw_name(sheet_, id, r.centre(), {r}, upright))
            return name_small(placed, r);
        upright.size = plain.size;
        upright.bold = false;
        const std::string size = fmt::format("{} x {}", tenths(placed.at.width), tenths(placed.at.height));
        const Vec2 under{r.centre().x, r.centre().y + 4};
        if (!draw_name(sheet_, size, under, {r}, plain) && !draw_name(sheet_, size, under, {r}, upright)) ++missed;
        draw_top(placed, r);
        return missed;
    }

    /// A piece too small for its name has a letter; what it stands for is told beside the drawing.
    std::size_t name_small(const nesting::Placed& placed, const Rect& r) {
        const std::string letter(1, static_cast<char>('a' + small_.size() % 26));
        small_.push_back({letter, placed.piece});
        LetterStyle style{.size = 2.9, .least = least_text, .bold = true, .stand = Stand::middle};
        if (draw_name(sheet_, letter, r.centre(), {r}, style)) return 0;
        style.upwards = true;
        return draw_name(sheet_, letter, r.centre(), {r}, style) ? 0 : 1;
    }

    /// An arrow to the edge that is the panel's top on the wall. Turned pieces are turned to the left, seen from the
    /// front.
    void draw_top(const nesting::Placed& placed, const Rect& r) {
        const double way = placed.turned ? (rear_ ? 1 : -1) : 0;
        const Vec2 direction = placed.turned ? Vec2{way, 0} : Vec2{0, -1};
        const double reach = std::min(r.width, r.height) / 2;
        if (reach < 4) return;
        const Vec2 edge = placed.turned ? Vec2{way > 0 ? r.right() : r.x, r.centre().y} : Vec2{r.centre().x, r.y};
        const Vec2 tip = edge - 1.2 * direction;
        sheet_.line(tip - 6 * direction, tip, thin);
        sheet_.arrow(tip, direction);
        (void)draw_name(sheet_, "top", tip - 6 * direction, {r, 12},
                        {.size = 2.5, .least = least_text, .stand = Stand::middle});
    }

    std::size_t name_offcut(const nesting::Rect& offcut) {
        const Rect r = box(offcut);
        const std::string words = fmt::format("KEEP {} x {}", tenths(offcut.width), tenths(offcut.height));
        LetterStyle plain{.size = 2.7, .least = least_text, .stand = Stand::middle};
        LetterStyle upright = plain;
        upright.upwards = true;
        const bool named = draw_name(sheet_, words, r.centre(), {r}, plain) ||
                           draw_name(sheet_, words, r.centre(), {r}, upright) ||
                           draw_name(sheet_, words, r.centre(), {pane_}, plain);
        return named ? 0 : 1;
    }

    /// The cuts' numbers on white, on their lines where these leave the sheet, as near to the saw's start as there is
    /// room.
    std::size_t name_cuts() {
        std::size_t number = 0;
        std::size_t missed = 0;
        for (const auto& part : layout_.parts) {
            const auto ends = line_of(part);
            if (!ends) continue;
            ++number;
            missed += put_number(fmt::format("{}", number), ends->first, ends->second) ? 0 : 1;
        }
        return missed;
    }

    bool put_number(const std::string& words, Vec2 from, Vec2 to) {
        const LetterStyle style{
            .size = 2.9, .least = least_text, .bold = true, .align = Align::centre, .stand = Stand::middle};
        const Vec2 size = sheet_.measure(words, 1000, style);
        const double half = std::max(size.x, size.y) / 2 + 0.35;
        const Vec2 along = (1 / norm(to - from)) * (to - from);
        const double length = norm(to - from);
        // First outside the sheet, at either end, then along the line.
        std::vector<double> places{-half - 1.2, length + half + 1.2, -half - 3.4, length + half + 3.4};
        for (double at = half; at <= length - half; at += 0.8) places.push_back(at);
        for (const double at : places) {
            const Vec2 c = from + at * along;
            const Rect box{c.x - half, c.y - half, 2 * half, 2 * half};
            const bool outside = at < 0 || at > length;
            if (outside && !leaves(at < 0 ? from : to)) continue;
            const bool clear =
                std::none_of(sheet_.texts().begin(), sheet_.texts().end(),
                             [&](const auto& text) { return overlap(text.box, box); }) &&
                std::none_of(numbers_.begin(), numbers_.end(), [&](const Rect& other) { return overlap(other, box); });
            if (!clear) continue;
            if (outside) sheet_.line(at < 0 ? from : to, c, thin);
            numbers_.push_back(box);
            const auto ring = rounded_points(RoundedRect::circle(c, 2 * half));
            sheet_.fill(ring, white);
            sheet_.outline(ring, thin);
            sheet_.text(words, box, style);
            return true;
        }
        return false;
    }

    /// Whether a point lies on the sheet's own edge.
    [[nodiscard]] bool leaves(Vec2 p) const {
        const Rect r = box({0, 0, stock_.width, stock_.height});
        constexpr double near = 0.6;  // mm: the trim may already be off
        return std::abs(p.x - r.x) < near || std::abs(p.x - r.right()) < near || std::abs(p.y - r.y) < near ||
               std::abs(p.y - r.bottom()) < near;
    }

    Sheet& sheet_;
    const Bench& bench_;
    const nesting::SheetLayout& layout_;
    const nesting::Stock& stock_;
    bool rear_;
    OnPaper on_;
    Rect pane_;
    std::vector<Rect> numbers_;
    std::vector<Small> small_;
};

/// Without ".0", as the drawing has its figures.
std::string plain_figures(std::string words) {
    for (std::size_t at = words.find(".0"); at != std::string::npos; at = words.find(".0", at + 1)) {
        const bool ends = at + 2 >= words.size() || words[at + 2] < '0' || words[at + 2] > '9';
        if (ends) words.erase(at, 2);
    }
    return words;
}

void say_cuts(Flow& flow, const Bench& bench, const nesting::SheetLayout& layout) {
    const bool rear = sawn_rear_up(bench);
    flow.heading(rear ? "Cuts in order, MIRRORED, as seen here (rear face up)"
                      : "Cuts in order, as seen here (front face up)");
    const std::vector<Column> wide{{6}, {21}, {25}, {27}, {25}, {flow.width() - 104}};
    flow.row({"", "cut", "part in hand", "kerf from its", "kerf", "leaves"}, wide, true);
    std::size_t number = 0;
    for (const auto& cut : cuts_of(bench, layout)) {
        const char* edge = cut.upright ? (rear ? "RIGHT edge" : "left edge") : "bottom edge";
        const char* near = cut.upright ? (rear ? "right" : "left") : "below";
        const char* far = cut.upright ? (rear ? "left" : "right") : "above";
        flow.row({fmt::format("{}", ++number),
                  fmt::format("{}{}", cut.trims ? "trim, " : "", cut.upright ? "upright" : "level"),
                  fmt::format("{} x {}", tenths(cut.part.width), tenths(cut.part.height)), edge,
                  fmt::format("{} to {}", tenths(cut.from), tenths(cut.to)),
                  plain_figures(fmt::format("{} {}; {} {}", near, cut.first, far, cut.second))},
                 wide);
    }
}

}  // namespace

void draw_stock_sheet(Sheet& sheet, const Bench& bench, std::size_t index) {
    const auto& layout = bench.sheets.nesting->sheets[index];
    const auto& stock = bench.stock[layout.stock];
    const bool rear = sawn_rear_up(bench);
    Rect room{8, 8, 281, 178};
    OnPaper on;
    on.scale =
        usual_scale(stock.width, stock.height, widest_pane - 2 * margin, room.height - heading_height - 2 * margin);
    const double w = stock.width / on.scale;
    const double h = stock.height / on.scale;
    const double wide = std::max(narrowest_pane, w + 2 * margin);
    const Rect pane{room.x, room.y + heading_height, wide, room.height - heading_height};
    on.zero = {pane.centre().x - w / 2, pane.y + margin + h};
    const std::string name =
        fmt::format("sheet {} of {}: {}", index + 1, bench.sheets.nesting->sheets.size(), stock.id);
    std::string jobs;
    for (const auto& job : bench.jobs) jobs += (jobs.empty() ? "" : "; ") + job.name;
    room = begin_page(sheet, {name, jobs, bench.jobs.front().revision, on.scale});
    draw_banner(sheet,
                rear ? fmt::format("SHEET {}: SAWN REAR FACE UP - MIRRORED: LEFT AND RIGHT ARE SWAPPED", index + 1)
                     : fmt::format("SHEET {}: SAWN FRONT FACE UP", index + 1),
                {room.x, room.y, room.width, heading_height}, rear);
    sheet.measured(on.at({0, 0}), on.at({stock.width, 0}), stock.width);
    sheet.measured(on.at({0, 0}), on.at({0, stock.height}), stock.height);
    StockSheet drawing(sheet, bench, index, on, pane);
    const std::size_t missed = drawing.draw();
    sheet.line({pane.right(), pane.y}, {pane.right(), pane.bottom()}, medium);
    sheet.text(fmt::format("{}{}, {} x {}", stock.id, stock.offcut ? ", OFFCUT of an earlier job" : "",
                           tenths(stock.width), tenths(stock.height)),
               {pane.x + 2, on.zero.y + margin - 1, pane.width - 4, 5},
               {.size = 3, .least = least_text, .bold = true, .align = Align::centre});
    Flow flow(sheet, {pane.right() + 2, pane.y + 1.5, room.right() - pane.right() - 4, pane.height - 2.5});
    if (missed > 0)
        flow.say(fmt::format("{} name{} found no room on the drawing", missed, missed == 1 ? "" : "s"), true);
    say_cuts(flow, bench, layout);
    if (!drawing.small().empty()) flow.heading("Small panels");
    for (const auto& one : drawing.small()) {
        const auto& piece = bench.pieces[one.piece];
        flow.row({one.letter, piece.id, fmt::format("{} x {}", tenths(piece.width), tenths(piece.height))},
                 {{6}, {60}, {40}});
    }
    flow.heading("How to read it");
    flow.say(fmt::format(
        "Heavy: cuts, in the order of their numbers; each runs through the whole part in hand and takes {} of kerf. "
        "Hatched: waste. Dashed, KEEP: offcuts for another job. Arrow: the panel's top on the wall{}. Panels are cut "
        "to their bounding size here; tapers are cut after, panel by panel, from the panels' own sheets. Both films "
        "stay on.",
        tenths(bench.nesting_rules.kerf), stock.patterned ? "; the pattern runs up the sheet" : ""));
    flow.finish();
}

}  // namespace standproud::viewer
