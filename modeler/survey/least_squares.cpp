#include "survey/least_squares.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace standproud {

namespace {

/// Below this, relative to the largest, a direction of the scaled derivatives counts as not measured.
constexpr double rank_threshold = 1e-10;

bool is_fixed(const AdjustSettings& settings, int parameter) {
    return !settings.fixed.empty() && settings.fixed[static_cast<std::size_t>(parameter)];
}

std::vector<int> free_parameters(const AdjustSettings& settings, int count) {
    std::vector<int> free;
    for (int p = 0; p < count; ++p) {
        if (!is_fixed(settings, p)) free.push_back(p);
    }
    return free;
}

/// (observed - predicted) / sigma.
Eigen::VectorXd misfits(const std::vector<Observation>& observations, const Eigen::VectorXd& at) {
    Eigen::VectorXd misfit(static_cast<Eigen::Index>(observations.size()));
    for (std::size_t i = 0; i < observations.size(); ++i) {
        const auto& o = observations[i];
        misfit[static_cast<Eigen::Index>(i)] = (o.value - o.what.predict(at)) / o.sigma;
    }
    return misfit;
}

/// Derivatives over sigma, free parameters only, each column scaled to length 1; the QR of that, and the scales.
struct Linearised {
    Eigen::MatrixXd slopes;  ///< all parameters, not weighted
    Eigen::MatrixXd scaled;
    Eigen::VectorXd scale;
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr;
};

Linearised linearise(const std::vector<Observation>& observations, const Eigen::VectorXd& at,
                     const AdjustSettings& settings, const std::vector<int>& free) {
    Linearised lin;
    const auto rows = static_cast<Eigen::Index>(observations.size());
    const auto columns = static_cast<Eigen::Index>(free.size());
    lin.slopes.resize(rows, at.size());
    lin.scaled.resize(rows, columns);
    for (Eigen::Index i = 0; i < rows; ++i) {
        const auto& o = observations[static_cast<std::size_t>(i)];
        lin.slopes.row(i) = slope_of(o.what, at, settings).transpose();
        for (Eigen::Index c = 0; c < columns; ++c) {
            lin.scaled(i, c) = lin.slopes(i, free[static_cast<std::size_t>(c)]) / o.sigma;
        }
    }
    lin.scale = lin.scaled.colwise().norm();
    for (Eigen::Index c = 0; c < columns; ++c) {
        if (!(lin.scale[c] > 0)) lin.scale[c] = 1;
        lin.scaled.col(c) /= lin.scale[c];
    }
    lin.qr.setThreshold(rank_threshold);
    lin.qr.compute(lin.scaled);
    return lin;
}

/// The parameters that take part in a direction along which no observation changes.
std::vector<int> not_determined(const Linearised& lin, const std::vector<int>& free) {
    const Eigen::Index rank = lin.qr.rank();
    const auto columns = static_cast<Eigen::Index>(free.size());
    const Eigen::MatrixXd top = lin.qr.matrixQR().topRows(rank);
    const Eigen::MatrixXd along =
        top.leftCols(rank).triangularView<Eigen::Upper>().solve(top.rightCols(columns - rank));
    std::vector<int> found;
    for (Eigen::Index c = 0; c < columns; ++c) {
        const bool takes_part = c >= rank || along.row(c).cwiseAbs().maxCoeff() > 1e-6;
        if (takes_part) found.push_back(free[static_cast<std::size_t>(lin.qr.colsPermutation().indices()[c])]);
    }
    std::sort(found.begin(), found.end());
    return found;
}

Eigen::VectorXd spread(const Eigen::VectorXd& step, const std::vector<int>& free, Eigen::Index count) {
    Eigen::VectorXd full = Eigen::VectorXd::Zero(count);
    for (std::size_t c = 0; c < free.size(); ++c) full[free[c]] = step[static_cast<Eigen::Index>(c)];
    return full;
}

/// The longest of the step, its half, quarter ... that lessens the sum of squares; false when none does.
bool take_step(const std::vector<Observation>& observations, const Eigen::VectorXd& step, Eigen::VectorXd& at,
               Eigen::VectorXd& misfit) {
    const double before = misfit.squaredNorm();
    for (double part = 1; part > 1e-12; part /= 2) {
        const Eigen::VectorXd there = at + part * step;
        const Eigen::VectorXd then = misfits(observations, there);
        if (!std::isfinite(then.squaredNorm()) || then.squaredNorm() >= before) continue;
        at = there;
        misfit = then;
        return true;
    }
    return false;
}

void fill_covariance(const Linearised& lin, const std::vector<int>& free, Adjustment& result) {
    const auto columns = static_cast<Eigen::Index>(free.size());
    const Eigen::MatrixXd inverse = lin.qr.matrixQR().topRows(columns).triangularView<Eigen::Upper>().solve(
        Eigen::MatrixXd::Identity(columns, columns));
    const Eigen::MatrixXd half = lin.scale.cwiseInverse().asDiagonal() * (lin.qr.colsPermutation() * inverse);
    const Eigen::MatrixXd cofactor = half * half.transpose();
    const Eigen::Index count = result.parameters.size();
    result.covariance = Eigen::MatrixXd::Zero(count, count);
    for (std::size_t a = 0; a < free.size(); ++a) {
        for (std::size_t b = 0; b < free.size(); ++b) {
            result.covariance(free[a], free[b]) = cofactor(static_cast<Eigen::Index>(a), static_cast<Eigen::Index>(b));
        }
    }
}

void fill_residuals(const std::vector<Observation>& observations, const Eigen::VectorXd& misfit, Adjustment& result) {
    const auto rows = static_cast<Eigen::Index>(observations.size());
    Eigen::VectorXd sigma(rows);
    for (Eigen::Index i = 0; i < rows; ++i) sigma[i] = observations[static_cast<std::size_t>(i)].sigma;
    result.residuals = -misfit.cwiseProduct(sigma);
    result.residual_cofactor = -(result.slopes * result.covariance * result.slopes.transpose());
    result.residual_cofactor.diagonal() += sigma.cwiseAbs2();
    result.shares.resize(rows);
    result.standardised.resize(rows);
    for (Eigen::Index i = 0; i < rows; ++i) {
        const double share = result.residual_cofactor(i, i) / (sigma[i] * sigma[i]);
        const bool checked = share > 1e-9;
        result.shares[i] = checked ? share : 0;
        result.standardised[i] = checked ? result.residuals[i] / std::sqrt(result.residual_cofactor(i, i)) : 0;
    }
}

}  // namespace

