// The arithmetic every rule shares: a sum of toleranced terms against a window, and what would put it right.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "modeler/model.hpp"
#include "rules/distances.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::rules {

/// The quantity must lie from low to high; either end may be open.
struct Need {
    std::optional<double> low;
    std::optional<double> high;
};

/// Terms in the order they are shown. A term that could not be had is named in `missing` instead.
struct Sum {
    std::vector<Term> terms;
    std::vector<std::string> missing;

    void add(const std::string& name, const MaybeLength& length, double sign, const Source& owner);
    void add(const std::string& name, double value, double tolerance, const Source& source);
};

/// Nominal, worst case (sum of the magnitudes) and root-sum-square of the terms. Must hold: every tolerance known.
Band band_of(const std::vector<Term>& terms);

/// Half width of the band that the job judges on.
double half_width(const Band& band, bool statistical);

/// clear: the whole band is inside; tight: the nominal is; fails: it is not. A number within same_length of an end
/// counts as on it, and on the end is inside.
Verdict verdict_of(double nominal, double half, const Need& need);

/// How far the band lies outside the need; 0 or less when inside. Positive is what is missing or too much.
double outside_by(double nominal, double half, const Need& need);

/// Fills in numbers, verdict and missing. Leaves the words to the caller.
void judge(Finding& finding, const Sum& sum, const Need& need, bool statistical);

/// One rule of the reach family, worked out for one fitting at one spot.
struct ReachCase {
    std::string rule;
    std::string quantity;
    Sum sum;
    Need need;
    std::string need_source;
    std::vector<std::string> need_missing;
    int seat_term = -1;     ///< index into sum.terms; -1 when the seat is unknown
    double seat_sign = 1;   ///< how the quantity changes with n of the seat
    int swapped_term = -1;  ///< the screw, when a longer one can take its place
    std::string seat_name = "seat";
    std::optional<std::pair<double, double>> seat_within;  ///< n of the seat that make sense for other reasons
    std::string within_words;                              ///< which: "the plate's screws"; empty: not said
    std::string short_words = "short by";                  ///< how a quantity below its window is said
    std::string over_words = "too much by";                ///< and above it
    bool taper = false;                                    ///< the male thread is a taper one
    std::optional<double> thread_high;  ///< how far the male thread goes in, however deep the female one is
    std::optional<StockItem::Kind> stock;
    double stock_sign = 1;  ///< how the quantity changes with what a stocked item adds
};

/// Judges a case and says how it stands; what would put it right is not in it.
Finding judged_reach(const Model& model, const PlacedFitting& placed, const ReachCase& reach);

/// The same with the remedy and the range of seats. `also`: the same sum at the fitting's other holes: what is advised
/// must suit them too.
Finding reach_finding(const Model& model, const PlacedFitting& placed, const ReachCase& reach,
                      const std::vector<ReachCase>& also = {});

/// Seats for which the whole band is inside the window, at this spot and at the others that hang on the same seat: an
/// empty range (1 to 0) where there is no such seat, none where a figure is missing or spots do not agree.
std::optional<std::pair<double, double>> seats_for(const Model& model, const ReachCase& reach,
                                                   const std::vector<ReachCase>& also);

/// The places of a type's holes, from its own place; that itself when it has none.
std::vector<Vec2> hole_places(const FittingType& type);

/// Adds F at the fitting's spot, layer by layer.
void add_face(Sum& sum, const Model& model, const PlacedFitting& placed, double sign, Vec2 offset = {});

/// Adds the seat, and notes its place in the case.
void add_seat(ReachCase& reach, const Model& model, const PlacedFitting& placed, const std::string& name, double sign);

/// The lesser of two ends; where one is not known, the other.
std::optional<double> lesser(std::optional<double> a, std::optional<double> b);

/// Sets the need of a threaded connection: so many turns of its pitch, and no more than its female thread is deep, its
/// male one long, or a taper lets it in.
void need_turns(ReachCase& reach, const FittingType& type, const Limit& turns, const char* depth_name);

/// Makes a finding unknown: what was worked out without all the facts is not shown as if it were known.
void forget_figures(Finding& finding);

/// A finding with its fitting, wall and trade filled in.
Finding blank_finding(const Model& model, const PlacedFitting& placed, const std::string& rule);

/// An end of a window from the catalogue. A +/- on it narrows the window.
std::optional<double> least_of(const MaybeLength& length);
std::optional<double> most_of(const MaybeLength& length);

/// "type slim-tap, models/catalogue/taps.toml:12".
std::string type_source(const FittingType& type);
std::string limit_source(const Limit& limit);

// The rules. Each gives the findings of one fitting.
std::vector<Finding> check_spindle(const Model& model, const PlacedFitting& placed, const Limits& limits);
std::vector<Finding> check_window(const Model& model, const PlacedFitting& placed, const Limits& limits);
std::vector<Finding> check_thread(const Model& model, const PlacedFitting& placed, const Limits& limits);
std::vector<Finding> check_screw(const Model& model, const PlacedFitting& placed, const Limits& limits);
std::vector<Finding> check_plate(const Model& model, const PlacedFitting& placed, const Limits& limits);
std::vector<Finding> check_holes(const Model& model, std::size_t placed, const Limits& limits);

/// Findings about the survey as a whole, and about one wall's face and the bed on it (faces.cpp).
std::vector<Finding> check_survey(const Model& model);
std::vector<Finding> check_face(const Model& model, std::size_t wall, const Limits& limits);

/// Findings about things that are too near each other, electrical zones, room to use and heights.
std::vector<Finding> check_clashes(const Model& model, const Limits& limits, Distances& kept);
std::vector<Finding> check_zones(const Model& model, const Limits& limits);
std::vector<Finding> check_room(const Model& model, const Limits& limits);

/// Findings about the movement of panels, where the job has [bench] (movement.cpp).
std::vector<Finding> check_movement(const Model& model, const Limits& limits);

/// What is left of panels beside openings (strips.cpp), pipes that run through openings (openings.cpp), and pipes that
/// leave their walls (pipes.cpp).
std::vector<Finding> check_strips(const Model& model, const Limits& limits);
std::vector<Finding> check_openings(const Model& model);
std::vector<Finding> check_pipes(const Model& model);

/// Findings about fittings whose catalogue leaves out what other rules would hold them by (bodies.cpp).
std::vector<Finding> check_bodies(const Model& model);

/// Findings about what holds glass screens (screens.cpp).
std::vector<Finding> check_screens(const Model& model, const Limits& limits);

/// Findings about pipes and cables behind what holds them (screen_pipes.cpp).
std::vector<Finding> check_screen_pipes(const Model& model, const Limits& limits);

/// How deep a wall is behind its bare face, by its studs or masonry; nothing where the job gives neither (pipes.cpp).
std::optional<double> wall_depth(const Wall& wall);

/// Sets remedy, seat range and action from the stock and the seat, each tried at every hole (remedies.cpp).
void find_remedy(Finding& finding, const Model& model, const PlacedFitting& placed, const ReachCase& reach,
                 const std::vector<ReachCase>& also);

}  // namespace standproud::rules
