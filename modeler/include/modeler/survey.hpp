// The recess as it really is: the readings of the job adjusted by least squares.
//
// The recess is taken as one plane for each wall, whose lines at a height meet in corners; the free ends of an
// open run are straight lines in the end walls. All readings of plan, leans and top lines are adjusted together,
// each with weight 1 / sigma^2, sigma being half its +/-. A reading that touches a wall at spots also carries
// the wall's unevenness. What no reading tells is assumed (square, plumb, the job's width, level) with a +/- of
// its own, and each result lists the assumptions it rests on.
//
// Standard errors are for the +/- as stated, not scaled by s0. Two standard errors are a +/- of about 95 %.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/job.hpp"

namespace standproud {

struct Estimate {
    double value = 0;
    double standard_error = 0;
    std::vector<std::size_t> rests_on;  ///< indexes into Survey::assumptions
};

/// A spot of the bare face that was measured against a plane of light or string.
struct SurfacePoint {
    double u = 0;
    double v = 0;
    double n = 0;          ///< bare face, from the wall's upright reference plane through its corners at mid height
    double off_plane = 0;  ///< bare face, from the wall's own leaning plane: positive stands out into the room
    double standard_error = 0;  ///< of n
    Source source;
};

/// A gap under a straightedge: the wall lies this far behind the line between two spots of it.
struct Hollow {
    double u = 0;  ///< middle of the straightedge
    double v = 0;
    double length = 0;
    bool upright = false;
    Estimate gap;
    Source source;
};

struct WallSurvey {
    std::string wall;
    double drawn_width = 0;       ///< as the job has it
    Estimate width;               ///< from corner to corner at Survey::mid_height, mm
    Estimate width_change;        ///< mm per m of height; positive: wider higher up
    double width_covariance = 0;  ///< of width and width_change
    Estimate lean;                ///< mm per m of height; positive: the top stands further into the room
    Estimate turn;  ///< mm per m of length, from where the job's angles put it, first wall held; positive: its
                    ///< right end stands further into the room
    std::optional<Estimate> height;  ///< of the top line at the wall's middle, above the datum; if it was measured
    std::optional<Estimate> fall;    ///< of the top line, mm per m; positive: higher at the right
    double unevenness = 0;           ///< standard deviation of spots against the plane that was reckoned with, mm:
                                     ///< as stated, or what clearly worse spots show
    std::vector<SurfacePoint> points;
    std::vector<Hollow> hollows;
    std::vector<Vec2> floor;  ///< x = u, y = level above the datum, as read; rising in u
};

struct CornerSurvey {
    std::size_t left_wall = 0;
    std::size_t right_wall = 0;
    Estimate angle;          ///< inside the room, degrees
    double drawn_angle = 0;  ///< as the job has it
};

/// A corner or free end, in plan, in the room frame: first left corner at the origin, first wall along +y.
struct PlanPoint {
    Vec2 at;         ///< at Survey::mid_height
    Vec2 per_metre;  ///< how it moves with each metre of height, mm
};

/// One reading after adjustment.
struct ReadingResult {
    std::string name;  ///< "the width at 1800 on wall back"
    std::string unit;
    Source source;
    double observed = 0;
    double standard_error = 0;  ///< reckoned with: instrument and unevenness
    double adjusted = 0;
    double residual = 0;      ///< adjusted - observed
    double standardised = 0;  ///< residual over its own standard error; 0 when nothing checks the reading
    double share = 0;         ///< redundancy share, 0 to 1
    bool checked = false;     ///< share of at least 1 %: other readings would show a blunder in it
};

struct Assumption {
    std::string says;       ///< "wall left is plumb"
    double plus_minus = 0;  ///< two standard errors
    std::string unit;
    std::string source;
    std::vector<std::string> results;  ///< what depends on it: "the lean of wall left", ...
};

/// A reading that is probably a blunder.
struct Suspect {
    std::size_t reading = 0;           ///< index into Survey::readings
    std::vector<std::size_t> or_else;  ///< readings that could as well be the wrong one: nothing tells them apart
    double standardised = 0;           ///< in the adjustment without the suspects before it
    double misses_by = 0;              ///< observed less what the other readings make of it
    std::string says;  ///< "the width at 1800 on wall back disagrees with the other readings by 11 mm: ..."
};

struct Survey {
    double mid_height = 0;
    std::vector<WallSurvey> walls;
    std::vector<CornerSurvey> corners;
    std::vector<PlanPoint> plan;  ///< from the first wall's left end on
    std::vector<ReadingResult> readings;
    std::vector<Assumption> assumptions;
    SurveyReadings::Assume assume = SurveyReadings::Assume::carry;  ///< as the job chose
    std::vector<Suspect> suspects;       ///< the most probable first; results above still include them
    std::vector<std::string> unchecked;  ///< readings that nothing checks, by name
    int redundancy = 0;
    double s0 = 0;  ///< 1 when readings agree as well as their +/- promise
    bool converged = false;
};

/// A reading whose standardised residual exceeds this is a suspect: 1 good reading in 1000 does
/// (Baarda 1968, from memory; quantile of the normal distribution).
inline constexpr double suspect_above = 3.2905;

/// Adjusts the readings of a job. Must hold: job.survey is there and read without faults.
Survey adjust_survey(const Job& job);

/// False for a result that rests on an assumption in a job that wants such results unknown.
bool is_known(const Survey& survey, const Estimate& estimate);

/// +/- of a reading: its own, the job's for that instrument, or the shipped one.
double plus_minus_of(const SurveyReadings& readings, const Reading& reading);

/// Width of a wall at height v.
Estimate width_at(const Survey& survey, std::size_t wall, double v);

/// n of a wall's leaning plane at height v, from its upright reference plane. Without unevenness.
Estimate plane_at(const Survey& survey, std::size_t wall, double v);

}  // namespace standproud
