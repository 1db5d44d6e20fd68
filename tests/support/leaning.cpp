#include "support/leaning.hpp"

#include <cmath>

namespace standproud::testing {

namespace {

Vec2 flat(RoomPoint p) { return {p.x, p.y}; }

/// How a corner moves with each metre of height: so that it stays in both leaning walls.
Vec2 drift_between(const Frame& a, double lean_a, const Frame& b, double lean_b) {
    const Vec2 n = flat(a.z);
    const Vec2 m = flat(b.z);
    const double turned = cross(n, m);
    if (std::abs(turned) < 0.02) return lean_a * n;  // in line: both then lean alike
    return {(lean_a * m.y - lean_b * n.y) / turned, (lean_b * n.x - lean_a * m.x) / turned};
}

}  // namespace

Survey survey_with_leans(const Job& job, const std::vector<double>& leans) {
    const Room room = lay_out(job);
    Survey survey;
    survey.mid_height = 1200;
    survey.converged = true;
    const std::size_t walls = job.walls.size();
    for (std::size_t w = 0; w < walls; ++w) {
        WallSurvey wall;
        wall.wall = job.walls[w].id;
        wall.width = {job.walls[w].width, 0.5, {}};
        wall.drawn_width = job.walls[w].width;
        wall.lean = {leans[w], 0.3, {}};
        wall.unevenness = 1;
        survey.walls.push_back(wall);
    }
    for (std::size_t k = 0; k <= walls; ++k) {
        const std::size_t right = k == walls ? walls - 1 : k;
        const Frame& frame = room.walls[right];
        PlanPoint point;
        point.at = flat(frame.to_room(k == walls ? job.walls[right].width : 0, 0, 0));
        point.per_metre = k == 0 || k == walls ? leans[right] * flat(frame.z)
                                               : drift_between(room.walls[k - 1], leans[k - 1], frame, leans[k]);
        survey.plan.push_back(point);
    }
    for (const auto& corner : room.corners) {
        survey.corners.push_back({corner.left_wall, corner.right_wall, {corner.angle, 0.1, {}}, corner.angle});
    }
    return survey;
}

Survey leaning_survey(const Job& job, std::mt19937& random, double most, int spots) {
    std::uniform_real_distribution<double> lean(-most, most);
    std::vector<double> leans;
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        const bool in_line = w > 0 && std::abs(job.walls[w - 1].next_angle - 180) < 2;
        leans.push_back(in_line ? leans.back() : lean(random));
    }
    Survey survey = survey_with_leans(job, leans);
    std::uniform_real_distribution<double> part(0.1, 0.9);
    std::normal_distribution<double> off(0, 2);
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        for (int i = 0; i < spots; ++i) {
            SurfacePoint p;
            p.u = part(random) * job.walls[w].width;
            p.v = part(random) * job.walls[w].height;
            p.off_plane = off(random);
            p.n = leans[w] / 1000 * (p.v - survey.mid_height) + p.off_plane;
            p.standard_error = 0.5;
            survey.walls[w].points.push_back(p);
        }
    }
    return survey;
}

}  // namespace standproud::testing
