// Signed distances against closed forms, just hit and just miss, fast paths against the general iteration, relations.
#include "modeler/clearance.hpp"

#include <gtest/gtest.h>

#include <functional>

#include "support/bodies.hpp"

namespace standproud {

namespace {

using samples::box;
using samples::cylinder;
using samples::Dice;
using samples::moved_by;
using samples::prism;

/// What must hold of every answer, whatever the shapes.
void expect_sound(const Body& a, const Body& b, const Separation& s) {
    EXPECT_NEAR(norm(s.direction), 1, 1e-9);
    const RoomPoint step = s.on_b - s.on_a - s.distance * s.direction;
    EXPECT_LT(norm(step), 1e-5);
    ASSERT_TRUE(s.decided);
    const Separation back = separation(b, a);
    EXPECT_NEAR(back.distance, s.distance, 2e-6);
    if (s.distance < -1e-3) {
        EXPECT_FALSE(overlaps(separation(a, moved(b, (1e-5 - s.distance) * s.direction)))) << "the push does not free";
        if (s.least) {
            EXPECT_TRUE(overlaps(separation(a, moved(b, (-s.distance - 5e-4) * s.direction)))) << "less would do";
        }
    } else if (s.distance > 1e-3) {
        const double sure = 1e-4 + 3 * s.error;
        EXPECT_TRUE(overlaps(separation(a, moved(b, (-s.distance - sure) * s.direction))));
        EXPECT_FALSE(overlaps(separation(a, moved(b, (sure - s.distance) * s.direction))));
    }
}

struct Kind {
    const char* name;
    /// Two bodies that are `gap` apart (below 0: overlap with that depth), after a rigid motion.
    std::function<std::pair<Body, Body>(const Frame& motion, double gap)> make;
};

std::pair<Body, Body> parts(const Frame& motion, const Part& a, const Part& b) {
    return {make_body(moved_by(motion, a), 0), make_body(moved_by(motion, b), 1)};
}

RoomPoint at(const Frame& motion, RoomPoint p) { return motion.to_room(p.x, p.y, p.z); }

Part drilled(double diameter) {
    Part plate = box({-200, -150, 0}, {200, 150, 6});
    plate.holes.emplace_back(RoundedRect::circle({30, 20}, diameter));
    plate.holes.emplace_back(RoundedRect::rect({-100, 0}, 60, 80, 5));
    return plate;
}

/// Closed forms, each: the gap is along the one line on which the two are nearest.
std::vector<Kind> kinds() {
    const RoomPoint x{1, 0, 0};
    const RoomPoint y{0, 1, 0};
    const RoomPoint z{0, 0, 1};
    const double diagonal = std::sqrt(0.5);
    std::vector<Kind> all;
    const auto add = [&](const char* name, auto make) {
        all.push_back({name, [make](const Frame& m, double gap) {
                           const auto [a, b] = make(gap);
                           return parts(m, a, b);
                       }});
    };
    add("stud and noggin, face to face", [](double gap) {
        return std::pair{box({0, 0, 0}, {45, 90, 2000}), box({45 + gap, 10, 900}, {400, 80, 1100})};
    });
    add("edge of a turned box to a face", [=](double gap) {
        // A square of side 40 on its corner: half its diagonal is 20 sqrt 2.
        Part turned = prism(RoundedRect::rect({0, 0}, 40, 40), 100);
        turned.place = {{100 + 20 / diagonal + gap, 50, 0}, {diagonal, diagonal, 0}, {-diagonal, diagonal, 0}, z};
        return std::pair{box({0, 0, 0}, {100, 100, 100}), turned};
    });
    add("corner of a tilted box to a face", [=](double gap) {
        // Its diagonal stands along x: half of it is half the side times sqrt 3.
        Part tilted = prism(RoundedRect::rect({0, 0}, 40, 40), 40);
        const RoomPoint third = (1 / std::sqrt(3.0)) * RoomPoint{1, 1, 1};
        const RoomPoint side = std::sqrt(0.5) * RoomPoint{1, -1, 0};
        const RoomPoint up = cross(third, side);
        // Frame axes e1, e2, e3 of the cube seen from a frame whose x is the cube's diagonal.
        const auto axis = [&](RoomPoint e) { return RoomPoint{dot(e, third), dot(e, side), dot(e, up)}; };
        tilted.place.x = axis({1, 0, 0});
        tilted.place.y = axis({0, 1, 0});
        tilted.place.z = axis({0, 0, 1});
        const RoomPoint middle{100 + 20 * std::sqrt(3.0) + gap, 50, 50};
        tilted.place.origin = middle - 20.0 * tilted.place.z;
        return std::pair{box({0, 0, 0}, {100, 100, 100}), tilted};
    });
    add("crossed edges of two boxes", [=](double gap) {
        // Each has an edge on top or below, at right angles to the other's: one prism on its corner across another.
        Part below = prism(RoundedRect::rect({0, 0}, 40, 40), 200);
        below.place = {{0, -100, 0}, {diagonal, 0, diagonal}, {diagonal, 0, -diagonal}, y};
        Part above = prism(RoundedRect::rect({0, 0}, 40, 40), 200);
        above.place = {{-100, 0, 40 / diagonal + gap}, {0, diagonal, diagonal}, {0, -diagonal, diagonal}, x};
        return std::pair{below, above};
    });
    add("pipes side by side", [=](double gap) {
        return std::pair{cylinder({0, 0, 0}, z, 22, 2000), cylinder({0, 18.5 + gap, 300}, z, 15, 500)};
    });
    add("pipes end to end", [=](double gap) {
        return std::pair{cylinder({0, 0, 0}, z, 22, 100), cylinder({3, 2, 100 + gap}, z, 15, 50)};
    });
    add("pipes crossing at right angles", [=](double gap) {
        return std::pair{cylinder({0, 0, 0}, z, 22, 200), cylinder({-100, 18.5 + gap, 100}, x, 15, 200)};
    });
    add("pipes crossing at 50 degrees", [=](double gap) {
        const double turn = 50 * pi / 180;
        const RoomPoint along{std::sin(turn), 0, std::cos(turn)};
        return std::pair{cylinder({0, 0, -100}, z, 22, 200),
                         cylinder(RoomPoint{0, 18.5 + gap, 0} - 100.0 * along, along, 15, 200)};
    });
    add("pipe along a stud", [=](double gap) {
        return std::pair{box({0, 0, 0}, {45, 90, 2000}), cylinder({45 + 7.5 + gap, 40, 100}, z, 15, 300)};
    });
    add("pipe end on a stud", [=](double gap) {
        return std::pair{box({0, 0, 0}, {45, 90, 2000}), cylinder({45 + gap, 40, 100}, x, 15, 300)};
    });
    add("rim of a leaning pipe on a face", [=](double gap) {
        // At 30 degrees to the face's normal the rim stands r sin 30 below the middle of the end.
        const double lean = 30 * pi / 180;
        const RoomPoint along{std::cos(lean), std::sin(lean), 0};
        const RoomPoint end{100 + 10 * std::sin(lean) + gap, 50, 50};
        return std::pair{box({0, 0, 0}, {100, 100, 100}), cylinder(end, along, 20, 80)};
    });
    add("rounded plate beside a stud", [](double gap) {
        const Part plate = prism(RoundedRect::rect({0, 0}, 86, 146, 5), 9);
        return std::pair{plate, box({43 + gap, -20, -5}, {90, 20, 30})};
    });
    add("rounded corners of two plates", [=](double gap) {
        const double step = (2 * 20 + gap) * diagonal;
        const Part plate = prism(RoundedRect::rect({-50, -50}, 100, 100, 20), 9);
        const Part other = prism(RoundedRect::rect({50 - 40 + step, 50 - 40 + step}, 100, 100, 20), 9);
        return std::pair{plate, other};
    });
    add("spindle in its hole", [=](double gap) {
        // Hole 35, spindle 20, off the middle by 7.5 - gap.
        const double off = 7.5 - gap;
        return std::pair{drilled(35), cylinder({30 + 0.6 * off, 20 + 0.8 * off, -30}, z, 20, 60)};
    });
    add("square bar in a rounded cut-out", [](double gap) {
        return std::pair{drilled(35), box({-130 + gap, -20, -30}, {-90, 20, 60})};
    });
    add("leaning spindle in its hole", [=](double gap) {
        // In the plane square to the spindle's axis, the rim of the hole at the far face is nearest: it stands
        // (R - c) cos t - 3 sin t from the axis, which goes through (c, 0) at the middle of the plate.
        const double lean = 1 * pi / 180;
        const RoomPoint along{std::sin(lean), 0, std::cos(lean)};
        const double off = 17.5 - (gap + 10 + 3 * std::sin(lean)) / std::cos(lean);
        return std::pair{drilled(35), cylinder(RoomPoint{30 + off, 20, 3} - 40.0 * along, along, 20, 80)};
    });
    add("panel on board, holes in line", [](double gap) {
        Part panel = drilled(35);
        panel.place.origin.z = 6 + gap;
        return std::pair{drilled(50), panel};
    });
    add("panels edge to edge", [](double gap) {
        Part right = drilled(35);
        right.place.origin.x = 400 + gap;
        return std::pair{drilled(35), right};
    });
    add("side panel to back panel, both drilled", [=](double gap) {
        Part side = drilled(35);
        side.place = {{200 + gap, 0, 100}, z, -1.0 * y, x};
        return std::pair{drilled(35), side};
    });
    all.push_back({"capsules crossing", [](const Frame& m, double gap) {
                       const Capsule a{at(m, {0, 0, -50}), at(m, {0, 0, 50}), 11};
                       const Capsule b{at(m, {-50, 18.5 + gap, 0}), at(m, {50, 18.5 + gap, 0}), 7.5};
                       return std::pair{make_body(a, 0), make_body(b, 1)};
                   }});
    all.push_back({"capsule beside a stud", [](const Frame& m, double gap) {
                       const Capsule a{at(m, {52.5 + gap, 40, 100}), at(m, {300, 40, 400}), 7.5};
                       return std::pair{make_body(moved_by(m, box({0, 0, 0}, {45, 90, 2000})), 0), make_body(a, 1)};
                   }});
    all.push_back({"capsule through a drilled plate", [](const Frame& m, double gap) {
                       const double off = 17.5 - 7.5 - gap;
                       const Capsule a{at(m, {30 - off, 20, -100}), at(m, {30 - off, 20, 100}), 7.5};
                       return std::pair{make_body(moved_by(m, drilled(35)), 0), make_body(a, 1)};
                   }});
    all.push_back(
        {"pipe with a bend beside a stud", [](const Frame& m, double gap) {
             // Straight leg nearest; the bend makes it 0.05 thicker, and says so.
             const Pipe pipe{
                 {at(m, {45 + 7.55 + gap, 40, 100}), at(m, {45 + 7.55 + gap, 40, 600}), at(m, {400, 40, 600})}, 15, 60};
             return std::pair{make_body(moved_by(m, box({0, 0, 0}, {45, 90, 2000})), 0), make_body(pipe, 1)};
         }});
    all.push_back({"wedge under a plate", [](const Frame& m, double gap) {
                       // The far face rises by 0.02 a mm in x: the plate lies along it, `gap` off square to it.
                       const double size = std::hypot(1, 0.02);
                       const RoomPoint up = (1 / size) * RoomPoint{-0.02, 0, 1};
                       const RoomPoint along = (1 / size) * RoomPoint{1, 0, 0.02};
                       Part plate = prism(RoundedRect::rect({0, 0}, 60, 60), 6);
                       plate.place = {RoomPoint{50, 50, 10 + 50 * 0.02} + gap * up, along, {0, 1, 0}, up};
                       Part bed = prism(Polygon{{{0, 0}, {100, 0}, {100, 100}, {0, 100}}}, 10);
                       bed.taper = {0.02, 0};
                       return std::pair{make_body(moved_by(m, bed), 0), make_body(moved_by(m, plate), 1)};
                   }});
    return all;
}

}  // namespace

// Closed form for each kind, under 200 rigid motions.
TEST(Clearance, JustHitAndJustMissByAHundredthForEveryKind) {
    Dice dice(samples::seed());
    for (const auto& kind : kinds()) {
        SCOPED_TRACE(kind.name);
        for (int i = 0; i < 200; ++i) {
            const Frame motion = i == 0 ? Frame{} : samples::random_frame(dice);
            for (const double gap : {0.01, -0.01, 5.0, 0.5}) {
                const auto [a, b] = kind.make(motion, gap);
                const Separation s = separation(a, b);
                // What a bend adds is known here: the closed form has it.
                const double error = std::max(1e-6, s.error - a.error - b.error);
                // A push that is not said to be the least may be longer, never shorter.
                ASSERT_LE(s.distance, gap + error) << "motion " << i;
                ASSERT_GE(s.distance, gap - (s.least ? error : 2e-3)) << "motion " << i;
                ASSERT_LE(s.error - a.error - b.error, 1e-6) << "motion " << i << " gap " << gap;
                const bool shape_is_exact = a.error + b.error == 0;
                ASSERT_TRUE(!shape_is_exact || overlaps(s) == (gap < 0)) << "motion " << i;
                ASSERT_FALSE(shape_is_exact && touches(s));
                if (i < 20) expect_sound(a, b, s);
                if (HasFailure()) return;
            }
        }
    }
}

// Closed form: what only touches does not overlap, under 200 rigid motions.
TEST(Clearance, TouchingIsNotOverlapping) {
    Dice dice(samples::seed());
    for (const auto& kind : kinds()) {
        SCOPED_TRACE(kind.name);
        for (int i = 0; i < 200; ++i) {
            const auto [a, b] = kind.make(i == 0 ? Frame{} : samples::random_frame(dice), 0);
            const Separation s = separation(a, b);
            ASSERT_FALSE(overlaps(s)) << "motion " << i << ": " << s.distance << " +/- " << s.error;
            ASSERT_TRUE(touches(s)) << "motion " << i << ": " << s.distance << " +/- " << s.error;
        }
    }
}

/// A plate with a doorway cut out of it, and a strip that stands in the doorway. Closed form.
TEST(Clearance, AStripInANotch) {
    Part plate;
    plate.outline = Polygon{{{0, 0}, {400, 0}, {400, 2010}, {800, 2010}, {800, 0}, {1200, 0}, {1200, 2400}, {0, 2400}}};
    plate.length = 9;
    const Body notched = make_body(plate, 0);
    ASSERT_GT(notched.pieces.size(), 1u);
    const auto strip_at = [&](double u) {
        Part strip;
        strip.place = {{u, 0, 0}, {0, 0, -1}, {0, 1, 0}, {1, 0, 0}};
        strip.outline = Polygon{{{-17, 4}, {56, 4}, {56, 1988}, {-17, 1988}}};
        strip.length = 2;
        return separation(notched, make_body(strip, 1));
    };
    // By touching, by a thousandth, by more: the way out is into the doorway, never past the whole plate.
    for (const double off : {0.0, 0.001, 1.0, 20.0}) EXPECT_NEAR(strip_at(400 + off).distance, off, 1e-9);
    for (const double in : {0.001, 1.0, 8.0}) {
        const Separation s = strip_at(400 - in);
        EXPECT_NEAR(s.distance, -in, 1e-9);
        EXPECT_NEAR(s.direction.x, 1, 1e-9);
    }
    // Deep in the plate: out through its face, the strip reaching 17 to one side of it.
    EXPECT_NEAR(strip_at(300).distance, -17, 1e-9);
    EXPECT_TRUE(touches(strip_at(400)));
    EXPECT_TRUE(overlaps(strip_at(399.999)));
}

}  // namespace standproud
