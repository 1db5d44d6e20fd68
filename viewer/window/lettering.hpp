// How large lettering is when nobody has chosen: as the screen has it.
#pragma once

namespace standproud::viewer {

/// Dots to an inch. 0: not known.
struct ScreenDots {
    double asked = 0;     ///< by the desktop's settings
    double served = 0;    ///< as the display was started
    double measured = 0;  ///< from the size of the monitor
};

/// 1 at 96 dots to an inch, the size that interfaces are drawn for; never under 1, where it could not be read, nor over
/// 3. What the desktop asks for is followed to the letter. Without it the finer of the other two counts, in steps of a
/// quarter: monitors are seldom exactly 96.
double lettering(const ScreenDots& screen);

/// From pixels and mm; 0 where the mm cannot be those of a screen. Projectors and some televisions tell none or a
/// shape, such as 16 x 9.
double dots_to_an_inch(int wide, int high, int wide_mm, int high_mm);

/// Of the screen that the window is opened on, after GLFW has begun.
ScreenDots screen_dots();

}  // namespace standproud::viewer
