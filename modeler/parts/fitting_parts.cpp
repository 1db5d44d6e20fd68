// The solids of fittings, in their places.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "parts/make.hpp"

namespace standproud {

Reach reach_of(const TypePart& part, const PlacedFitting& placed, double datum) {
    const auto e = extent(part.outline);
    const double end = part.start + part.length;
    switch (part.axis) {
        case TypePart::Axis::out:
            return {placed.u + e[0], placed.u + e[1],    placed.v + e[2],
                    placed.v + e[3], datum + part.start, datum + end};
        case TypePart::Axis::up:
            return {placed.u + e[0], placed.u + e[1], placed.v + part.start,
                    placed.v + end,  datum + e[2],    datum + e[3]};
        case TypePart::Axis::across:
            return {placed.u + part.start, placed.u + end, placed.v + e[0],
                    placed.v + e[1],       datum + e[2],   datum + e[3]};
    }
    return {};
}

std::optional<double> datum_of(const Model& model, const PlacedFitting& placed, const TypePart& part) {
    const double bare = drawn_face(model.room, placed.wall, placed.u, placed.v);
    if (part.datum == TypePart::Datum::face) {
        return bare + build_up(model.job, model.room, placed.wall, placed.u, placed.v);
    }
    const auto& seat = fitting_of(model, placed).seat;
    if (seat) return bare + seat->value;
    if (type_of(model, placed).family != Family::screw) return std::nullopt;
    // A screwed-on item has no seat of its own: its screws go into what stands behind the wall.
    const auto backing = backing_at(model.job, placed.wall, placed.u, placed.v);
    return backing ? std::optional(bare + backing->face) : std::nullopt;
}

namespace {

/// Which of a fitting's solids passes its hole, where the catalogue draws none there.
const char* passing_role(Family family) {
    switch (family) {
        case Family::spindle:
        case Family::window:
            return "spindle";
        case Family::thread:
            return "tail";
        case Family::screw:
            return "screw";
        case Family::plate:
            return "box";
    }
    return "";
}

/// Whether the parts that are drawn out of the wall over `at` reach from n = `from` to n = `to` without a break.
bool drawn_over(const Model& model, const PlacedFitting& placed, Vec2 at, double from, double to) {
    std::vector<std::pair<double, double>> drawn;
    for (const auto& part : type_of(model, placed).parts) {
        if (part.axis != TypePart::Axis::out || margin_inside(RoundedRect::circle(at, 0), part.outline) < 0) continue;
        if (const auto datum = datum_of(model, placed, part)) {
            drawn.emplace_back(*datum + part.start, *datum + part.start + part.length);
        }
    }
    std::sort(drawn.begin(), drawn.end());
    double reached = from;
    bool any = false;
    for (const auto& [back, front] : drawn) {
        if (front < from - same_length) continue;
        if (back > reached + same_length) break;
        any = true;
        reached = std::max(reached, front);
    }
    return any && reached >= to - same_length;
}

}  // namespace

std::vector<TypePart> passing_parts(const Model& model, const PlacedFitting& placed) {
    const FittingType& type = type_of(model, placed);
    std::vector<TypePart> passing;
    if (type.holes.empty()) return passing;
    const double face = drawn_face(model.room, placed.wall, placed.u, placed.v) +
                        build_up(model.job, model.room, placed.wall, placed.u, placed.v);
    for (const auto& hole : type.holes) {
        if (!hole.passes) continue;
        TypePart part;
        part.role = passing_role(type.family);
        part.outline = *hole.passes;
        part.source = hole.source;
        if (type.family == Family::screw && type.screw_length) {
            // As long as it is, whatever stands behind.
            part.datum = TypePart::Datum::face;
            part.length = type.screw_length->value - (type.base_thickness ? type.base_thickness->value : 0);
            part.start = -part.length;
            if (drawn_over(model, placed, hole.passes->centre, face - part.length, face)) continue;
        } else {
            const auto seat = datum_of(model, placed, part);
            if (!seat) continue;
            part.length = face - *seat;
            // Between the front of a box and the face there is only air, once the box is drawn.
            if (drawn_over(model, placed, hole.passes->centre, *seat, type.family == Family::plate ? *seat : face))
                continue;
        }
        if (part.length > same_length) passing.push_back(std::move(part));
    }
    return passing;
}

namespace {

struct Set {
    Frame place;
    Profile outline;
};

Set set_in_place(const TypePart& part, const PlacedFitting& placed, const Frame& wall, double datum) {
    switch (part.axis) {
        case TypePart::Axis::out:
            return {moved_out(wall, datum + part.start), moved(part.outline, {placed.u, placed.v})};
        case TypePart::Axis::up: {
            // Outline in (u, depth); in plan y = -n keeps z upright, so the outline is mirrored in depth.
            const Frame place{wall.to_room(placed.u, placed.v + part.start, datum), wall.x, -1.0 * wall.z, wall.y};
            RoundedRect outline = part.outline;
            outline.centre.y = -outline.centre.y;
            return {place, outline};
        }
        case TypePart::Axis::across:
            return {{wall.to_room(placed.u + part.start, placed.v, datum), wall.y, wall.z, wall.x}, part.outline};
    }
    return {};
}

}  // namespace

namespace {

/// One solid of a fitting; nothing when its seat is unknown.
std::optional<Part> in_place(const Model& model, const PlacedFitting& placed, const TypePart& part,
                             const std::string& id, const std::string& layer) {
    const Fitting& fitting = fitting_of(model, placed);
    const auto datum = datum_of(model, placed, part);
    if (!datum) return std::nullopt;
    auto [place, outline] = set_in_place(part, placed, model.room.walls[placed.wall], *datum);
    return Part{id,
                fmt::format("{}, {}", fitting.name, part.role),
                to_string(type_of(model, placed).trade),
                layer,
                fitting.wall,
                fitting.id,
                part.source,
                place,
                outline,
                {},
                part.length,
                {}};
}

std::string numbered(const std::string& fitting, const std::string& role, int number) {
    return number == 1 ? fmt::format("{}/{}", fitting, role) : fmt::format("{}/{}-{}", fitting, role, number);
}

}  // namespace

void add_fitting_parts(const Model& model, std::vector<Part>& parts) {
    for (const auto& placed : model.fittings) {
        std::map<std::string, int> count;
        const auto add = [&](const TypePart& part) {
            const std::string id = numbered(fitting_of(model, placed).id, part.role, ++count[part.role]);
            if (auto made = in_place(model, placed, part, id, part.role)) parts.push_back(std::move(*made));
        };
        for (const auto& part : type_of(model, placed).parts) add(part);
        for (const auto& part : passing_parts(model, placed)) add(part);
    }
}

std::vector<Part> build_access(const Model& model) {
    std::vector<Part> parts;
    for (const auto& placed : model.fittings) {
        std::map<std::string, int> count;
        for (const auto& space : type_of(model, placed).access) {
            const std::string id = numbered(fitting_of(model, placed).id, space.role, ++count[space.role]);
            if (auto made = in_place(model, placed, space, id, space.role)) parts.push_back(std::move(*made));
        }
    }
    add_swings(model, parts);
    return parts;
}

}  // namespace standproud
