// A recess of over a hundred solids for timing: three walls in layers, drilled panels, fittings, timber, pipes, access.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "modeler/clearance.hpp"

namespace standproud::bench {

inline Part solid(std::string id, Profile outline, double length, Frame place) {
    Part part;
    part.id = std::move(id);
    part.outline = std::move(outline);
    part.length = length;
    part.place = place;
    return part;
}

/// Depth n behind or before the bare face of a wall.
inline Frame at_depth(const Frame& wall, double n) { return {wall.to_room(0, 0, n), wall.x, wall.y, wall.z}; }

struct Spot {
    double u = 0, v = 0;
};

inline void add_layers(const std::string& id, const Frame& wall, double width, const std::vector<Spot>& spots,
                       std::vector<Part>& parts) {
    struct Layer {
        const char* name;
        double from, thickness, gap, hole;
    };
    for (const Layer& layer : {Layer{"board", 0, 9, 0, 50}, Layer{"membrane", 9, 1, 0, 40}, Layer{"bed", 10, 2, 4, 60},
                               Layer{"panel", 12, 6, 4, 35}}) {
        const double g = layer.gap;
        Part part = solid(id + "/" + layer.name, Polygon{{{g, g}, {width - g, g}, {width - g, 2100}, {g, 2100}}},
                          layer.thickness, at_depth(wall, layer.from));
        for (const Spot& spot : spots) part.holes.emplace_back(RoundedRect::circle({spot.u, spot.v}, layer.hole));
        parts.push_back(std::move(part));
    }
}

inline void add_fitting(const std::string& id, const Frame& wall, Spot spot, double seat, std::vector<Part>& parts) {
    const Vec2 c{spot.u, spot.v};
    parts.push_back(solid(id + "/body", RoundedRect::rect(c, 60, 60, 8), 40, at_depth(wall, seat - 40)));
    parts.push_back(solid(id + "/spindle", RoundedRect::circle(c, 20), 60, at_depth(wall, seat)));
    parts.push_back(solid(id + "/flange", RoundedRect::circle(c, 60), 8, at_depth(wall, 18)));
    parts.push_back(solid(id + "/handle", RoundedRect::rect(c + Vec2{0, 10}, 30, 90, 10), 30, at_depth(wall, 28)));
    parts.push_back(solid(id + "/access", RoundedRect::circle(c, 90), 120, at_depth(wall, 20)));
}

inline void add_timber(const std::string& id, const Frame& wall, double width, std::vector<Part>& parts) {
    for (int i = 0; i < 3; ++i) {
        const double u = 40 + i * (width - 80) / 2;
        parts.push_back(solid(id + "/stud-" + std::to_string(i),
                              Polygon{{{u - 22.5, 0}, {u + 22.5, 0}, {u + 22.5, 2400}, {u - 22.5, 2400}}}, 90,
                              at_depth(wall, -90)));
    }
    for (int i = 0; i < 2; ++i) {
        const double left = 62.5 + i * (width - 80) / 2;
        parts.push_back(solid(id + "/noggin-" + std::to_string(i),
                              RoundedRect::rect({left + (width - 170) / 4, 1050}, (width - 170) / 2, 90), 40,
                              at_depth(wall, -90)));
    }
}

/// `tilt`: the side walls lean by this many degrees, so that nothing on them is square to the back wall.
inline std::vector<Part> recess(double tilt = 0, RoomPoint by = {}) {
    std::vector<Part> parts;
    const double lean = std::sin(tilt * pi / 180);
    const double upright = std::cos(tilt * pi / 180);
    const Frame back{by, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}};
    const Frame left{by + RoomPoint{0, -900, 0}, {0, 1, 0}, {lean, 0, upright}, {upright, 0, -lean}};
    const Frame right{by + RoomPoint{1200, 0, 0}, {0, -1, 0}, {-lean, 0, upright}, {-upright, 0, -lean}};
    const struct {
        const char* id;
        Frame frame;
        double width;
        std::vector<Spot> spots;
    } walls[] = {{"left", left, 900, {{200, 500}, {450, 1100}, {700, 1800}}},
                 {"back", back, 1200, {{300, 1080}, {460, 1080}, {600, 2000}, {600, 1300}, {800, 1080}, {1000, 600}}},
                 {"right", right, 900, {{250, 1000}, {500, 1000}, {700, 1500}}}};
    for (const auto& wall : walls) {
        add_layers(wall.id, wall.frame, wall.width, wall.spots, parts);
        add_timber(wall.id, wall.frame, wall.width, parts);
        int number = 0;
        for (const Spot& spot : wall.spots) {
            const std::string id = std::string(wall.id) + "/fitting-" + std::to_string(++number);
            add_fitting(id, wall.frame, spot, -12, parts);
        }
        // Pipes: risers up to the fittings, and one across all.
        for (std::size_t i = 0; i < wall.spots.size(); ++i) {
            const Spot& spot = wall.spots[i];
            Frame place = wall.frame;
            place.origin = wall.frame.to_room(spot.u, 20, -45);
            place.z = wall.frame.y;
            place.y = -1.0 * wall.frame.z;
            parts.push_back(solid(std::string(wall.id) + "/riser-" + std::to_string(i), RoundedRect::circle({0, 0}, 15),
                                  spot.v - 50, place));
        }
    }
    Frame across = back;
    across.origin = back.to_room(30, 400, -60);
    across.x = back.y;
    across.y = back.z;
    across.z = back.x;
    Frame floor = back;
    floor.origin = back.to_room(0, -60, 0);
    floor.z = back.y;
    floor.y = -1.0 * back.z;
    parts.push_back(solid("tray", RoundedRect::rect({600, -450}, 1200, 900), 60, floor));
    parts.push_back(solid("back/across", RoundedRect::circle({0, 0}, 22), 1100, across));
    return parts;
}

/// `rooms` recesses in a row.
inline std::vector<Part> recesses(std::size_t rooms) {
    std::vector<Part> parts;
    for (std::size_t i = 0; i < rooms; ++i) {
        const auto one = recess(0, {double(i % 6) * 1500, double(i / 6) * 1200, 0});
        parts.insert(parts.end(), one.begin(), one.end());
    }
    return parts;
}

}  // namespace standproud::bench
