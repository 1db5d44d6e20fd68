// The bare face of one wall as surveyed: its plane, and between the spots that were read what they make likely.
//
// n(u, v) = lean (v - level) + off(u, v). The unevenness `off` is taken as a random field of mean 0 whose values
// correlate less the further apart two spots are, and is predicted from the readings by simple kriging (Matheron 1963,
// from memory; the same as the mean of a Gaussian process): at a spot that was read it gives the reading, far from
// all of them the plane. Correlation at distance d, Matern with nu = 3/2: (1 + a) exp(-a), a = sqrt(3) d / reach.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "modeler/survey.hpp"

namespace standproud {

/// A figure in mm and its standard error.
struct FaceDepth {
    double n = 0;
    double standard_error = 0;
};

/// One thing that was read off a wall's plane: a spot, or the gap under a straightedge (the middle less half of each
/// end). off = sum of part[i] times the unevenness at (u, v)[i].
struct OffPlane {
    std::vector<Vec2> at;
    std::vector<double> part;
    double off = 0;
    double variance = 0;
};

struct Surface {
    double lean = 0;   ///< mm per mm of height
    double level = 0;  ///< v at which the plane passes n = 0
    double lean_error = 0;
    double unevenness = 0;  ///< standard deviation, mm
    double reach = 0;       ///< mm; see above
    std::vector<OffPlane> readings;
    std::vector<double> weights;  ///< inverse of the readings' covariance times what they read
    std::vector<double> inverse;  ///< the inverse itself, row by row
    bool assumed = false;         ///< the lean rests on an assumption that the job wants taken as unknown

    /// n of the plane alone.
    [[nodiscard]] double plane(double v) const { return lean * (v - level); }
    /// n of the face at a spot, with what the survey leaves open.
    [[nodiscard]] FaceDepth at(double u, double v) const;
};

/// From a survey. Standard errors grow with s0 where the readings agree less well than their +/- promise.
Surface surface_of(const Survey& survey, std::size_t wall);

/// A plane that leans, with readings off it. Must hold: variances above 0, reach above 0.
Surface make_surface(Surface plane, std::vector<OffPlane> readings);

}  // namespace standproud
