// What is marked on the bare walls today, for a finished wall that does not exist yet.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "modeler/model.hpp"

namespace standproud {

/// One fitting: where it is marked, from both bare corners, and what that comes to from the finished ones. mm.
struct SetOutMark {
    std::size_t placed = 0;  ///< index into Model::fittings
    std::string fitting;
    std::string name;
    Trade trade = Trade::plumber;
    double left_bare = 0;
    double right_bare = 0;
    std::optional<double> left_finished;
    std::optional<double> right_finished;
    double height = 0;                  ///< above the datum
    std::optional<double> above_floor;  ///< above the floor at that spot, where its level was read
    std::optional<double> seat;  ///< from the bare face there; of a screwed-on item, the face of what it is screwed to
    double face = 0;             ///< the finished face from the bare face there
    double plus_minus = 0;       ///< of both bare distances: what the survey leaves open
    std::vector<std::string> assumes;  ///< "wall left is plumb": what its place rests on
    bool unknown = false;              ///< the job wants a place that rests on an assumption taken as unknown
};

/// Two fittings of one type at one height: plumbers set them out about their centre line.
struct SetOutPair {
    std::string left;
    std::string right;
    double left_bare = 0;  ///< of the centre line
    double right_bare = 0;
    std::optional<double> left_finished;
    std::optional<double> right_finished;
    double height = 0;
    double apart = 0;
};

/// A glass screen or door: where what holds it is marked, upright. mm.
struct SetOutScreen {
    std::string screen;  ///< its id
    std::string name;
    double left_bare = 0;  ///< of its middle line, half-way up
    double right_bare = 0;
    std::optional<double> left_finished;
    std::optional<double> right_finished;
    double bottom = 0;  ///< of its glass, above the datum
    double top = 0;
    double thickness = 0;           ///< of its glass
    std::optional<double> profile;  ///< width on the panel of what holds it
    std::vector<double> fixings;    ///< heights of its clamps; none: a channel from bottom to top
};

/// A piece of timber that fittings or screens of a framed wall are fixed to.
struct NogginNeed {
    std::string fitting;  ///< or screen
    std::string purpose;  ///< "screws", "body" or "screen"
    double left = 0;      ///< what it must cover, u and v
    double right = 0;
    double bottom = 0;
    double top = 0;
    double face = 0;                  ///< n of its front
    std::optional<double> left_stud;  ///< centres of the studs it runs between
    std::optional<double> right_stud;
    std::string in_opening{};  ///< name of an opening that some of it lies in: no timber can be there
    bool there = false;        ///< a noggin or stud of the job already covers it, at this face
};

/// A window, doorway or hatch of the wall, to its edges on the bare face. mm.
struct SetOutOpening {
    std::string opening;  ///< its id
    std::string name;
    double left_bare = 0;   ///< of its left edge, from the left bare corner
    double right_bare = 0;  ///< of its right edge, from the right bare corner
    double bottom = 0;      ///< above the datum
    double top = 0;
    double width = 0;
};

struct WallSetOut {
    std::size_t wall = 0;
    std::vector<SetOutMark> marks;        ///< from left to right
    std::vector<SetOutOpening> openings;  ///< from left to right
    std::vector<SetOutScreen> screens;    ///< from left to right
    std::vector<SetOutPair> pairs;
    std::vector<NogginNeed> noggins;
};

/// Every wall that carries fittings or screens or has openings, in the job's order. On a job with as-built figures,
/// pass the model of as_fixed.
std::vector<WallSetOut> set_out(const Model& model);

}  // namespace standproud
