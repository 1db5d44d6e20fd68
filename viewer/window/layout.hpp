// How the window's room is shared out. Pixels; letters are as high as `em`.
#pragma once

namespace standproud::viewer {

/// Panels beside the picture.
struct Columns {
    float left = 0;    ///< findings and the chosen one; 0: there is no such column
    float right = 0;   ///< the tabs; 0: none
    bool one = false;  ///< findings are a tab of the right column: two would leave too little of the picture
};

/// Which panels are wanted.
struct WantedColumns {
    bool findings = false;
    bool tabs = false;
    bool many_tabs = false;  ///< so many that they need more room to stand side by side
};

/// Two columns leave the picture 45 % of the width or more, one leaves it half or more.
Columns columns(float width, float em, const WantedColumns& wanted);

struct Box {
    float x = 0;
    float y = 0;
    float width = 0;
    float height = 0;
};

/// A floating window as it fits into an area: moved, and made smaller only where it must be.
Box kept_inside(Box box, const Box& area);

}  // namespace standproud::viewer
