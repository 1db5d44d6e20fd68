// Inside the nester: the most value that unlimited items give on a sheet and on every part of it.
#pragma once

#include <vector>

#include "nesting/plan.hpp"

namespace standproud::nesting {

struct SizedItem {
    Unit width = 0;   ///< grown by the kerf
    Unit height = 0;  ///< grown by the kerf
    double value = 0;
    int most = 0;
    bool turned = false;  ///< this is the item turned
    std::size_t item = 0;
};

/// All sums of the sizes up to `limit`, with 0. More than `most`: empty.
std::vector<Unit> sums_of(std::vector<Unit> sizes, Unit limit, std::size_t most);

/// The full dynamic programme over the sums of widths and heights (normal patterns: Herz 1972).
class Programme {
  public:
    /// Sizes grown by the kerf. Must hold: the sums are not empty.
    Programme(const std::vector<SizedItem>& items, std::vector<Unit> widths, std::vector<Unit> heights);

    [[nodiscard]] const std::vector<Unit>& widths() const { return widths_; }
    [[nodiscard]] const std::vector<Unit>& heights() const { return heights_; }
    /// Most value on widths()[i] by heights()[j].
    [[nodiscard]] double value(std::size_t i, std::size_t j) const { return value_[i * heights_.size() + j]; }
    /// Index of the last sum that is not over `size`.
    [[nodiscard]] std::size_t width_index(Unit size) const;
    [[nodiscard]] std::size_t height_index(Unit size) const;
    /// How a part is cut.
    int build(Plan& plan, std::size_t i, std::size_t j) const;

  private:
    void start();
    void cut_upright(std::size_t i);
    void cut_level(std::size_t first, std::size_t last);

    const std::vector<SizedItem>& items_;
    std::vector<Unit> widths_;
    std::vector<Unit> heights_;
    std::vector<double> value_;  ///< by width, then height
};

}  // namespace standproud::nesting
