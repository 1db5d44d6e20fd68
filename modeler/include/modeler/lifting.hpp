// Mass of a panel, and who can lift it: the revised NIOSH lifting equation (NIOSH 94-110, public domain). kg, cm,
// degrees. A guide to planning the work; it knows nothing of the person, the wind or the stairs.
#pragma once

#include <optional>

namespace standproud::lifting {

/// kg, from mm2, mm and kg/m3. A sheet of 1200 x 2400 x 6 at 1190 is 20.56 kg.
[[nodiscard]] double panel_mass(double area, double thickness, double density);

/// How the hands meet the panel. Multiplier: good 1, fair 0.95 below 75 cm and 1 from there, poor 0.90 (NIOSH 94-110
/// table 7; from memory).
enum class Grip { good, fair, poor };

/// One lift.
struct Lift {
    double reach = 25;   ///< H: hands from the ankles, cm
    double height = 75;  ///< V: hands above the floor, cm
    double travel = 25;  ///< D: up or down, cm
    double twist = 0;    ///< A: degrees off straight ahead
    Grip grip = Grip::fair;
    double frequency = 1;  ///< FM, 0 to 1. DEFAULT 1: seldom (at most a lift in five minutes; table 5, from memory)
};

struct Multipliers {
    double reach = 1;      ///< HM = 25 / H; 1 below 25 cm, 0 over 63 cm
    double height = 1;     ///< VM = 1 - 0.003 |V - 75|; 0 over 175 cm
    double travel = 1;     ///< DM = 0.82 + 4.5 / D; 1 below 25 cm, 0 over 175 cm
    double twist = 1;      ///< AM = 1 - 0.0032 A; 0 over 135 degrees
    double frequency = 1;  ///< FM
    double grip = 1;       ///< CM
};

inline constexpr double load_constant = 23;  ///< kg

[[nodiscard]] Multipliers multipliers(const Lift& lift);

/// constant x HM x VM x DM x AM x FM x CM, in the unit of the constant.
[[nodiscard]] double recommended_weight(const Multipliers& m, double constant = load_constant);

/// A lift has two ends; the lower recommended weight counts when control is needed at both, as with a panel.
struct LiftAnswer {
    double recommended = 0;     ///< kg, for one person, the lesser of the two ends
    double index_alone = 0;     ///< mass over recommended; infinite when recommended is 0
    double index_of_two = 0;    ///< half the mass each
    std::optional<int> people;  ///< 1 or 2 for an index up to 1; none: even two are over it
};

[[nodiscard]] LiftAnswer judge_lift(double mass, const Lift& from, const Lift& to);

}  // namespace standproud::lifting
