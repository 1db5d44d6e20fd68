// Figures in the margins, and columns of words.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_drawing/page.hpp"
#include "drawing/setout_panes.hpp"

namespace standproud::viewer {

namespace {

constexpr double pitch = 3.7;  // mm from figure to figure
constexpr double leader = 3.4;
constexpr double text_size = 2.7;
constexpr double last_line = 4;  // kept free for what found no room

std::size_t drop_beyond(std::vector<MarginFigure>& figures, double length) {
    const auto most = static_cast<std::size_t>(std::max(1.0, std::floor(length / pitch)));
    std::size_t dropped = 0;
    for (; figures.size() > most; ++dropped) {
        auto worst = figures.begin();
        for (auto it = figures.begin(); it != figures.end(); ++it) {
            if (it->rank >= worst->rank) worst = it;
        }
        figures.erase(worst);
    }
    return dropped;
}

LetterStyle figure_style(const MarginFigure& figure, Margin margin) {
    return {.size = text_size,
            .least = least_text,
            .align = margin == Margin::above ? Align::left : Align::right,
            .stand = Stand::middle,
            .upwards = margin != Margin::left,
            .bold_bytes = figure.bold};
}

/// One figure: from the thing to the margin's edge, aside to its place, then the words.
void draw_one(Sheet& sheet, const MarginFigure& figure, double place, const Rect& box, Margin margin) {
    const double half = pitch / 2 - 0.02;
    if (margin == Margin::left) {
        const double edge = box.right();
        sheet.line({figure.from, figure.at}, {edge - 1, figure.at}, 0.13);
        sheet.line({edge - 1, figure.at}, {edge - leader, place}, 0.13);
        const double right = edge - leader - 0.5;
        sheet.text(figure.words, {box.x, place - half, right - box.x, 2 * half}, figure_style(figure, margin));
        return;
    }
    const double edge = margin == Margin::below ? box.y : box.bottom();
    const double out = margin == Margin::below ? 1 : -0.8;  // above there is less room
    sheet.line({figure.at, figure.from}, {figure.at, edge + out}, 0.13);
    sheet.line({figure.at, edge + out}, {place, edge + out * leader}, 0.13);
    const double start = edge + out * (leader + 0.5);
    const double low = margin == Margin::below ? start : box.y;
    const double high = margin == Margin::below ? box.bottom() : start;
    sheet.text(figure.words, {place - half, low, 2 * half, high - low}, figure_style(figure, margin));
}

}  // namespace

std::size_t draw_margin(Sheet& sheet, std::vector<MarginFigure> figures, const Rect& box, Margin margin) {
    if (figures.empty()) return 0;
    const bool level = margin != Margin::left;
    const double low = (level ? box.x : box.y) + pitch / 2;
    const double high = (level ? box.right() : box.bottom()) - pitch / 2;
    const std::size_t dropped = drop_beyond(figures, high - low + pitch);
    std::stable_sort(figures.begin(), figures.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
    std::vector<double> wanted;
    for (const auto& figure : figures) wanted.push_back(figure.at);
    const auto places = spread(wanted, pitch, low, high);
    for (std::size_t i = 0; i < figures.size(); ++i) draw_one(sheet, figures[i], places[i], box, margin);
    return dropped;
}

bool Flow::room_for(double height) {
    if (missed_ == 0 && y_ + height <= box_.bottom() - last_line) return true;
    ++missed_;
    return false;
}

void Flow::heading(const std::string& words) {
    if (y_ > box_.y) y_ += 1.6;
    const LetterStyle style{.size = 3.2, .least = least_text, .bold = true};
    const double height = sheet_.measure(words, box_.width, style).y + 0.4;
    if (!room_for(height)) return;
    sheet_.text(words, {box_.x, y_, box_.width, height}, style);
    y_ += height;
    rule();
}

void Flow::say(const std::string& words, bool bold) {
    const LetterStyle style{.size = text_size, .least = least_text, .bold = bold};
    const double height = sheet_.measure(words, box_.width, style).y + 0.3;
    if (!room_for(height)) return;
    sheet_.text(words, {box_.x, y_, box_.width, height}, style);
    y_ += height;
}

void Flow::row(const std::vector<std::string>& cells, const std::vector<Column>& columns, bool bold) {
    constexpr double between = 1.2;
    const auto style = [&](std::size_t i) {
        return LetterStyle{.size = text_size, .least = least_text, .bold = bold, .align = columns[i].align};
    };
    double height = 0;
    for (std::size_t i = 0; i < std::min(cells.size(), columns.size()); ++i)
        height = std::max(height, sheet_.measure(cells[i], columns[i].width - between, style(i)).y);
    height += 0.4;
    if (!room_for(height)) return;
    double x = box_.x;
    for (std::size_t i = 0; i < std::min(cells.size(), columns.size()); ++i) {
        sheet_.text(cells[i], {x, y_, columns[i].width - between, height}, style(i));
        x += columns[i].width;
    }
    y_ += height;
}

void Flow::rule() {
    if (missed_ > 0 || y_ > box_.bottom() - last_line) return;
    sheet_.line({box_.x, y_ + 0.1}, {box_.right(), y_ + 0.1}, thin);
    y_ += 0.6;
}

void Flow::finish() {
    if (missed_ == 0) return;
    sheet_.text(fmt::format("and {} more: see bench.txt", missed_),
                {box_.x, box_.bottom() - last_line + 0.2, box_.width, last_line - 0.3},
                {.size = text_size, .least = least_text, .bold = true});
}

}  // namespace standproud::viewer
