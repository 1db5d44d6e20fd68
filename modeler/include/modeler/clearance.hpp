// How far any two things in the room are apart, or how far one is inside the other. No kernel here.
//
// A thing is a `Body`: convex pieces less holes, made from a part (a prism) or from a pipe (a chain of capsules).
// Bodies are solid: one inside another overlaps it. A thing in another's hole is clear of it by what is left round it.
// Nothing is judged here: which contacts belong, and how much room is enough, is for the rules.
//
// Numeric error. Prisms along one direction (and boxes along any of their three) are closed forms in the plane:
// 1e-9 mm at room size. All else is iterated until lower and upper bound are within 1e-6 mm; the gap that is left is
// given with each answer.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "modeler/parts.hpp"

namespace standproud {

/// Bodies that overlap by no more than this touch, mm: a thousand times the error of the closed forms, and what the
/// iterations are held to.
inline constexpr double touch_length = 1e-6;

/// A convex outline: `core` grown by `disc`. One point is a circle, two are a slot.
struct Outline {
    std::vector<Vec2> core;  ///< convex, anticlockwise, no corner twice; mm
    double disc = 0;         ///< mm
};

/// A convex piece: an outline in the x-y plane of `place`, extruded from z = 0 to z = length + taper.(x, y), then grown
/// by `ball` all round. Must hold: the far face lies above z = 0 over the whole outline.
struct Convex {
    Frame place;
    Outline outline;
    double length = 0;  ///< mm
    Vec2 taper;         ///< rise of the far face per mm of x and of y
    double ball = 0;    ///< mm
};

/// Sides along the room's axes, mm.
struct Box {
    RoomPoint low;
    RoomPoint high;
};

/// The union of `pieces` less the `holes`, which go through along z of the pieces' common place. Without pieces it is
/// nothing and near nothing.
struct Body {
    std::size_t part = 0;        ///< the caller's number for it, comes back in every answer
    std::vector<Convex> pieces;  ///< with holes: all have the same place, length and taper
    std::vector<Outline> holes;  ///< inside the union and apart from each other
    std::vector<Convex> turned;  ///< a box again, extruded along its two other directions; else empty
    bool odd_holes = false;      ///< a hole that is not convex was left out: only the kernel can tell
    double error = 0;            ///< the pieces stand for the true shape within this, mm
    Box box;                     ///< round all of it
    std::vector<Box> boxes;      ///< round each piece, where there are several; else empty
};

/// A straight length of round bar with round ends.
struct Capsule {
    RoomPoint from;
    RoomPoint to;
    double radius = 0;  ///< mm
};

/// A pipe or cable: a polyline with its corners bent. Ends are taken as round, half a diameter beyond the last point.
struct Pipe {
    std::vector<RoomPoint> points;  ///< at least two
    double diameter = 0;            ///< outside, mm
    double bend_radius = 0;         ///< of the middle line, mm; made smaller where the legs are too short for it
};

/// A corner of a pipe as it is bent: an arc of the middle line. Where there is no bend, all points are the corner and
/// the radius is 0.
struct Bend {
    RoomPoint start, middle, end;
    RoomPoint centre;
    double radius = 0;  ///< mm
};
/// One for each inner point of the pipe. A bend uses at most half of each leg; a pipe that doubles back is not bent.
std::vector<Bend> bends_of(const Pipe& pipe);

/// The part as a body; an outline that is not convex becomes several pieces. Must hold: make_solid would take the part.
Body make_body(const Part& part, std::size_t number);
Body make_body(const Capsule& capsule, std::size_t number);
/// Bends become chords no further than `chord` mm from the arc, and as much thicker: never less than the pipe.
Body make_body(const Pipe& pipe, std::size_t number, double chord = 0.05);
std::vector<Body> make_bodies(const std::vector<Part>& parts);

/// Whether two bodies are the same to the last bit, their numbers left out.
bool same(const Body& a, const Body& b);

/// The same body elsewhere.
Body moved(const Body& body, RoomPoint by);

/// How two bodies stand. `on_b - on_a` = distance x direction, always.
struct Separation {
    std::size_t a = 0;    ///< Body::part of the first
    std::size_t b = 0;    ///< Body::part of the second
    double distance = 0;  ///< between them, mm; below 0 they overlap, and this is less the depth
    RoomPoint direction;  ///< unit, from a to b. Moving b along it by the depth frees it; against it by the distance,
                          ///< the two touch
    RoomPoint on_a;       ///< nearest, or deepest, point of a
    RoomPoint on_b;
    RoomPoint common;     ///< overlapping: a point in both; else half-way between them
    double error = 0;     ///< the true distance or depth is within this, mm; a depth is never too small
    bool least = true;    ///< overlapping: no shorter push frees them. false: this one does, a shorter one may
    bool decided = true;  ///< false: only the kernel can tell (drilled through drilled, holes that are not convex)
};

/// Solid semantics: containment is overlap. Must hold: both bodies have pieces.
Separation separation(const Body& a, const Body& b);

/// The same by the general iteration alone, without closed forms: to hold those to account.
Separation separation_general(const Body& a, const Body& b);

bool overlaps(const Separation& s);  ///< by more than touch_length and its error
bool touches(const Separation& s);   ///< neither overlaps nor is apart by more than touch_length and its error

/// Volume that both fill, mm3. Closed form for prisms along one direction, drilled or not; nothing otherwise: ask the
/// kernel (modeler/kernel_clearance.hpp).
std::optional<double> common_volume(const Body& a, const Body& b);

/// What pairs to look for.
struct Nearness {
    double largest = 0;  ///< the largest clearance that applies to any pair, mm
    /// For a pair of indices into the bodies, lower first: look within this many mm, at most `largest`; below 0 leaves
    /// the pair out. Called from several threads at once. Not set: `largest` for all.
    std::function<double(std::size_t, std::size_t)> within;
    unsigned threads = 1;  ///< 0: as many as the machine has. The result does not depend on it.
};

/// All pairs nearer than asked, overlapping ones among them, lower index first, in order of (a, b). Here a and b are
/// indices into `bodies`, whatever Body::part says.
std::vector<Separation> near_pairs(const std::vector<Body>& bodies, const Nearness& nearness);

/// The same when only the bodies `changed` differ from those of `previous`, or are new at the end. Bodies keep their
/// index; one that is gone has no pieces. `nearness` must be that of `previous`, and may differ only for changed ones.
std::vector<Separation> near_pairs(const std::vector<Separation>& previous, const std::vector<Body>& bodies,
                                   const std::vector<std::size_t>& changed, const Nearness& nearness);

/// Pairs of boxes nearer than `within` along every axis, lower first, in order. The broad phase by itself.
std::vector<std::pair<std::size_t, std::size_t>> near_boxes(const std::vector<Body>& bodies, double within);

}  // namespace standproud
