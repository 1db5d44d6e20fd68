// The bench: how a panel is marked out, cut and drilled, as seen on the face that is up; and how it then goes onto the
// wall.
//
// A panel's own frame, seen from the front: x to the right, y up, mm. Seen from the rear the panel has been turned over
// about an upright line, as a page is: left and right swap, up stays up. Both views have the least x and y of the
// outline at 0, so x_rear = width - x_front. A rear view folds back onto the front by the same rule.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/geometry.hpp"

namespace standproud::cutting {

enum class Face { front, rear };

/// A hole or cut-out, in the panel's frame. A notch reaches over the edge and well beyond it: only its inside corners
/// are cut.
struct Opening {
    std::string name;
    RoundedRect shape;
    bool notch = false;
};

/// A convex panel, corners anticlockwise as seen.
struct PanelShape {
    std::string id;
    Polygon outline;
    std::vector<Opening> openings;
};

/// The panel moved so that its outline's least x and y are 0.
[[nodiscard]] PanelShape in_own_frame(const PanelShape& panel);

/// Turned over about an upright line: front to rear, and rear to front. Gives the outline's least x and y as 0, and its
/// corners anticlockwise as seen, from the same corner. Twice gives the panel in its own frame.
[[nodiscard]] PanelShape turned_over(const PanelShape& panel);

/// Which side of the panel an edge is, as seen: the side that its outward direction is nearest to.
enum class EdgeSide { bottom, right, top, left };

struct Edge {
    EdgeSide side = EdgeSide::bottom;
    std::size_t from = 0;  ///< corner, index into the seen outline
    std::size_t to = 0;
    double length = 0;   ///< mm
    double leans = 0;    ///< mm that one end is off level or plumb from the other, >= 0
    bool named = false;  ///< leans by more than the limit
};

struct Diagonal {
    std::size_t from = 0;
    std::size_t to = 0;
    double length = 0;  ///< mm
};

/// Opposite sides of a four-sided panel that differ.
struct Taper {
    EdgeSide longer = EdgeSide::bottom;
    EdgeSide shorter = EdgeSide::top;
    double by = 0;  ///< mm
};

/// A distance square to an edge.
struct FromEdge {
    EdgeSide side = EdgeSide::left;
    std::size_t edge = 0;  ///< index into the edges
    double distance = 0;   ///< mm
};

/// A point square from two edges, the nearest upright one and the nearest level one. Edges are those of the outline
/// before it is notched.
struct MarkedPoint {
    Vec2 at;
    FromEdge across;
    FromEdge up;
};

/// An opening as it is marked: its centre; of a notch, where its sides meet.
struct MarkedOpening {
    Opening seen;
    RoundedRect taken;  ///< its shape within the outline's bounding size; of what is no notch, its shape
    FromEdge across;    ///< of the centre
    FromEdge up;
    std::vector<MarkedPoint> inside;  ///< a notch's inside corners, not rounded; else empty
    std::vector<Vec2> corner_holes;   ///< centres of the holes that are drilled first; none for a round hole
    double corner_diameter = 0;
};

/// A panel as marked on one face.
struct SeenPanel {
    Face face = Face::front;
    PanelShape shape;
    Polygon cut;                      ///< the outline with its notches cut, corners rounded by chords: see cut_away
    std::vector<Edge> edges;          ///< edge i runs from corner i to the next
    std::vector<double> angles;       ///< degrees inside corner i
    std::vector<Diagonal> diagonals;  ///< all pairs of corners that no edge joins
    std::vector<Taper> tapers;        ///< over the limit
    std::vector<MarkedOpening> openings;
};

enum class Tool {
    circular_saw,
    table_saw,
    jigsaw,
    drill,
    step_drill,
    hole_saw,
    plane_or_sand,
    sander,
    hand,
    cloth,
    cartridge_gun,
    none,
};

/// Which faces are up is common practice, no source.
struct BenchRules {
    Tool outline_saw = Tool::circular_saw;  ///< or table_saw
    double named_from = 1;                  ///< mm: leans and tapers of more than this are named
    double step_drill_largest = 32;  ///< mm, round holes up to this; larger ones by hole saw. Set by the job's tools
    double drill_largest = 10;       ///< mm, round holes up to this straight away
};

/// A place to mark, as seen on the face that is up.
struct Place {
    Vec2 at;
    double diameter = 0;  ///< mm; 0: none
};

enum class Work {
    saw_outline,
    drill_corners,  ///< of a cut-out, before it is sawn
    drill,
    hole_saw_front,  ///< to half the thickness
    hole_saw_rear,   ///< the rest, on the pilot hole
    saw_opening,
    finish_edges,
    dry_fit,
    rear_film_off,
    scuff_rear,
    wipe_rear,
    tape_and_bead,  ///< onto the rear
    press_on,       ///< to the wall
    leave,          ///< alone, until the adhesive holds
    seal,           ///< the joints about the panel
    front_film_off,
};

struct Operation {
    Work work = Work::saw_outline;
    Tool tool = Tool::circular_saw;
    Face up = Face::front;
    bool mirrored = false;               ///< rear face up: left and right are swapped
    bool on_wall = false;                ///< not at the bench: the front is what is seen
    std::optional<std::size_t> opening;  ///< index into the openings
    std::vector<Place> places;
    std::string says;    ///< in words
    std::string source;  ///< of the tool and the face
};

/// What a stranger needs to cut the panel once, operations in order.
struct CuttingPlan {
    SeenPanel front;
    SeenPanel rear;
    std::vector<Operation> operations;
};

struct CuttingAnswer {
    std::optional<CuttingPlan> plan;
    std::string refused;  ///< names the opening or corner, and the number
};

/// The panel as marked on a face. Must hold: `plan_cutting` does not refuse it.
[[nodiscard]] SeenPanel see_panel(const PanelShape& panel, Face face, const BenchRules& rules);

/// Refuses an outline that is not convex and anticlockwise, an opening that crosses an edge and is no notch, or that
/// crosses another, and a cut-out with square corners: inside corners are rounded, never square (common practice, no
/// source).
[[nodiscard]] CuttingAnswer plan_cutting(const PanelShape& panel, const BenchRules& rules);

/// What is done with a panel once it is cut, in order. It comes with a film on each face. Both are marked on, so both
/// stay until nothing more is marked; the rear's must be off before anything is stuck there, else the panel hangs on
/// its film; the front's keeps sealant off the face, and goes while the sealant is wet, else it tears the skin (common
/// practice, no source). `seal_after`: hours from bonding to sealing.
[[nodiscard]] std::vector<Operation> plan_hanging(double seal_after);

}  // namespace standproud::cutting
