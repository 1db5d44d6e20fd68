// Lettering on plates in the 3D view: which belong to what is seen, and where each has room of its own.
#pragma once

#include <AIS_InteractiveObject.hxx>
#include <Graphic3d_Camera.hxx>
#include <optional>
#include <string>
#include <vector>

#include "scene/look.hpp"

namespace standproud::viewer {

/// A plate that is wanted, and what it belongs to.
struct Flag {
    std::string name;                 ///< unique in a picture
    std::string words;                ///< in lines
    std::optional<std::size_t> wall;  ///< that must be seen
    bool from_behind = false;         ///< though it is turned away
    double facing = 0.06;             ///< else cosine of the way to the eye and the wall's, at least: 3.4 degrees
    RoomPoint spot;                   ///< that must be in the picture
    RoomPoint foot;                   ///< where its line begins
    RoomPoint head;                   ///< where it stands when there is room
    int side = 0;                     ///< of the head: -1 to the left, 1 to the right, 0 over it
    int level = 0;                    ///< likewise -1 under it, 1 above it
    Colour plate;
    double size = 15;  ///< of the letters, pixels
    double line = 0;   ///< pixels; 0: a line only when it had to leave its place
    double reach = 0;  ///< pixels that it may stand away from its head; 0: any
    int weight = 0;    ///< the heavier find room first
};

/// From where a model is seen.
struct Sight {
    RoomPoint eye;
    RoomPoint back;  ///< towards the eye, of the middle of the picture
    bool perspective = true;
};
Sight sight_of(const Handle(Graphic3d_Camera) & camera);

/// Towards the eye from a point, of length 1.
RoomPoint toward_eye(const Sight& sight, RoomPoint from);
/// Walls of which one sees the back.
std::vector<bool> turned_away(const Model& model, const Sight& sight);
/// Whether the face of another wall that is shown stands before a spot on a wall.
bool spot_hidden(const Model& model, std::size_t wall, RoomPoint spot, const Sight& sight, const Look& look);

/// Pixels from the left and the top of the picture.
struct PlateBox {
    double left = 0, top = 0, right = 0, bottom = 0;
};

/// A flag that has room: its words broken into lines that fit, and its plate's place.
struct FlagPlace {
    std::size_t flag = 0;
    std::string words;
    PlateBox box;
};

/// Those flags that belong to what is seen. No two plates touch, and each lies whole in the picture; one that finds no
/// room is left out. `seen_through`: walls hide nothing behind them.
std::vector<FlagPlace> place_flags(const std::vector<Flag>& flags, const Model& model, const Look& look,
                                   const Handle(Graphic3d_Camera) & camera, int width, int height, bool seen_through);

/// Plates and lines, as they were placed for this camera.
std::vector<Handle(AIS_InteractiveObject)> draw_flags(const std::vector<Flag>& flags,
                                                      const std::vector<FlagPlace>& places,
                                                      const Handle(Graphic3d_Camera) & camera, int width, int height);

}  // namespace standproud::viewer
