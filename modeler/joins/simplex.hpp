// Inside the join planner: small linear programmes, a dozen unknowns and some fifty rows.
#pragma once

#include <optional>
#include <vector>

namespace standproud::joins {

/// rows x <= limits, x >= 0.
struct Programme {
    std::size_t unknowns = 0;
    std::vector<std::vector<double>> rows{};
    std::vector<double> limits{};

    /// A row of zeros with its limit, to be filled in.
    std::vector<double>& add(double limit);
};

/// The x that makes cost * x least; nothing when no x keeps the rows to 5e-8. Must hold: the least is not unbounded.
[[nodiscard]] std::optional<std::vector<double>> least(const Programme& programme, const std::vector<double>& cost);

}  // namespace standproud::joins
