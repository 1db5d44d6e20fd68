// What was measured on the bare recess, as people take it: plain values with the place each was written.
// Lengths in mm, angles in degrees, in wall frames (see geometry.hpp). Keys of the job file: models/README.md.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "modeler/geometry.hpp"
#include "modeler/source.hpp"

namespace standproud {

/// What a reading was taken with: sets its +/- when it states none (modeler/survey/instruments.toml).
enum class Instrument { tape, laser_measure, string, laser_plane, spirit_level, straightedge, square };

/// One figure. `plus_minus` holds about 95 of 100 times: it is taken as two standard errors.
struct Reading {
    double value = 0;
    std::optional<double> plus_minus;
    Instrument instrument = Instrument::tape;
    Source source;
};

/// A vertical corner or free end of the run of walls, named by a wall and its side, seen from inside.
/// "right of left" and "left of back" are one corner when back follows left.
struct CornerName {
    std::string wall;
    Side side = Side::left;
};

/// From corner to corner of one wall, level.
struct WidthReading {
    std::string wall;
    double height = 0;
    Reading reading;
};

/// The top of a wall above the datum, at u from its left bare corner.
struct HeightReading {
    std::string wall;
    double u = 0;
    Reading reading;
};

/// Across one wall, from a mark in its left corner to a mark in its right corner.
struct WallDiagonalReading {
    std::string wall;
    double left_height = 0;
    double right_height = 0;
    Reading reading;
};

/// Through the room, level, from corner to corner.
struct PlanDiagonalReading {
    CornerName from;
    CornerName to;
    double height = 0;
    Reading reading;
};

/// The angle of a corner inside the room, taken with a square or an angle finder of legs this long.
struct AngleReading {
    CornerName corner;
    double leg = 600;
    Reading reading;
};

/// Marks on both walls of a corner, and the distance between the marks: 600, 800 and 1000 in a square corner.
struct TriangleReading {
    CornerName corner;
    double along_left = 0;   ///< from the corner along the wall on its left
    double along_right = 0;  ///< from the corner along the wall on its right
    Reading reading;
};

/// From the wall out to a plane of light or string, at spots on one wall. All spots of a set share the plane,
/// of which the distance and the turn against the wall are unknown; the tilt as well, unless it is plumb.
struct OffsetPoint {
    double u = 0;
    double v = 0;
    double value = 0;
    Source source;
};
struct OffsetSet {
    std::string wall;
    bool plumb = false;
    Instrument instrument = Instrument::laser_plane;
    std::optional<double> plus_minus;
    std::vector<OffsetPoint> points;
    Source source;
};

/// A spirit level held upright against the wall from v = from to v = to: how far the wall's upper spot stands
/// further into the room than the lower one; negative when it leans back.
struct LevelReading {
    std::string wall;
    double u = 0;
    double from = 0;
    double to = 0;
    Reading reading;
};

/// A straightedge against the wall, its middle at (u, v): the gap under its middle.
struct StraightedgeReading {
    std::string wall;
    double u = 0;
    double v = 0;
    double length = 0;
    bool upright = false;
    Reading reading;
};

/// The level of the floor at the foot of a wall, against the datum.
struct FloorReading {
    std::string wall;
    double u = 0;
    Reading reading;
};

/// The head of a screw or nail that stands out of the face that the bed goes on.
struct ProudFixing {
    std::string wall;
    double u = 0;
    double v = 0;
    Reading reading;
};

/// What flatness and plumb are held against: rules/flatness.toml.
struct FaceStandards {
    std::optional<std::string> flatness;
    std::optional<std::string> plumb;
    std::optional<std::string> scaling;
    Source source;
};

struct SurveyReadings {
    /// How results that rest on an assumption are to be taken: with the assumption's +/-, or as unknown.
    enum class Assume { carry, unknown };
    Assume assume = Assume::carry;
    std::optional<double> unevenness;         ///< +/- of a spot on a wall against the wall's plane
    std::map<Instrument, double> plus_minus;  ///< the job's own +/- of an instrument
    std::vector<WidthReading> widths;
    std::vector<HeightReading> heights;
    std::vector<WallDiagonalReading> wall_diagonals;
    std::vector<PlanDiagonalReading> diagonals;
    std::vector<AngleReading> angles;
    std::vector<TriangleReading> triangles;
    std::vector<OffsetSet> offsets;
    std::vector<LevelReading> levels;
    std::vector<StraightedgeReading> straightedges;
    std::vector<FloorReading> floors;
    std::vector<ProudFixing> fixings;
    FaceStandards standards;
    Source source;
};

std::string to_string(Instrument instrument);

}  // namespace standproud
