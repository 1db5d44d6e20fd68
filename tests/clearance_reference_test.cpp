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

// Reference library, CGAL: distance of two hulls by quadratic programming in exact arithmetic, its square root in
// double.
TEST(ClearanceReference, PolyhedraAgreeWithExactArithmetic) {
    Dice dice(samples::seed());
    int apart = 0;
    for (int i = 0; i < 600; ++i) {
        const auto some = [&] {
            // Turned any way: on sides that are parallel, CGAL's simplex can go round in a circle for ever.
            const Frame place = samples::near_frame(dice, 120);
            if (dice.up_to(1) == 0) return samples::random_box(dice, place);
            return samples::prism(samples::random_polygon(dice, {0, 0}, dice.between(10, 80)), dice.between(5, 100),
                                  place);
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

// Reference library, FCL with libccd: shapes of its own. Its points are on both shapes, so it may say too much, never
// too little; asked for 1e-7, it keeps to 1e-4 on nearly all round ones.
TEST(ClearanceReference, BoxesAndCylindersAgree) {
    Dice dice(samples::seed());
    int apart = 0;
    int close = 0;
    int over = 0;
    for (int i = 0; i < 1500; ++i) {
        const auto some = [&] {
            const Frame place = i % 3 == 0 ? samples::square_frame(dice, 60) : samples::near_frame(dice, 60);
            return dice.up_to(1) == 0 ? samples::random_box(dice, place) : samples::random_cylinder(dice, place);
        };
        const Part a = some();
        const Part b = some();
        const Separation s = separation(make_body(a, 0), make_body(b, 1));
        if (s.distance > 1e-3) {
            const auto d = references::fcl_distance(a, b);
            ASSERT_TRUE(d) << i << ": FCL finds an overlap at " << s.distance;
            ASSERT_GE(*d, s.distance - 1e-6 - s.error) << i;
            ASSERT_LE(*d, s.distance + 0.01) << i;
            close += *d < s.distance + 1e-4 ? 1 : 0;
            ++apart;
        } else if (s.distance < -1e-3) {
            EXPECT_FALSE(references::fcl_distance(a, b)) << i;
            ++over;
        }
    }
    EXPECT_GT(apart, 400);
    EXPECT_GT(over, 300);
    EXPECT_GT(close, apart * 98 / 100);
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
            const RoomPoint along =
                std::sin(lean) * (std::cos(turn) * a.place.x + std::sin(turn) * a.place.y) + std::cos(lean) * a.place.z;
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

// Reference library, FCL: its own box against box, and libccd's polytope for round ones. A push that frees can never be
// shorter than the least; libccd's often is longer on round shapes, so that there only this side is held to it.
TEST(ClearanceReference, DepthsAreNeverMoreThanThoseOfFcl) {
    Dice dice(samples::seed());
    int boxes = 0;
    int same = 0;
    int round = 0;
    for (int i = 0; i < 1500; ++i) {
        const auto some = [&] {
            const Frame place = samples::near_frame(dice, 40);
            return dice.up_to(1) == 0 ? samples::random_box(dice, place) : samples::random_cylinder(dice, place);
        };
        const Part a = some();
        const Part b = some();
        const Separation s = separation(make_body(a, 0), make_body(b, 1));
        if (s.distance > -0.1) continue;
        const auto depth = references::fcl_depth(a, b);
        ASSERT_TRUE(depth) << i;
        ASSERT_GE(*depth, -s.distance - 1e-4) << i;
        const bool two_boxes =
            !std::get<RoundedRect>(a.outline).is_circle() && !std::get<RoundedRect>(b.outline).is_circle();
        boxes += two_boxes ? 1 : 0;
        same += two_boxes && std::abs(*depth + s.distance) < 1e-4 ? 1 : 0;
        round += two_boxes ? 0 : 1;
    }
    EXPECT_GT(boxes, 100);
    EXPECT_GT(round, 300);
    // FCL prefers a face to a crossing of edges unless that is 5 % shorter.
    EXPECT_GT(same, boxes * 7 / 10);
}

// Brute force: how far two parts reach past each other, over 5 000 directions. None may be less than the least push.
TEST(ClearanceReference, NoDirectionNeedsLessThanTheLeastPush) {
    Dice dice(samples::seed());
    int over = 0;
    double nearest = 1;
    for (int i = 0; i < 400; ++i) {
        const bool nearly_one_axis = i % 4 == 0;
        const auto some = [&](Frame place) {
            return dice.up_to(2) == 0 ? samples::random_box(dice, place) : samples::random_cylinder(dice, place);
        };
        const Part a = some(samples::near_frame(dice, 40));
        Frame other = samples::near_frame(dice, 40);
        if (nearly_one_axis) {
            // A fraction of a degree off: the hardest for the iteration, all ways round are nearly as short.
            other = samples::frame_along(a.place.origin, a.place.z + dice.between(1e-5, 0.02) * a.place.x);
        }
        const Part b = some(other);
        const Separation s = separation(make_body(a, 0), make_body(b, 1));
        if (s.distance > -0.1) continue;
        ++over;
        EXPECT_LE(s.error, 1e-6) << i;
        const auto reach = [](const Part& part, RoomPoint n) {
            const auto& r = std::get<RoundedRect>(part.outline);
            const double x = dot(n, part.place.x);
            const double y = dot(n, part.place.y);
            const double flat =
                r.is_circle() ? r.radius * std::hypot(x, y) : r.half_width * std::abs(x) + r.half_height * std::abs(y);
            return dot(n, part.place.origin) + r.centre.x * x + r.centre.y * y + flat +
                   std::max(0.0, part.length * dot(n, part.place.z));
        };
        double least = reach(a, s.direction) + reach(b, -1.0 * s.direction);
        EXPECT_NEAR(least, -s.distance, 1e-6);
        double tried = 1e300;
        for (int k = 0; k < 5000; ++k) {
            RoomPoint n = samples::random_frame(dice).z;
            if (k % 2 == 0) n = (1 / norm(s.direction + 0.1 * n)) * (s.direction + 0.1 * n);
            tried = std::min(tried, reach(a, n) + reach(b, -1.0 * n));
        }
        EXPECT_GE(tried, -s.distance - 1e-6) << i;
        nearest = std::min(nearest, tried + s.distance);
    }
    EXPECT_GT(over, 100);
    EXPECT_LT(nearest, 0.01) << "the directions tried were never near the least push";
}

// Reference library, CGAL 5.5: Boolean intersection of meshes. Boxes and polygons have exact meshes; arcs are chords
// no further than 0.002 mm from them, which takes at most that off each side.
TEST(ClearanceReference, CommonVolumesAgreeWithBooleansOnMeshes) {
    Dice dice(samples::seed());
    int compared = 0;
    int drilled = 0;
    for (int i = 0; i < 60; ++i) {
        const Frame m = samples::random_frame(dice);
        const bool with_holes = i % 3 == 2;
        const auto some = [&](bool round) {
            const Frame place = samples::square_frame(dice, 40);
            return samples::moved_by(m,
                                     round ? samples::random_drilled(dice, place) : samples::random_box(dice, place));
        };
        const Part a = some(with_holes);
        const Part b = some(false);
        const auto volume = common_volume(make_body(a, 0), make_body(b, 1));
        if (!volume) continue;
        const double meshes = references::cgal_common_volume(a, b, 0.002);
        const double off = with_holes ? 1e-3 : 1e-6;
        EXPECT_NEAR(meshes, *volume, off * *volume + 0.1) << i;
        compared += *volume > 1 ? 1 : 0;
        drilled += *volume > 1 && with_holes ? 1 : 0;
    }
    EXPECT_GT(compared, 15);
    EXPECT_GT(drilled, 3);
}

}  // namespace standproud