Eigen::VectorXd slope_of(const Measured& what, const Eigen::VectorXd& at, const AdjustSettings& settings) {
    Eigen::VectorXd slope = Eigen::VectorXd::Zero(at.size());
    if (what.slope) {
        what.slope(at, slope);
        for (int p = 0; p < at.size(); ++p) {
            if (is_fixed(settings, p)) slope[p] = 0;
        }
        return slope;
    }
    // Central differences; the cube root of the rounding error balances rounding against curvature.
    const double relative = std::cbrt(std::numeric_limits<double>::epsilon());
    Eigen::VectorXd moved = at;
    const auto take = [&](int p) {
        if (is_fixed(settings, p)) return;
        const double typical = settings.typical.size() ? settings.typical[p] : 1.0;
        const double step = relative * std::max(std::abs(at[p]), typical);
        moved[p] = at[p] + step;
        const double above = what.predict(moved);
        const double width = moved[p];
        moved[p] = at[p] - step;
        slope[p] = (above - what.predict(moved)) / (width - moved[p]);
        moved[p] = at[p];
    };
    if (what.depends.empty()) {
        for (int p = 0; p < at.size(); ++p) take(p);
    } else {
        for (const int p : what.depends) take(p);
    }
    return slope;
}

Adjustment adjust(const std::vector<Observation>& observations, const Eigen::VectorXd& start,
                  const AdjustSettings& settings) {
    Adjustment result;
    result.parameters = start;
    const auto free = free_parameters(settings, static_cast<int>(start.size()));
    result.redundancy = static_cast<int>(observations.size()) - static_cast<int>(free.size());
    if (observations.empty()) {
        result.undetermined = free;
        result.determined = result.converged = free.empty();
        return result;
    }
    Eigen::VectorXd misfit = misfits(observations, start);
    Linearised lin = linearise(observations, start, settings, free);
    for (int round = 0; round < settings.rounds && !result.converged; ++round) {
        if (lin.qr.rank() < static_cast<Eigen::Index>(free.size())) break;
        const Eigen::VectorXd scaled_step = lin.qr.solve(misfit);
        const double change = (lin.scaled * scaled_step).norm();
        const Eigen::VectorXd step = scaled_step.cwiseQuotient(lin.scale);
        const bool small = change <= 1e-9 * (1 + misfit.norm());
        const bool better = take_step(observations, spread(step, free, start.size()), result.parameters, misfit);
        result.converged = small || (!better && change <= 1e-5 * (1 + misfit.norm()));
        if (!better && !result.converged) break;
        if (better) lin = linearise(observations, result.parameters, settings, free);
    }
    result.determined = lin.qr.rank() == static_cast<Eigen::Index>(free.size());
    if (!result.determined) {
        result.undetermined = not_determined(lin, free);
        result.parameters = start;
        return result;
    }
    result.slopes = lin.slopes;
    fill_covariance(lin, free, result);
    fill_residuals(observations, misfit, result);
    if (result.redundancy > 0) result.s0 = std::sqrt(misfit.squaredNorm() / result.redundancy);
    return result;
}

}  // namespace standproud
