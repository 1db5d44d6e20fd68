// How flat and how plumb a wall may be: rules/flatness.toml, and a face judged by it. Lengths in mm.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/flatness.hpp"
#include "modeler/job.hpp"

namespace standproud::rules {

/// What becomes of a published tolerance at a length it is not published for.
enum class Scaling {
    interpolate,  ///< straight lines between published lengths; where only one is published, in proportion to length
    never_below,  ///< the tolerance of the next longer published length: never scaled down
};

/// The words "interpolate" and "never below the table's length".
std::optional<Scaling> scaling_named(const std::string& word);
std::string word_of(Scaling scaling);

struct FlatnessStandard {
    enum class Measure { flatness, plumb };
    enum class Laid { resting, blocks };
    std::string name;
    Measure measure = Measure::flatness;
    Laid laid = Laid::resting;    ///< of flatness
    std::vector<double> lengths;  ///< rising
    std::vector<double> allows;   ///< at each length
    std::string says;
    std::string source;
};

/// What ships with the program.
const std::vector<FlatnessStandard>& flatness_standards();

/// One of them; nullptr when there is none of that name.
const FlatnessStandard* flatness_standard(const std::string& name);

/// What a job holds its walls against. A job that names none has DIN 18202 row 6 for flatness, NHBC 9.1 for plumb,
/// interpolated.
struct FaceRule {
    const FlatnessStandard* flatness = nullptr;
    const FlatnessStandard* plumb = nullptr;
    Scaling scaling = Scaling::interpolate;
};

/// Names that are not known, or that measure something else, are added to `faults`.
FaceRule face_rule_for(const Job& job, Faults& faults);

/// The gap allowed at a length, or for plumb the offset over a rise. Not rounded: handbooks round to whole mm, which
/// can only let a wall pass that the straight line fails. Nothing where nothing is published: past the last length;
/// and, interpolating in a table of several lengths, short of its first.
std::optional<double> allowed_gap(const FlatnessStandard& standard, double length, Scaling scaling);
std::optional<double> allowed_gap(const std::string& standard, double length, Scaling scaling);

/// A line on a face against a standard of flatness, where it is worst.
struct JudgedFlatness {
    Straightedge laid;
    double length = 0;                                                ///< the straightedge's, mm
    double allowed = 0;                                               ///< mm at that length
    [[nodiscard]] double over() const { return laid.gap - allowed; }  ///< > same_length: not flat enough
};

/// Tried with a straightedge of each published length, of each distance between two readings, and of `longest`, none
/// longer than `longest` or than the readings span; the one that is most over is given. With blocks, only published
/// lengths and `longest`. Nothing when no length is judged.
std::optional<JudgedFlatness> judge_flatness(const std::vector<LineReading>& readings, const FlatnessStandard& standard,
                                             Scaling scaling, double longest);

struct JudgedPlumb {
    OutOfPlumb pair;
    double allowed = 0;  ///< mm over that rise
    [[nodiscard]] double over() const { return pair.offset - allowed; }
};

/// The two spots one above the other, at least `shortest` apart, that are most over; nothing when no rise is judged.
std::optional<JudgedPlumb> judge_plumb(const std::vector<WallPoint>& spots, const FlatnessStandard& standard,
                                       Scaling scaling, double within, double shortest = 0);

}  // namespace standproud::rules
