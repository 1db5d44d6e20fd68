#include "survey/shape.hpp"

#include <algorithm>
#include <cmath>

#include "modeler/room.hpp"

namespace standproud {

namespace {

/// Corners nearer to straight than this (degrees) do not fix where two leaning planes meet along the wall.
constexpr double straight_within = 20;

/// Out of a wall that runs along t, into the room.
Vec2 inwards(Vec2 t) { return {t.y, -t.x}; }

}  // namespace

Shape::Shape(const Job& job) : walls_(job.walls.size()), points_(job.closed ? job.walls.size() : job.walls.size() + 1) {
    double lowest = job.walls.front().height;
    for (const auto& wall : job.walls) {
        lowest = std::min(lowest, wall.height);
        widths_.push_back(wall.width);
    }
    mid_height_ = lowest / 2;
    const int walls = static_cast<int>(walls_);
    lean_ = static_cast<int>(2 * points_);
    ends_ = lean_ + walls;
    tops_ = ends_ + 2;
    sets_ = tops_ + 2 * walls;
    count_ = sets_ + static_cast<int>(3 * job.survey->offsets.size());
    start_ = Eigen::VectorXd::Zero(count_);
    const Room room = lay_out(job);
    nearly_straight_.assign(points_, false);
    for (std::size_t k = 0; k < points_; ++k) {
        const bool end = k == walls_;
        const RoomPoint at = end ? room.walls.back().to_room(job.walls.back().width, 0, 0) : room.walls[k].origin;
        start_[x(k)] = at.x;
        start_[y(k)] = at.y;
        if (const auto left = wall_left_of(k)) {
            nearly_straight_[k] = std::abs(job.walls[*left].next_angle - 180) < straight_within;
        }
    }
    for (std::size_t w = 0; w < walls_; ++w) start_[top(w)] = job.walls[w].height;
    settings_.typical = Eigen::VectorXd::Ones(count_);
    settings_.fixed.assign(static_cast<std::size_t>(count_), false);
    fix_unused(*job.survey, job);
}

void Shape::fix_unused(const SurveyReadings& readings, const Job& job) {
    const auto fix = [&](int p) { settings_.fixed[static_cast<std::size_t>(p)] = true; };
    fix(x(0));
    fix(y(0));
    fix(x(1));
    if (!open()) {
        fix(end_slope(Side::left));
        fix(end_slope(Side::right));
    }
    for (std::size_t w = 0; w < walls_; ++w) {
        const bool asked = std::any_of(readings.heights.begin(), readings.heights.end(),
                                       [&](const auto& height) { return height.wall == job.walls[w].id; });
        if (asked) continue;
        fix(top(w));
        fix(fall(w));
    }
}

std::optional<std::size_t> Shape::point(const Job& job, const CornerName& name) const {
    const std::size_t wall = wall_index(job, name.wall);
    if (wall == walls_) return std::nullopt;
    return name.side == Side::left ? left_point(wall) : right_point(wall);
}

std::optional<std::size_t> Shape::wall_left_of(std::size_t point) const {
    if (point > 0) return point - 1;
    return open() ? std::nullopt : std::optional(walls_ - 1);
}

std::optional<std::size_t> Shape::wall_right_of(std::size_t point) const {
    return point < walls_ ? std::optional(point) : std::nullopt;
}

Vec2 Shape::at_mid(const Eigen::VectorXd& p, std::size_t point) const { return {p[x(point)], p[y(point)]}; }

Vec2 Shape::direction(const Eigen::VectorXd& p, std::size_t wall) const {
    const Vec2 along = at_mid(p, right_point(wall)) - at_mid(p, left_point(wall));
    return (1 / norm(along)) * along;
}

/// A corner lies on both leaning planes: its drift d has dot(n, d) = lean for either wall's n. A free end drifts
/// by its wall's lean and its own slope along the wall.
Vec2 Shape::drift(const Eigen::VectorXd& p, std::size_t point) const {
    const auto left = wall_left_of(point);
    const auto right = wall_right_of(point);
    if (!left || !right) {
        const std::size_t wall = left ? *left : *right;
        const Vec2 along = direction(p, wall);
        return p[lean(wall)] * inwards(along) + p[end_slope(left ? Side::right : Side::left)] * along;
    }
    const Vec2 a = inwards(direction(p, *left));
    const Vec2 b = inwards(direction(p, *right));
    const double lean_a = p[lean(*left)];
    const double lean_b = p[lean(*right)];
    if (nearly_straight_[point]) {
        const Vec2 middle = (1 / norm(a + b)) * (a + b);
        return ((lean_a + lean_b) / 2) * middle;
    }
    const double across = cross(a, b);
    return {(lean_a * b.y - lean_b * a.y) / across, (lean_b * a.x - lean_a * b.x) / across};
}

Vec2 Shape::at_height(const Eigen::VectorXd& p, std::size_t point, double v) const {
    const Vec2 at = at_mid(p, point);
    if (v == mid_height_) return at;
    return at + (v - mid_height_) * drift(p, point);
}

std::vector<int> Shape::around(std::size_t point) const {
    std::vector<int> found{x(point), y(point)};
    const auto add = [&](std::size_t other) {
        found.push_back(x(other));
        found.push_back(y(other));
    };
    const auto left = wall_left_of(point);
    const auto right = wall_right_of(point);
    if (left) {
        add(left_point(*left));
        found.push_back(lean(*left));
    }
    if (right) {
        add(right_point(*right));
        found.push_back(lean(*right));
    }
    if (!left) found.push_back(end_slope(Side::left));
    if (!right) found.push_back(end_slope(Side::right));
    return found;
}

std::vector<int> Shape::around(std::size_t a, std::size_t b) const {
    std::vector<int> found = around(a);
    for (const int p : around(b)) found.push_back(p);
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

Measured Shape::distance(std::size_t from, double from_height, std::size_t to, double to_height) const {
    return {[=, this](const Eigen::VectorXd& p) {
                const Vec2 level = at_height(p, to, to_height) - at_height(p, from, from_height);
                return std::hypot(level.x, level.y, to_height - from_height);
            },
            nullptr, around(from, to)};
}

Measured Shape::angle(std::size_t point) const {
    return {[=, this](const Eigen::VectorXd& p) {
                const Vec2 in = direction(p, *wall_left_of(point));
                const Vec2 out = direction(p, *wall_right_of(point));
                // Turning right by t leaves 180 - t inside the room, as in lay_out.
                return 180 + std::atan2(cross(in, out), dot(in, out)) * 180 / pi;
            },
            nullptr, around(point)};
}

Measured Shape::triangle(std::size_t point, double along_left, double along_right) const {
    return {[=, this](const Eigen::VectorXd& p) {
                const Vec2 left = -along_left * direction(p, *wall_left_of(point));
                const Vec2 right = along_right * direction(p, *wall_right_of(point));
                return norm(right - left);
            },
            nullptr, around(point)};
}

Measured Shape::parameter(int p, double factor) const {
    return {[=](const Eigen::VectorXd& at) { return factor * at[p]; },
            [=](const Eigen::VectorXd&, Eigen::VectorXd& slope) { slope[p] = factor; },
            {p}};
}

/// From the wall's plane out to the plane of light: distance, turn and tilt of that plane, less the wall's lean.
Measured Shape::offset(std::size_t set, std::size_t wall, double u, double v) const {
    const double across = u - middle(wall);
    const double up = v - mid_height_;
    const int first = away(set);
    const int leaning = lean(wall);
    return {
        [=](const Eigen::VectorXd& p) { return p[first] + p[first + 1] * across + (p[first + 2] - p[leaning]) * up; },
        [=](const Eigen::VectorXd&, Eigen::VectorXd& slope) {
            slope[first] = 1;
            slope[first + 1] = across;
            slope[first + 2] = up;
            slope[leaning] = -up;
        },
        {}};
}

Measured Shape::light(std::size_t set, std::size_t wall, double u, double v) const {
    const double across = u - middle(wall);
    const double up = v - mid_height_;
    const int first = away(set);
    return {[=](const Eigen::VectorXd& p) { return p[first] + p[first + 1] * across + p[first + 2] * up; },
            [=](const Eigen::VectorXd&, Eigen::VectorXd& slope) {
                slope[first] = 1;
                slope[first + 1] = across;
                slope[first + 2] = up;
            },
            {}};
}

Measured Shape::top_at(std::size_t wall, double u) const {
    const double across = u - middle(wall);
    const int first = top(wall);
    return {[=](const Eigen::VectorXd& p) { return p[first] + p[first + 1] * across; },
            [=](const Eigen::VectorXd&, Eigen::VectorXd& slope) {
                slope[first] = 1;
                slope[first + 1] = across;
            },
            {}};
}

Measured Shape::width_change(std::size_t wall) const {
    const std::size_t left = left_point(wall);
    const std::size_t right = right_point(wall);
    return {[=, this](const Eigen::VectorXd& p) {
                return 1000 * dot(drift(p, right) - drift(p, left), direction(p, wall));
            },
            nullptr, around(left, right)};
}

Measured Shape::turned(std::size_t wall) const {
    const Vec2 meant = direction(start_, wall);
    return {[=, this](const Eigen::VectorXd& p) {
                const Vec2 along = direction(p, wall);
                return 1000 * dot(along, inwards(meant)) / dot(along, meant);
            },
            nullptr, around(left_point(wall), right_point(wall))};
}

}  // namespace standproud
