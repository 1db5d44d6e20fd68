// Distances and depths against FCL 0.7.0 and CGAL 5.5 (Debian 12) on seeded random pairs.
#include <gtest/gtest.h>

#include <cmath>

#include "modeler/clearance.hpp"
#include "support/bodies.hpp"
#include "support/references.hpp"

namespace standproud {

namespace {

using samples::Dice;

std::vector<RoomPoint> corners(const Part& part) {
    std::vector<Vec2> flat;
    if (const auto* r = std::get_if<RoundedRect>(&part.outline)) {
        const double a = r->half_width;
        const double b = r->half_height;
        flat = {r->centre + Vec2{-a, -b}, r->centre + Vec2{a, -b}, r->centre + Vec2{a, b}, r->centre + Vec2{-a, b}};
    } else {
        flat = std::get<Polygon>(part.outline).points;
    }
    std::vector<RoomPoint> all;
    for (const Vec2 p : flat) {
        all.push_back(part.place.to_room(p.x, p.y, 0));
        all.push_back(part.place.to_room(p.x, p.y, part.length));
    }
    return all;
}

}  // namespace

// Reference library, CGAL: distance of two hulls by quadratic programming in exact arithmetic, its square root in double.
TEST(ClearanceReference, PolyhedraAgreeWithExactArithmetic) {
    Dice dice(samples::seed());
    int apart = 0;
    for (int i = 0; i < 600; ++i) {
        const auto some = [&] {
            const Frame place = i % 3 == 0 ? samples::square_frame(dice, 120) : samples::near_frame(dice, 120);
            if (dice.up_to(1) == 0) return samples::random_box(dice, place);
            return samples::prism(samples::random_polygon(dice, {0, 0}, dice.between(10, 80)), dice.between(5, 100), place);
        };
        const Part a = some();
        const Part b = some();
        const Separation s = separation(make_body(a, 0), make_body(b, 1));
        const double exact = references::cgal_hull_distance(corners(a), corners(b));
        EXPECT_NEAR(std::max(0.0, s.distance), exact, 1e-8 + s.error) << i;
        apart += exact > 0 ? 1 : 0;
    }
    EXPECT_GT(apart, 200);
    EXPECT_LT(apart, 590);
}

// Reference library, FCL with libccd: shapes of its own; it is asked for 1e-7 and keeps to some 1e-5 on round ones.
TEST(ClearanceReference, BoxesAndCylindersAgree) {
    Dice dice(samples::seed());
    int apart = 0;
    int over = 0;
    for (int i = 0; i < 1500; ++i) {
        const auto some = [&] {
            const Frame place = i % 3 == 0 ? samples::square_frame(dice, 90) : samples::near_frame(dice, 90);
            return dice.up_to(1) == 0 ? samples::random_box(dice, place) : samples::random_cylinder(dice, place);
        };
        const Part a = some();
        const Part b = some();
        const Separation s = separation(make_body(a, 0), make_body(b, 1));
        if (s.distance > 1e-3) {
            const auto d = references::fcl_distance(a, b);
            ASSERT_TRUE(d) << i << ": FCL finds an overlap at " << s.distance;
            EXPECT_NEAR(s.distance, *d, 1e-4) << i;
            ++apart;
        } else if (s.distance < -1e-3) {
            EXPECT_FALSE(references::fcl_distance(a, b)) << i;
            ++over;
        }
    }
    EXPECT_GT(apart, 400);
    EXPECT_GT(over, 400);
}

// Reference library, FCL on meshes with chords of 0.005 mm: drilled plates against boxes, cylinders and each other. A
// chord moves the surface of each body by that much, either way.
TEST(ClearanceReference, DrilledPlatesAgreeWithMeshes) {
    constexpr double chord = 0.005;
    Dice dice(samples::seed());
    int apart = 0;
    int in_holes = 0;
    for (int i = 0; i < 300; ++i) {
        const Part a = samples::random_drilled(dice, samples::near_frame(dice, 5));
        const int kind = dice.up_to(3);
        Part b;
        if (kind == 0 && !a.holes.empty()) {
            // Something thin through a hole, leaning.
            const auto& hole = std::get<RoundedRect>(a.holes[0]);
            const double lean = dice.between(0, 0.3);
            const double turn = dice.between(0, 2 * pi);
            const RoomPoint along = std::sin(lean) * (std::cos(turn) * a.place.x + std::sin(turn) * a.place.y) +
                                    std::cos(lean) * a.place.z;
            const RoomPoint middle = a.place.to_room(hole.centre.x, hole.centre.y, a.length / 2);
            b = samples::cylinder(middle - 40.0 * along, along,
                                  dice.between(0.2, 0.8) * std::min(hole.half_width, hole.half_height), 80);
        } else {
            const Frame place = samples::near_frame(dice, 120);
            b = kind == 1   ? samples::random_drilled(dice, place)
                : kind == 2 ? samples::random_cylinder(dice, place)
                            : samples::random_box(dice, place);
        }
        const Separation s = separation(make_body(a, 0), make_body(b, 1));
        if (!s.decided || s.distance < 0.02) continue;
        EXPECT_NEAR(s.distance, references::fcl_mesh_distance(a, b, chord), 2 * chord + 1e-6) << i << " kind " << kind;
        ++apart;
        in_holes += kind == 0 ? 1 : 0;
    }
    EXPECT_GT(apart, 100);
    EXPECT_GT(in_holes, 25);
}

// Depth by FCL (libccd): never below the least, and the same where its own polytope ends well.
TEST(ClearanceReference, DepthsAgree) {
    Dice dice(samples::seed());
    int same = 0;
    int compared = 0;
    for (int i = 0; i < 1500; ++i) {
        const auto some = [&] {
            const Frame place = samples::near_frame(dice, 60);
            return dice.up_to(1) == 0 ? samples::random_box(dice, place) : samples::random_cylinder(dice, place);
        };
        const Part a = some();
        const Part b = some();
        const Separation s = separation(make_body(a, 0), make_body(b, 1));
        if (s.distance > -0.1) continue;
        const auto depth = references::fcl_depth(a, b);
        ASSERT_TRUE(depth) << i;
        ++compared;
        same += std::abs(*depth + s.distance) < 1e-3 ? 1 : 0;
    }
    EXPECT_GT(compared, 500);
    EXPECT_GT(same, compared * 9 / 10);
    std::cout << same << " of " << compared << " depths are the same\n";
}

}  // namespace standproud
