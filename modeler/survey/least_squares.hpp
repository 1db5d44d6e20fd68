// Weighted least squares by Gauss-Newton with step halving. Knows nothing of walls.
//
// Each observation is a value, its standard error (sigma) and the function of the parameters that it measures.
// Formulas: normal equations solved by QR with column pivoting on the weighted, column-scaled derivatives;
// residual = adjusted - observed; cofactor of the residuals Q = sigma^2 - J C J^T; redundancy share
// r = Q_ii / sigma_i^2 (their sum is the redundancy); standardised residual = residual / sqrt(Q_ii), of unit
// normal distribution when the sigmas are right (W. Baarda, A testing procedure for use in geodetic networks,
// 1968: from memory).
#pragma once

#include <Eigen/Dense>
#include <functional>
#include <vector>

namespace standproud {

/// A function of the parameters. Without `slope` its derivatives are taken numerically.
struct Measured {
    std::function<double(const Eigen::VectorXd&)> predict;
    std::function<void(const Eigen::VectorXd&, Eigen::VectorXd&)> slope = nullptr;  ///< fills the derivatives
    std::vector<int> depends = {};  ///< parameters it depends on; empty: any of them
};

struct Observation {
    double value = 0;
    double sigma = 1;  ///< above 0, in the unit of value
    Measured what;
};

struct AdjustSettings {
    std::vector<bool> fixed;  ///< by parameter; empty: none is fixed
    Eigen::VectorXd typical;  ///< size of each parameter, for numeric derivatives; empty: 1
    int rounds = 200;
};

struct Adjustment {
    bool converged = false;
    bool determined = false;        ///< false: some parameters cannot be found; then only the start comes back
    std::vector<int> undetermined;  ///< which of them
    Eigen::VectorXd parameters;
    Eigen::MatrixXd covariance;  ///< of the parameters, for the sigmas as given; 0 for fixed ones
    Eigen::MatrixXd slopes;      ///< derivatives of the observations, fixed parameters 0
    Eigen::VectorXd residuals;   ///< adjusted - observed
    Eigen::MatrixXd residual_cofactor;
    Eigen::VectorXd shares;        ///< redundancy share of each observation, 0 (unchecked) to 1
    Eigen::VectorXd standardised;  ///< 0 where the share is 0 to rounding
    int redundancy = 0;            ///< observations less free parameters
    double s0 = 0;                 ///< root of the weighted sum of squares over the redundancy; 0 without redundancy
};

/// Derivatives of one function at a place; fixed parameters get 0.
Eigen::VectorXd slope_of(const Measured& what, const Eigen::VectorXd& at, const AdjustSettings& settings);

/// Finds the parameters. Must hold: observations have finite values and sigmas above 0.
Adjustment adjust(const std::vector<Observation>& observations, const Eigen::VectorXd& start,
                  const AdjustSettings& settings = {});

}  // namespace standproud
