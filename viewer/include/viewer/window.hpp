// The desktop window.
#pragma once

#include <string>

namespace standproud::viewer {

struct WindowOptions {
    std::string job;  ///< empty: starts without one
    int width = 0;    ///< 0: as suits the screen
    int height = 0;
    bool dark = false;   ///< as well as when the user's settings say so
    double scale = 0;    ///< of lettering; 0: as the settings or the screen say
    std::string places;  ///< for tests: a file that says after each frame where things are on screen
};

/// Opens the window and returns when it is closed. Throws FileError with one sentence when there is no display, or no
/// OpenGL 3.3.
void run_window(const WindowOptions& options);

}  // namespace standproud::viewer
