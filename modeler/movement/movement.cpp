#include "modeler/movement.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace standproud::movement {

namespace {
constexpr double noise = 1e-9;
}

Material acrylic() { return {70e-6, {{60, 0.002}, {80, 0.003}, {100, 0.006}}}; }

double thermal_change(double expansion, double length, double kelvin) { return expansion * length * kelvin; }

double moisture_growth(const Material& material, double humidity) {
    MoisturePoint before{0, 0};
    for (const MoisturePoint& point : material.moisture) {
        if (humidity <= point.humidity) {
            const double span = point.humidity - before.humidity;
            if (span <= 0) return point.growth;
            return before.growth + (point.growth - before.growth) * (humidity - before.humidity) / span;
        }
        before = point;
    }
    return before.growth;
}

Strain strain(const Material& material, const Climate& climate) {
    const double fixed = moisture_growth(material, climate.fixed_humidity);
    Strain s;
    s.thermal_growth = std::max(0.0, material.expansion * (climate.hottest - climate.fixed_at));
    s.thermal_shrinkage = std::max(0.0, material.expansion * (climate.fixed_at - climate.coldest));
    s.moisture_growth = std::max(0.0, moisture_growth(material, climate.wettest) - fixed);
    s.moisture_shrinkage = std::max(0.0, fixed - moisture_growth(material, climate.driest));
    return s;
}

double capability(SealantClass sealant) {
    switch (sealant) {
        case SealantClass::c25:
            return 0.25;
        case SealantClass::c20:
            return 0.20;
        case SealantClass::c12_5:
            return 0.125;
        case SealantClass::c7_5:
            return 0.075;
    }
    return 0;
}

GapMovement move_gap(const Gap& gap, const Strain& strain) {
    const double moving = gap.first_moves + gap.second_moves;
    GapMovement m;
    m.closing_thermal = moving * strain.thermal_growth;
    m.closing_moisture = moving * strain.moisture_growth;
    m.hot_and_wet = gap.width - m.closing_thermal - m.closing_moisture;
    m.cold_and_dry = gap.width + moving * strain.shrinkage();
    m.narrowest = std::min(m.hot_and_wet, m.cold_and_dry);
    m.widest = std::max(m.hot_and_wet, m.cold_and_dry);
    m.tension = (m.widest - gap.width) / gap.width;
    m.compression = (gap.width - m.narrowest) / gap.width;
    return m;
}

double width_needed(const Gap& gap, const Strain& strain, SealantClass sealant) {
    const double moving = std::abs(gap.first_moves + gap.second_moves);
    return moving * std::max(strain.growth(), strain.shrinkage()) / capability(sealant);
}

bool within_class(const GapMovement& gap, SealantClass sealant) {
    return std::max(gap.tension, gap.compression) <= capability(sealant) + noise;
}

double joint_width(double expansion, double length, double kelvin, double other_movement, double sealant_per_cent,
                   double tolerance) {
    return 100 / sealant_per_cent * (thermal_change(expansion, length, kelvin) + other_movement) + tolerance;
}

HoleMovement move_hole(double from_middle, double part_diameter, double hole_diameter, double allowance,
                       const Strain& strain) {
    HoleMovement m;
    m.moves = std::abs(from_middle) * std::max(strain.growth(), strain.shrinkage());
    m.needed_diameter = part_diameter + 2 * (m.moves + allowance);
    m.spare = hole_diameter - m.needed_diameter;
    return m;
}

std::string refusal(const Material& material, const Climate& climate) {
    std::string all;
    const auto add = [&](const std::string& one) { all += (all.empty() ? "" : "; ") + one; };
    if (!(material.expansion >= 0 && material.expansion <= 1e-3)) {
        add(fmt::format("expansion {} per K; it must be 0 to 0.001", material.expansion));
    }
    MoisturePoint before{0, 0};
    for (const MoisturePoint& p : material.moisture) {
        if (!(p.humidity > before.humidity && p.humidity <= 100)) {
            add(fmt::format("moisture at {} % humidity; points must rise within 0 to 100", p.humidity));
        }
        if (!(p.growth >= before.growth && p.growth <= 0.1)) {
            add(fmt::format("moisture growth {} at {} %; it must not fall, and be at most 0.1", p.growth, p.humidity));
        }
        before = p;
    }
    if (!(climate.coldest <= climate.fixed_at && climate.fixed_at <= climate.hottest && climate.coldest >= -60 &&
          climate.hottest <= 150)) {
        add(fmt::format("temperatures {} (coldest), {} (fixed at), {} (hottest); they must rise within -60 to 150 C",
                        climate.coldest, climate.fixed_at, climate.hottest));
    }
    if (!(0 <= climate.driest && climate.driest <= climate.fixed_humidity &&
          climate.fixed_humidity <= climate.wettest && climate.wettest <= 100)) {
        add(fmt::format("humidities {} (driest), {} (fixed at), {} (wettest); they must rise within 0 to 100 %",
                        climate.driest, climate.fixed_humidity, climate.wettest));
    }
    return all;
}

}  // namespace standproud::movement
