// Windows in front of the others: forms and questions in the middle of the screen, and those that float.
#pragma once

#include <string>

namespace standproud::viewer {

struct App;

/// A form in the middle, in the way of everything else, never larger than the window: what does not fit is scrolled.
/// Sizes in letters; height 0: as high as it needs to be. True while it is drawn: ImGui::EndPopup() is then due.
bool begin_dialog(App& app, const std::string& title, float width, float height = 0);

/// Escape was pressed, and the form that is being drawn is what it lets go of.
bool escaped(const App& app);

/// Enter was pressed, and nothing in the form is highlighted that it would act on.
bool enter_takes();

/// The floating window that is being drawn stays where all of it is seen, also after the main window has shrunk.
void keep_on_screen(App& app, const char* name);

/// Scrolls a list until its last row is seen, and not at all when it is: what is clicked stays under the pointer. Rows
/// pass under a head of this height.
void bring_into_sight(float head);

/// The keyboard's frame goes, until an arrow brings it back.
void hide_frame();

/// Lists and menus that are open in front of any form.
int lists_open();
/// The last one that was opened.
void close_list();

}  // namespace standproud::viewer
