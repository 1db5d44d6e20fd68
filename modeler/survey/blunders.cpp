#include "survey/blunders.hpp"

#include <fmt/format.h>

#include <cmath>

namespace standproud {

namespace {

/// Readings of which the residuals go together more than this cannot be told apart as the wrong one.
constexpr double told_apart = 0.98;

/// Most suspects that are looked for: with more the survey as a whole is at fault.
constexpr std::size_t most_suspects = 5;

using Kept = std::vector<std::size_t>;  ///< lines still in the adjustment, in order

Kept alike(const Adjustment& adjusted, const std::vector<Line>& lines, const Kept& kept, std::size_t worst) {
    Kept found;
    const auto w = static_cast<Eigen::Index>(worst);
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        if (i == worst || lines[kept[i]].name.empty() || adjusted.shares[k] < 0.01) continue;
        const double both = std::sqrt(adjusted.residual_cofactor(w, w) * adjusted.residual_cofactor(k, k));
        if (std::abs(adjusted.residual_cofactor(w, k)) > told_apart * both) found.push_back(kept[i]);
    }
    return found;
}

std::string in_words(const std::vector<Line>& lines, const Suspect& suspect) {
    const Line& line = lines[suspect.reading];
    const double misses = std::abs(suspect.misses_by);
    const std::string amount =
        line.unit == "mm" ? fmt::format("{:.0f} mm", misses) : fmt::format("{:.1f} {}", misses, line.unit);
    std::string text = fmt::format("{} disagrees with the other readings by {}: measure it again", line.name, amount);
    if (line.wall) text += ", or look for a hump or hollow there";
    if (suspect.or_else.empty()) return text;
    text += "; it could as well be ";
    for (std::size_t i = 0; i < suspect.or_else.size(); ++i) {
        text += (i == 0 ? "" : " or ") + lines[suspect.or_else[i]].name;
    }
    return text;
}

/// The reading with the largest standardised residual, by place in `kept`; nothing if none is too large.
std::optional<std::size_t> worst_of(const Adjustment& adjusted, const std::vector<Line>& lines, const Kept& kept) {
    std::optional<std::size_t> worst;
    double largest = suspect_above;
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        if (lines[kept[i]].name.empty() || adjusted.shares[k] < 0.01) continue;
        // A hair's breadth, so that of two that nothing tells apart the first is named on every machine.
        if (std::abs(adjusted.standardised[k]) <= largest * (1 + 1e-6)) continue;
        largest = std::abs(adjusted.standardised[k]);
        worst = i;
    }
    return worst;
}

}  // namespace

std::vector<Suspect> find_suspects(const std::vector<Line>& lines, const std::vector<Observation>& observations,
                                   const Eigen::VectorXd& start, const AdjustSettings& settings,
                                   const Adjustment& first) {
    std::vector<Suspect> suspects;
    Kept kept(lines.size());
    for (std::size_t i = 0; i < kept.size(); ++i) kept[i] = i;
    Adjustment adjusted = first;
    std::vector<Observation> left = observations;
    while (suspects.size() < most_suspects && adjusted.determined) {
        const auto worst = worst_of(adjusted, lines, kept);
        if (!worst) break;
        const auto w = static_cast<Eigen::Index>(*worst);
        Suspect suspect;
        suspect.reading = kept[*worst];
        suspect.standardised = adjusted.standardised[w];
        suspect.misses_by = -adjusted.residuals[w] / adjusted.shares[w];
        suspect.or_else = alike(adjusted, lines, kept, *worst);
        suspect.says = in_words(lines, suspect);
        suspects.push_back(suspect);
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(*worst));
        kept.erase(kept.begin() + static_cast<std::ptrdiff_t>(*worst));
        if (adjusted.redundancy <= 1) break;
        adjusted = adjust(left, start, settings);
    }
    return suspects;
}

}  // namespace standproud
