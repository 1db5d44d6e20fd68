#include "scene/palette.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace standproud::viewer {

Colour verdict_colour(rules::Verdict verdict) {
    switch (verdict) {
        case rules::Verdict::clear:
            return {0, 158, 115};  // bluish green
        case rules::Verdict::tight:
            return {240, 228, 66};  // yellow
        case rules::Verdict::fails:
            return {213, 94, 0};  // vermillion
        case rules::Verdict::unknown:
            return {86, 180, 233};  // sky blue
    }
    return {};
}

const char* verdict_sign(rules::Verdict verdict) {
    switch (verdict) {
        case rules::Verdict::clear:
            return "+";
        case rules::Verdict::tight:
            return "~";
        case rules::Verdict::fails:
            return "X";
        case rules::Verdict::unknown:
            return "?";
    }
    return "";
}

Ground ground(bool dark) {
    if (dark) return {{52, 58, 64}, {26, 29, 33}, {232, 236, 238}, {62, 67, 72}, {18, 20, 22}, {96, 103, 110}};
    return {{250, 250, 247}, {222, 226, 225}, {32, 36, 40}, {206, 204, 198}, {70, 74, 78}, {178, 182, 184}};
}

namespace {

struct LayerFinish {
    std::string_view layer;
    Finish finish;
};

// Wood, board and brass as they come; the panel near white, so that what stands on it is read.
constexpr std::array finishes{
    LayerFinish{"masonry", {{168, 128, 108}, 0.03, false}}, LayerFinish{"frame", {{214, 178, 128}, 0.06, false}},
    LayerFinish{"board", {{196, 199, 190}, 0.04, false}},   LayerFinish{"membrane", {{92, 124, 134}, 0.25, false}},
    LayerFinish{"bed", {{168, 158, 178}, 0.1, false}},      LayerFinish{"panel", {{230, 236, 236}, 0.75, false}},
    LayerFinish{"sealant", {{214, 220, 216}, 0.35, false}}, LayerFinish{"tray", {{246, 246, 243}, 0.6, false}},
    LayerFinish{"screw", {{132, 136, 142}, 0.6, true}},     LayerFinish{"body", {{198, 152, 72}, 0.55, true}},
    LayerFinish{"spindle", {{212, 176, 96}, 0.6, true}},    LayerFinish{"flange", {{188, 194, 200}, 0.9, true}},
    LayerFinish{"rose", {{188, 194, 200}, 0.9, true}},      LayerFinish{"handle", {{176, 183, 190}, 0.9, true}},
    LayerFinish{"rail", {{188, 194, 200}, 0.9, true}},      LayerFinish{"bracket", {{170, 176, 182}, 0.85, true}},
    LayerFinish{"box", {{120, 126, 132}, 0.2, false}},      LayerFinish{"plate", {{240, 240, 236}, 0.4, false}},
};

}  // namespace

Finish finish_of(const Part& part) {
    const auto found =
        std::find_if(finishes.begin(), finishes.end(), [&](const auto& row) { return row.layer == part.layer; });
    if (found != finishes.end()) {
        Finish finish = found->finish;
        if (part.colour) finish.colour = *part.colour;
        return finish;
    }
    if (!part.fitting.empty()) return {{188, 194, 200}, 0.8, true};  // a role that a catalogue made up: chrome
    return {colour_of(part), 0.1, false};
}

}  // namespace standproud::viewer
