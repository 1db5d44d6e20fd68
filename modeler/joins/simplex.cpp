// The simplex method in two phases on a full tableau (Dantzig 1947), with Bland's rule (1977) once a programme takes
// longer than any of this size should, so that it cannot go round in circles.
#include "joins/simplex.hpp"

#include <cmath>
#include <utility>

namespace standproud::joins {

namespace {

constexpr double tiny = 1e-10;
constexpr double kept = 5e-8;  ///< mm: less than what the planner takes for the same
constexpr int patient = 300;   ///< pivots before Bland's rule

/// Column `unknowns` belongs to the unknown that the first phase takes out again, the next one to the limits. Row
/// `count` is the cost, the next one the first phase's.
class Tableau {
  public:
    Tableau(const Programme& programme, const std::vector<double>& cost)
        : rows_(programme.rows.size()), columns_(programme.unknowns) {
        cells_.assign(rows_ + 2, std::vector<double>(columns_ + 2, 0));
        for (std::size_t i = 0; i < rows_; ++i) {
            for (std::size_t j = 0; j < columns_; ++j) cells_[i][j] = programme.rows[i][j];
            cells_[i][columns_] = -1;
            cells_[i][columns_ + 1] = programme.limits[i];
            basic_.push_back(static_cast<int>(columns_ + i));
        }
        for (std::size_t j = 0; j < columns_; ++j) {
            cells_[rows_][j] = cost[j];
            free_.push_back(static_cast<int>(j));
        }
        free_.push_back(artificial);
        cells_[rows_ + 1][columns_] = 1;
    }

    std::optional<std::vector<double>> solve() {
        if (!start()) return std::nullopt;
        if (!improve(rows_)) return std::nullopt;
        std::vector<double> x(columns_, 0);
        for (std::size_t i = 0; i < rows_; ++i) {
            const int unknown = basic_[i];
            if (unknown >= 0 && static_cast<std::size_t>(unknown) < columns_)
                x[static_cast<std::size_t>(unknown)] = cells_[i][columns_ + 1];
        }
        return x;
    }

  private:
    static constexpr int artificial = -1;

    /// The first phase: some x that keeps the rows.
    bool start() {
        std::size_t worst = 0;
        for (std::size_t i = 1; i < rows_; ++i) {
            if (cells_[i][columns_ + 1] < cells_[worst][columns_ + 1]) worst = i;
        }
        if (rows_ == 0 || cells_[worst][columns_ + 1] >= -tiny) return true;
        pivot(worst, columns_);
        if (!improve(rows_ + 1) || cells_[rows_ + 1][columns_ + 1] < -kept) return false;
        for (std::size_t i = 0; i < rows_; ++i) {
            if (basic_[i] != artificial) continue;
            std::size_t best = 0;
            for (std::size_t j = 1; j <= columns_; ++j) {
                if (std::abs(cells_[i][j]) > std::abs(cells_[i][best])) best = j;
            }
            pivot(i, best);
        }
        return true;
    }

    [[nodiscard]] std::optional<std::size_t> entering(std::size_t goal, bool bland) const {
        std::optional<std::size_t> found;
        for (std::size_t j = 0; j <= columns_; ++j) {
            if (goal == rows_ && free_[j] == artificial) continue;
            if (cells_[goal][j] >= -tiny) continue;
            const bool better = !found || (bland ? free_[j] < free_[*found] : cells_[goal][j] < cells_[goal][*found]);
            if (better) found = j;
        }
        return found;
    }

    [[nodiscard]] std::optional<std::size_t> leaving(std::size_t column) const {
        std::optional<std::size_t> found;
        double least_ratio = 0;
        for (std::size_t i = 0; i < rows_; ++i) {
            if (cells_[i][column] < tiny) continue;
            const double ratio = cells_[i][columns_ + 1] / cells_[i][column];
            if (found && (ratio > least_ratio || (ratio == least_ratio && basic_[i] > basic_[*found]))) continue;
            found = i;
            least_ratio = ratio;
        }
        return found;
    }

    bool improve(std::size_t goal) {
        for (int pivots = 0; pivots < 20 * patient; ++pivots) {
            const auto column = entering(goal, pivots > patient);
            if (!column) return true;
            const auto row = leaving(*column);
            if (!row) return false;
            pivot(*row, *column);
        }
        return false;
    }

    void pivot(std::size_t row, std::size_t column) {
        const double inverse = 1 / cells_[row][column];
        for (std::size_t i = 0; i < rows_ + 2; ++i) {
            const double factor = cells_[i][column] * inverse;
            if (i == row || factor == 0) continue;
            for (std::size_t j = 0; j < columns_ + 2; ++j) {
                if (j != column) cells_[i][j] -= cells_[row][j] * factor;
            }
        }
        for (double& cell : cells_[row]) cell *= inverse;
        for (std::size_t i = 0; i < rows_ + 2; ++i) cells_[i][column] *= -inverse;
        cells_[row][column] = inverse;
        std::swap(basic_[row], free_[column]);
    }

    std::size_t rows_;
    std::size_t columns_;
    std::vector<std::vector<double>> cells_;
    std::vector<int> basic_;
    std::vector<int> free_;
};

}  // namespace

std::vector<double>& Programme::add(double limit) {
    limits.push_back(limit);
    rows.emplace_back(unknowns, 0.0);
    return rows.back();
}

std::optional<std::vector<double>> least(const Programme& programme, const std::vector<double>& cost) {
    return Tableau(programme, cost).solve();
}

}  // namespace standproud::joins
