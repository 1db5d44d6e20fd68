// Common solids and the kernel's own word, against closed forms and against the engine.
#include "modeler/kernel_clearance.hpp"

#include <gtest/gtest.h>

#include <BRepCheck_Analyzer.hxx>

#include "modeler/solids.hpp"
#include "support/bodies.hpp"

namespace standproud {

namespace {

using samples::box;
using samples::cylinder;
using samples::Dice;
using samples::moved_by;

}  // namespace

// Closed form: two cylinders at right angles, equal radii r: 16 r^3 / 3; radii 15 and 10, 20 and 5: by elliptic
// integrals, 8867.013715266832 and 3116.85336242154.
TEST(KernelClearance, CrossedCylindersShareTheirClosedForm) {
    Dice dice(samples::seed());
    const std::array<std::array<double, 3>, 3> cases{
        {{10, 10, 16000.0 / 3}, {15, 10, 8867.013715266832}, {20, 5, 3116.85336242154}}};
    for (const auto& [r, q, volume] : cases) {
        for (int i = 0; i < 10; ++i) {
            const Frame m = samples::random_frame(dice);
            const Part a = moved_by(m, cylinder({0, 0, -50}, {0, 0, 1}, 2 * r, 100));
            const Part b = moved_by(m, cylinder({-60, 0, 3}, {1, 0, 0}, 2 * q, 120));
            const KernelOverlap overlap = kernel_overlap(make_solid(a), make_solid(b));
            ASSERT_NEAR(overlap.volume / volume, 1, 1e-6) << r << ' ' << q << ' ' << i;
            EXPECT_LT(norm(overlap.middle - m.to_room(0, 0, 3)), 1e-3);
            EXPECT_TRUE(BRepCheck_Analyzer(overlap.solid).IsValid());
            EXPECT_TRUE(overlaps(separation(make_body(a, 0), make_body(b, 1))));
            EXPECT_NEAR(separation(make_body(a, 0), make_body(b, 1)).distance, -(r + q), 1e-6);
        }
    }
}

// The engine's common volumes in closed form, against the kernel's; and nothing where they only touch.
TEST(KernelClearance, CommonVolumesAgree) {
    Dice dice(samples::seed());
    int compared = 0;
    for (int i = 0; i < 120; ++i) {
        const Frame m = samples::random_frame(dice);
        const auto some = [&] {
            const Frame place = samples::square_frame(dice, 60);
            const int kind = dice.up_to(2);
            return moved_by(m, kind == 0   ? samples::random_box(dice, place)
                               : kind == 1 ? samples::random_cylinder(dice, place)
                                           : samples::random_drilled(dice, place));
        };
        const Part a = some();
        const Part b = some();
        const auto volume = common_volume(make_body(a, 0), make_body(b, 1));
        if (!volume) continue;
        EXPECT_NEAR(kernel_overlap(make_solid(a), make_solid(b)).volume, *volume, 1e-6 * *volume + 2 * no_volume) << i;
        compared += *volume > 1 ? 1 : 0;
    }
    EXPECT_GT(compared, 20);
}

// Reference library, Open CASCADE 7.6.3: the distance of two B-reps, and a common solid exactly where the engine says
// that they overlap.
TEST(KernelClearance, SeparationsAgree) {
    Dice dice(samples::seed());
    int apart = 0;
    int over = 0;
    for (int i = 0; i < 70; ++i) {
        const auto some = [&] {
            const Frame place = samples::near_frame(dice, 70);
            const int kind = dice.up_to(2);
            return kind == 0   ? samples::random_box(dice, place)
                   : kind == 1 ? samples::random_cylinder(dice, place)
                               : samples::random_drilled(dice, place);
        };
        const Part a = some();
        const Part b = some();
        const Separation s = separation(make_body(a, 0), make_body(b, 1));
        const Separation k = kernel_separation(a, b, 4, 5);
        EXPECT_EQ(k.a, 4U);
        EXPECT_EQ(k.b, 5U);
        if (s.decided && std::abs(s.distance) > 1e-3) {
            EXPECT_EQ(overlaps(s), k.distance < 0) << i;
            if (s.distance > 0) {
                EXPECT_NEAR(s.distance, k.distance, 1e-5) << i;
                ++apart;
            } else {
                EXPECT_LE(k.distance, s.least ? s.distance + 1e-5 : 0) << i;
                ++over;
            }
        }
        if (k.distance < 0) {
            Part there = b;
            there.place.origin = there.place.origin + (1e-4 - k.distance) * k.direction;
            EXPECT_EQ(kernel_overlap(make_solid(a), make_solid(there)).volume, 0) << i;
        }
    }
    EXPECT_GT(apart, 20);
    EXPECT_GT(over, 12);
}

// Closed form: a straight run and a torus: pi r^2 (legs + R turn).
TEST(KernelClearance, PipesHaveTheirVolume) {
    Dice dice(samples::seed());
    for (int i = 0; i < 10; ++i) {
        const Frame m = samples::random_frame(dice);
        const auto at = [&](double x, double y, double z) { return m.to_room(x, y, z); };
        const Pipe pipe{{at(0, 0, 0), at(500, 0, 0), at(500, 0, 400), at(500, 300, 400)}, 15, 60};
        const TopoDS_Shape solid = make_solid(pipe);
        EXPECT_TRUE(BRepCheck_Analyzer(solid).IsValid());
        const double length = 500 + 400 + 300 - 4 * 60 + 2 * 60 * pi / 2;
        EXPECT_NEAR(solid_volume(solid) / (pi * 7.5 * 7.5 * length), 1, 1e-6);
        EXPECT_NEAR(solid_volume(make_solid(Pipe{{at(0, 0, 0), at(100, 0, 0)}, 15, 0})), pi * 7.5 * 7.5 * 100, 1e-3);
    }
    EXPECT_THROW(make_solid(Pipe{{{0, 0, 0}}, 15, 0}), std::runtime_error);
    EXPECT_THROW(make_solid(Pipe{{{0, 0, 0}, {1, 0, 0}}, 0, 0}), std::runtime_error);
}

// Closed form and kernel: a body of capsules is never nearer than its error, and never further than the true pipe.
TEST(KernelClearance, PipeBodiesHoldThePipe) {
    Dice dice(samples::seed());
    for (int i = 0; i < 30; ++i) {
        const Frame m = samples::random_frame(dice);
        const auto at = [&](double x, double y, double z) { return m.to_room(x, y, z); };
        const Pipe pipe{{at(0, 0, 0), at(500, 0, 0), at(500, 0, 400)}, 15, 80};
        // Outside the bend, on the line through the middle of the arc, whose middle is at (420, 0, 80).
        const double diagonal = std::sqrt(0.5);
        const double gap = dice.between(0.5, 40);
        const double out = (80 + 7.5 + gap) * diagonal;
        Part stud = box({0, -50, 0}, {45, 50, 90});
        stud.place = {RoomPoint{420 + out, 0, 80 - out}, {diagonal, 0, -diagonal}, {0, 1, 0}, {diagonal, 0, diagonal}};
        stud.outline = RoundedRect::rect({30, 0}, 60, 100);
        stud.length = 1;
        const Separation s = separation(make_body(pipe, 0), make_body(moved_by(m, stud), 1));
        EXPECT_LE(s.distance, gap + 1e-6);
        EXPECT_GE(s.distance, gap - s.error);
        EXPECT_LE(s.error, 0.0501);
    }
}

}  // namespace standproud
