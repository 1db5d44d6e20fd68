// Where glass screens are held: how far that lies from every edge of the panels, and what is behind it. mm.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "modeler/model.hpp"

namespace standproud {

/// The middle line of what holds a screen: a channel as long as its glass, or one clamp. Screens stand upright.
struct ScreenHold {
    std::size_t wall = 0;
    double u = 0;
    double bottom = 0;  ///< of a clamp both are the height of its middle
    double top = 0;
    bool clamp = false;
};

/// u of a screen, worked out half-way up it. Nothing when it counts from a finished corner that does not exist.
std::optional<double> screen_place(const Model& model, const Screen& screen);

/// Each clamp of a screen, or its one channel.
std::vector<ScreenHold> holds_of(const Model& model, const Screen& screen);

/// Half the width of what holds a screen; where that is not told, of its glass: it is no less.
double half_width(const Screen& screen);

/// What a hold must keep off: a join, an end of the panels, an opening, a finished corner.
struct NearEdge {
    std::string of;       ///< "the join of left-1 and left-2"
    double room = 0;      ///< between the two; below 0 they meet, and the hold is off it once it goes that far
    bool beside = false;  ///< going along the wall helps: by `left` or `right` mm to the right, the room is 0
    double left = 0;
    double right = 0;
    bool stays = false;  ///< a corner or an opening: panels cannot be laid otherwise
};

/// The edges about a hold that reaches `half` to each side of its middle line; a clamp also above and below it. A
/// channel may cover the panels' gaps at their rim and top line, but not run on beyond those lines. Empty where the
/// wall has no panels at those heights.
std::vector<NearEdge> edges_near(const Model& model, const ScreenHold& hold, double half);

/// Left and right edge of every upright stretch of timber whose face lies no more than `set_back` behind the bare face,
/// or of the masonry.
std::vector<std::pair<double, double>> timber_across(const Wall& wall, double set_back);

/// How far the same reaches beyond the middle line of a hold, to its nearer side; from a clamp also up and down. Below
/// 0 the hold is so far off it. Openings cut it. Nothing where none stands behind the whole height of a hold, wherever
/// along the wall that is.
std::optional<double> timber_beyond(const Wall& wall, const ScreenHold& hold, double set_back);

}  // namespace standproud
