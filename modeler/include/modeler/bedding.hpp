// Bedding: where the back of a flat panel comes to lie over a bare face that leans, dishes and bulges, how thick
// the bed gets, and what to plane off where it would get too thick. Plain values in, plain values out.
//
// All in one wall's frame (u, v, n), mm. A surveyed spot is a WallPoint whose n is the bare face there. The
// panel's back is the plane n = a + b u + c v. Between the bare face and the panel lie the substrate (board,
// membrane; follows the face) and the bed (tape and adhesive; takes up the difference):
//
//     bed = back(u, v) - n - substrate >= bed_min,      packing = bed - bed_min
//
// Of all planes with bed >= bed_min at every counted spot, the lowest is taken: the one with the least mean bed
// over the panel. The face below is what it is, so that is the plane that is lowest at the middle (centroid) of the
// panel's outline: a linear programme in a, b, c. Where several are equally low, as over a single bump at the
// middle, the one with the least greatest bed is taken.
//
// Limits: coordinates up to 20 000 mm; a plane that tilts by more than 1 mm per mm is refused. Beds are worked out to
// 1e-9 mm. The surface between spots is not known here.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "modeler/geometry.hpp"

namespace standproud {

/// The plane of a panel's back: n = a + b u + c v. b is its turn (mm per mm along the wall), c its lean (mm per mm up).
struct BackPlane {
    double a = 0;
    double b = 0;
    double c = 0;

    [[nodiscard]] double at(double u, double v) const { return a + b * u + c * v; }
};

/// What the bedding must keep to.
struct BeddingRule {
    double substrate = 0;           ///< mm between bare face and bed; >= 0
    double bed_min = 0;             ///< mm, >= 0
    std::optional<double> bed_max;  ///< mm, >= bed_min
    bool plumb = false;             ///< c = 0
    std::optional<double> turn;     ///< b fixed, mm per mm, say square to the next wall: 0 is along the bare reference
    /// What cannot be told from the spots is assumed, and said, instead of refused.
    bool assume = false;
    /// Spots farther than this outside the outline are not counted, mm. DEFAULT all count: a spot just off the panel
    /// still shapes the face at its edge.
    double count_within = std::numeric_limits<double>::infinity();
};

/// Something that the spots do not tell.
struct BeddingDoubt {
    enum class Kind {
        one_spot,        ///< all spots at one place: the tilt is not known. Assumed: none (the turn, if given, is kept)
        one_line,        ///< all on one line: the tilt across it is not known. Assumed: none
        middle_outside,  ///< the panel's middle lies outside the surveyed spots, so there is no lowest plane: it could
                         ///< be tilted down for ever. Assumed: lowest over the surveyed spot nearest to the middle
    };
    Kind kind = Kind::one_spot;
    std::string says;  ///< in words, with numbers, and what was assumed
};

/// The bed at one spot.
struct SpotBed {
    WallPoint spot;
    bool counted = true;  ///< near enough to the outline; if not, the plane may cut into the face here
    double bed = 0;       ///< mm
    double packing = 0;   ///< mm over bed_min
    bool rests = false;   ///< the panel rests here: bed = bed_min
};

/// A panel bedded as one plane.
struct Bedding {
    BackPlane back;
    std::vector<SpotBed> spots;         ///< in the order given
    std::vector<std::size_t> rests_on;  ///< indices of spots
    std::size_t thickest = 0;           ///< index of the counted spot with the greatest bed
    double greatest_bed = 0;            ///< mm, at that spot
    double greatest_packing = 0;        ///< mm, at that spot
    double mean_packing = 0;            ///< mm, mean over the counted spots
    double back_at_middle = 0;          ///< n of the back at the outline's centroid: what was made least
    double unsurveyed = 0;              ///< mm the outline reaches beyond the counted spots; 0: surveyed all over
    std::vector<BeddingDoubt> assumed;  ///< empty: the spots tell everything
};

/// A bedding, or why there is none: in words, with the number that is wrong.
struct BeddingAnswer {
    std::optional<Bedding> bedding;
    std::string refused;
    std::vector<BeddingDoubt> doubts;  ///< what it was refused for, when that is what the spots do not tell
};

/// The lowest plane over the spots. Must hold: `outline` convex, anticlockwise, in (u, v).
[[nodiscard]] BeddingAnswer bed_as_plane(const std::vector<WallPoint>& spots, const Polygon& outline,
                                         const BeddingRule& rule);

/// A panel bedded to follow the face: the bed is the same everywhere. n of the panel's back over a bare face at n.
[[nodiscard]] double bed_following(double bare, double substrate, double bed);

/// A counted spot whose bed is over bed_max.
struct OverThickBed {
    std::size_t spot = 0;
    double over = 0;  ///< mm
};

/// Where the bed is over its maximum, thickest first; exactly on it (same_length) is not over.
[[nodiscard]] std::vector<OverThickBed> beds_over(const Bedding& bedding, double bed_max);

/// What is least when high spots are planed off.
enum class LeastPlaning {
    total,    ///< the sum of the depths over all spots; a spot read twice counts twice
    deepest,  ///< the greatest depth at any spot, and then the sum
};

struct PlanedSpot {
    std::size_t spot = 0;
    double depth = 0;  ///< mm to take off
};

/// How little to plane off so that a plane keeps bed_min <= bed <= bed_max at every counted spot.
struct Planing {
    std::vector<PlanedSpot> planed;  ///< empty: `back` does without
    double total = 0;                ///< mm, sum of the depths
    double deepest = 0;              ///< mm
    Bedding bedding;                 ///< of the face as planed: the lowest plane within bed_min and bed_max
};

struct PlaningAnswer {
    std::optional<Planing> planing;
    std::string refused;
    std::vector<BeddingDoubt> doubts;
};

/// The least planing. Only its amount is unique: where several ways take as little off, it is one of them. A plane
/// other than the lowest may need none at all: then `planed` is empty and the panel is to be set to that plane.
/// Must hold: rule.bed_max is set.
[[nodiscard]] PlaningAnswer least_planing(const std::vector<WallPoint>& spots, const Polygon& outline,
                                          const BeddingRule& rule, LeastPlaning least = LeastPlaning::total);

}  // namespace standproud
