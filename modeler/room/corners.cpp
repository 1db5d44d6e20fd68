#include "room/corners.hpp"

#include <cmath>

namespace standproud {

namespace {
double radians(double degrees) { return degrees * pi / 180; }

// Right angles are common and must not carry the rounding of pi.
double sine(double degrees) { return degrees == 90 ? 1 : degrees == 270 ? -1 : std::sin(radians(degrees)); }
double cosine(double degrees) { return degrees == 90 || degrees == 270 ? 0 : std::cos(radians(degrees)); }
}  // namespace

double distance_at(double c, double n, double angle) { return (c + n * cosine(angle)) / sine(angle); }

bool is_wide(double angle) { return std::abs(angle - 180) < 45; }

bool is_straight(double angle) { return std::abs(angle - 180) < 1; }

}  // namespace standproud
