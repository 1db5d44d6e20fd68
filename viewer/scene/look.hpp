// How the recess is to be shown, as plain values: what is hidden, drawn apart, cut, and from where it is seen.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "modeler/model.hpp"
#include "rules/finding.hpp"
#include "viewer/state.hpp"

namespace standproud::viewer {

enum class Shown { full, ghost, hidden };

/// A cut through the recess. What lies on the side that `away` points to is taken off.
struct Cut {
    bool on = false;
    RoomPoint away{0, 0, 1};
    double at = 0;  ///< dot(away, point) of the points on the plane, mm
};

/// The surveyed faces in place of the linings.
struct SurveyLook {
    bool on = false;
    double times = 8;     ///< what lean and hollows are exaggerated by, 1 to 20
    bool packing = true;  ///< colours show the packing, else the face itself
    bool values = true;   ///< what was read, where it was read
};

struct Look {
    std::map<std::string, Shown> layers;  ///< by Part::layer; those not named are full
    std::map<std::string, Shown> trades;  ///< by Part::trade
    double apart = 0;                     ///< mm between layers drawn apart
    bool by_layer_colour = false;         ///< the colours of drawings and STEP, instead of what it will look like
    bool edges = true;
    bool hide_in_the_way = true;  ///< walls seen from behind
    bool grips = false;           ///< joins stand out, to be taken hold of
    bool flags = true;            ///< a verdict at every fitting
    bool dark = false;
    double scale = 1;     ///< of lines and lettering
    bool inches = false;  ///< beside mm
    Cut cut;
    SurveyLook survey;
};

/// Adds a look in words, parted by commas, to `look`: "apart=40,hide=board,cut=level:1100". A reason when a word of it
/// means nothing here; "" when all are taken. The job must be good.
std::string read_look(const std::string& words, const Document& document, Look& look);

/// Where it is seen from. `back` points from what is looked at to the eye.
struct Pose {
    RoomPoint at;
    RoomPoint back{0, -1, 0};
    RoomPoint up{0, 0, 1};
    double fit_width = 1000;  ///< mm that must be seen at `at`, at least
    double fit_height = 1000;
    bool perspective = true;
    std::vector<RoomPoint> whole;  ///< seen as large as they can be seen whole, whatever the two fits say
};

inline constexpr double field_of_view = 32;  ///< degrees, across the shorter side of the picture

/// The whole recess: the box round every solid as it is shown, and its floor.
Pose overview(const Document& document, const Look& look);
/// Corners of that box.
std::vector<RoomPoint> box_of_all(const Document& document, double apart);
/// Straight on to a wall.
Pose facing_wall(const Model& model, std::size_t wall);
/// How much is seen of a clash when it is flown to, mm across: enough to see what it belongs to.
double clash_span(const rules::Clash& clash);
/// Near a finding's spot, from the side, so that depths are seen.
Pose near_finding(const Document& document, const rules::Finding& finding, const Look& look);
/// The walls' bare faces: least and greatest corner, room frame.
std::array<RoomPoint, 2> bounds(const Model& model);

/// How a part is shown: its layer, its trade, and what is chosen. `ghost_rest`: whatever does not belong to the choice.
Shown shown(const Part& part, const Look& look, const Selection& selection, bool ghost_rest);

/// How far a part is moved off its place when the layers are drawn apart.
RoomPoint moved_apart(const Model& model, const Part& part, double apart);

/// The fitting's place in the model; nothing when there is none.
const PlacedFitting* placed_of(const Model& model, const std::string& fitting);
/// n of the front of the panel at a spot; 0 where there is no panel.
double front_at(const Model& model, std::size_t wall, Vec2 spot);

}  // namespace standproud::viewer
