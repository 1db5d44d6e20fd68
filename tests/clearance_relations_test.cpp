// Whole scenes: fast paths against the general iteration, fast broad phase against all pairs, relations, volumes.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "modeler/clearance.hpp"
#include "support/bodies.hpp"

namespace standproud {

namespace {

using samples::box;
using samples::cylinder;
using samples::Dice;
using samples::moved_by;
using samples::prism;

/// Some of everything. `square`: as things stand in a room, along its axes; else turned any way.
Body random_body(Dice& dice, std::size_t number, bool square, double spread) {
    const Frame place = square ? samples::square_frame(dice, spread) : samples::near_frame(dice, spread);
    switch (dice.up_to(6)) {
        case 0:
        case 1:
            return make_body(samples::random_box(dice, place), number);
        case 2:
        case 3:
            return make_body(samples::random_cylinder(dice, place), number);
        case 4:
            return make_body(samples::random_drilled(dice, place), number);
        case 5:
            return make_body(
                prism(samples::random_polygon(dice, {0, 0}, dice.between(10, 80)), dice.between(5, 100), place),
                number);
        default:
            return make_body(Capsule{place.origin, place.to_room(0, 0, dice.between(0, 150)), dice.between(3, 30)},
                             number);
    }
}

std::vector<Body> random_scene(Dice& dice, std::size_t count, double spread, bool square) {
    std::vector<Body> bodies;
    for (std::size_t i = 0; i < count; ++i) bodies.push_back(random_body(dice, i, square, spread));
    return bodies;
}

bool same_answer(const Separation& s, const Separation& t) {
    return s.a == t.a && s.b == t.b && s.distance == t.distance && norm(s.on_a - t.on_a) == 0 &&
           norm(s.on_b - t.on_b) == 0 && norm(s.direction - t.direction) == 0;
}

}  // namespace

// Fast path against brute force, on 4 000 pairs along the room's axes: closed forms in the plane against the iteration.
TEST(ClearanceScenes, ClosedFormsAgreeWithTheGeneralIteration) {
    Dice dice(samples::seed());
    int apart = 0;
    int over = 0;
    int undecided = 0;
    for (int i = 0; i < 4000; ++i) {
        const Body a = random_body(dice, 0, true, 60);
        const Body b = random_body(dice, 1, true, 60);
        const Separation fast = separation(a, b);
        const Separation slow = separation_general(a, b);
        if (!fast.decided || !slow.decided) {
            ++undecided;
            continue;
        }
        SCOPED_TRACE(i);
        if (fast.distance > 0 || (fast.least && slow.least)) {
            ASSERT_NEAR(fast.distance, slow.distance, 2e-6 + slow.error);
        } else {
            ASSERT_LT(slow.distance, touch_length);
            ASSERT_TRUE(!fast.least || slow.distance <= fast.distance + 2e-6) << "a push shorter than the least";
        }
        ++(fast.distance > 0 ? apart : over);
    }
    EXPECT_GT(apart, 800);
    EXPECT_GT(over, 800);
    EXPECT_LT(undecided, 80);
}

// Relations on pairs turned any way: the push frees, a hair less does not where it is the least, swapping flips.
TEST(ClearanceScenes, PushesFreeAndSwappingFlips) {
    Dice dice(samples::seed());
    int over = 0;
    int apart = 0;
    double worst_error = 0;
    for (int i = 0; i < 3000; ++i) {
        const bool square = i % 3 == 0;
        const Body a = random_body(dice, 3, square, 80);
        const Body b = random_body(dice, 7, square, 80);
        const Separation s = separation(a, b);
        if (!s.decided) continue;
        SCOPED_TRACE(i);
        ASSERT_EQ(s.a, 3U);
        ASSERT_EQ(s.b, 7U);
        ASSERT_NEAR(norm(s.direction), 1, 1e-9);
        ASSERT_LT(norm(s.on_b - s.on_a - s.distance * s.direction), 1e-4);
        worst_error = std::max(worst_error, s.error);
        const Separation back = separation(b, a);
        ASSERT_NEAR(back.distance, s.distance, s.least && back.least ? 1e-6 + s.error + back.error : 1e-2);
        // The direction away from something apart is one only; a push may have two that are as short.
        if (s.distance > 0.1) {
            ASSERT_LT(dot(back.direction, s.direction), -0.9999);
        }
        if (s.distance < -1e-3) {
            ++over;
            const Separation freed = separation(a, moved(b, (1e-5 - s.distance) * s.direction));
            ASSERT_FALSE(overlaps(freed)) << freed.distance;
            if (s.least) {
                ASSERT_TRUE(overlaps(separation(a, moved(b, (-s.distance - 1e-3 - s.error) * s.direction))));
            }
        } else if (s.distance > 1e-3) {
            ++apart;
            // The two points are on the bodies, and on the way to touching nothing meets before.
            const auto off = [](const Body& body, RoomPoint p) {
                return std::abs(separation(body, make_body(Capsule{p, p, 0}, 9)).distance);
            };
            ASSERT_LT(off(a, s.on_a), 1e-5);
            ASSERT_LT(off(b, s.on_b), 1e-5);
            ASSERT_FALSE(overlaps(separation(a, moved(b, (1e-5 - s.distance) * s.direction))));
        }
    }
    EXPECT_GT(over, 500);
    EXPECT_GT(apart, 500);
    EXPECT_LE(worst_error, 1e-6);
}

// Closed form: what is wholly inside overlaps, by the least way out.
TEST(ClearanceScenes, ContainmentIsOverlap) {
    Dice dice(samples::seed());
    for (int i = 0; i < 200; ++i) {
        const Frame m = samples::random_frame(dice);
        const Body stud = make_body(moved_by(m, box({0, 0, 0}, {45, 90, 2000})), 0);
        const Separation pipe =
            separation(stud, make_body(moved_by(m, cylinder({20, 40, 500}, {0, 0, 1}, 15, 100)), 1));
        EXPECT_NEAR(pipe.distance, -27.5, 1e-6);  // 20 + 7.5 out of the near side
        const Separation screw = separation(stud, make_body(moved_by(m, cylinder({30, 40, 700}, {1, 2, 3}, 4, 9)), 1));
        EXPECT_TRUE(overlaps(screw));
        // Out of the far side: 15, and the reach of the tilted screw back from its start.
        const double across = 1 / std::sqrt(14.0);
        EXPECT_NEAR(screw.distance, -(15 + 2 * std::sqrt(1 - across * across)), 1e-6);
        EXPECT_NEAR(*common_volume(stud, make_body(moved_by(m, cylinder({20, 40, 500}, {0, 0, 1}, 15, 100)), 1)),
                    pi * 7.5 * 7.5 * 100, 1e-6);
    }
}

// Closed forms of common volumes, under random rigid motions.
TEST(ClearanceScenes, CommonVolumesOfParallelPrisms) {
    Dice dice(samples::seed());
    const auto volume_of = [&](const Part& a, const Part& b) {
        const Frame m = samples::random_frame(dice);
        const auto v = common_volume(make_body(moved_by(m, a), 0), make_body(moved_by(m, b), 1));
        const auto w = common_volume(make_body(moved_by(m, b), 0), make_body(moved_by(m, a), 1));
        EXPECT_TRUE(v && w);
        EXPECT_NEAR(v.value_or(-1), w.value_or(-2), 1e-6 * (1 + v.value_or(0)));
        return v.value_or(-1);
    };
    const RoomPoint z{0, 0, 1};
    for (int i = 0; i < 50; ++i) {
        EXPECT_NEAR(volume_of(box({0, 0, 0}, {45, 90, 2000}), box({40, 10, 900}, {400, 80, 1100})), 5.0 * 70 * 200,
                    1e-4);
        EXPECT_NEAR(volume_of(box({0, 0, 0}, {45, 90, 20}), box({45, 10, 0}, {400, 80, 20})), 0, 1e-6);
        // The same outline twice: all of it.
        EXPECT_NEAR(volume_of(box({0, 0, 0}, {45, 90, 20}), box({0, 0, 5}, {45, 90, 50})), 45.0 * 90 * 15, 1e-5);
        // Two circles of radius r, middles d apart: 2 r^2 acos(d / 2r) - d / 2 sqrt(4 r^2 - d^2).
        const double lens = 2 * 100 * std::acos(0.6) - 6 * std::sqrt(400.0 - 144);
        EXPECT_NEAR(volume_of(cylinder({0, 0, 0}, z, 20, 30), cylinder({12, 0, 10}, z, 20, 30)), lens * 20, 1e-6);
        // Half a circle against a straight edge through its middle.
        EXPECT_NEAR(volume_of(cylinder({0, 0, 0}, z, 20, 30), box({0, -50, -5}, {50, 50, 50})), pi * 50 * 30, 1e-6);
        // A bar of 50 through a plate of 6 with a hole of 35 on the same middle: the ring.
        Part plate = box({-200, -150, 0}, {200, 150, 6});
        plate.holes.emplace_back(RoundedRect::circle({30, 20}, 35));
        EXPECT_NEAR(volume_of(plate, cylinder({30, 20, -20}, z, 50, 60)), pi * (25.0 * 25 - 17.5 * 17.5) * 6, 1e-6);
        EXPECT_NEAR(volume_of(plate, cylinder({30, 20, -20}, z, 30, 60)), 0, 1e-6);
        Part rounded = prism(RoundedRect::rect({0, 0}, 86, 146, 5), 9);
        EXPECT_NEAR(volume_of(rounded, box({-500, -500, -5}, {500, 500, 50})), (86.0 * 146 - (4 - pi) * 25) * 9, 1e-5);
        EXPECT_NEAR(volume_of(rounded, box({0, 0, -5}, {500, 500, 50})), (86.0 * 146 - (4 - pi) * 25) * 9 / 4, 1e-5);
    }
}

// Monte Carlo, with its own error: random prisms along one direction.
TEST(ClearanceScenes, CommonVolumesAgreeWithCountedPoints) {
    Dice dice(samples::seed());
    int compared = 0;
    for (int i = 0; i < 60; ++i) {
        const auto make = [&](std::size_t number) {
            Part part = dice.up_to(1) == 0 ? samples::random_drilled(dice, {})
                                           : prism(samples::random_rounded(dice, {}, 40, 200), dice.between(5, 50));
            part.place.origin = {dice.between(-60, 60), dice.between(-60, 60), dice.between(-10, 10)};
            part.place.x = {0.6, 0.8, 0};
            part.place.y = {-0.8, 0.6, 0};
            return std::pair{part, make_body(part, number)};
        };
        const auto [p, a] = make(0);
        const auto [q, b] = make(1);
        const auto volume = common_volume(a, b);
        ASSERT_TRUE(volume);
        const auto filled = [](const Part& part, RoomPoint at) {
            const auto local = part.place.from_room(at);
            const auto in = [&](const Profile& shape) {
                for (const auto& [from, to] : spans_at(shape, local[1])) {
                    if (local[0] > from && local[0] < to) return true;
                }
                return false;
            };
            if (local[2] < 0 || local[2] > part.length || !in(part.outline)) return false;
            return std::none_of(part.holes.begin(), part.holes.end(), in);
        };
        const int points = 20000;
        int inside = 0;
        for (int k = 0; k < points; ++k) {
            const RoomPoint at{dice.between(a.box.low.x, a.box.high.x), dice.between(a.box.low.y, a.box.high.y),
                               dice.between(a.box.low.z, a.box.high.z)};
            inside += filled(p, at) && filled(q, at) ? 1 : 0;
        }
        const double whole = (a.box.high.x - a.box.low.x) * (a.box.high.y - a.box.low.y) * (a.box.high.z - a.box.low.z);
        const double share = double(inside) / points;
        const double error = 5 * std::sqrt(std::max(share * (1 - share), 1.0 / points) / points);
        EXPECT_NEAR(*volume / whole, share, error) << i;
        compared += inside > 100 ? 1 : 0;
    }
    EXPECT_GT(compared, 20);
}

// Brute force: every pair asked by itself, over 1 000 scenes.
TEST(ClearanceScenes, NearPairsAreAllPairsThatAreNear) {
    Dice dice(samples::seed());
    std::size_t found = 0;
    for (int scene = 0; scene < 1000; ++scene) {
        const auto bodies = random_scene(dice, 3 + static_cast<std::size_t>(dice.up_to(12)), 200, scene % 2 == 0);
        const double within = dice.between(0, 60);
        Nearness nearness;
        nearness.largest = within;
        const auto near = near_pairs(bodies, nearness);
        std::vector<Separation> all;
        for (std::size_t i = 0; i < bodies.size(); ++i) {
            for (std::size_t j = i + 1; j < bodies.size(); ++j) {
                const Separation s = separation(bodies[i], bodies[j]);
                if (s.distance <= within || !s.decided) all.push_back(s);
            }
        }
        ASSERT_EQ(near.size(), all.size()) << "scene " << scene;
        for (std::size_t i = 0; i < near.size(); ++i) ASSERT_TRUE(same_answer(near[i], all[i])) << "scene " << scene;
        found += near.size();
    }
    EXPECT_GT(found, 3000U);
}

// Relations: a body more never takes a pair away nor makes the least clearance larger; a larger clearance takes none
// away.
TEST(ClearanceScenes, MoreBodiesAndMoreClearanceNeverTakePairsAway) {
    Dice dice(samples::seed());
    int pairs = 0;
    for (int scene = 0; scene < 300; ++scene) {
        auto bodies = random_scene(dice, 10, 200, scene % 2 == 0);
        Nearness nearness;
        nearness.largest = 20;
        const auto before = near_pairs(bodies, nearness);
        const auto least = [](const std::vector<Separation>& all) {
            double d = 1e300;
            for (const auto& s : all) d = std::min(d, s.distance);
            return d;
        };
        const auto holds = [](const std::vector<Separation>& more, const std::vector<Separation>& less) {
            return std::all_of(less.begin(), less.end(), [&](const Separation& s) {
                return std::any_of(more.begin(), more.end(), [&](const Separation& t) { return same_answer(s, t); });
            });
        };
        nearness.largest = 45;
        EXPECT_TRUE(holds(near_pairs(bodies, nearness), before));
        nearness.largest = 20;
        bodies.push_back(random_body(dice, 10, scene % 2 == 0, 200));
        const auto after = near_pairs(bodies, nearness);
        EXPECT_TRUE(holds(after, before));
        EXPECT_LE(least(after), least(before));
        pairs += static_cast<int>(before.size());
    }
    EXPECT_GT(pairs, 500);
}

// The same, to the bit: updated against worked out anew, one thread against several.
TEST(ClearanceScenes, UpdatesAndThreadsChangeNothing) {
    Dice dice(samples::seed());
    std::size_t pairs = 0;
    for (int scene = 0; scene < 40; ++scene) {
        auto bodies = random_scene(dice, 120, 500, scene % 2 == 0);
        Nearness nearness;
        nearness.largest = 40;
        nearness.within = [](std::size_t i, std::size_t j) { return (i + j) % 7 == 0 ? -1.0 : double((i * j) % 41); };
        auto result = near_pairs(bodies, nearness);
        for (int step = 0; step < 5; ++step) {
            std::vector<std::size_t> changed;
            for (int k = 0; k < 4; ++k) {
                const auto i = static_cast<std::size_t>(dice.up_to(119));
                changed.push_back(i);
                if (k == 3) {
                    bodies[i] = Body{};  // gone
                } else {
                    bodies[i] = random_body(dice, i, scene % 2 == 0, 500);
                }
            }
            changed.push_back(bodies.size());
            bodies.push_back(random_body(dice, bodies.size(), true, 500));
            result = near_pairs(result, bodies, changed, nearness);
            nearness.threads = 1 + static_cast<unsigned>(step);
            const auto anew = near_pairs(bodies, nearness);
            ASSERT_EQ(result.size(), anew.size());
            for (std::size_t i = 0; i < anew.size(); ++i) ASSERT_TRUE(same_answer(result[i], anew[i]));
            pairs += anew.size();
        }
    }
    EXPECT_GT(pairs, 2000U);
}

// Closed form: an L is what two boxes make of it; its inner corner is empty.
TEST(ClearanceScenes, OutlinesThatAreNotConvex) {
    Dice dice(samples::seed());
    const Part angle = prism(Polygon{{{0, 0}, {100, 0}, {100, 20}, {20, 20}, {20, 100}, {0, 100}}}, 50);
    for (int i = 0; i < 100; ++i) {
        const Frame m = samples::random_frame(dice);
        const Body a = make_body(moved_by(m, angle), 0);
        EXPECT_GT(a.pieces.size(), 1U);
        const auto to = [&](const Part& part) { return separation(a, make_body(moved_by(m, part), 1)); };
        EXPECT_NEAR(to(cylinder({30, 30, -10}, {0, 0, 1}, 19.98, 100)).distance, 0.01, 1e-9);
        EXPECT_NEAR(to(cylinder({31, 31, 10}, {0.001, 0.001, 1}, 10, 20)).distance, 6, 0.05);
        const Separation hit = to(cylinder({30, 30, -10}, {0, 0, 1}, 20.02, 100));
        EXPECT_TRUE(overlaps(hit));
        EXPECT_FALSE(hit.least);
        EXPECT_NEAR(*common_volume(a, make_body(moved_by(m, box({0, 0, 10}, {60, 60, 20})), 1)),
                    (60.0 * 60 - 40.0 * 40) * 10, 1e-6);
    }
}

// A body without pieces is near nothing; a scene of none has no pairs.
TEST(ClearanceScenes, NothingIsNearNothing) {
    EXPECT_TRUE(near_pairs({}, {}).empty());
    std::vector<Body> bodies(3);
    bodies.push_back(make_body(box({0, 0, 0}, {1, 1, 1}), 3));
    Nearness nearness;
    nearness.largest = 1e6;
    EXPECT_TRUE(near_pairs(bodies, nearness).empty());
}

}  // namespace standproud
