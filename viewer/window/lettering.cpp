#include "window/lettering.hpp"

#include <algorithm>
#include <cmath>

namespace standproud::viewer {

namespace {

constexpr double plain = 96;  // dots to an inch
constexpr double least = 1;
constexpr double most = 3;
constexpr double step = 0.25;
// 95 dots, rounded from whole mm, are meant as 96; 109, on a large monitor, are not meant as 120.
constexpr double meant = 0.02;

}  // namespace

double lettering(const ScreenDots& screen) {
    if (screen.asked > 0) return std::clamp(screen.asked / plain, least, most);
    const double finest = std::max(screen.served, screen.measured) / plain;
    return std::clamp(std::floor((finest + meant) / step) * step, least, most);
}

double dots_to_an_inch(int wide, int high, int wide_mm, int high_mm) {
    constexpr double mm = 25.4;
    constexpr double coarsest = 40;
    constexpr double finest = 400;
    if (wide <= 0 || high <= 0 || wide_mm <= 0 || high_mm <= 0) return 0;
    const double dots = mm * std::hypot(wide, high) / std::hypot(wide_mm, high_mm);
    return dots < coarsest || dots > finest ? 0 : dots;
}

}  // namespace standproud::viewer
