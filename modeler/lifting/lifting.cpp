#include "modeler/lifting.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace standproud::lifting {

namespace {

constexpr double noise = 1e-9;

double grip_multiplier(Grip grip, double height) {
    if (grip == Grip::poor) return 0.90;
    return grip == Grip::fair && height < 75 ? 0.95 : 1.0;
}

}  // namespace

double panel_mass(double area, double thickness, double density) { return area * thickness * density * 1e-9; }

Multipliers multipliers(const Lift& lift) {
    Multipliers m;
    m.reach = lift.reach > 63 ? 0 : 25 / std::max(25.0, lift.reach);
    m.height = lift.height > 175 || lift.height < 0 ? 0 : 1 - 0.003 * std::abs(lift.height - 75);
    m.travel = lift.travel > 175 ? 0 : 0.82 + 4.5 / std::max(25.0, lift.travel);
    m.twist = lift.twist > 135 ? 0 : 1 - 0.0032 * std::abs(lift.twist);
    m.frequency = lift.frequency;
    m.grip = grip_multiplier(lift.grip, lift.height);
    return m;
}

double recommended_weight(const Multipliers& m, double constant) {
    return constant * m.reach * m.height * m.travel * m.twist * m.frequency * m.grip;
}

LiftAnswer judge_lift(double mass, const Lift& from, const Lift& to) {
    LiftAnswer answer;
    answer.recommended = std::min(recommended_weight(multipliers(from)), recommended_weight(multipliers(to)));
    const double none = std::numeric_limits<double>::infinity();
    answer.index_alone = answer.recommended > 0 ? mass / answer.recommended : none;
    answer.index_of_two = answer.index_alone / 2;
    if (answer.index_alone <= 1 + noise) {
        answer.people = 1;
    } else if (answer.index_of_two <= 1 + noise) {
        answer.people = 2;
    }
    return answer;
}

}  // namespace standproud::lifting
