// Frames, corners and positions. Source of every check: closed form.
#include "modeler/room.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "support/jobs.hpp"

namespace standproud {
namespace {

using testing::model_of;
using testing::recess;

TEST(Room, FramesAreRightHandedAndFaceTheRoom) {
    const Model model = model_of(recess(""));
    const Frame& back = model.room.walls[1];
    EXPECT_EQ(back.origin.x, 0);
    EXPECT_EQ(back.origin.y, 900);
    EXPECT_EQ(back.x.x, 1);
    EXPECT_EQ(back.z.y, -1);
    for (const auto& wall : model.room.walls) {
        const RoomPoint n = cross(wall.x, wall.y);
        EXPECT_NEAR(norm(n - wall.z), 0, 1e-15);
        EXPECT_GT(dot(RoomPoint{600, 450, 1000} - wall.origin, wall.z), 0) << "the middle of the room is in front";
    }
}

TEST(Room, LiningTheSideWallMovesTheCornerByItsF) {
    // Design formula: bare distance = finished distance + F of the side wall.
    const Model model = model_of(recess(R"(
[[types]]
id = "t"
name = "t"
family = "spindle"
trade = "plumber"
[[fittings]]
id = "a"
type = "t"
wall = "back"
across = 300
from = "left finished"
height = 1000
[[fittings]]
id = "b"
type = "t"
wall = "back"
across = 0
from = "centre"
height = 1000
)"));
    EXPECT_DOUBLE_EQ(model.fittings[0].u, 317);
    EXPECT_DOUBLE_EQ(*model.fittings[0].from_left_finished, 300);
    EXPECT_DOUBLE_EQ(*model.fittings[0].from_right_finished, 1200 - 17 - 317);
    EXPECT_DOUBLE_EQ(model.fittings[1].u, 600);
}

TEST(Room, FinishedCornerLiesOnBothFinishedFaces) {
    const unsigned seed = 7;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    int corners = 0;
    for (int i = 0; i < 500; ++i) {
        const Job job = testing::random_job(random);
        const Room room = lay_out(job);
        for (const auto& corner : room.corners) {
            if (std::abs(corner.angle - 180) < 1) continue;
            ++corners;
            const double v = 1000;
            const auto u = finished_corner(job, room, corner.left_wall, Side::right, v);
            ASSERT_TRUE(u);
            const double face = finished_face(job, room, corner.left_wall, *u, v);
            const RoomPoint at = room.walls[corner.left_wall].to_room(WallPoint{*u, v, face});
            const auto seen = room.walls[corner.right_wall].from_room(at);
            EXPECT_NEAR(seen[2], finished_face(job, room, corner.right_wall, 0, v), 1e-6);
            const auto other = finished_corner(job, room, corner.right_wall, Side::left, v);
            EXPECT_NEAR(seen[0], *other, 1e-6);
        }
    }
    EXPECT_GT(corners, 500);
}

TEST(Room, PositionsGoThereAndBack) {
    const unsigned seed = 11;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    int placed_ones = 0;
    for (int i = 0; i < 300; ++i) {
        Faults faults;
        const Model model = build_model(testing::random_job(random), faults);
        for (const auto& placed : model.fittings) {
            ++placed_ones;
            const double width = model.job.walls[placed.wall].width;
            EXPECT_NEAR(placed.from_left_bare + placed.from_right_bare, width, 1e-9);
            using From = Across::From;
            if (placed.from_left_finished) {
                const Across back{From::left_finished, *placed.from_left_finished, {}};
                EXPECT_NEAR(*along_wall(model.job, model.room, placed.wall, back, placed.v), placed.u, 1e-9);
            }
            if (placed.from_right_finished) {
                const Across back{From::right_finished, *placed.from_right_finished, {}};
                EXPECT_NEAR(*along_wall(model.job, model.room, placed.wall, back, placed.v), placed.u, 1e-9);
            }
        }
    }
    EXPECT_GT(placed_ones, 1000);
}

TEST(Room, FaceCountsBedAndPanelOnlyWherePanelsStand) {
    Faults faults;
    std::string text = recess("");
    text.replace(text.find("[panels]"), 8, "[panels]\ntop = 2100");
    const Model model = model_of(text);
    EXPECT_DOUBLE_EQ(finished_face(model.job, model.room, 1, 600, 2100), 17);
    EXPECT_DOUBLE_EQ(finished_face(model.job, model.room, 1, 600, 2100.01), 9);
}

TEST(Room, BackingIsFoundToTheEdgeOfTheTimber) {
    const Model model = model_of(recess(""));
    // Stud 45 wide at 600; noggin 0 to 600, centred at 1000, 90 high, 20 behind the bare face.
    EXPECT_TRUE(backing_at(model.job, 1, 622.5, 500));
    EXPECT_FALSE(backing_at(model.job, 1, 622.51, 500));
    ASSERT_TRUE(backing_at(model.job, 1, 300, 1045));
    EXPECT_DOUBLE_EQ(backing_at(model.job, 1, 300, 1045)->face, -20);
    EXPECT_FALSE(backing_at(model.job, 1, 300, 1045.01));
    EXPECT_DOUBLE_EQ(backing_at(model.job, 1, 600, 1000)->face, 0) << "the nearer of stud and noggin";
}

TEST(Room, AnOpeningHasNothingBehind) {
    Job job = model_of(recess("")).job;
    job.walls[1].openings = {{"o", "o", 200, 600, 980, 1500, {}, {}, 5, {}}};
    EXPECT_TRUE(backing_at(job, 1, 300, 979.99));
    EXPECT_FALSE(backing_at(job, 1, 300, 980.01));
    EXPECT_FALSE(backing_at(job, 1, 599.99, 1200));
    EXPECT_TRUE(backing_at(job, 1, 600.01, 1200)) << "the stud at 600";
    job.walls[1].studs.reset();
    job.walls[1].noggins.clear();
    job.walls[1].masonry = Masonry{100, {}};
    EXPECT_FALSE(backing_at(job, 1, 300, 1200));
    EXPECT_TRUE(backing_at(job, 1, 100, 1200));
}

}  // namespace
}  // namespace standproud
