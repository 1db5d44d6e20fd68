// What stands at the foot of every sheet: whose it is, of which revision, to which scale, and the caution line.
#pragma once

#include <string>

#include "drawing/sheet.hpp"

namespace standproud::viewer {

struct TitleBlock {
    std::string subject_caption;
    std::string subject;
    std::string wall;
    std::string job;
    std::string revision;
    std::string position_caption;
    std::string position;
    std::string datum;  ///< what level 0 is, in words
    double scale = 1;   ///< 1:scale
};

void draw_title_block(Sheet& sheet, const TitleBlock& says, const Rect& pane);

/// A bar of round length at the drawing's scale, at the box's right end, with what it stands for on its left: it
/// shows whether the print was shrunk.
void draw_scale_bar(Sheet& sheet, double scale, const Rect& box);

}  // namespace standproud::viewer
