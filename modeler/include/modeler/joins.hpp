// The join planner: where the joins of one wall fall. Plain values in, plain values out.
//
// Wall frame (u, v), mm. The panelled area is what is left within the gaps at corners, tray and top. Joins make a grid:
// every upright join runs over the whole height, every level join over the whole width. An upright join is named by the
// u of its middle, a level one by its v; the gap lies half on either side. Pieces are counted by their bounding size: a
// leaning outer edge counts to its farthest point, every piece of a column as wide and every piece of a row as high.
//
// Without level joins pieces are cut from sheets as full-height strips: several pieces share a sheet when they fit
// beside one another with a kerf between. With level joins a sheet is ripped into strips, each with pieces of one row
// beside one another, all strips of a sheet lying the same way. `nest` may pack closer, with the pieces of other walls.
//
// Level joins are taken only where there is no layout without them, unless the wish says otherwise: water stands on
// them. They keep above the shower's outlet where that is possible.
//
// Exact: every rule and score is straight in the joins' places, so a best layout is one where each join stands on a
// limit: of a rule, of a sheet's size, of symmetry or alignment, alone or by other joins. All of those are tried; for
// four upright joins and more they are corners of linear programmes, one for each way to share sheets.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/geometry.hpp"
#include "modeler/nesting.hpp"

namespace standproud::joins {

/// What a join must keep clear of.
struct JoinFitting {
    std::string name;
    std::vector<RoundedRect> holes;    ///< in (u, v)
    std::vector<RoundedRect> flanges;  ///< in (u, v)
};

struct JoinRules {
    double gap = 4;                 ///< mm, width of a join (common practice, no source)
    double least_piece = 100;       ///< mm, width of a piece
    double least_height = 100;      ///< mm, height of a piece between level joins
    double hole_edge = 10;          ///< mm from a hole to its panel's edge (common practice, no source)
    double flange_edge = 0;         ///< mm from a flange to its panel's edge
    std::optional<double> wettest;  ///< u of the line under the rose; joins keep off it where that is possible
    double wettest_clear = 100;     ///< mm from the join's edge to that line
    std::optional<double> outlet;   ///< v of the shower's outlet; level joins keep above it where that is possible
    double kerf = 3;                ///< mm between pieces cut from one sheet
    int most_joins = 5;             ///< 0 to 5, upright; with level joins at most 3 of them
    int most_levels = 2;            ///< 0 to 2, level
};

enum class Preference {
    fewest_joins,
    least_waste,  ///< sheet area bought beyond the pieces; offcuts count as their area
    least_cost,
    symmetrical,
    aligned,  ///< some join on `JoinWish::align`
};

struct JoinWish {
    /// The first counts first. What is left out follows: fewest_joins, least_cost, least_waste.
    std::vector<Preference> order;
    std::optional<double> align;  ///< u
    std::size_t layouts = 3;      ///< how many to give
    bool levels_freely = false;   ///< level joins wherever they score better, not only where there is no layout without
    double apart = 50;            ///< mm: layouts whose joins are all nearer than this are one
};

struct JoinScore {
    int joins = 0;     ///< upright and level
    int sheets = 0;    ///< without offcuts
    double cost = 0;   ///< by nesting::Stock::price or its DEFAULT
    double waste = 0;  ///< mm2
    double asymmetry =
        0;  ///< mm, sum over the pairs of joins of how far their middle is off the wall's; 2x a middle join's
    double misaligned = 0;  ///< mm from the wish to the nearest join; 0 without a wish
    int levels = 0;         ///< of the joins, those that are level
};

struct JoinPiece {
    double from = 0;  ///< u of its left edge
    double to = 0;
    double bottom = 0;  ///< v of its lower edge
    double top = 0;
    Polygon outline;        ///< in (u, v)
    std::size_t stock = 0;  ///< index into the stock
    int sheet = 0;          ///< pieces with the same number share a sheet
};

struct JoinLayout {
    std::vector<double> joins;      ///< u of each middle, rising
    std::vector<JoinPiece> pieces;  ///< row by row from below, in each from left to right
    JoinScore score;
    double room = 0;             ///< mm by which the tightest join could move before a rule stops it; 0 for no join
    bool on_wettest = false;     ///< no layout kept off the wettest line
    std::vector<double> levels;  ///< v of each level join's middle, rising
    bool below_outlet = false;   ///< some level join lies below the outlet: no layout kept above it
};

/// A layout that scores better than the best one, and what stands against it. Pieces under 1 mm are not spoken of.
struct RefusedLayout {
    std::vector<double> joins;
    JoinScore score;
    std::vector<std::string> reasons;  ///< each names what is in the way and the numbers
    std::vector<double> levels;
};

struct JoinPlan {
    std::vector<JoinLayout> best;        ///< best first
    std::vector<RefusedLayout> refused;  ///< best first; empty: nothing that breaks a rule would be better
    std::string why_levels;  ///< why there are level joins: what stood against layouts without; empty: there are none
    bool refused_whole = true;  ///< false: there were too many to search them all, so an empty list says nothing
};

/// Joins where somebody drew them, in the planner's terms.
struct ScoredJoins {
    std::vector<double> joins;        ///< u of each middle, rising
    bool cut_from_sheets = false;     ///< the sheets give these pieces
    JoinScore score;                  ///< if not, its sheets, cost and waste are 0 and say nothing
    std::vector<JoinPiece> pieces;    ///< if not, their stock and sheet say nothing
    std::vector<std::string> broken;  ///< each rule that the joins break, as RefusedLayout::reasons
    double room = 0;                  ///< as JoinLayout::room, the wettest line left out
    bool on_wettest = false;          ///< some join is nearer to the wettest line than it should be
    std::vector<double> levels;       ///< v of each level join's middle, rising
    bool below_outlet = false;        ///< some level join lies below the outlet
};

struct ScoreAnswer {
    std::optional<ScoredJoins> scored;
    std::string refused;
};

struct JoinAnswer {
    std::optional<JoinPlan> plan;
    std::string refused;
};

/// Of layouts with the same score the one with more room about its joins is taken, of those tried. A wall that needs no
/// join gets none. Must hold: `area` convex and anticlockwise.
[[nodiscard]] JoinAnswer plan_joins(const Polygon& area, const std::vector<JoinFitting>& fittings,
                                    const std::vector<nesting::Stock>& stock, const JoinRules& rules,
                                    const JoinWish& wish);

/// Scores joins as `plan_joins` scores its own: for the joins of a layout of that plan the score is the same to the
/// last bit. `joins` in any order, up to 6, and up to 3 with `levels`, of which there are up to 2; those that break
/// rules or lie off the wall are scored too. Takes some microseconds, with level joins up to a millisecond. Must hold:
/// as for `plan_joins`.
[[nodiscard]] ScoreAnswer score_joins(const Polygon& area, const std::vector<JoinFitting>& fittings,
                                      const std::vector<nesting::Stock>& stock, const JoinRules& rules,
                                      const JoinWish& wish, std::vector<double> joins, std::vector<double> levels = {});

}  // namespace standproud::joins
