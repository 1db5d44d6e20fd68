// The unknowns of a recess and what can be measured on it, as functions of them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/job.hpp"
#include "survey/least_squares.hpp"

namespace standproud {

/// Where each unknown stands in the vector of parameters. Corners in plan at mid height, mm; everything else is
/// a slope (mm per mm) or a distance along n.
class Shape {
  public:
    explicit Shape(const Job& job);

    [[nodiscard]] std::size_t walls() const { return walls_; }
    [[nodiscard]] std::size_t points() const { return points_; }
    [[nodiscard]] int count() const { return count_; }
    [[nodiscard]] double mid_height() const { return mid_height_; }
    [[nodiscard]] bool open() const { return points_ > walls_; }
    [[nodiscard]] std::size_t left_point(std::size_t wall) const { return wall; }
    [[nodiscard]] std::size_t right_point(std::size_t wall) const { return (wall + 1) % points_; }
    [[nodiscard]] std::optional<std::size_t> point(const Job& job, const CornerName& name) const;
    /// The walls left and right of a point; none at that side of a free end.
    [[nodiscard]] std::optional<std::size_t> wall_left_of(std::size_t point) const;
    [[nodiscard]] std::optional<std::size_t> wall_right_of(std::size_t point) const;

    [[nodiscard]] int x(std::size_t point) const { return static_cast<int>(2 * point); }
    [[nodiscard]] int y(std::size_t point) const { return static_cast<int>(2 * point + 1); }
    [[nodiscard]] int lean(std::size_t wall) const { return lean_ + static_cast<int>(wall); }
    [[nodiscard]] int end_slope(Side side) const { return ends_ + (side == Side::left ? 0 : 1); }
    [[nodiscard]] int top(std::size_t wall) const { return tops_ + static_cast<int>(2 * wall); }
    [[nodiscard]] int fall(std::size_t wall) const { return top(wall) + 1; }
    /// Distance, turn and tilt of the plane of a set of offsets, against the wall.
    [[nodiscard]] int away(std::size_t set) const { return sets_ + static_cast<int>(3 * set); }
    [[nodiscard]] int turn(std::size_t set) const { return away(set) + 1; }
    [[nodiscard]] int tilt(std::size_t set) const { return away(set) + 2; }

    /// The job's own widths and angles, everything plumb. Places are told against these.
    [[nodiscard]] const Eigen::VectorXd& start() const { return start_; }
    /// Fixed: the first corner, the heading of the first wall, and unknowns that no reading asks for.
    [[nodiscard]] const AdjustSettings& settings() const { return settings_; }
    [[nodiscard]] double middle(std::size_t wall) const { return widths_[wall] / 2; }

    [[nodiscard]] Vec2 at_mid(const Eigen::VectorXd& p, std::size_t point) const;
    /// How a corner moves with height, mm per mm.
    [[nodiscard]] Vec2 drift(const Eigen::VectorXd& p, std::size_t point) const;
    [[nodiscard]] Vec2 at_height(const Eigen::VectorXd& p, std::size_t point, double v) const;

    // What can be measured.
    [[nodiscard]] Measured distance(std::size_t from, double from_height, std::size_t to, double to_height) const;
    [[nodiscard]] Measured angle(std::size_t point) const;  ///< degrees, 0 to 360
    [[nodiscard]] Measured triangle(std::size_t point, double along_left, double along_right) const;
    [[nodiscard]] Measured parameter(int p, double factor = 1) const;
    [[nodiscard]] Measured offset(std::size_t set, std::size_t wall, double u, double v) const;
    [[nodiscard]] Measured light(std::size_t set, std::size_t wall, double u,
                                 double v) const;  ///< n of the plane of light
    [[nodiscard]] Measured top_at(std::size_t wall, double u) const;
    [[nodiscard]] Measured width_change(std::size_t wall) const;  ///< mm per m
    [[nodiscard]] Measured turned(std::size_t wall) const;        ///< mm per m, from the start

  private:
    [[nodiscard]] std::vector<int> around(std::size_t point) const;
    [[nodiscard]] std::vector<int> around(std::size_t a, std::size_t b) const;
    [[nodiscard]] Vec2 direction(const Eigen::VectorXd& p, std::size_t wall) const;
    void fix_unused(const SurveyReadings& readings, const Job& job);

    std::size_t walls_;
    std::size_t points_;
    double mid_height_ = 0;
    std::vector<double> widths_;
    std::vector<bool> nearly_straight_;  ///< by point
    int lean_ = 0;
    int ends_ = 0;
    int tops_ = 0;
    int sets_ = 0;
    int count_ = 0;
    Eigen::VectorXd start_;
    AdjustSettings settings_;
};

}  // namespace standproud
