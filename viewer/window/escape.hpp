// What a press of Escape lets go of: one thing at a time, the innermost first.
#pragma once

namespace standproud::viewer {

enum class EscapeStep {
    nothing,
    list,     ///< the list or menu that is open
    form,     ///< the form or question in front
    typing,   ///< the field gets back what stood in it
    help,     ///< the window of mouse and keys
    section,  ///< the window of the section
    tool,     ///< measuring, dragging
    choice,   ///< what is chosen, in list, picture and panels
    view,     ///< the whole of it is shown again
};

/// What is there to be let go of.
struct Standing {
    bool list = false;
    bool form = false;
    bool typing = false;
    bool help = false;
    bool section = false;
    bool tool = false;
    bool choice = false;
    bool view = false;  ///< there is something to be seen
};

EscapeStep escape_step(const Standing& standing);

}  // namespace standproud::viewer
