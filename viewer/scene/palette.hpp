// Colours of verdicts, grounds and materials, sRGB.
#pragma once

#include "modeler/exchange.hpp"
#include "modeler/parts.hpp"
#include "rules/finding.hpp"

namespace standproud::viewer {

// Verdicts take four hues of the Okabe-Ito set, which people with the common kinds of colour blindness tell apart
// (Okabe and Ito 2002, "Color Universal Design"; values from memory). A sign always stands beside the colour.
Colour verdict_colour(rules::Verdict verdict);
/// +, ~, X, ?: the same signs as the text report.
const char* verdict_sign(rules::Verdict verdict);

struct Ground {
    Colour top;
    Colour bottom;
    Colour ink;  ///< lettering and leaders
    Colour floor;
    Colour edge;   ///< of solids
    Colour faint;  ///< edges of ghosts
};
Ground ground(bool dark);

/// What a part will look like once it is there.
struct Finish {
    Colour colour;
    double shine = 0.1;  ///< 0 dull to 1 mirror
    bool metal = false;
};
Finish finish_of(const Part& part);

}  // namespace standproud::viewer
