#include "survey/observations.hpp"

#include <fmt/format.h>

#include <cmath>

#include "modeler/room.hpp"
#include "survey/instruments.hpp"

namespace standproud {

namespace {

/// Least standard error that is reckoned with, mm or degrees: a +/- of 0 would break the weights.
constexpr double least_sigma = 1e-3;

class Collector {
  public:
    Collector(const Job& job, const Shape& shape, const std::vector<double>& uneven)
        : job_(job), readings_(*job.survey), shape_(shape), uneven_(uneven) {}

    std::vector<Line> all() {
        widths();
        heights();
        diagonals();
        corners();
        offsets();
        levels();
        return std::move(lines_);
    }

  private:
    /// `spots`: variance that unevenness adds, in the square of the unit.
    Line& add(const std::string& name, const Reading& reading, double spots, Measured what) {
        const double own = sigma_of(readings_, reading.instrument, reading.plus_minus);
        Line line;
        line.name = name;
        line.source = reading.source;
        line.observation = {reading.value, std::max(least_sigma, std::sqrt(own * own + spots)), std::move(what)};
        lines_.push_back(std::move(line));
        return lines_.back();
    }

    [[nodiscard]] double variance(std::size_t wall) const { return uneven_[wall] * uneven_[wall]; }

    /// Unevenness where a tape touches a corner: that of the wall it runs into, or of the wall it lies on at a free
    /// end.
    [[nodiscard]] double variance_at(std::size_t point) const {
        const auto left = shape_.wall_left_of(point);
        const auto right = shape_.wall_right_of(point);
        if (left && right) return std::max(variance(*left), variance(*right));
        return variance(left ? *left : *right);
    }

    void widths() {
        for (const auto& width : readings_.widths) {
            const std::size_t wall = wall_index(job_, width.wall);
            const std::size_t left = shape_.left_point(wall);
            const std::size_t right = shape_.right_point(wall);
            add(fmt::format("the width at {:g} on wall {}", width.height, width.wall), width.reading,
                variance_at(left) + variance_at(right), shape_.distance(left, width.height, right, width.height));
        }
    }

    void heights() {
        for (const auto& height : readings_.heights) {
            const std::size_t wall = wall_index(job_, height.wall);
            add(fmt::format("the height at {:g} on wall {}", height.u, height.wall), height.reading, variance(wall),
                shape_.top_at(wall, height.u));
        }
    }

    void diagonals() {
        for (const auto& diagonal : readings_.wall_diagonals) {
            const std::size_t wall = wall_index(job_, diagonal.wall);
            const std::size_t left = shape_.left_point(wall);
            const std::size_t right = shape_.right_point(wall);
            add(fmt::format("the diagonal of wall {} from {:g} at its left to {:g} at its right", diagonal.wall,
                            diagonal.left_height, diagonal.right_height),
                diagonal.reading, variance_at(left) + variance_at(right),
                shape_.distance(left, diagonal.left_height, right, diagonal.right_height));
        }
        for (const auto& diagonal : readings_.diagonals) {
            const std::size_t from = *shape_.point(job_, diagonal.from);
            const std::size_t to = *shape_.point(job_, diagonal.to);
            add(fmt::format("the diagonal at {:g} from {} to {}", diagonal.height, corner_words(job_, shape_, from),
                            corner_words(job_, shape_, to)),
                diagonal.reading, variance_at(from) + variance_at(to),
                shape_.distance(from, diagonal.height, to, diagonal.height));
        }
    }

    void corners() {
        for (const auto& angle : readings_.angles) {
            const std::size_t point = *shape_.point(job_, angle.corner);
            const double swing = std::sqrt(2 * variance_at(point)) / angle.leg * 180 / pi;
            Line& line = add(fmt::format("the angle at {}", corner_words(job_, shape_, point)), angle.reading,
                             swing * swing, shape_.angle(point));
            line.unit = "degrees";
        }
        for (const auto& triangle : readings_.triangles) {
            const std::size_t point = *shape_.point(job_, triangle.corner);
            add(fmt::format("the triangle of {:g} and {:g} at {}", triangle.along_left, triangle.along_right,
                            corner_words(job_, shape_, point)),
                triangle.reading, 2 * variance_at(point),
                shape_.triangle(point, triangle.along_left, triangle.along_right));
        }
    }

    void offsets() {
        for (std::size_t s = 0; s < readings_.offsets.size(); ++s) {
            const OffsetSet& set = readings_.offsets[s];
            const std::size_t wall = wall_index(job_, set.wall);
            for (const auto& point : set.points) {
                Line& line = add(fmt::format("the offset at {:g}, {:g} on wall {}", point.u, point.v, set.wall),
                                 {point.value, set.plus_minus, set.instrument, point.source}, variance(wall),
                                 shape_.offset(s, wall, point.u, point.v));
                line.wall = wall;
                line.u = point.u;
                line.v = point.v;
            }
            if (!set.plumb) continue;
            Line plumb;
            plumb.observation = {0, sigma_of_assumption("plumb plane"), shape_.parameter(shape_.tilt(s), 1000)};
            lines_.push_back(std::move(plumb));
        }
    }

    void levels() {
        for (const auto& level : readings_.levels) {
            const std::size_t wall = wall_index(job_, level.wall);
            add(fmt::format("the level at {:g} on wall {}, from {:g} to {:g}", level.u, level.wall, level.from,
                            level.to),
                level.reading, 2 * variance(wall), shape_.parameter(shape_.lean(wall), level.to - level.from));
        }
    }

    const Job& job_;
    const SurveyReadings& readings_;
    const Shape& shape_;
    const std::vector<double>& uneven_;
    std::vector<Line> lines_;
};

}  // namespace

std::string corner_words(const Job& job, const Shape& shape, std::size_t point) {
    const auto left = shape.wall_left_of(point);
    const auto right = shape.wall_right_of(point);
    if (left && right) return fmt::format("the corner of {} and {}", job.walls[*left].id, job.walls[*right].id);
    return right ? fmt::format("the left end of wall {}", job.walls[*right].id)
                 : fmt::format("the right end of wall {}", job.walls[*left].id);
}

std::vector<Line> lines_of(const Job& job, const Shape& shape, const std::vector<double>& uneven) {
    return Collector(job, shape, uneven).all();
}

}  // namespace standproud
