#include "drawing/title_block.hpp"

#include <fmt/format.h>

namespace standproud::viewer {

namespace {

void cell(Sheet& sheet, const Rect& box, const std::string& caption, const std::string& words, double size,
          bool bold = false) {
    sheet.frame(box, thin);
    sheet.text(caption, {box.x + 1.2, box.y + 0.7, box.width - 2.4, 2.7}, {.size = 2.0, .least = 1.6, .ink = grey});
    sheet.text(words.empty() ? "not given" : words, {box.x + 1.2, box.y + 3.4, box.width - 2.4, box.height - 3.9},
               {.size = size, .least = 1.9, .bold = bold, .stand = Stand::middle});
}

}  // namespace

void draw_title_block(Sheet& sheet, const TitleBlock& says, const Rect& pane) {
    const double upper = 10;
    const double middle = 9.5;
    const double lower = pane.height - upper - middle;
    const double y = pane.y;
    cell(sheet, {pane.x, y, 112, upper}, says.subject_caption, says.subject, 4.2, true);
    cell(sheet, {pane.x + 112, y, 60, upper}, "wall", says.wall, 3.2);
    cell(sheet, {pane.x + 172, y, 79, upper}, "job", says.job, 3.2);
    cell(sheet, {pane.x + 251, y, pane.width - 251, upper}, "revision", says.revision, 3.2, true);
    cell(sheet, {pane.x, y + upper, 172, middle}, says.position_caption, says.position, 2.7);
    cell(sheet, {pane.x + 172, y + upper, 47, middle}, "datum (level 0)", says.datum, 2.6);
    cell(sheet, {pane.x + 219, y + upper, 32, middle}, "scale on A4", fmt::format("1:{:g}", says.scale), 4.2, true);
    cell(sheet, {pane.x + 251, y + upper, pane.width - 251, middle}, "all lengths in", "millimetres", 3.2);
    const Rect foot{pane.x, y + upper + middle, pane.width, lower};
    sheet.frame(foot, thin);
    const double side = lower - 2;
    sheet.outline(
        {{foot.x + 2 + side / 2, foot.y + 1}, {foot.x + 2 + side, foot.bottom() - 1}, {foot.x + 2, foot.bottom() - 1}},
        medium);
    sheet.fill({{foot.x + 1.8 + side / 2, foot.y + 2.8},
                {foot.x + 2.2 + side / 2, foot.y + 2.8},
                {foot.x + 2.2 + side / 2, foot.y + 4.6},
                {foot.x + 1.8 + side / 2, foot.y + 4.6}},
               black);
    sheet.dot({foot.x + 2 + side / 2, foot.bottom() - 1.7}, 0.5);
    sheet.text(
        "Isolate water and power before work. Check your local code and a licensed trade. "
        "Measure on site before drilling.",
        {foot.x + side + 5, foot.y + 1, foot.width - side - 7, lower - 2},
        {.size = 3.2, .bold = true, .stand = Stand::middle});
}

void draw_scale_bar(Sheet& sheet, double scale, const Rect& box) {
    constexpr double on_paper = 50;
    const double x = box.right() - on_paper;
    const double y = box.centre().y - 0.6;
    for (int i = 0; i < 5; ++i) {
        const double from = x + i * on_paper / 5;
        const double to = from + on_paper / 5;
        if (i % 2 == 0) sheet.fill({{from, y}, {to, y}, {to, y + 1.2}, {from, y + 1.2}}, black);
    }
    sheet.frame({x, y, on_paper, 1.2}, thin);
    sheet.text(fmt::format("{:g} mm at 1:{:g}: this bar is 50 mm long on a true print", on_paper * scale, scale),
               {box.x, box.y, box.width - on_paper - 2, box.height},
               {.size = 2.3, .align = Align::right, .stand = Stand::middle});
}

}  // namespace standproud::viewer
