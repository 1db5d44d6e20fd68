// The bench's coordinates. Closed forms, and relations over random panels: the rear drawing folds back onto the front.
#include "modeler/cutting.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace standproud::cutting {
namespace {

PanelShape rectangle(double w, double h) { return {"back-1", {{{0, 0}, {w, 0}, {w, h}, {0, h}}}, {}}; }

CuttingPlan planned(const PanelShape& panel, const BenchRules& rules = {}) {
    const CuttingAnswer answer = plan_cutting(panel, rules);
    EXPECT_TRUE(answer.plan) << answer.refused;
    return answer.plan.value_or(CuttingPlan{});
}

TEST(Cutting, ASquarePanelByClosedForm) {
    PanelShape panel = rectangle(900, 1200);
    panel.openings.push_back({"tap", RoundedRect::circle({200, 1000}, 36)});
    const SeenPanel front = planned(panel).front;
    ASSERT_EQ(front.edges.size(), 4u);
    EXPECT_EQ(front.edges[0].side, EdgeSide::bottom);
    EXPECT_EQ(front.edges[1].side, EdgeSide::right);
    EXPECT_EQ(front.edges[2].side, EdgeSide::top);
    EXPECT_EQ(front.edges[3].side, EdgeSide::left);
    EXPECT_DOUBLE_EQ(front.edges[0].length, 900);
    EXPECT_DOUBLE_EQ(front.edges[1].length, 1200);
    ASSERT_EQ(front.diagonals.size(), 2u);
    for (const Diagonal& d : front.diagonals) EXPECT_DOUBLE_EQ(d.length, 1500);  // 3-4-5
    for (const double angle : front.angles) EXPECT_NEAR(angle, 90, 1e-12);
    EXPECT_TRUE(front.tapers.empty());
    EXPECT_EQ(front.openings[0].across.side, EdgeSide::left);
    EXPECT_DOUBLE_EQ(front.openings[0].across.distance, 200);
    EXPECT_EQ(front.openings[0].up.side, EdgeSide::top);
    EXPECT_DOUBLE_EQ(front.openings[0].up.distance, 200);
}

TEST(Cutting, FromTheRearLeftAndRightSwap) {
    PanelShape panel = rectangle(900, 1200);
    panel.openings.push_back({"tap", RoundedRect::circle({200, 1000}, 36)});
    const SeenPanel rear = planned(panel).rear;
    EXPECT_EQ(rear.openings[0].across.side, EdgeSide::right);
    EXPECT_DOUBLE_EQ(rear.openings[0].across.distance, 200);
    EXPECT_DOUBLE_EQ(rear.openings[0].seen.shape.centre.x, 700);
    EXPECT_EQ(rear.openings[0].up.side, EdgeSide::top);
    EXPECT_DOUBLE_EQ(rear.openings[0].seen.shape.centre.y, 1000);
}

TEST(Cutting, TaperIsNamedOverOneMillimetre) {
    PanelShape panel = rectangle(900, 2000);
    panel.outline.points[2].x = 901;  // top is 1 mm longer, the right edge leans 1 mm: on the limit, not named
    EXPECT_TRUE(planned(panel).front.tapers.empty());
    EXPECT_FALSE(planned(panel).front.edges[1].named);
    panel.outline.points[2].x = 901.01;
    const SeenPanel front = planned(panel).front;
    ASSERT_EQ(front.tapers.size(), 1u);
    EXPECT_EQ(front.tapers[0].longer, EdgeSide::top);
    EXPECT_EQ(front.tapers[0].shorter, EdgeSide::bottom);
    EXPECT_NEAR(front.tapers[0].by, 1.01, 1e-9);
    EXPECT_TRUE(front.edges[1].named);
    EXPECT_NEAR(front.edges[1].leans, 1.01, 1e-9);
    // Closed form: the corner opens by atan(1.01 / 2000).
    EXPECT_NEAR(front.angles[1], 90 + std::atan(1.01 / 2000) * 180 / pi, 1e-9);
    // A parallelogram has no taper, but leans and has unequal diagonals.
    const PanelShape leaning{"lean", {{{0, 0}, {900, 0}, {905, 2000}, {5, 2000}}}, {}};
    const SeenPanel seen = planned(leaning).front;
    EXPECT_TRUE(seen.tapers.empty());
    EXPECT_TRUE(seen.edges[1].named && seen.edges[3].named);
    EXPECT_NEAR(seen.diagonals[0].length, std::hypot(905, 2000), 1e-9);
    EXPECT_NEAR(seen.diagonals[1].length, std::hypot(895, 2000), 1e-9);
}

TEST(Cutting, CornerHolesOfACutOut) {
    PanelShape panel = rectangle(900, 1200);
    panel.openings.push_back({"outlet", RoundedRect::rect({400, 500}, 100, 60, 8)});
    const SeenPanel front = planned(panel).front;
    const MarkedOpening& o = front.openings[0];
    EXPECT_DOUBLE_EQ(o.corner_diameter, 16);
    ASSERT_EQ(o.corner_holes.size(), 4u);
    // Closed form: the holes touch both sides of their corner, so the cut-out's corner is the hole's own arc.
    for (const Vec2 at : o.corner_holes) {
        EXPECT_DOUBLE_EQ(std::abs(at.x - 400) + 8, 50);
        EXPECT_DOUBLE_EQ(std::abs(at.y - 500) + 8, 30);
    }
    // A slot has two.
    panel.openings[0].shape = RoundedRect::rect({400, 500}, 100, 60, 30);
    EXPECT_EQ(planned(panel).front.openings[0].corner_holes.size(), 2u);
}

TEST(Cutting, ToolsAndFacesUp) {
    // Common practice, no source: the table in the project's values to check against.
    PanelShape panel = rectangle(900, 1200);
    panel.openings = {{"screw", RoundedRect::circle({100, 100}, 8)},
                      {"tap", RoundedRect::circle({300, 100}, 32)},
                      {"mixer", RoundedRect::circle({600, 600}, 110)},
                      {"outlet", RoundedRect::rect({400, 900}, 100, 60, 8)}};
    const CuttingPlan plan = planned(panel);
    const std::vector<Work> order{Work::saw_outline,    Work::drill_corners, Work::drill,       Work::drill,
                                  Work::hole_saw_front, Work::hole_saw_rear, Work::saw_opening, Work::finish_edges};
    ASSERT_EQ(plan.operations.size(), order.size());
    for (std::size_t i = 0; i < order.size(); ++i) EXPECT_EQ(plan.operations[i].work, order[i]) << i;
    const auto& ops = plan.operations;
    EXPECT_EQ(ops[0].up, Face::rear);  // its teeth chip the face they come out of
    EXPECT_TRUE(ops[0].mirrored);
    EXPECT_NE(ops[0].says.find("MIRRORED"), std::string::npos);
    EXPECT_EQ(ops[2].tool, Tool::drill);
    EXPECT_EQ(ops[3].tool, Tool::step_drill);
    EXPECT_EQ(ops[2].up, Face::front);
    EXPECT_EQ(ops[4].up, Face::front);
    EXPECT_EQ(ops[5].up, Face::rear);
    EXPECT_DOUBLE_EQ(ops[4].places[0].at.x, 600);
    EXPECT_DOUBLE_EQ(ops[5].places[0].at.x, 300);
    EXPECT_EQ(ops[6].up, Face::front);  // jigsaw: rear face down
    for (const Operation& op : ops) EXPECT_EQ(op.source, "common practice, no source");
    BenchRules table;
    table.outline_saw = Tool::table_saw;
    EXPECT_EQ(planned(panel, table).operations[0].up, Face::front);
    EXPECT_FALSE(planned(panel, table).operations[0].mirrored);
    // Just over what the step drill reaches.
    panel.openings[1].shape = RoundedRect::circle({300, 100}, 32.01);
    EXPECT_EQ(planned(panel).operations[3].work, Work::hole_saw_front);
}

PanelShape random_panel(std::mt19937& random) {
    std::uniform_real_distribution<double> part(0, 1);
    const double w = 300 + 900 * part(random);
    const double h = 500 + 1900 * part(random);
    const auto off = [&] { return 25 * (part(random) - 0.5); };
    PanelShape panel{"p", {{{off(), off()}, {w + off(), off()}, {w + off(), h + off()}, {off(), h + off()}}}, {}};
    if (part(random) < 0.3) {  // a sloping top: five corners
        panel.outline.points[3].y -= 100;
        panel.outline.points.insert(panel.outline.points.begin() + 3, {w * 0.5, h + 20});
    }
    const Vec2 shift{500 * part(random) - 250, 500 * part(random)};
    for (Vec2& p : panel.outline.points) p = p + shift;
    for (int i = 0; i < 3; ++i) {
        const double size = 10 + 60 * part(random);
        RoundedRect hole = RoundedRect::circle(
            shift + Vec2{w * (0.15 + 0.7 * part(random)), h * (0.2 + 0.2 * i + 0.1 * part(random))}, size);
        if (part(random) < 0.4) hole = RoundedRect::rect(hole.centre, size + 20, size, size / 5);
        panel.openings.push_back({"o" + std::to_string(i), hole});
    }
    return panel;
}

/// Where two marked distances meet: the bench's way back to a centre.
Vec2 from_two_edges(const SeenPanel& seen, const MarkedOpening& o) {
    const auto line = [&](const FromEdge& f, Vec2& inward) {
        const auto& p = seen.shape.outline.points;
        const Vec2 along = p[seen.edges[f.edge].to] - p[seen.edges[f.edge].from];
        inward = (1 / norm(along)) * Vec2{-along.y, along.x};
        return dot(inward, p[seen.edges[f.edge].from]) + f.distance;
    };
    Vec2 a;
    Vec2 b;
    const double da = line(o.across, a);
    const double db = line(o.up, b);
    const double det = cross(a, b);
    return {(da * b.y - db * a.y) / det, (db * a.x - da * b.x) / det};
}

TEST(Cutting, TheRearDrawingFoldsBackOntoTheFront) {
    const unsigned seed = 6401;
    std::mt19937 random(seed);
    int swapped = 0;
    for (int round = 0; round < 2000; ++round) {
        const PanelShape panel = random_panel(random);
        const CuttingAnswer answer = plan_cutting(panel, {});
        ASSERT_TRUE(answer.plan) << "seed " << seed << " round " << round << ' ' << answer.refused;
        const SeenPanel& front = answer.plan->front;
        const SeenPanel& rear = answer.plan->rear;
        const double width = extent(Profile(front.shape.outline))[1];
        const auto fold = [&](Vec2 p) { return Vec2{width - p.x, p.y}; };
        // Outline: every rear corner folds onto a front corner, with its angle.
        const std::size_t n = front.shape.outline.points.size();
        ASSERT_EQ(rear.shape.outline.points.size(), n);
        EXPECT_GT(area(rear.shape.outline), 0);  // anticlockwise as seen
        for (std::size_t i = 0; i < n; ++i) {
            const std::size_t j = (n - i) % n;
            EXPECT_LT(norm(fold(rear.shape.outline.points[i]) - front.shape.outline.points[j]), 1e-9);
            EXPECT_NEAR(rear.angles[i], front.angles[j], 1e-9);
        }
        for (std::size_t i = 0; i < panel.openings.size(); ++i) {
            const MarkedOpening& f = front.openings[i];
            const MarkedOpening& r = rear.openings[i];
            EXPECT_LT(norm(fold(r.seen.shape.centre) - f.seen.shape.centre), 1e-9);
            EXPECT_EQ(f.corner_holes.size(), r.corner_holes.size());
            for (const Vec2 hole : r.corner_holes) {
                EXPECT_TRUE(std::any_of(f.corner_holes.begin(), f.corner_holes.end(),
                                        [&](Vec2 g) { return norm(fold(hole) - g) < 1e-9; }));
            }
            // Both drawings lead to the same spot from their edges alone.
            EXPECT_LT(norm(from_two_edges(front, f) - f.seen.shape.centre), 1e-6);
            EXPECT_LT(norm(fold(from_two_edges(rear, r)) - f.seen.shape.centre), 1e-6);
            EXPECT_NEAR(r.across.distance, f.across.distance, 1e-6);
            const bool turned = (f.across.side == EdgeSide::left) == (r.across.side == EdgeSide::right);
            EXPECT_TRUE(turned) << "seed " << seed << " round " << round;
            if (turned) ++swapped;
        }
        // Every place of a rear-up operation folds onto its front one.
        for (const Operation& op : answer.plan->operations) {
            if (op.work != Work::hole_saw_rear) continue;
            EXPECT_LT(norm(fold(op.places[0].at) - front.openings[*op.opening].seen.shape.centre), 1e-9);
        }
        // Twice over is the panel itself.
        const PanelShape twice = turned_over(turned_over(panel));
        const PanelShape own = in_own_frame(panel);
        for (std::size_t i = 0; i < n; ++i) {
            EXPECT_LT(norm(twice.outline.points[i] - own.outline.points[i]), 1e-9);
        }
    }
    EXPECT_GT(swapped, 5000);
}

/// A notch out of the right edge, and one out of a corner. Closed form.
TEST(Cutting, NotchesAreMarkedByTheirInsideCorners) {
    PanelShape panel = rectangle(900, 2000);
    panel.openings = {{"window", RoundedRect::rect({800, 1300}, 400, 600, 5), true},
                      {"step", RoundedRect::rect({0, 0}, 300, 200, 8), true}};
    const CuttingPlan plan = planned(panel);
    const MarkedOpening& window = plan.front.openings[0];
    ASSERT_EQ(window.inside.size(), 2u);
    EXPECT_NEAR(window.inside[0].at.x, 600, 1e-9);
    EXPECT_NEAR(window.inside[0].at.y, 1000, 1e-9);
    EXPECT_EQ(window.inside[0].across.side, EdgeSide::right);
    EXPECT_NEAR(window.inside[0].across.distance, 300, 1e-9);
    EXPECT_NEAR(window.inside[1].up.distance, 400, 1e-9);  // from the top
    ASSERT_EQ(window.corner_holes.size(), 2u);
    EXPECT_NEAR(window.corner_holes[0].x, 605, 1e-9);
    EXPECT_NEAR(window.corner_holes[0].y, 1005, 1e-9);
    EXPECT_NEAR(2 * window.taken.half_width, 300, 1e-9);
    EXPECT_NEAR(2 * window.taken.half_height, 600, 1e-9);
    ASSERT_EQ(plan.front.openings[1].inside.size(), 1u);
    EXPECT_NEAR(plan.front.openings[1].inside[0].at.x, 150, 1e-9);
    EXPECT_NEAR(plan.front.openings[1].inside[0].at.y, 100, 1e-9);
    const double corners = (1 - pi / 4) * (2 * 25 + 64);
    EXPECT_NEAR(area(plan.front.cut), 900.0 * 2000 - 300 * 600 - 150 * 100 + corners, 0.5);
    // Outline first; then the corner holes of all notches; then the notches, from the front; nothing of it mirrored.
    const auto& ops = plan.operations;
    ASSERT_EQ(ops.size(), 6u);
    EXPECT_EQ(ops[0].work, Work::saw_outline);
    EXPECT_EQ(ops[1].work, Work::drill_corners);
    EXPECT_EQ(ops[1].places.size(), 2u);
    EXPECT_EQ(ops[2].places.size(), 1u);
    EXPECT_EQ(ops[3].work, Work::saw_opening);
    EXPECT_EQ(ops[3].tool, Tool::jigsaw);
    EXPECT_EQ(ops[3].up, Face::front);
    EXPECT_NE(ops[3].says.find("NOTCH"), std::string::npos);
    // What crosses the edge and is not said to be a notch is refused, as is a notch across another opening.
    panel.openings[0].notch = false;
    EXPECT_NE(plan_cutting(panel, {}).refused.find("opening window crosses"), std::string::npos);
    panel.openings[0].notch = true;
    panel.openings.push_back({"tap", RoundedRect::circle({590, 1300}, 36), false});
    EXPECT_NE(plan_cutting(panel, {}).refused.find("window and tap"), std::string::npos);
}

TEST(Cutting, ANotchedRearFoldsBackOntoTheFront) {
    const unsigned seed = 6402;
    std::mt19937 random(seed);
    int corners = 0;
    for (int round = 0; round < 500; ++round) {
        PanelShape panel = random_panel(random);
        panel.openings.clear();
        const auto e = extent(panel.outline);
        std::uniform_real_distribution<double> part(0.2, 0.8);
        const double half = (e[1] - e[0]) * part(random) / 2;
        panel.openings.push_back(
            {"door", RoundedRect::rect({e[0] + (e[1] - e[0]) / 2 + 20, e[2]}, 2 * half * 0.9, 900 * part(random), 5),
             true});
        const CuttingPlan plan = planned(panel);
        const double width = extent(Profile(plan.front.shape.outline))[1];
        const auto fold = [&](Vec2 p) { return Vec2{width - p.x, p.y}; };
        for (const auto& there : plan.rear.openings[0].inside) {
            const auto& here = plan.front.openings[0].inside;
            EXPECT_TRUE(std::any_of(here.begin(), here.end(),
                                    [&](const MarkedPoint& p) {
                                        const bool same_edge = norm(fold(there.at) - p.at) < 1e-9;
                                        return same_edge && std::abs(there.across.distance - p.across.distance) < 1e-6;
                                    }))
                << "seed " << seed << " round " << round;
            ++corners;
        }
        EXPECT_NEAR(area(plan.rear.cut), area(plan.front.cut), 1e-5);
    }
    EXPECT_GT(corners, 900);
}

TEST(Cutting, RefusesInWords) {
    PanelShape panel = rectangle(900, 1200);
    std::swap(panel.outline.points[1], panel.outline.points[3]);
    EXPECT_NE(plan_cutting(panel, {}).refused.find("anticlockwise"), std::string::npos);
    panel = rectangle(900, 1200);
    panel.openings = {{"tap", RoundedRect::circle({18, 600}, 36)}};
    EXPECT_NE(plan_cutting(panel, {}).refused.find("opening tap"), std::string::npos);
    panel.openings[0].shape.centre.x = 18.01;  // just misses the edge
    EXPECT_TRUE(plan_cutting(panel, {}).plan);
    panel.openings = {{"outlet", RoundedRect::rect({300, 600}, 80, 80, 0)}};
    EXPECT_NE(plan_cutting(panel, {}).refused.find("square corners"), std::string::npos);
    panel.openings = {{"a", RoundedRect::circle({300, 600}, 36)}, {"b", RoundedRect::circle({336, 600}, 36)}};
    EXPECT_NE(plan_cutting(panel, {}).refused.find("a and b"), std::string::npos);
    panel.openings[1].shape.centre.x = 336.01;
    EXPECT_TRUE(plan_cutting(panel, {}).plan);
    panel.openings = {{"a", RoundedRect::rect({300, 600}, 36, 20, 12)}};
    EXPECT_NE(plan_cutting(panel, {}).refused.find("radius 12"), std::string::npos);
    panel.openings = {{"a", RoundedRect::circle({std::nan(""), 600}, 36)}};
    EXPECT_NE(plan_cutting(panel, {}).refused.find("opening a at (nan"), std::string::npos);
    BenchRules rules;
    rules.outline_saw = Tool::jigsaw;
    EXPECT_FALSE(plan_cutting(rectangle(900, 1200), rules).plan);
}

}  // namespace
}  // namespace standproud::cutting
