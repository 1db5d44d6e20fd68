// Bodies from parts and pipes.
#include <algorithm>
#include <cmath>
#include <tuple>

#include "clearance/convex.hpp"
#include "clearance/flat.hpp"

namespace standproud {

namespace {

Box box_of(const Convex& c) {
    const RoomPoint x{1, 0, 0};
    const RoomPoint y{0, 1, 0};
    const RoomPoint z{0, 0, 1};
    return {{-reach(c, -1.0 * x), -reach(c, -1.0 * y), -reach(c, -1.0 * z)}, {reach(c, x), reach(c, y), reach(c, z)}};
}

Box around(const Box& a, const Box& b) {
    return {{std::min(a.low.x, b.low.x), std::min(a.low.y, b.low.y), std::min(a.low.z, b.low.z)},
            {std::max(a.high.x, b.high.x), std::max(a.high.y, b.high.y), std::max(a.high.z, b.high.z)}};
}

void set_boxes(Body& body) {
    body.boxes.clear();
    if (body.pieces.empty()) return;
    for (const auto& piece : body.pieces) body.boxes.push_back(box_of(piece));
    body.box = body.boxes.front();
    for (const auto& box : body.boxes) body.box = around(body.box, box);
    if (body.boxes.size() == 1) body.boxes.clear();
}

bool is_rectangle(const Outline& o) {
    if (o.core.size() != 4 || o.disc > 0) return false;
    for (std::size_t i = 0; i < 4; ++i) {
        const Vec2 in = o.core[i] - o.core[(i + 3) % 4];
        const Vec2 out = o.core[(i + 1) % 4] - o.core[i];
        // Square to within 1e-9 mm over the longer side.
        if (std::abs(dot(in, out)) > same_length * std::min(norm(in), norm(out))) return false;
    }
    return true;
}

/// The box whose corner is `corner`, extruded along `along`; the other two sides make the outline.
Convex extruded_along(RoomPoint corner, RoomPoint x, double width, RoomPoint y, double height, RoomPoint along,
                      double length) {
    return {{corner, x, y, along}, {{{0, 0}, {width, 0}, {width, height}, {0, height}}, 0}, length, {}, 0};
}

void turn_box(Body& body) {
    if (body.pieces.size() != 1 || !body.holes.empty() || body.odd_holes) return;
    const Convex& c = body.pieces[0];
    if (!is_rectangle(c.outline) || c.taper.x != 0 || c.taper.y != 0) return;
    const auto& p = c.outline.core;
    const RoomPoint corner = c.place.to_room(p[0].x, p[0].y, 0);
    const double width = norm(p[1] - p[0]);
    const double height = norm(p[3] - p[0]);
    const Vec2 u = (1 / width) * (p[1] - p[0]);
    const RoomPoint x = u.x * c.place.x + u.y * c.place.y;
    const RoomPoint y = -u.y * c.place.x + u.x * c.place.y;
    const RoomPoint z = c.place.z;
    body.turned = {extruded_along(corner, y, height, z, c.length, x, width),
                   extruded_along(corner, z, c.length, x, width, y, height)};
}

Convex capsule_piece(const Capsule& capsule) {
    const RoomPoint along = capsule.to - capsule.from;
    const double length = norm(along);
    const RoomPoint z = length > 0 ? (1 / length) * along : RoomPoint{0, 0, 1};
    const RoomPoint x = square_to(z);
    return {{capsule.from, x, cross(z, x), z}, {{{0, 0}}, 0}, length, {}, capsule.radius};
}

Bend bend_at(RoomPoint before, RoomPoint corner, RoomPoint after, double radius) {
    const Bend none{corner, corner, corner, corner, 0};
    const double in_length = norm(corner - before);
    const double out_length = norm(after - corner);
    if (in_length < same_length || out_length < same_length) return none;
    const RoomPoint in = (1 / in_length) * (corner - before);
    const RoomPoint out = (1 / out_length) * (after - corner);
    const double turn = std::atan2(norm(cross(in, out)), dot(in, out));
    // A straight run has no bend; one that doubles back cannot have any.
    if (radius <= 0 || turn < 1e-9 || turn > pi - 1e-6) return none;
    // Neighbouring bends share a leg: each may use half of it.
    const double cut = std::min({radius * std::tan(turn / 2), in_length / 2, out_length / 2});
    const double bent = cut / std::tan(turn / 2);
    const RoomPoint inwards = unit(out - dot(out, in) * in);
    const RoomPoint centre = corner - cut * in + bent * inwards;
    return {corner - cut * in, centre + bent * unit(corner - centre), corner + cut * out, centre, bent};
}

/// Points on the arc no further apart than lets the chord keep within `chord` of it, both ends among them.
void add_bend(std::vector<RoomPoint>& line, const Bend& bend, double chord) {
    if (bend.radius == 0) {
        line.push_back(bend.middle);
        return;
    }
    const RoomPoint x = (1 / bend.radius) * (bend.start - bend.centre);
    const RoomPoint to_end = bend.end - bend.centre;
    const RoomPoint y = unit(to_end - dot(to_end, x) * x);
    const double turn = std::atan2(dot(to_end, y), dot(to_end, x));
    const double step = 2 * std::acos(std::max(0.0, 1 - chord / bend.radius));
    const int chords = std::max(1, static_cast<int>(std::ceil(turn / step)));
    for (int i = 0; i <= chords; ++i) {
        const double angle = turn * i / chords;
        line.push_back(bend.centre + bend.radius * (std::cos(angle) * x + std::sin(angle) * y));
    }
}

}  // namespace

Body make_body(const Part& part, std::size_t number) {
    const Vec2 taper = part.taper;
    Body body;
    body.part = number;
    for (auto& outline : convex_outlines(part.outline)) {
        body.pieces.push_back({part.place, std::move(outline), part.length, taper, 0});
    }
    for (const auto& hole : part.holes) {
        auto outlines = convex_outlines(hole);
        if (outlines.size() == 1) {
            body.holes.push_back(std::move(outlines[0]));
        } else {
            body.odd_holes = true;
        }
    }
    turn_box(body);
    set_boxes(body);
    return body;
}

Body make_body(const Capsule& capsule, std::size_t number) {
    Body body;
    body.part = number;
    body.pieces.push_back(capsule_piece(capsule));
    set_boxes(body);
    return body;
}

std::vector<Bend> bends_of(const Pipe& pipe) {
    std::vector<Bend> bends;
    const auto& p = pipe.points;
    for (std::size_t i = 1; i + 1 < p.size(); ++i) {
        bends.push_back(bend_at(p[i - 1], p[i], p[i + 1], pipe.bend_radius));
    }
    return bends;
}

Body make_body(const Pipe& pipe, std::size_t number, double chord) {
    Body body;
    body.part = number;
    const auto& p = pipe.points;
    if (p.empty()) return body;
    std::vector<RoomPoint> line{p.front()};
    for (const auto& bend : bends_of(pipe)) {
        if (bend.radius > 0) body.error = chord;
        add_bend(line, bend, chord);
    }
    if (p.size() > 1) line.push_back(p.back());
    const double radius = pipe.diameter / 2 + body.error;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        if (norm(line[i + 1] - line[i]) < same_length && line.size() > 2) continue;
        body.pieces.push_back(capsule_piece({line[i], line[i + 1], radius}));
    }
    if (body.pieces.empty()) body.pieces.push_back(capsule_piece({line[0], line[0], radius}));
    set_boxes(body);
    return body;
}

