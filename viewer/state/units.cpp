#include "viewer/units.hpp"

#include <fmt/format.h>

#include <cmath>

#include "rules/words.hpp"

namespace standproud::viewer {

std::string inches(double mm) {
    constexpr double inch = 25.4;  // mm, by definition (published: international yard and pound agreement, 1959)
    // Halves away from 0, as on paper; fmt would round them to even.
    const double hundredths = std::round(std::abs(mm) / inch * 100 + 1e-9);
    return fmt::format("{}{:.2f} in", mm < 0 && hundredths > 0 ? "-" : "", hundredths / 100);
}

std::string length_words(double mm, bool with_inches) {
    const std::string words = fmt::format("{} mm", rules::mm(mm));
    return with_inches ? fmt::format("{} ({})", words, inches(mm)) : words;
}

std::string bare_and_finished(double bare, const std::optional<double>& finished, bool with_inches) {
    const auto said = [&](double value, const char* which) {
        const double tenth = std::round(10 * value) / 10 + 0.0;
        return fmt::format("{}{} {}", rules::mm(tenth), with_inches ? fmt::format(" ({})", inches(tenth)) : "", which);
    };
    return said(bare, "bare") + (finished ? " / " + said(*finished, "finished") : "");
}

}  // namespace standproud::viewer
