// The solids of fittings, in their places.
#include <fmt/format.h>

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

void add_fitting_parts(const Model& model, std::vector<Part>& parts) {
    for (const auto& placed : model.fittings) {
        const Fitting& fitting = fitting_of(model, placed);
        const FittingType& type = type_of(model, placed);
        const Frame& wall = model.room.walls[placed.wall];
        std::map<std::string, int> count;
        for (const auto& part : type.parts) {
            const int number = ++count[part.role];
            const auto datum = datum_of(model, placed, part);
            if (!datum) continue;
            auto [place, outline] = set_in_place(part, placed, wall, *datum);
            const std::string id = number == 1 ? fmt::format("{}/{}", fitting.id, part.role)
                                               : fmt::format("{}/{}-{}", fitting.id, part.role, number);
            parts.push_back({id,
                             fmt::format("{}, {}", fitting.name, part.role),
                             to_string(type.trade),
                             part.role,
                             fitting.wall,
                             fitting.id,
                             part.source,
                             place,
                             outline,
                             {},
                             part.length,
                             {}});
        }
    }
}

}  // namespace standproud
