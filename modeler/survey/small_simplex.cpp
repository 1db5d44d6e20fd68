#include "survey/small_simplex.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

namespace standproud::survey {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double least_pivot = 1e-11;
constexpr double at_end = 1e-9;  ///< an unknown nearer to its end than this is at its end
constexpr int stalled = 40;      ///< steps without gain before Bland's rule takes over

using Matrix = std::array<Rows, most_rows>;

/// The inverse by elimination with row exchange; false when there is none.
bool invert(std::size_t n, Matrix m, Matrix& inverse) {
    for (std::size_t i = 0; i < n; ++i) {
        inverse[i].fill(0);
        inverse[i][i] = 1;
    }
    for (std::size_t k = 0; k < n; ++k) {
        std::size_t pivot = k;
        for (std::size_t i = k + 1; i < n; ++i) {
            if (std::abs(m[i][k]) > std::abs(m[pivot][k])) pivot = i;
        }
        if (std::abs(m[pivot][k]) < 1e-300) return false;
        std::swap(m[k], m[pivot]);
        std::swap(inverse[k], inverse[pivot]);
        const double by = 1 / m[k][k];
        for (std::size_t j = 0; j < n; ++j) {
            m[k][j] *= by;
            inverse[k][j] *= by;
        }
        for (std::size_t i = 0; i < n; ++i) {
            if (i == k || m[i][k] == 0) continue;
            const double times = m[i][k];
            for (std::size_t j = 0; j < n; ++j) {
                m[i][j] -= times * m[k][j];
                inverse[i][j] -= times * inverse[k][j];
            }
        }
    }
    return true;
}

class Simplex {
  public:
    Simplex(std::size_t rows, const std::vector<Column>& columns, const Rows& right)
        : rows_(rows), real_(columns.size()), columns_(columns), right_(right) {
        for (std::size_t i = 0; i < rows_; ++i) {
            Column stand_in;
            stand_in.entries[i] = right_[i] < 0 ? -1 : 1;
            columns_.push_back(stand_in);
            basis_[i] = real_ + i;
        }
        high_.assign(columns_.size(), false);
        in_basis_.assign(columns_.size(), false);
        for (std::size_t i = 0; i < rows_; ++i) in_basis_[basis_[i]] = true;
    }

    SimplexAnswer solve() {
        // First stage: stand-ins cost 1 each, nothing else is worth anything.
        std::vector<double> worth(columns_.size(), 0.0);
        for (std::size_t i = 0; i < rows_; ++i) worth[real_ + i] = -1;
        SimplexAnswer answer;
        answer.state = run(worth);
        if (answer.state != SimplexAnswer::State::solved) return answer;
        for (std::size_t i = 0; i < rows_; ++i) {
            if (basis_[i] >= real_ && std::abs(x_[i]) > at_end) {
                answer.state = SimplexAnswer::State::infeasible;
                return answer;
            }
        }
        // Second stage: stand-ins still in the basis are held at nothing.
        for (std::size_t j = 0; j < columns_.size(); ++j) {
            worth[j] = j < real_ ? columns_[j].worth : 0;
            if (j >= real_) columns_[j].upper = 0;
        }
        answer.state = run(worth);
        if (answer.state != SimplexAnswer::State::solved) return answer;
        answer.prices = prices_;
        for (std::size_t i = 0; i < rows_; ++i) {
            answer.value += worth[basis_[i]] * x_[i];
            answer.unique = answer.unique && x_[i] > at_end && x_[i] < columns_[basis_[i]].upper - at_end;
        }
        for (std::size_t j = 0; j < real_; ++j) {
            if (!in_basis_[j] && high_[j]) answer.value += worth[j] * columns_[j].upper;
        }
        return answer;
    }

  private:
    struct Leaving {
        double step = infinite;
        std::size_t row = most_rows;  ///< none: the entering unknown goes to its other end
        bool to_upper = false;
    };

    /// What the basis comes to: inverse, values, prices.
    bool settle(const std::vector<double>& worth) {
        Matrix basis{};
        for (std::size_t i = 0; i < rows_; ++i) {
            for (std::size_t k = 0; k < rows_; ++k) basis[k][i] = columns_[basis_[i]].entries[k];
        }
        if (!invert(rows_, basis, inverse_)) return false;
        Rows rest = right_;
        for (std::size_t j = 0; j < columns_.size(); ++j) {
            if (in_basis_[j] || !high_[j]) continue;
            for (std::size_t k = 0; k < rows_; ++k) rest[k] -= columns_[j].entries[k] * columns_[j].upper;
        }
        x_ = times(rest);
        prices_.fill(0);
        for (std::size_t i = 0; i < rows_; ++i) {
            for (std::size_t k = 0; k < rows_; ++k) prices_[k] += worth[basis_[i]] * inverse_[i][k];
        }
        return true;
    }

