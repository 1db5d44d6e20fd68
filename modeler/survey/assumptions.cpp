#include "survey/assumptions.hpp"

#include <fmt/format.h>

#include <cmath>

#include "survey/instruments.hpp"

namespace standproud {

namespace {

/// How often more uncertain than the assumption a thing must be, by the readings, to be assumed.
constexpr double readings_first = 3;

/// Everything that could be assumed, in the order in which it is.
std::vector<Assumed> candidates(const Job& job, const Shape& shape) {
    std::vector<Assumed> list;
    const auto add = [&](const std::string& says, const std::string& kind, double value, Measured what) {
        list.push_back({says, kind, {value, sigma_of_assumption(kind), std::move(what)}});
    };
    const auto as_in_job = [&](const std::string& says, const std::string& kind, Measured what) {
        const double value = what.predict(shape.start());
        add(says, kind, value, std::move(what));
    };
    for (std::size_t w = 0; w < shape.walls(); ++w) {
        add(fmt::format("wall {} is plumb", job.walls[w].id), "plumb", 0, shape.parameter(shape.lean(w), 1000));
    }
    if (shape.open()) {
        add(fmt::format("the left end of wall {} is plumb", job.walls.front().id), "plumb", 0,
            shape.parameter(shape.end_slope(Side::left), 1000));
        add(fmt::format("the right end of wall {} is plumb", job.walls.back().id), "plumb", 0,
            shape.parameter(shape.end_slope(Side::right), 1000));
    }
    for (std::size_t w = 0; w < shape.walls(); ++w) {
        add(fmt::format("the top of wall {} is level", job.walls[w].id), "level", 0,
            shape.parameter(shape.fall(w), 1000));
    }
    for (std::size_t k = 0; k < shape.points(); ++k) {
        if (!shape.wall_left_of(k) || !shape.wall_right_of(k)) continue;
        const double angle = job.walls[*shape.wall_left_of(k)].next_angle;
        as_in_job(angle == 90 ? fmt::format("{} is square", corner_words(job, shape, k))
                              : fmt::format("{} has {:g} degrees", corner_words(job, shape, k), angle),
                  "square", shape.angle(k));
    }
    for (std::size_t w = 0; w < shape.walls(); ++w) {
        const double mid = shape.mid_height();
        as_in_job(fmt::format("wall {} is {:g} wide, as the job says", job.walls[w].id, job.walls[w].width), "width",
                  shape.distance(shape.left_point(w), mid, shape.right_point(w), mid));
    }
    for (std::size_t s = 0; s < job.survey->offsets.size(); ++s) {
        const auto& set = job.survey->offsets[s];
        const auto says =
            fmt::format("the {} on wall {} was set up along the wall", to_string(set.instrument), set.wall);
        add(says, "along", 0, shape.parameter(shape.turn(s), 1000));
        add(says, "along", 0, shape.parameter(shape.tilt(s), 1000));
    }
    return list;
}

/// Normal equations that can be added to, with a trace of stiffness so that they can always be solved: what is
/// not determined shows as a very large standard error.
class Knowledge {
  public:
    explicit Knowledge(const Shape& shape) : shape_(shape) {
        const int count = shape.count();
        normal_ = Eigen::MatrixXd::Zero(count, count);
        // A standard error of 1e5 mm for what is a length and of 1e5 mm per m for what is a slope.
        for (int p = 0; p < count; ++p) normal_(p, p) = p < shape.lean(0) ? 1e-10 : 1e-4;
        for (std::size_t w = 0; w < shape.walls(); ++w) normal_(shape.top(w), shape.top(w)) = 1e-10;
        for (int p = shape.away(0); p < count; p += 3) normal_(p, p) = 1e-10;
    }

    void add(const Observation& observation) {
        const Eigen::VectorXd slope = slope_of(observation.what, shape_.start(), shape_.settings()) / observation.sigma;
        normal_ += slope * slope.transpose();
    }

    [[nodiscard]] double standard_error(const Measured& what) const {
        const Eigen::VectorXd slope = slope_of(what, shape_.start(), shape_.settings());
        return std::sqrt(std::max(0.0, slope.dot(normal_.ldlt().solve(slope))));
    }

  private:
    const Shape& shape_;
    Eigen::MatrixXd normal_;
};

}  // namespace

std::vector<Assumed> assumptions_for(const Job& job, const Shape& shape, const std::vector<Line>& lines) {
    Knowledge knowledge(shape);
    for (const auto& line : lines) knowledge.add(line.observation);
    std::vector<Assumed> made;
    for (auto& candidate : candidates(job, shape)) {
        const double known_to = knowledge.standard_error(candidate.observation.what);
        if (known_to <= readings_first * candidate.observation.sigma) continue;
        knowledge.add(candidate.observation);
        made.push_back(std::move(candidate));
    }
    return made;
}

}  // namespace standproud
