// The least-squares engine against published networks and certified regressions.
#include "survey/least_squares.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace standproud {
namespace {

using Eigen::VectorXd;

/// The distance between two points whose coordinates stand at 2 i and 2 i + 1.
Measured between(int a, int b) {
    return {[=](const VectorXd& p) { return std::hypot(p[2 * a] - p[2 * b], p[2 * a + 1] - p[2 * b + 1]); }};
}

AdjustSettings fixed(const std::vector<int>& parameters, int count) {
    AdjustSettings settings;
    settings.fixed.assign(static_cast<std::size_t>(count), false);
    for (const int p : parameters) settings.fixed[static_cast<std::size_t>(p)] = true;
    return settings;
}

// Published: Benning 2011, example 8-2. Two fixed points, five distances of equal weight. Metres.
TEST(LeastSquares, BracedSquareOfBenning) {
    const std::vector<Observation> observed{{1000.02, 1, between(0, 2)},
                                            {1414.20, 1, between(0, 3)},
                                            {1414.24, 1, between(1, 2)},
                                            {999.98, 1, between(1, 3)},
                                            {1000.00, 1, between(2, 3)}};
    VectorXd start(8);
    start << 0, 1000, 1000, 1000, 0, 0, 1000, 0;
    const Adjustment result = adjust(observed, start, fixed({0, 1, 2, 3}, 8));
    ASSERT_TRUE(result.converged && result.determined);
    EXPECT_NEAR(result.parameters[4], -0.009585, 1e-6);
    EXPECT_NEAR(result.parameters[5], -0.022601, 1e-6);
    EXPECT_NEAR(result.parameters[6], 999.993016, 1e-6);
    EXPECT_NEAR(result.parameters[7], 0.017399, 1e-6);
    EXPECT_EQ(result.redundancy, 1);
    EXPECT_NEAR(result.s0, 0.0068824, 1e-7);
    const double published[] = {2.601e-3, -3.679e-3, -3.679e-3, 2.601e-3, 2.601e-3};
    for (int i = 0; i < 5; ++i) EXPECT_NEAR(result.residuals[i], published[i], 1e-6) << i;
    EXPECT_EQ(result.parameters.head(4), start.head(4));
    EXPECT_EQ(result.covariance.topRows(4).norm(), 0);
    // Closed form: the shares add up to the redundancy; with a redundancy of 1 all standardised residuals are equal.
    EXPECT_NEAR(result.shares.sum(), 1, 1e-9);
    for (int i = 0; i < 5; ++i) EXPECT_NEAR(std::abs(result.standardised[i]), 0.0068824, 1e-7) << i;
}

// Published: Strang and Borre 1997, example 10.1. One new point from three fixed ones.
TEST(LeastSquares, TrilaterationOfStrangAndBorre) {
    const std::vector<Observation> observed{
        {100.01, 1, between(0, 3)}, {100.02, 1, between(1, 3)}, {100.03, 1, between(2, 3)}};
    VectorXd start(8);
    start << 170.71, 270.71, 100, 100, 241.42, 100, 170, 170;
    const Adjustment result = adjust(observed, start, fixed({0, 1, 2, 3, 4, 5}, 8));
    ASSERT_TRUE(result.converged);
    EXPECT_NEAR(result.parameters[6], 170.702925, 1e-6);
    EXPECT_NEAR(result.parameters[7], 170.723357, 1e-6);
}

std::string path_of(const std::string& file) { return std::string(STANDPROUD_SOURCE_DIR) + "/tests/data/nist/" + file; }

std::vector<std::string> lines_of_file(const std::string& file) {
    std::ifstream in(path_of(file));
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    EXPECT_GT(lines.size(), 10u) << file;
    return lines;
}

/// A nonlinear set: two starts, certified values and standard deviations, sum of squares, and rows of y, x.
struct Certified {
    VectorXd start[2];
    VectorXd value;
    VectorXd deviation;
    double sum_of_squares = 0;
    std::vector<std::pair<double, double>> rows;
};

Certified read_dat(const std::string& file, int parameters, std::size_t rows) {
    const auto lines = lines_of_file(file);
    Certified set;
    for (auto* each : {&set.start[0], &set.start[1], &set.value, &set.deviation}) each->resize(parameters);
    for (int p = 0; p < parameters; ++p) {
        std::istringstream line(lines[static_cast<std::size_t>(40 + p)]);
        std::string name;
        std::string equals;
        line >> name >> equals >> set.start[0][p] >> set.start[1][p] >> set.value[p] >> set.deviation[p];
        EXPECT_TRUE(line) << file << " " << p;
    }
    for (std::size_t i = 40; i < 60; ++i) {
        if (lines[i].find("Residual Sum of Squares") == std::string::npos) continue;
        set.sum_of_squares = std::stod(lines[i].substr(lines[i].find(':') + 1));
    }
    for (std::size_t i = 60; i < lines.size(); ++i) {
        std::istringstream line(lines[i]);
        double y = 0;
        double x = 0;
        if (line >> y >> x) set.rows.emplace_back(y, x);
    }
    EXPECT_EQ(set.rows.size(), rows);
    EXPECT_GT(set.sum_of_squares, 0);
    return set;
}

using Curve = double (*)(const VectorXd&, double);

double misra1a(const VectorXd& b, double x) { return b[0] * (1 - std::exp(-b[1] * x)); }
double thurber(const VectorXd& b, double x) {
    return (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1 + x * (b[4] + x * (b[5] + x * b[6])));
}
double eckerle4(const VectorXd& b, double x) {
    return b[0] / b[1] * std::exp(-0.5 * (x - b[2]) * (x - b[2]) / (b[1] * b[1]));
}
double mgh17(const VectorXd& b, double x) { return b[0] + b[1] * std::exp(-x * b[3]) + b[2] * std::exp(-x * b[4]); }

struct NonlinearCase {
    const char* file;
    int parameters;
    std::size_t rows;
    Curve curve;
    int start;
};

class Nist : public ::testing::TestWithParam<NonlinearCase> {};

// Certified: NIST Statistical Reference Datasets, 11 digits; asked for here: 7 in values, 5 in standard deviations,
// with numeric derivatives.
TEST_P(Nist, NonlinearRegression) {
    const NonlinearCase& each = GetParam();
    const Certified set = read_dat(each.file, each.parameters, each.rows);
    std::vector<Observation> observed;
    for (const auto& [y, at] : set.rows) {
        const double x = at;
        observed.push_back({y, 1, {[curve = each.curve, x](const VectorXd& b) { return curve(b, x); }}});
    }
    AdjustSettings settings;
    settings.typical = VectorXd::Constant(each.parameters, 1e-6);
    settings.rounds = 2000;
    const Adjustment result = adjust(observed, set.start[each.start - 1], settings);
    ASSERT_TRUE(result.converged && result.determined);
    for (int p = 0; p < each.parameters; ++p) {
        EXPECT_NEAR(result.parameters[p] / set.value[p], 1, 1e-7) << p;
        EXPECT_NEAR(result.s0 * std::sqrt(result.covariance(p, p)) / set.deviation[p], 1, 1e-5) << p;
    }
    EXPECT_NEAR(result.residuals.squaredNorm() / set.sum_of_squares, 1, 1e-9);
}

INSTANTIATE_TEST_SUITE_P(
    Certified, Nist,
    ::testing::Values(NonlinearCase{"Misra1a.dat", 2, 14, misra1a, 1}, NonlinearCase{"Misra1a.dat", 2, 14, misra1a, 2},
                      NonlinearCase{"Thurber.dat", 7, 37, thurber, 1}, NonlinearCase{"Thurber.dat", 7, 37, thurber, 2},
                      NonlinearCase{"Eckerle4.dat", 3, 35, eckerle4, 2}, NonlinearCase{"MGH17.dat", 5, 33, mgh17, 2}));

/// A linear set y = b0 + b1 x1 + ..., with exact derivatives.
Adjustment fit_linear(const std::string& file, std::size_t rows) {
    std::vector<Observation> observed;
    int parameters = 0;
    for (const auto& line : lines_of_file(file)) {
        if (line.find('y') != std::string::npos) continue;
        std::istringstream in(line);
        std::vector<double> values;
        for (std::string cell; std::getline(in, cell, ',');) values.push_back(std::stod(cell));
        if (values.empty()) continue;
        VectorXd row(static_cast<Eigen::Index>(values.size()));
        row[0] = 1;
        for (std::size_t i = 1; i < values.size(); ++i) row[static_cast<Eigen::Index>(i)] = values[i];
        parameters = static_cast<int>(values.size());
        observed.push_back({values[0],
                            1,
                            {[row](const VectorXd& b) { return row.dot(b); },
                             [row](const VectorXd&, VectorXd& slope) { slope = row; }}});
    }
    EXPECT_EQ(observed.size(), rows);
    return adjust(observed, VectorXd::Zero(parameters));
}

void expect_linear(const Adjustment& result, const std::vector<double>& values, const std::vector<double>& deviations,
                   double s0, double digits) {
    ASSERT_TRUE(result.converged && result.determined);
    ASSERT_EQ(result.parameters.size(), static_cast<Eigen::Index>(values.size()));
    for (std::size_t i = 0; i < values.size(); ++i) {
        const auto p = static_cast<Eigen::Index>(i);
        EXPECT_NEAR(result.parameters[p] / values[i], 1, digits) << i;
        EXPECT_NEAR(result.s0 * std::sqrt(result.covariance(p, p)) / deviations[i], 1, digits) << i;
    }
    EXPECT_NEAR(result.s0 / s0, 1, digits);
}

// Certified: NIST StRD, Norris and Longley (the latter of higher difficulty: nearly dependent columns).
TEST(LeastSquares, LinearRegressionsOfNist) {
    expect_linear(fit_linear("norris.csv", 36), {-0.262323073774029, 1.00211681802045},
                  {0.232818234301152, 0.429796848199937e-3}, 0.884796396144373, 1e-10);
    expect_linear(fit_linear("longley.csv", 16),
                  {-3482258.63459582, 15.0618722713733, -0.358191792925910e-1, -2.02022980381683, -1.03322686717359,
                   -0.511041056535807e-1, 1829.15146461355},
                  {890420.383607373, 84.9149257747669, 0.334910077722432e-1, 0.488399681651699, 0.214274163161675,
                   0.226073200069370, 455.478499142212},
                  304.854073561965, 1e-8);
}

// Closed form: the weighted mean of 10 and 13 with sigmas 1 and 2 is 10.6, its sigma 2 / sqrt 5.
TEST(LeastSquares, WeightedMean) {
    const Measured itself{[](const VectorXd& p) { return p[0]; }};
    const Adjustment result = adjust({{10, 1, itself}, {13, 2, itself}}, VectorXd::Zero(1));
    EXPECT_NEAR(result.parameters[0], 10.6, 1e-9);
    EXPECT_NEAR(result.covariance(0, 0), 0.8, 1e-9);
    EXPECT_NEAR(result.residuals[0], 0.6, 1e-9);
    EXPECT_NEAR(result.residuals[1], -2.4, 1e-9);
    EXPECT_NEAR(result.shares[0], 0.2, 1e-9);
    EXPECT_NEAR(result.shares[1], 0.8, 1e-9);
    EXPECT_NEAR(result.s0, 3 / std::sqrt(5.0), 1e-9);
}

// A triangle from two fixed points: one distance leaves the third point undetermined, and says which unknowns.
TEST(LeastSquares, SaysWhatIsNotDetermined) {
    VectorXd start(8);
    start << 0, 0, 1000, 0, 500, 800, 77, 78;
    const auto settings = fixed({0, 1, 2, 3}, 8);
    const Adjustment one = adjust({{950, 1, between(0, 2)}}, start, settings);
    EXPECT_FALSE(one.determined);
    EXPECT_EQ(one.undetermined, (std::vector<int>{4, 5, 6, 7}));
    EXPECT_EQ(one.parameters, start);
    const Adjustment two = adjust({{950, 1, between(0, 2)}, {940, 1, between(1, 2)}}, start, settings);
    EXPECT_FALSE(two.determined);
    EXPECT_EQ(two.undetermined, (std::vector<int>{6, 7}));
    const Adjustment none = adjust({}, start, settings);
    EXPECT_EQ(none.undetermined.size(), 4u);
    EXPECT_FALSE(none.determined);
}

// A reading that nothing else measures has no share, and no standardised residual to be suspected by.
TEST(LeastSquares, AnUncheckedReadingHasNoShare) {
    const Measured first{[](const VectorXd& p) { return p[0]; }};
    const Measured second{[](const VectorXd& p) { return p[1]; }};
    const Adjustment result = adjust({{10, 1, first}, {12, 1, first}, {5, 1, second}}, VectorXd::Zero(2));
    EXPECT_EQ(result.shares[2], 0);
    EXPECT_EQ(result.standardised[2], 0);
    EXPECT_NEAR(result.standardised[0], std::sqrt(2.0), 1e-6);
}

}  // namespace
}  // namespace standproud
