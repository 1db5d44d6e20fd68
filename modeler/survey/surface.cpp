#include "modeler/surface.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "survey/instruments.hpp"

namespace standproud {

namespace {

double correlation(Vec2 a, Vec2 b, double reach) {
    const double scaled = std::sqrt(3.0) * norm(a - b) / reach;
    return (1 + scaled) * std::exp(-scaled);
}

double covariance(const Surface& surface, const OffPlane& a, const OffPlane& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.at.size(); ++i) {
        for (std::size_t j = 0; j < b.at.size(); ++j) {
            sum += a.part[i] * b.part[j] * correlation(a.at[i], b.at[j], surface.reach);
        }
    }
    return surface.unevenness * surface.unevenness * sum;
}

OffPlane spot(double u, double v, double off, double variance) { return {{{u, v}}, {1}, off, variance}; }

/// The straightedge rests on the wall at its ends, as far as anyone knows.
OffPlane under(const Hollow& hollow, double scale) {
    const Vec2 half = hollow.upright ? Vec2{0, hollow.length / 2} : Vec2{hollow.length / 2, 0};
    const Vec2 middle{hollow.u, hollow.v};
    const double error = scale * hollow.gap.standard_error;
    return {{middle, middle - half, middle + half}, {1, -0.5, -0.5}, -hollow.gap.value, error * error};
}

}  // namespace

Surface make_surface(Surface surface, std::vector<OffPlane> readings) {
    surface.readings = std::move(readings);
    const auto count = static_cast<Eigen::Index>(surface.readings.size());
    Eigen::MatrixXd spread(count, count);
    Eigen::VectorXd read(count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const OffPlane& a = surface.readings[static_cast<std::size_t>(i)];
        read[i] = a.off;
        for (Eigen::Index j = 0; j < count; ++j) {
            spread(i, j) = covariance(surface, a, surface.readings[static_cast<std::size_t>(j)]);
        }
        spread(i, i) += a.variance;
    }
    const Eigen::MatrixXd inverse = spread.ldlt().solve(Eigen::MatrixXd::Identity(count, count));
    const Eigen::VectorXd weights = inverse * read;
    surface.weights.assign(weights.begin(), weights.end());
    surface.inverse.assign(inverse.data(), inverse.data() + inverse.size());  // symmetric, so rows are columns
    return surface;
}

FaceDepth Surface::at(double u, double v) const {
    const std::size_t count = readings.size();
    const OffPlane here = spot(u, v, 0, 0);
    std::vector<double> with(count);
    for (std::size_t i = 0; i < count; ++i) with[i] = covariance(*this, here, readings[i]);
    double off = 0;
    double explained = 0;
    double drawn = 0;  // how much of the plane's own error the readings take out
    for (std::size_t i = 0; i < count; ++i) {
        off += with[i] * weights[i];
        double share = 0;
        for (std::size_t j = 0; j < count; ++j) share += inverse[i * count + j] * with[j];
        explained += with[i] * share;
        double level_part = 0;
        for (const double part : readings[i].part) level_part += part;
        drawn += share * level_part;
    }
    const double of_plane = (1 - drawn) * lean_error * (v - level);
    const double variance = std::max(0.0, unevenness * unevenness - explained) + of_plane * of_plane;
    return {plane(v) + off, std::sqrt(variance)};
}

Surface surface_of(const Survey& survey, std::size_t wall) {
    const WallSurvey& read = survey.walls[wall];
    const double scale = std::max(1.0, survey.s0);
    Surface surface;
    surface.lean = read.lean.value / 1000;
    surface.level = survey.mid_height;
    surface.lean_error = scale * read.lean.standard_error / 1000;
    surface.unevenness = read.unevenness;
    surface.reach = shipped_uncertainties().assumptions.at("reach").plus_minus;
    surface.assumed = !is_known(survey, read.lean);
    std::vector<OffPlane> readings;
    for (const auto& p : read.points) {
        const double error = std::max(scale * p.standard_error, 0.01);
        readings.push_back(spot(p.u, p.v, p.n - surface.plane(p.v), error * error));
    }
    for (const auto& hollow : read.hollows) readings.push_back(under(hollow, scale));
    return make_surface(std::move(surface), std::move(readings));
}

}  // namespace standproud
