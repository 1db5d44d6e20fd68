// Glass screens and doors, and what they sweep.
#include <fmt/format.h>

#include <cmath>

#include "modeler/screens.hpp"
#include "parts/make.hpp"

namespace standproud {

namespace {

struct Hinge {
    Frame place;  ///< x = u, y = -n, z up, at the screen's foot on the finished face
};

std::optional<Hinge> hinge_of(const Model& model, const Screen& screen) {
    const std::size_t w = wall_index(model.job, screen.wall);
    const double v = (screen.bottom + screen.top) / 2;
    const auto u = screen_place(model, screen);
    if (!u) return std::nullopt;
    const Frame& wall = model.room.walls[w];
    const double face = drawn_face(model.room, w, *u, v) + build_up(model.job, model.room, w, *u, v);
    return Hinge{{wall.to_room(*u, screen.bottom, face), wall.x, -1.0 * wall.z, wall.y}};
}

/// Straight out is (0, -1); positive angles turn to the right.
Vec2 at_angle(double degrees, double distance) {
    const double a = degrees * pi / 180;
    return {distance * std::sin(a), -distance * std::cos(a)};
}

Part part_of(const Screen& screen, const std::string& id, const std::string& layer, const Frame& place,
             Polygon outline) {
    return {id,
            screen.name,
            "installer",
            layer,
            screen.wall,
            screen.id,
            screen.source,
            place,
            std::move(outline),
            {},
            screen.top - screen.bottom,
            {}};
}

}  // namespace

void add_screens(const Model& model, std::vector<Part>& parts) {
    for (const auto& screen : model.job.screens) {
        const auto hinge = hinge_of(model, screen);
        if (!hinge) continue;
        const double half = screen.thickness / 2;
        parts.push_back(part_of(screen, screen.id + "/screen", "screen", hinge->place,
                                {{{-half, -screen.width}, {half, -screen.width}, {half, 0}, {-half, 0}}}));
    }
}

void add_swings(const Model& model, std::vector<Part>& parts) {
    for (const auto& screen : model.job.screens) {
        const auto hinge = hinge_of(model, screen);
        const double swept = screen.swing_left + screen.swing_right;
        if (!hinge || swept == 0) continue;
        // Chords of the arc would cut it short: its tangents hold all of it.
        constexpr int pieces = 24;
        const double step = swept / pieces;
        const double radius = screen.width / std::cos(step / 2 * pi / 180);
        Polygon sector{{{0, 0}, at_angle(-screen.swing_left, screen.width)}};
        for (int i = 0; i < pieces; ++i) {
            sector.points.push_back(at_angle(-screen.swing_left + (i + 0.5) * step, radius));
        }
        sector.points.push_back(at_angle(screen.swing_right, screen.width));
        parts.push_back(part_of(screen, screen.id + "/swing", "swing", hinge->place, std::move(sector)));
    }
}

}  // namespace standproud
