#include "panels/bounds.hpp"

#include <algorithm>
#include <cmath>

#include "modeler/gaps.hpp"
#include "room/corners.hpp"

// Corner rule. Walls are lined in the job's order. Going outwards from the bare faces stage by stage (first
// boards, second boards, membranes, then bed and panel together), the wall lined first runs to what its neighbour
// already carries, and the neighbour stops at the face that the first wall has by then. With depths c measured from
// the other wall's planes, slices kept to n_other >= c (internal corner) or n_other <= c (external corner) cannot
// overlap: see tests/panels_test.cpp. Edges are cut square. Corners within 45 degrees of straight are mitred.

namespace standproud {

namespace {

constexpr int panel_stage = 1000;

/// The stage a layer is put on at: boards one after the other, membranes after all boards, bed and panel last.
int stage_of(const std::vector<Layer>& layers, int index) {
    if (index < 0) return behind_face;
    const Layer& layer = layers[static_cast<std::size_t>(index)];
    if (layer.kind >= LayerKind::bed) return panel_stage;
    int ordinal = 0;
    for (int i = 0; i < index; ++i) ordinal += layers[static_cast<std::size_t>(i)].kind == layer.kind ? 1 : 0;
    return static_cast<int>(layer.kind) * 100 + ordinal;
}

/// What a wall carries, as depths over its bare plane, or over the back of its panels.
struct Carried {
    double before = 0;   ///< over the bare plane: its face before a stage
    double with = 0;     ///< and after it
    bool panel = false;  ///< after it, the wall has panels: then `with` is over their backs
};

Carried carried_at(const Wall& wall, int stage) {
    Carried c;
    if (stage == behind_face) {
        c.before = wall.masonry ? -wall.masonry->thickness : 0;
        return c;
    }
    double panels = 0;
    for (std::size_t i = 0; i < wall.layers.size(); ++i) {
        const int of_layer = stage_of(wall.layers, static_cast<int>(i));
        const Layer& layer = wall.layers[i];
        if (of_layer < stage) c.before += layer.thickness.value;
        if (of_layer <= stage) c.with += layer.thickness.value;
        if (of_layer <= stage && layer.kind == LayerKind::panel) panels += layer.thickness.value;
    }
    c.panel = panels > 0;
    if (c.panel) c.with = panels;
    return c;
}

/// The line of a bare corner or free end: a point at datum level, and the way it runs upwards (not of unit length).
struct EndLine {
    RoomPoint at;
    RoomPoint up;
};

EndLine end_line(const Job& job, const Room& room, std::size_t wall, Side side) {
    const Frame& frame = room.walls[wall];
    const Face& face = room.faces[wall];
    const double drift = side == Side::left ? face.left_drift : face.right_drift;
    return {frame.to_room(bare_corner(job, room, wall, side, 0), 0, face.bare.plane(0)),
            drift * frame.x + frame.y + face.bare.lean * frame.z};
}

/// Everything on the wall's side of an upright-standing plane through its end line that contains the direction `out`.
HalfSpace inside_of(const EndLine& line, RoomPoint out, RoomPoint inwards, double gap) {
    RoomPoint normal = cross(line.up, out);
    normal = 1 / norm(normal) * normal;
    if (dot(normal, inwards) < 0) normal = -1.0 * normal;
    return {normal, dot(normal, line.at) + gap};
}

/// What a layer leaves open at an end of its wall: bed and panel their gap, the others nothing.
double gap_here(const Job& job, const Room& room, std::size_t wall, Side side, int layer) {
    if (stage_of(job.walls[wall].layers, layer) != panel_stage) return 0;
    return gap_at(job, room, wall, side == Side::left ? Edge::left : Edge::right).width;
}

std::vector<HalfSpace> corner_bounds(const Job& job, const Room& room, const Corner& corner, std::size_t wall,
                                     int layer) {
    const std::size_t other = neighbour(corner, wall);
    const Side side = corner.left_wall == wall ? Side::right : Side::left;
    const int stage = stage_of(job.walls[wall].layers, layer);
    const double gap = gap_here(job, room, wall, side, layer);
    const Carried theirs = carried_at(job.walls[other], stage);
    if (is_wide(corner.angle)) {
        const double own = theirs.panel ? gap / 2 : gap;
        const RoomPoint inwards = side == Side::left ? room.walls[wall].x : -1.0 * room.walls[wall].x;
        return {inside_of(end_line(job, room, corner.left_wall, Side::right), room.walls[wall].z + room.walls[other].z,
                          inwards, own)};
    }
    const bool internal = corner.angle < 180;
    const Frame face = theirs.panel ? panel_plane(job, room, other) : bare_plane(room, other);
    if (!lined_before(job, wall, other)) {
        // External: this panel covers the first one's edge and ends flush with its face.
        return {internal ? in_front_of(face, theirs.with + gap) : behind(face, theirs.with)};
    }
    if (internal) return {in_front_of(bare_plane(room, other), theirs.before + gap)};
    std::vector<HalfSpace> bounds{behind(bare_plane(room, other), theirs.before)};
    // External: the neighbour's bed and panel will cover this edge, so leave the gap behind the panel's back as well.
    if (theirs.panel) bounds.push_back(behind(face, -gap));
    return bounds;
}

HalfSpace free_end(const Job& job, const Room& room, std::size_t wall, Side side, int layer) {
    const Frame& frame = room.walls[wall];
    return inside_of(end_line(job, room, wall, side), frame.z, side == Side::left ? frame.x : -1.0 * frame.x,
                     gap_here(job, room, wall, side, layer));
}

}  // namespace

std::vector<HalfSpace> ends_of(const Job& job, const Room& room, std::size_t wall, int layer) {
    std::vector<HalfSpace> bounds;
    for (const Side side : {Side::left, Side::right}) {
        const Corner* corner = corner_at(room, wall, side);
        const auto here = corner ? corner_bounds(job, room, *corner, wall, layer)
                                 : std::vector<HalfSpace>{free_end(job, room, wall, side, layer)};
        bounds.insert(bounds.end(), here.begin(), here.end());
    }
    return bounds;
}

HalfSpace under_top(const Job& job, const Room& room, std::size_t wall, double gap) {
    const Frame& frame = room.walls[wall];
    const RoomPoint along = frame.x + room.faces[wall].fall * frame.y;
    RoomPoint down = cross(along, frame.z);
    down = 1 / norm(down) * down;
    if (down.z > 0) down = -1.0 * down;
    return {down, dot(down, frame.to_room(0, wall_top(job, room, wall, 0), 0)) + gap};
}

HalfSpace above_level(double v) { return {{0, 0, 1}, v}; }
HalfSpace below_level(double v) { return {{0, 0, -1}, -v}; }

Polygon outline_within(const Job& job, std::size_t wall, const Frame& place, double from, double to,
                       const std::vector<HalfSpace>& bounds) {
    constexpr double beyond = 1000;  // more than any layer reaches past its wall
    const double right = job.walls[wall].width + beyond;
    const double top = job.walls[wall].height + beyond;
    Polygon outline{{{-beyond, -beyond}, {right, -beyond}, {right, top}, {-beyond, top}}};
    for (const auto& bound : bounds) {
        for (const double z : {from, to}) {
            outline = clipped(outline, place, z, bound);
            if (outline.points.size() < 3) return {};
        }
    }
    return outline;
}

}  // namespace standproud
