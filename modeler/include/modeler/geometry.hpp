// Plain geometry: points that name their frame, outlines, and their exact areas and clearances.
// Millimetres and degrees. No kernel here.
#pragma once

#include <array>
#include <utility>
#include <variant>
#include <vector>

namespace standproud {

inline constexpr double pi = 3.14159265358979323846;

/// Numbers nearer than this are the same number: 1e-9 mm, some thousand times the rounding error of a
/// double at room size, and a millionth of what a tape shows. Every threshold is judged with it.
inline constexpr double same_length = 1e-9;

/// One end of a wall, seen from inside the room.
enum class Side { left, right };

/// A point or direction in the plane of an outline.
struct Vec2 {
    double x = 0;
    double y = 0;
};

/// A point or direction in the room frame: right-handed, z up from the job's datum level, mm.
struct RoomPoint {
    double x = 0;
    double y = 0;
    double z = 0;
};

/// A point in a wall's frame, seen from inside the room: u from the left bare corner to the right,
/// v up from the datum, n out of the wall into the room with n = 0 on the bare face. mm.
struct WallPoint {
    double u = 0;
    double v = 0;
    double n = 0;
};

constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
constexpr Vec2 operator*(double s, Vec2 a) { return {s * a.x, s * a.y}; }
constexpr double dot(Vec2 a, Vec2 b) { return a.x * b.x + a.y * b.y; }
constexpr double cross(Vec2 a, Vec2 b) { return a.x * b.y - a.y * b.x; }
double norm(Vec2 a);

constexpr RoomPoint operator+(RoomPoint a, RoomPoint b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
constexpr RoomPoint operator-(RoomPoint a, RoomPoint b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
constexpr RoomPoint operator*(double s, RoomPoint a) { return {s * a.x, s * a.y, s * a.z}; }
constexpr double dot(RoomPoint a, RoomPoint b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
constexpr RoomPoint cross(RoomPoint a, RoomPoint b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
double norm(RoomPoint a);

/// A right-handed orthonormal frame in the room.
struct Frame {
    RoomPoint origin;
    RoomPoint x{1, 0, 0};
    RoomPoint y{0, 1, 0};
    RoomPoint z{0, 0, 1};

    [[nodiscard]] RoomPoint to_room(double a, double b, double c) const;
    [[nodiscard]] RoomPoint to_room(WallPoint p) const { return to_room(p.u, p.v, p.n); }
    /// Coordinates of a room point along x, y, z of this frame.
    [[nodiscard]] std::array<double, 3> from_room(RoomPoint p) const;
};

/// All points of the room with dot(normal, p) >= offset. Must hold: normal is a unit vector.
struct HalfSpace {
    RoomPoint normal;
    double offset = 0;
};

/// What lies at z >= depth (or, `behind`, at z <= depth) of a frame.
HalfSpace in_front_of(const Frame& plane, double depth);
HalfSpace behind(const Frame& plane, double depth);

/// A rectangle with rounded corners, sides along the axes. A circle is one whose radius is half its width;
/// a square-cornered plate is one with radius 0. Holes, cut-outs and flanges are all of this kind.
/// Must hold: 0 <= radius <= half_width, half_height.
struct RoundedRect {
    Vec2 centre;
    double half_width = 0;
    double half_height = 0;
    double radius = 0;

    static RoundedRect circle(Vec2 centre, double diameter);
    static RoundedRect rect(Vec2 centre, double width, double height, double radius = 0);
    [[nodiscard]] bool is_circle() const;
};

/// A closed polygon, corners anticlockwise, last not repeated.
struct Polygon {
    std::vector<Vec2> points;
};

using Profile = std::variant<RoundedRect, Polygon>;

/// Exact areas, mm2.
double area(const RoundedRect& shape);
double area(const Polygon& shape);
double area(const Profile& shape);

Profile moved(const Profile& shape, Vec2 by);
RoundedRect moved(RoundedRect shape, Vec2 by);

/// Least x, greatest x, least y, greatest y.
std::array<double, 4> extent(const Profile& shape);

/// How much `inner` could grow on all sides and still lie inside `outer`; negative: it sticks out by that much.
/// Exact: the least difference of the two support functions over all directions.
double margin_inside(const RoundedRect& inner, const RoundedRect& outer);

/// The same for a convex polygon.
double margin_inside(const RoundedRect& inner, const Polygon& outer);

/// The distance between two separate shapes; 0 or less when they touch or overlap (then not a depth).
double gap_between(const RoundedRect& a, const RoundedRect& b);

/// The parts of a horizontal line y inside the shape, as pairs (from, to) in x, in order.
std::vector<std::pair<double, double>> spans_at(const Profile& shape, double y);

/// The part of a convex polygon with dot(normal, p) >= offset.
Polygon clipped(const Polygon& shape, Vec2 normal, double offset);

/// The part of a convex polygon, drawn at depth z of a frame, that lies in a half space.
Polygon clipped(const Polygon& shape, const Frame& place, double z, const HalfSpace& kept);

/// The middle (centroid) of the area of an outline.
Vec2 centroid(const Profile& shape);

}  // namespace standproud