    [[nodiscard]] Rows times(const Rows& v) const {
        Rows product{};
        for (std::size_t i = 0; i < rows_; ++i) {
            for (std::size_t k = 0; k < rows_; ++k) product[i] += inverse_[i][k] * v[k];
        }
        return product;
    }

    /// The column to take in: the one that gains most per unit, or the first that gains anything.
    [[nodiscard]] std::size_t entering(const std::vector<double>& worth, double gain_over, bool first) const {
        std::size_t best = columns_.size();
        double most = gain_over;
        for (std::size_t j = 0; j < columns_.size(); ++j) {
            if (in_basis_[j] || columns_[j].upper <= 0 || (high_[j] && j >= real_)) continue;
            double gain = worth[j];
            for (std::size_t k = 0; k < rows_; ++k) gain -= prices_[k] * columns_[j].entries[k];
            if (high_[j]) gain = -gain;
            if (gain <= most) continue;
            best = j;
            if (first) break;
            most = gain;
        }
        return best;
    }

    /// How far the entering column can go, and which unknown of the basis stops it. Among equals: the largest
    /// pivot, or under Bland's rule the lowest index.
    [[nodiscard]] Leaving leaving(std::size_t in, const Rows& change, bool bland) const {
        Leaving out;
        out.step = columns_[in].upper;
        double pivot = 0;
        for (std::size_t i = 0; i < rows_; ++i) {
            const double slope = high_[in] ? -change[i] : change[i];  // x falls by this per unit
            if (std::abs(slope) < least_pivot) continue;
            const double upper = columns_[basis_[i]].upper;
            if (slope < 0 && upper == infinite) continue;
            const double step = std::max(0.0, slope > 0 ? x_[i] / slope : (upper - x_[i]) / -slope);
            const double same = 1e-13 * (1 + step);
            const bool nearer = step < out.step - same;
            const bool equal = !nearer && step < out.step + same && out.row != most_rows;
            const bool preferred = bland ? equal && basis_[i] < basis_[out.row] : equal && std::abs(slope) > pivot;
            if (!nearer && !preferred) continue;
            out.step = step;
            out.row = i;
            out.to_upper = slope < 0;
            pivot = std::abs(slope);
        }
        return out;
    }

    SimplexAnswer::State run(const std::vector<double>& worth) {
        using State = SimplexAnswer::State;
        double size = 1;
        for (const double w : worth) size = std::max(size, std::abs(w));
        const std::size_t most_steps = 1000 + 50 * columns_.size();
        int still = 0;
        for (std::size_t step = 0; step < most_steps; ++step) {
            if (!settle(worth)) return State::gave_up;
            const bool bland = still > stalled;
            const std::size_t in = entering(worth, 1e-12 * size, bland);
            if (in == columns_.size()) return State::solved;
            const Leaving out = leaving(in, times(columns_[in].entries), bland);
            if (out.step == infinite) return State::unbounded;
            still = out.step > at_end ? 0 : still + 1;
            if (out.row == most_rows) {
                high_[in] = !high_[in];
                continue;
            }
            const std::size_t gone = basis_[out.row];
            in_basis_[gone] = false;
            high_[gone] = out.to_upper;
            basis_[out.row] = in;
            in_basis_[in] = true;
            high_[in] = false;
        }
        // Rounding can keep the last few steps going round among equals: good enough is then 1e-10 of the size.
        return entering(worth, 1e-10 * size, false) == columns_.size() ? State::solved : State::gave_up;
    }

    std::size_t rows_;
    std::size_t real_;
    std::vector<Column> columns_;
    Rows right_;
    std::array<std::size_t, most_rows> basis_{};
    std::vector<bool> high_;  ///< out of the basis at its upper end
    std::vector<bool> in_basis_;
    Matrix inverse_{};
    Rows x_{};
    Rows prices_{};
};

}  // namespace

SimplexAnswer most_worth(std::size_t rows, const std::vector<Column>& columns, const Rows& right) {
    return Simplex(rows, columns, right).solve();
}

}  // namespace standproud::survey
