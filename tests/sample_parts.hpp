// Parts made up for tests: random ones from a seed that is printed, so that a failure can be had again.
#pragma once

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <random>
#include <string>
#include <vector>

#include "modeler/parts.hpp"

namespace standproud::samples {

/// Fixed, so that a run can be repeated; STANDPROUD_SEED=n tries others.
inline std::uint32_t seed() {
    const char* given = std::getenv("STANDPROUD_SEED");
    const auto value = static_cast<std::uint32_t>(given ? std::strtoul(given, nullptr, 10) : 20260117UL);
    std::cout << "seed " << value << " (STANDPROUD_SEED)\n";
    return value;
}

class Dice {
  public:
    explicit Dice(std::uint32_t value) : engine_(value) {}
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine_); }
    int up_to(int highest) { return std::uniform_int_distribution<int>(0, highest)(engine_); }

  private:
    std::mt19937 engine_;
};

/// Right-handed, from a random unit quaternion (Shoemake 1992, from memory); up to 5 m from the room's origin.
inline Frame random_frame(Dice& dice) {
    const double s = dice.between(0, 1);
    const double a = dice.between(0, 2 * pi);
    const double b = dice.between(0, 2 * pi);
    const double x = std::sqrt(1 - s) * std::sin(a);
    const double y = std::sqrt(1 - s) * std::cos(a);
    const double z = std::sqrt(s) * std::sin(b);
    const double w = std::sqrt(s) * std::cos(b);
    return {{dice.between(-5000, 5000), dice.between(-5000, 5000), dice.between(-5000, 5000)},
            {1 - 2 * (y * y + z * z), 2 * (x * y + w * z), 2 * (x * z - w * y)},
            {2 * (x * y - w * z), 1 - 2 * (x * x + z * z), 2 * (y * z + w * x)},
            {2 * (x * z + w * y), 2 * (y * z - w * x), 1 - 2 * (x * x + y * y)}};
}

inline RoundedRect random_rounded(Dice& dice, Vec2 centre, double least, double most) {
    const double width = dice.between(least, most);
    const double height = dice.between(least, most);
    switch (dice.up_to(3)) {
        case 0:
            return RoundedRect::circle(centre, width);
        case 1:
            return RoundedRect::rect(centre, width, height);
        case 2:
            return RoundedRect::rect(centre, width, height, std::min(width, height) / 2);  // a slot
        default:
            return RoundedRect::rect(centre, width, height, dice.between(0.05, 0.95) * std::min(width, height) / 2);
    }
}

/// Convex: corners in order round a circle.
inline Polygon random_polygon(Dice& dice, Vec2 centre, double radius) {
    const int corners = 3 + dice.up_to(5);
    Polygon shape;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2 * pi * (i + dice.between(0, 0.8)) / corners;
        shape.points.push_back(centre + radius * Vec2{std::cos(angle), std::sin(angle)});
    }
    return shape;
}

/// Holes inside the outline and apart, by at least 0.5 mm.
inline std::vector<RoundedRect> random_holes(Dice& dice, const Profile& outline) {
    const auto e = extent(outline);
    std::vector<RoundedRect> holes;
    for (int tries = 0; tries < 12; ++tries) {
        const Vec2 centre{dice.between(e[0], e[1]), dice.between(e[2], e[3])};
        const RoundedRect hole = random_rounded(dice, centre, 2, 60);
        bool good = std::visit([&](const auto& shape) { return margin_inside(hole, shape) > 0.5; }, outline);
        for (const auto& other : holes) good = good && gap_between(hole, other) > 0.5;
        if (good) holes.push_back(hole);
    }
    return holes;
}

inline Part random_part(Dice& dice, int number) {
    static const char* const trades[] = {"builder", "plumber", "electrician", "installer"};
    static const char* const layers[] = {"frame", "board", "panel", "body", "spindle", "flange", "cistern"};
    const Vec2 centre{dice.between(-800, 800), dice.between(-800, 800)};
    Part part;
    part.id = "part-" + std::to_string(number);
    part.name = "Teil ø " + std::to_string(number);
    part.trade = trades[dice.up_to(3)];
    part.layer = layers[dice.up_to(6)];
    part.wall = dice.up_to(4) == 0 ? "" : "wall-" + std::to_string(dice.up_to(2));
    part.fitting = dice.up_to(1) == 0 ? "" : "fitting-" + std::to_string(dice.up_to(3));
    part.place = random_frame(dice);
    part.length = dice.between(1, 300);
    if (dice.up_to(1) == 0) {
        part.outline = random_rounded(dice, centre, 20, 1200);
    } else {
        part.outline = random_polygon(dice, centre, dice.between(20, 1200));
    }
    for (const auto& hole : random_holes(dice, part.outline)) part.holes.emplace_back(hole);
    return part;
}

inline Part plate(const std::string& id, double width, double height, double thickness) {
    Part part;
    part.id = id;
    part.name = id;
    part.trade = "installer";
    part.layer = "panel";
    part.outline = RoundedRect::rect({width / 2, height / 2}, width, height);
    part.length = thickness;
    return part;
}

}  // namespace standproud::samples
