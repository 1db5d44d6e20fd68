#include "window/layout.hpp"

#include <algorithm>

namespace standproud::viewer {

namespace {

// Letters that a column needs to be read, and beyond which more is no help.
constexpr float least_left = 20;
constexpr float most_left = 30;
constexpr float least_right = 19;
constexpr float most_right = 23;
constexpr float more_tabs = 4;
constexpr float most_one = 26;
// Shares of the window.
constexpr float usual_left = 0.31F;
constexpr float usual_right = 0.235F;
constexpr float usual_one = 0.42F;
constexpr float both = 0.55F;
constexpr float half = 0.5F;

}  // namespace

Columns columns(float width, float em, const WantedColumns& wanted) {
    if (!wanted.tabs) return {};
    const float more = wanted.many_tabs ? more_tabs * em : 0;
    float right = std::clamp(usual_right * width, least_right * em, most_right * em) + more;
    if (!wanted.findings) return {0, std::min(right, half * width), false};
    if ((least_left + least_right) * em + more > both * width) {
        const float one = std::clamp(usual_one * width, least_left * em, most_one * em);
        return {0, std::min(one, half * width), true};
    }
    right = std::min(right, both * width - least_left * em);
    const float left = std::clamp(usual_left * width, least_left * em, most_left * em);
    return {std::min(left, both * width - right), right, false};
}

Box kept_inside(Box box, const Box& area) {
    box.width = std::min(box.width, area.width);
    box.height = std::min(box.height, area.height);
    box.x = std::clamp(box.x, area.x, area.x + area.width - box.width);
    box.y = std::clamp(box.y, area.y, area.y + area.height - box.height);
    return box;
}

}  // namespace standproud::viewer
