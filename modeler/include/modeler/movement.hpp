// Movement: what heat and moisture do to a panel, its joins and its holes. Plain functions on plain numbers.
// mm, kelvin (a difference; a Celsius difference is the same number), relative humidity in per cent.
//
// A panel bonded all over moves about its middle: an edge moves by half the change of the panel's length, a hole by its
// share of the distance from the middle. Free movement is assumed: the bond holds some of it back, so real movement is
// at most this.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace standproud::movement {

/// One point of a moisture curve: how much longer than dry, at a humidity.
struct MoisturePoint {
    double humidity = 0;  ///< per cent, 0 to 100
    double growth = 0;    ///< share of the length: 0.003 is 0.3 %
};

struct Material {
    double expansion = 0;                 ///< per kelvin
    std::vector<MoisturePoint> moisture;  ///< humidity rising; empty: none
};

/// Cast acrylic: 70e-6 per kelvin (published range 50 to 90e-6, Lange's Handbook 15th ed. table 10.2; 70 from memory);
/// moisture 0.2, 0.3, 0.6 % at 60, 80, 100 per cent humidity (published, a maker's text for extruded sheet), none when
/// dry (0 per cent).
[[nodiscard]] Material acrylic();

/// The conditions a panel sees, and those it was fixed in.
struct Climate {
    double fixed_at = 20;  ///< C
    double coldest = 10;   ///< C
    double hottest = 40;   ///< C
    double fixed_humidity = 50;
    double driest = 30;
    double wettest = 80;
};

/// alpha x L x dT. 1200 mm, 30 K, 70e-6: 2.52 mm.
[[nodiscard]] double thermal_change(double expansion, double length, double kelvin);

/// Share of length grown at a humidity: straight between the points, from nothing at 0 per cent; the last point beyond.
[[nodiscard]] double moisture_growth(const Material& material, double humidity);

/// Share of length by which a panel grows (hot and wet) and shrinks (cold and dry) from when it was fixed; both >= 0.
struct Strain {
    double thermal_growth = 0;
    double moisture_growth = 0;
    double thermal_shrinkage = 0;
    double moisture_shrinkage = 0;

    [[nodiscard]] double growth() const { return thermal_growth + moisture_growth; }
    [[nodiscard]] double shrinkage() const { return thermal_shrinkage + moisture_shrinkage; }
};

[[nodiscard]] Strain strain(const Material& material, const Climate& climate);

/// A gap between two edges. A fixed neighbour (a wall, a tray) has length 0.
struct Gap {
    double width = 0;         ///< mm when fixed
    double first_moves = 0;   ///< mm of panel between this edge and the middle it moves about, one side; below 0: the
                              ///< middle lies across the gap, as at a cut-out, and the gap opens as the panel grows
    double second_moves = 0;  ///< and the other
};

/// ISO 11600 movement class: plus or minus per cent of the joint's width (published): 25, 20, 12.5, 7.5.
enum class SealantClass { c25, c20, c12_5, c7_5 };
[[nodiscard]] double capability(SealantClass sealant);  ///< share: 0.25, 0.2, 0.125, 0.075

/// What becomes of a gap. Strains are plus or minus, in parts of the width when fixed.
struct GapMovement {
    double hot_and_wet = 0;       ///< mm wide then; 0 or less: the panels press on each other
    double cold_and_dry = 0;      ///< and then
    double narrowest = 0;         ///< the less of the two
    double widest = 0;            ///< the greater
    double closing_thermal = 0;   ///< mm of the closing when hot and wet, from heat; below 0 it opens
    double closing_moisture = 0;  ///< and from moisture
    double tension = 0;           ///< (widest - width) / width
    double compression = 0;       ///< (width - narrowest) / width
};

/// Must hold: gap.width > 0.
[[nodiscard]] GapMovement move_gap(const Gap& gap, const Strain& strain);

/// The width from which the strain, both ways, stays within the class. Exactly on the class is within.
[[nodiscard]] double width_needed(const Gap& gap, const Strain& strain, SealantClass sealant);

/// Whether both strains of a gap stay within the class, to 1e-9.
[[nodiscard]] bool within_class(const GapMovement& gap, SealantClass sealant);

/// W = (100 / X)(e L dT + M) + t: joint width from the whole movement e L dT + M, the sealant's movement X in per cent
/// of the width in the same convention, and the tolerance t. Lengths in any one unit (published, worked input of
/// Cornell ARCH 262).
[[nodiscard]] double joint_width(double expansion, double length, double kelvin, double other_movement,
                                 double sealant_per_cent, double tolerance);

/// A hole about a part that stays where it is, at a distance from the panel's middle.
struct HoleMovement {
    double moves = 0;            ///< mm, the greater of outwards (hot and wet) and inwards (cold and dry)
    double needed_diameter = 0;  ///< part + 2 (moves + allowance)
    double spare = 0;            ///< mm: hole less needed; negative: the part binds
};

/// All mm. `allowance` is what set-out and drilling may miss by.
[[nodiscard]] HoleMovement move_hole(double from_middle, double part_diameter, double hole_diameter, double allowance,
                                     const Strain& strain);

/// What is wrong with the numbers, in words; empty: nothing.
[[nodiscard]] std::string refusal(const Material& material, const Climate& climate);

}  // namespace standproud::movement
