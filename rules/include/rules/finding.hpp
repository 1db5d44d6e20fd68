// One judged statement.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "modeler/geometry.hpp"
#include "modeler/job.hpp"

namespace standproud::rules {

enum class Verdict { clear, tight, fails, unknown };

/// One term of a sum: the arithmetic is shown line by line from these.
struct Term {
    std::string name;
    double value = 0;  ///< with its sign
    std::optional<double> tolerance;
    Source source;
};

/// A quantity with its band. Tolerances add up in magnitude (worst case) or as the root of the sum of
/// squares (statistical).
struct Band {
    double nominal = 0;
    double worst = 0;  ///< half width
    double statistical = 0;
};

struct Remedy {
    std::string item;  ///< id of the stocked item
    std::string name;
    double adds = 0;
    double nominal = 0;  ///< with it fitted; low and high on the band that is judged
    double low = 0;
    double high = 0;
};

/// A move of one thing, as seen on its wall, mm. Only one of the three is not 0.
struct Move {
    std::string id;     ///< of the fitting or pipe
    double across = 0;  ///< to the right
    double up = 0;
    double out = 0;  ///< of the wall; negative: further into it
};

/// Two things that are too near, or in each other.
struct Clash {
    std::string other;  ///< id of what is in the way: of a fitting, pipe or screen, or "wall ID"
    std::string other_trade;
    std::string part_a;  ///< ids of the two parts
    std::string part_b;
    double distance = 0;  ///< mm; below 0 they overlap, and this is less the depth
    RoomPoint push;       ///< unit: moving part b along it by the depth frees it
    RoomPoint at;         ///< where, in the room
    WallPoint on_wall;    ///< and in the subject's wall: right of the left finished corner (else bare), above the
                          ///< datum, in front of the finished face
    bool finished_corner = true;    ///< on_wall.u counts from a finished corner
    std::optional<double> volume;   ///< that both fill, mm3, where a closed form tells
    std::vector<std::string> also;  ///< other parts of the same two that are too near, in words
    std::vector<Move> moves;        ///< each by itself frees the two and puts neither in the way of anything else
    bool advised = false;           ///< moves were looked for (advise.hpp)
};

struct Finding {
    std::string rule;     ///< reach.spindle, hole.edge ...
    std::string subject;  ///< id of the fitting; "wall ID" or "survey" for what concerns no fitting
    std::string wall;
    Trade trade = Trade::plumber;  ///< who acts on it
    Verdict verdict = Verdict::unknown;
    std::string quantity;  ///< what was measured, in words
    std::string unit = "mm";
    std::optional<double> nominal;
    std::optional<double> low;  ///< on the band that is judged
    std::optional<double> high;
    std::optional<double> statistical_low;  ///< the other band, for show
    std::optional<double> statistical_high;
    std::optional<double> worst_low;
    std::optional<double> worst_high;
    std::optional<double> need_low;
    std::optional<double> need_high;
    std::string says;    ///< the finding in a sentence
    std::string action;  ///< what to do; empty when nothing
    std::optional<Remedy> remedy;
    std::optional<Move> move;                             ///< of the seat or the screen judged, where one would do
    std::optional<std::pair<double, double>> seat_range;  ///< n of the seat for which the whole band is inside
    std::optional<Vec2> spot;    ///< (u, v) judged, where it is not the fitting's own: one screw of several
    std::optional<Clash> clash;  ///< of two things that are too near
    std::string source;          ///< where the need comes from
    std::vector<Term> terms;
    std::vector<std::string> missing;  ///< the numbers that were missing, each with its place
};

std::string to_string(Verdict verdict);

/// How bad: fails, unknown, tight, clear.
int severity(Verdict verdict);

}  // namespace standproud::rules
