#include "modeler/parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "panels/bounds.hpp"
#include "parts/make.hpp"

namespace standproud {

Frame moved_out(const Frame& frame, double n) { return {frame.to_room(0, 0, n), frame.x, frame.y, frame.z}; }

double depth_of(const Frame& wall, const Frame& place, Vec2 at) {
    const RoomPoint foot = wall.to_room(at.x, at.y, 0);
    return dot(place.z, place.origin - foot) / dot(place.z, wall.z);
}

double volume(const Part& part) {
    const auto over = [&](const Profile& shape) {
        return area(shape) * (part.length + dot(part.taper, centroid(shape)));
    };
    double net = over(part.outline);
    for (const auto& hole : part.holes) net -= over(hole);
    return net;
}

namespace {

Polygon rectangle(double left, double right, double bottom, double top) {
    return {{{left, bottom}, {right, bottom}, {right, top}, {left, top}}};
}

void add_masonry(const Model& model, std::size_t w, std::vector<Part>& parts) {
    const Wall& wall = model.job.walls[w];
    const Frame bare = bare_plane(model.room, w);
    const double thickness = wall.masonry->thickness;
    // In front of the deepest body the wall is chased out; behind it the wall is whole.
    double chase = 0;
    for (const auto& placed : model.fittings) {
        if (placed.wall != w) continue;
        const double face = depth_of(model.room.walls[w], bare, {placed.u, placed.v});
        for (const auto& part : type_of(model, placed).parts) {
            if (const auto datum = datum_of(model, placed, part)) {
                chase = std::max(chase, face - reach_of(part, placed, *datum).back);
            }
        }
    }
    const double deep = chase > 0 ? std::min(thickness, chase + 10) : 0;
    std::vector<HalfSpace> bounds = ends_of(model.job, model.room, w, behind_face);
    bounds.push_back(above_level(0));
    bounds.push_back(under_top(model.job, model.room, w, 0));
    const Polygon outline = outline_within(model.job, w, bare, -thickness, 0, bounds);
    const auto slice = [&](const char* which, double from, double to, bool open) {
        const Frame place = moved_out(bare, from);
        const Part slab{fmt::format("{}/{}", wall.id, which),
                        "masonry behind the bare face",
                        "builder",
                        "masonry",
                        wall.id,
                        "",
                        wall.masonry->source,
                        place,
                        outline,
                        {},
                        to - from,
                        {}};
        add_slab(model, w, slab, open, false, parts);
    };
    if (deep < thickness) slice("masonry", -thickness, -deep, false);
    if (deep > 0) slice("masonry-chased", -deep, 0, true);
}

void add_studs(const Model& model, std::size_t w, std::vector<Part>& parts) {
    const Wall& wall = model.job.walls[w];
    const Studs& studs = *wall.studs;
    int number = 0;
    for (const double centre : studs.centres) {
        const Part stud{fmt::format("{}/stud-{}", wall.id, ++number),
                        fmt::format("stud at {:g}", centre),
                        "builder",
                        "frame",
                        wall.id,
                        "",
                        studs.source,
                        moved_out(bare_plane(model.room, w), -studs.set_back - studs.depth),
                        rectangle(centre - studs.width / 2, centre + studs.width / 2, 0, wall.height),
                        {},
                        studs.depth,
                        {}};
        add_slab(model, w, stud, false, false, parts);
    }
}

/// A noggin is cut between the studs that it meets.
void add_noggins(const Model& model, std::size_t w, std::vector<Part>& parts) {
    const Wall& wall = model.job.walls[w];
    int number = 0;
    for (const auto& noggin : wall.noggins) {
        std::vector<std::pair<double, double>> lengths{{noggin.left, noggin.right}};
        if (wall.studs && noggin.set_back < wall.studs->set_back + wall.studs->depth &&
            wall.studs->set_back < noggin.set_back + noggin.depth) {
            for (const double centre : wall.studs->centres) {
                std::vector<std::pair<double, double>> cut;
                for (const auto& [from, to] : lengths) {
                    const double left = centre - wall.studs->width / 2;
                    const double right = centre + wall.studs->width / 2;
                    if (std::min(to, left) > from) cut.emplace_back(from, std::min(to, left));
                    if (to > std::max(from, right)) cut.emplace_back(std::max(from, right), to);
                }
                lengths = cut;
            }
        }
        for (const auto& [from, to] : lengths) {
            const Part part{fmt::format("{}/noggin-{}", wall.id, ++number),
                            fmt::format("noggin at {:g}", noggin.height),
                            "builder",
                            "frame",
                            wall.id,
                            "",
                            noggin.source,
                            moved_out(bare_plane(model.room, w), -noggin.set_back - noggin.depth),
                            rectangle(from, to, noggin.height - noggin.size / 2, noggin.height + noggin.size / 2),
                            {},
                            noggin.depth,
                            {}};
            add_slab(model, w, part, false, false, parts);
        }
    }
}

void add_tray(const Model& model, std::vector<Part>& parts) {
    if (!model.job.tray || model.job.tray->rim <= model.job.tray->base) return;
    const Tray& tray = *model.job.tray;
    const std::size_t w = wall_index(model.job, tray.wall);
    if (w == model.job.walls.size()) return;
    const Frame& wall = model.room.walls[w];
    // In plan: x = u, y = -n, so that z is up.
    Polygon plan = rectangle(tray.left, tray.left + tray.width, -tray.depth, 0);
    for (const Side side : {Side::left, Side::right}) {
        const Corner* corner = corner_at(model.room, w, side);
        if (!corner || corner->angle >= 180) continue;
        const Frame& other = model.room.walls[neighbour(*corner, w)];
        const Vec2 normal{dot(other.z, wall.x), -dot(other.z, wall.z)};
        plan = clipped(plan, normal, dot(other.z, other.origin - wall.origin));
    }
    if (plan.points.size() < 3 || area(plan) <= 0) return;
    const Frame place{wall.to_room(0, tray.base, 0), wall.x, -1.0 * wall.z, wall.y};
    parts.push_back(
        {"tray", tray.name, "plumber", "tray", "", "", tray.source, place, plan, {}, tray.rim - tray.base, {}});
}

}  // namespace

void add_frame_parts(const Model& model, std::vector<Part>& parts) {
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        if (model.job.walls[w].masonry) add_masonry(model, w, parts);
        if (model.job.walls[w].studs) add_studs(model, w, parts);
        add_noggins(model, w, parts);
    }
}

std::vector<Part> build_parts(const Model& model) {
    std::vector<Part> parts;
    add_frame_parts(model, parts);
    add_tray(model, parts);
    add_layer_parts(model, parts);
    add_fitting_parts(model, parts);
    add_screens(model, parts);
    return parts;
}

}  // namespace standproud
