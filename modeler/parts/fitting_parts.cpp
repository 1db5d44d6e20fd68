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
        for (const auto& part : type_of(model, placed).parts) {
            const std::string id = numbered(fitting_of(model, placed).id, part.role, ++count[part.role]);
            if (auto made = in_place(model, placed, part, id, part.role)) parts.push_back(std::move(*made));
        }
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