std::vector<Body> make_bodies(const std::vector<Part>& parts) {
    std::vector<Body> bodies;
    bodies.reserve(parts.size());
    for (std::size_t i = 0; i < parts.size(); ++i) bodies.push_back(make_body(parts[i], i));
    return bodies;
}

namespace {

constexpr auto values(Vec2 p) { return std::tuple(p.x, p.y); }
constexpr auto values(RoomPoint p) { return std::tuple(p.x, p.y, p.z); }

bool same(const Frame& a, const Frame& b) {
    return values(a.origin) == values(b.origin) && values(a.x) == values(b.x) && values(a.y) == values(b.y) &&
           values(a.z) == values(b.z);
}

bool same(const Outline& a, const Outline& b) {
    return a.disc == b.disc &&
           std::ranges::equal(
               a.core, b.core, {}, [](Vec2 p) { return values(p); }, [](Vec2 p) { return values(p); });
}

bool same(const Convex& a, const Convex& b) {
    return a.length == b.length && a.ball == b.ball && values(a.taper) == values(b.taper) && same(a.place, b.place) &&
           same(a.outline, b.outline);
}

}  // namespace

bool same(const Body& a, const Body& b) {
    // Boxes and turned pieces follow from these.
    return a.odd_holes == b.odd_holes && a.error == b.error &&
           std::ranges::equal(a.pieces, b.pieces, [](const Convex& x, const Convex& y) { return same(x, y); }) &&
           std::ranges::equal(a.holes, b.holes, [](const Outline& x, const Outline& y) { return same(x, y); });
}

Body moved(const Body& body, RoomPoint by) {
    Body there = body;
    for (auto& piece : there.pieces) piece.place.origin = piece.place.origin + by;
    for (auto& piece : there.turned) piece.place.origin = piece.place.origin + by;
    set_boxes(there);
    return there;
}

}  // namespace standproud
