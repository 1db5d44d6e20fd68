// What the 3D view shows of the demo jobs, without a screen: the whole recess, flags of what is seen, edges of what is
// not covered.
#include <gtest/gtest.h>

#include <Graphic3d_Camera.hxx>
#include <array>
#include <cmath>

#include "scene/clash_marks.hpp"
#include "scene/edges.hpp"
#include "scene/face_mesh.hpp"
#include "scene/flags.hpp"
#include "scene/kernel_colours.hpp"
#include "scene/marks.hpp"
#include "scene/screen.hpp"
#include "scene/solid_store.hpp"

namespace standproud::viewer {
namespace {

const std::array jobs{"bath-renovation", "corner-mixer", "level-entry", "old-stable", "twin-taps"};
constexpr std::array<std::array<int, 2>, 4> sizes{{{800, 500}, {1280, 800}, {2560, 1440}, {450, 1000}}};

Document opened(const std::string& name) {
    return open_document(std::filesystem::path(STANDPROUD_SOURCE_DIR) / "models" / (name + ".toml"));
}

Handle(Graphic3d_Camera) looking(const Pose& pose, std::array<int, 2> size) {
    Handle(Graphic3d_Camera) camera = new Graphic3d_Camera();
    aim(camera, pose, static_cast<double>(size[0]) / size[1]);
    return camera;
}

Pose turned(Pose pose, double degrees) {
    const double a = degrees * pi / 180;
    const RoomPoint b = pose.back;
    pose.back = {b.x * std::cos(a) - b.y * std::sin(a), b.x * std::sin(a) + b.y * std::cos(a), b.z};
    return pose;
}

/// Closed form of a projection: a point is in the picture between -1 and 1 both ways.
TEST(Overview, ShowsEverySolidAtAnySize) {
    for (const char* job : jobs) {
        const Document document = opened(job);
        for (const double apart : {0.0, 120.0}) {
            Look look;
            look.apart = apart;
            for (const auto& size : sizes) {
                const auto camera = looking(overview(document, look), size);
                double most = 0;
                for (const auto& part : document.parts) {
                    const RoomPoint moved = moved_apart(document.job->model, part, apart);
                    const auto [left, right, low, high] = extent(part.outline);
                    for (const double x : {left, right}) {
                        for (const double y : {low, high}) {
                            for (const double z : {0.0, part.length}) {
                                const gp_Pnt at = camera->Project(kernel_point(moved + part.place.to_room(x, y, z)));
                                ASSERT_LT(std::abs(at.X()), 1) << job << " " << part.id << " " << size[0];
                                ASSERT_LT(std::abs(at.Y()), 1) << job << " " << part.id << " " << size[0];
                                most = std::max({most, std::abs(at.X()), std::abs(at.Y())});
                            }
                        }
                    }
                }
                EXPECT_GT(most, 0.75) << job << ": it would fit much larger";
            }
        }
    }
}

void expect_apart_and_whole(const std::vector<FlagPlace>& places, std::array<int, 2> size, const std::string& of) {
    for (std::size_t i = 0; i < places.size(); ++i) {
        const PlateBox& a = places[i].box;
        EXPECT_TRUE(a.left >= 0 && a.top >= 0 && a.right <= size[0] && a.bottom <= size[1]) << of << places[i].words;
        for (std::size_t j = 0; j < i; ++j) {
            const PlateBox& b = places[j].box;
            const bool apart = a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
            EXPECT_TRUE(apart) << of << places[i].words << " on " << places[j].words;
        }
    }
}

/// From all round, straight on, near and far: no plate on another, none cut off, none of a wall that is seen from
/// behind or from its edge.
TEST(Flags, BelongToWhatIsSeenAndHaveRoomOfTheirOwn) {
    for (const char* job : jobs) {
        const Document document = opened(job);
        const Model& model = document.job->model;
        const Look look;
        const auto flags = fitting_flags(document, look);
        ASSERT_EQ(flags.size(), model.fittings.size());
        std::vector<std::pair<std::string, Pose>> poses{{"overview", overview(document, look)}};
        for (int degrees = 0; degrees < 360; degrees += 30) {
            poses.emplace_back(std::to_string(degrees), turned(poses.front().second, degrees));
            Pose far = poses.back().second;
            far.whole.clear();
            far.fit_width = far.fit_height = 20000;
            poses.emplace_back("far " + std::to_string(degrees), far);
        }
        for (std::size_t w = 0; w < model.room.walls.size(); ++w)
            poses.emplace_back("wall " + std::to_string(w), facing_wall(model, w));
        for (const auto& [name, pose] : poses) {
            std::size_t seen = 0;
            for (const auto& size : sizes) {
                const std::string of = std::string(job) + ", " + name + ", " + std::to_string(size[0]) + ": ";
                const auto camera = looking(pose, size);
                const auto places = place_flags(flags, model, look, camera, size[0], size[1], false);
                expect_apart_and_whole(places, size, of);
                seen += places.size();
                for (const auto& placed : places) {
                    const Flag& flag = flags[placed.flag];
                    const Frame& wall = model.room.walls[*flag.wall];
                    const gp_Pnt eye = camera->Eye();
                    const RoomPoint way =
                        camera->IsOrthographic() ? pose.back : RoomPoint{eye.X(), eye.Y(), eye.Z()} - flag.spot;
                    EXPECT_GT(dot(way, wall.z), 0.05 * norm(way)) << of << flag.name;
                }
            }
            if (name == "overview") {
                EXPECT_EQ(seen, sizes.size() * flags.size()) << job << ": all walls face the eye";
            }
        }
    }
}

/// Straight on to a wall there are its own flags, all of them, and no others.
TEST(Flags, OfOneWallStraightOn) {
    for (const char* job : jobs) {
        const Document document = opened(job);
        const Model& model = document.job->model;
        const auto flags = fitting_flags(document, {});
        for (std::size_t w = 0; w < model.room.walls.size(); ++w) {
            std::size_t own = 0;
            for (const auto& placed : model.fittings) own += placed.wall == w ? 1 : 0;
            const auto camera = looking(facing_wall(model, w), sizes[1]);
            const auto places = place_flags(flags, model, {}, camera, sizes[1][0], sizes[1][1], false);
            std::size_t of_this = 0;
            for (const auto& placed : places) {
                const std::size_t on = *flags[placed.flag].wall;
                of_this += on == w ? 1 : 0;
                // A splayed wall is seen, too.
                EXPECT_GT(dot(model.room.walls[on].z, model.room.walls[w].z), 0.5)
                    << job << " " << flags[placed.flag].name;
            }
            EXPECT_EQ(of_this, own) << job << " " << w;
        }
    }
}

/// Every finding of every demo as it is flown to: its words, its figure and what is needed, whole; also at the
/// picture's edge.
TEST(Flags, OfAFindingWithItsFigure) {
    std::size_t figures = 0;
    for (const char* job : jobs) {
        Document document = opened(job);
        const Model& model = document.job->model;
        const Look look;
        for (std::size_t f = 0; f < document.job->findings.size(); ++f) {
            choose_finding(document, f);
            Marks marks = chosen_marks(document, look);
            const auto more = clash_marks(document, {}, look).flags;
            marks.flags.insert(marks.flags.end(), more.begin(), more.end());
            for (const double aside : {0.0, 0.44}) {
                for (const auto& size : sizes) {
                    Pose pose = near_finding(document, document.job->findings[f], look);
                    if (pose.whole.empty()) pose.at = pose.at + RoomPoint{0, 0, -aside * pose.fit_height};
                    const auto camera = looking(pose, size);
                    const auto places = place_flags(marks.flags, model, look, camera, size[0], size[1], true);
                    const std::string of = std::string(job) + " " + document.job->findings[f].rule + ": ";
                    expect_apart_and_whole(places, size, of);
                    if (aside > 0) continue;
                    EXPECT_EQ(places.size(), marks.flags.size()) << of << "something that was judged is not shown";
                    figures += places.size();
                }
            }
        }
    }
    EXPECT_GT(figures, 500u);
}

TEST(Flags, OfReadings) {
    const Document document = opened("old-stable");
    Look look;
    look.survey.on = true;
    const auto flags = survey_flags(*document.job, look);
    ASSERT_GT(flags.size(), 10u);
    std::size_t shown = 0;
    for (int degrees = 0; degrees < 360; degrees += 30) {
        for (const auto& size : sizes) {
            const auto camera = looking(turned(overview(document, look), degrees), size);
            const auto places = place_flags(flags, document.job->model, look, camera, size[0], size[1], false);
            expect_apart_and_whole(places, size, std::to_string(degrees));
            shown += places.size();
        }
    }
    EXPECT_GT(shown, 100u);
}

TEST(Flags, GoWithWhatIsHiddenOrCutOff) {
    const Document document = opened("twin-taps");
    Look look;
    look.trades["plumber"] = Shown::hidden;
    std::vector<std::string> left;
    for (const auto& flag : fitting_flags(document, look)) left.push_back(flag.name);
    EXPECT_EQ(left, (std::vector<std::string>{"basket", "rail"})) << "what the plumber does not fit";
    look.trades.clear();
    look.cut = {true, {0, 0, 1}, 1100};  // all above 1100 is taken off
    const auto flags = fitting_flags(document, look);
    const auto camera = looking(overview(document, look), sizes[1]);
    for (const auto& placed : place_flags(flags, document.job->model, look, camera, sizes[1][0], sizes[1][1], false)) {
        EXPECT_NE(flags[placed.flag].name, "rose") << "2000 high";
        EXPECT_NE(flags[placed.flag].name, "basket") << "1150 high";
    }
}

double length_of(const std::vector<Segment>& edges, const Frame& wall, double within_u, double to_u) {
    double length = 0;
    for (const auto& edge : edges) {
        const double u = wall.from_room(0.5 * (edge.from + edge.to))[0];
        if (u > within_u && u < to_u) length += norm(edge.to - edge.from);
    }
    return length;
}

/// No edge of a stud lies behind a board that is shown; all of them do again when it is hidden or drawn apart.
TEST(Edges, OfStudsBehindBoards) {
    const Document document = opened("twin-taps");
    const Model& model = document.job->model;
    Progress progress;
    const auto store = make_missing(document.parts, {}, progress);
    int studs = 0;
    for (const auto& part : document.parts) {
        if (part.layer != "frame" || part.id.find("back/stud") != 0) continue;
        const Frame& wall = model.room.walls[1];
        const auto edges = edges_of(store.at(shape_key(part)).shape);
        const double all = length_of(edges, wall, 60, 1440);  // away from the corners
        if (all == 0) continue;
        ++studs;
        EXPECT_GE(all, 4 * 2400) << "four upright edges";
        Look look;
        const auto bare = [&](const Look& how) {
            return length_of(bare_of(edges, part, covers(document, how, false), model, how), wall, 60, 1440);
        };
        EXPECT_LT(bare(look), 0.12 * all) << part.id << ": only its ends, at the board's rim";
        look.apart = 60;
        EXPECT_EQ(bare(look), all);
        look.apart = 0;
        look.layers["board"] = Shown::ghost;
        look.layers["panel"] = Shown::ghost;
        EXPECT_EQ(bare(look), all);
        look.layers["panel"] = Shown::full;
        EXPECT_GT(bare(look), 0.05 * all) << "above the panels";
        // One edge of the third lies behind the gap of the join, where it is seen if there is no sealant.
        if (part.id != "back/stud-3") {
            EXPECT_LT(bare(look), 0.4 * all) << part.id;
        }
        look.layers.clear();
        look.cut = {true, {0, 0, 1}, 1000};  // the board above is taken off, and so is the stud
        EXPECT_GT(bare(look), 0.4 * all);
    }
    EXPECT_GT(studs, 1);
}

}  // namespace
}  // namespace standproud::viewer
