// Lengths as they are shown: mm, and beside it inches for who thinks in them. Figures stay in mm.
#pragma once

#include <optional>
#include <string>

namespace standproud::viewer {

/// Decimal inches to 0.01: 25.4 -> "1.00 in"; nothing below half a hundredth is shown as minus.
std::string inches(double mm);

/// "8 mm", or with inches "8 mm (0.31 in)".
std::string length_words(double mm, bool with_inches);

/// From a corner: "882 bare / 864 finished", or in mm and inches.
std::string bare_and_finished(double bare, const std::optional<double>& finished, bool with_inches);

}  // namespace standproud::viewer
