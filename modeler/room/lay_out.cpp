// From job, or job and survey, to frames, corners and faces.
#include <algorithm>
#include <cmath>

#include "modeler/room.hpp"

namespace standproud {

namespace {

/// The unit vector of a heading in degrees from +x, exact at quarter turns.
RoomPoint along(double heading) {
    const double turned = std::fmod(std::fmod(heading, 360) + 360, 360);
    if (turned == 0) return {1, 0, 0};
    if (turned == 90) return {0, 1, 0};
    if (turned == 180) return {-1, 0, 0};
    if (turned == 270) return {0, -1, 0};
    return {std::cos(turned * pi / 180), std::sin(turned * pi / 180), 0};
}

RoomPoint level(Vec2 p) { return {p.x, p.y, 0}; }

double substrate(const Wall& wall) {
    double sum = 0;
    for (const auto& layer : wall.layers) sum += layer.kind < LayerKind::bed ? layer.thickness.value : 0;
    return sum;
}

double of_kind(const Wall& wall, LayerKind kind) {
    double sum = 0;
    for (const auto& layer : wall.layers) sum += layer.kind == kind ? layer.thickness.value : 0;
    return sum;
}

bool has(const Wall& wall, LayerKind kind) {
    return std::any_of(wall.layers.begin(), wall.layers.end(), [&](const auto& l) { return l.kind == kind; });
}

/// The rectangle that the panels of a wall cover, gaps included, as it lies on the bare face.
Polygon panelled(const Job& job, const Room& room, std::size_t w) {
    const double bottom = panel_bottom(job, w);
    const auto corner = [&](Side side, bool top) {
        double v = bottom;
        if (top) v = panel_top(job, room, w, side == Side::left ? 0 : job.walls[w].width);
        return Vec2{bare_corner(job, room, w, side, v), v};
    };
    return {
        {corner(Side::left, false), corner(Side::right, false), corner(Side::right, true), corner(Side::left, true)}};
}

/// Turn that makes a plane on a wall square to the next wall's bare face. With the angle t inside the room the
/// wall's plane has to turn by 90 - t, its right end into the room where t is under 90.
double square_turn(const Corner& next) { return std::tan((90 - next.angle) * pi / 180); }

/// Beds the panels of a wall: over every spot that was read, and at the corners of what they cover over the face
/// that is likely there, and over the wall's plane.
void bed(const Job& job, Room& room, std::size_t w) {
    const Wall& wall = job.walls[w];
    Face& face = room.faces[w];
    const Polygon outline = panelled(job, room, w);
    std::vector<WallPoint> spots;
    const auto add = [&](double u, double v, FaceDepth bare) {
        spots.push_back({u, v, bare.n});
        face.bedded_on.push_back(bare);
    };
    for (const auto& reading : face.bare.readings) {
        if (reading.at.size() == 1) {
            const Vec2 at = reading.at.front();
            add(at.x, at.y, {face.bare.plane(at.y) + reading.off, std::sqrt(reading.variance)});
        }
    }
    for (const Vec2 at : outline.points) {
        FaceDepth bare = face.bare.at(at.x, at.y);
        bare.n = std::max(bare.n, face.bare.plane(at.y));
        add(at.x, at.y, bare);
    }
    BeddingRule rule;
    rule.substrate = substrate(wall);
    rule.bed_min = of_kind(wall, LayerKind::bed);
    rule.plumb = job.panels.plumb;
    rule.assume = true;
    const Corner* next = corner_at(room, w, Side::right);
    if (wall.square_to_next && next) rule.turn = square_turn(*next);
    BeddingAnswer answer = bed_as_plane(spots, outline, rule);
    face.bedding = std::move(answer.bedding);
    face.not_bedded = answer.refused;
}

void bed_all(const Job& job, Room& room) {
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        const Wall& wall = job.walls[w];
        if (!has(wall, LayerKind::panel) || !has(wall, LayerKind::bed)) continue;
        if (wall.bedding.value_or(job.panels.bedding) == BedKind::plane) bed(job, room, w);
    }
}

/// A plane n = a + b u + c v of a wall, as a frame.
Frame plane_frame(const Frame& wall, const BackPlane& plane) {
    const RoomPoint x = wall.x + plane.b * wall.z;
    const RoomPoint up = wall.y + plane.c * wall.z;
    const RoomPoint out = cross(x, up);
    Frame frame;
    frame.origin = wall.to_room(0, 0, plane.a);
    frame.x = plane.b == 0 ? wall.x : 1 / norm(x) * x;
    frame.z = plane.b == 0 && plane.c == 0 ? wall.z : 1 / norm(out) * out;
    frame.y = plane.b == 0 && plane.c == 0 ? wall.y : cross(frame.z, frame.x);
    return frame;
}

}  // namespace

