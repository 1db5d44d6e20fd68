// A recess of known truth, and what people would read on it. Written apart from the modeler: corners are cut from
// planes here, so that a slip in the adjustment's geometry cannot hide.
#pragma once

#include <array>
#include <random>
#include <vector>

#include "modeler/job.hpp"

namespace standproud::testing {

struct TrueWall {
    Vec2 from;         ///< at mid height, left end
    Vec2 along;        ///< unit vector to the right
    double width = 0;  ///< at mid height
    double lean = 0;   ///< mm per mm
    double top = 0;    ///< at the middle
    double fall = 0;   ///< mm per mm
};

struct TrueRecess {
    std::vector<TrueWall> walls;
    std::vector<double> angles;  ///< degrees, to the next wall
    bool closed = false;
    double mid_height = 0;
    double end_slope[2] = {0, 0};  ///< of the free ends along their walls, mm per mm

    [[nodiscard]] Vec2 left(std::size_t wall, double v) const;   ///< its left corner or end at a height
    [[nodiscard]] Vec2 right(std::size_t wall, double v) const;  ///< its right corner or end
    [[nodiscard]] double width(std::size_t wall, double v) const;
};

/// The job's own widths and angles, or off them at random: widths by `width` mm, angles by `angle` degrees, leans by
/// `lean` mm per m, all as standard deviations. The first wall keeps its place and direction.
TrueRecess true_recess(const Job& job, std::mt19937& random, double width, double angle, double lean);

/// Noise of readings: `reading` times each reading's own standard error, and spots of the walls off their planes by
/// a standard deviation of `uneven` mm. Both 0: exact readings.
struct Noise {
    double reading = 0;
    double uneven = 0;
};

/// A full survey of a job: each kind of reading on each wall and corner where it can be taken.
/// `surfaces`, if given, gets the true n of every spot that was measured against a plane of light.
SurveyReadings full_survey(const Job& job, const TrueRecess& truth, Noise noise, std::mt19937& random,
                           std::vector<double>* surfaces = nullptr);

/// Widths at one height only.
SurveyReadings widths_only(const Job& job, const TrueRecess& truth, double height, Noise noise, std::mt19937& random);

/// Every figure of a survey that is adjusted, in the order of Survey::readings.
std::vector<double*> figures_of(SurveyReadings& readings);

}  // namespace standproud::testing