Room lay_out(const Job& job) {
    Room room;
    RoomPoint at;
    double heading = 90;
    for (std::size_t i = 0; i < job.walls.size(); ++i) {
        const RoomPoint u = along(heading);
        const RoomPoint v{0, 0, 1};
        room.walls.push_back({at, u, v, cross(u, v)});
        at = at + job.walls[i].width * u;
        heading -= 180 - job.walls[i].next_angle;
        const bool last = i + 1 == job.walls.size();
        if (!last || job.closed) {
            room.corners.push_back({i, last ? 0 : i + 1, job.walls[i].next_angle, job.walls[i].source});
        }
    }
    room.faces.resize(job.walls.size());
    if (!job.survey) bed_all(job, room);
    return room;
}

Room lay_out(const Job& job, const Survey& survey) {
    Room room;
    const std::size_t count = survey.plan.size();
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        const PlanPoint& left = survey.plan[w];
        const PlanPoint& right = survey.plan[(w + 1) % count];
        const RoomPoint run = level(right.at - left.at);
        Frame frame;
        frame.origin = level(left.at);
        frame.x = 1 / norm(run) * run;
        frame.y = {0, 0, 1};
        frame.z = cross(frame.x, frame.y);
        room.walls.push_back(frame);
        Face face;
        face.bare = surface_of(survey, w);
        face.left_drift = dot(level(left.per_metre), frame.x) / 1000;
        face.right_drift = dot(level(right.per_metre), frame.x) / 1000;
        if (survey.walls[w].fall) face.fall = survey.walls[w].fall->value / 1000;
        face.floor = survey.walls[w].floor;
        room.faces.push_back(std::move(face));
    }
    for (const auto& corner : survey.corners) {
        room.corners.push_back(
            {corner.left_wall, corner.right_wall, corner.angle.value, job.walls[corner.left_wall].source});
    }
    bed_all(job, room);
    return room;
}

Job as_surveyed(Job job, const Survey& survey) {
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        job.walls[w].width = survey.walls[w].width.value;
        if (survey.walls[w].height) job.walls[w].height = survey.walls[w].height->value;
    }
    for (const auto& corner : survey.corners) job.walls[corner.left_wall].next_angle = corner.angle.value;
    return job;
}

Frame bare_plane(const Room& room, std::size_t wall) {
    const Surface& bare = room.faces[wall].bare;
    return plane_frame(room.walls[wall], {-bare.lean * bare.level, 0, bare.lean});
}

Frame panel_plane(const Job& job, const Room& room, std::size_t wall) {
    const Face& face = room.faces[wall];
    if (face.bedding) return plane_frame(room.walls[wall], face.bedding->back);
    Frame frame = bare_plane(room, wall);
    double back = 0;
    for (const auto& layer : job.walls[wall].layers) {
        back += layer.kind < LayerKind::panel ? layer.thickness.value : 0;
    }
    if (has(job.walls[wall], LayerKind::panel)) frame.origin = frame.to_room(0, 0, back);
    return frame;
}

double drawn_face(const Room& room, std::size_t wall, double u, double v) {
    const Face& face = room.faces[wall];
    return face.bedding ? face.bare.at(u, v).n : face.bare.plane(v);
}

}  // namespace standproud
