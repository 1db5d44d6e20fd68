// What the job file says, checked but not yet worked out: plain values with the place each was written.
// Lengths in mm, angles in degrees. Frames and words: see DEVELOPERS.md.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "modeler/colour.hpp"
#include "modeler/geometry.hpp"
#include "modeler/source.hpp"
#include "modeler/survey_readings.hpp"

namespace standproud {

/// A length as a person writes it: 48, or "48 +/- 0.5". Without a stated +/- the tolerance is unknown,
/// which is not the same as zero.
struct Length {
    double value = 0;
    std::optional<double> tolerance;
    Source source;
};

using MaybeLength = std::optional<Length>;

enum class LayerKind { board, membrane, bed, panel };
enum class Trade { plumber, electrician, builder, installer };
enum class Family { spindle, window, thread, screw, plate };

/// How panels lie on a face that leans and dishes: the bed is the same everywhere, or their backs are one plane.
enum class BedKind { follow, plane };

/// One layer of a build-up. Layers are listed from the bare face outwards.
struct Layer {
    LayerKind kind = LayerKind::board;
    std::string name;
    Length thickness;
    Source source;
    std::optional<Colour> colour{};  ///< what it looks like; only pictures ask
};

/// What the gaps are sealed with, as it looks.
struct SealantLook {
    std::optional<Colour> colour;  ///< none: clear, and what lies behind the gap is seen
    Source source;
};

/// Timber studs of one size; `centres` are u of their centre lines, `set_back` how far their faces lie
/// behind the bare face (>= 0).
struct Studs {
    double width = 45;
    double depth = 90;
    double set_back = 0;
    std::vector<double> centres;
    Source source;
};

/// A crosspiece: from u = left to right, centred at v = height.
struct Noggin {
    double left = 0;
    double right = 0;
    double height = 0;
    double size = 90;   ///< upright
    double depth = 45;  ///< along n
    double set_back = 0;
    Source source;
};

/// A solid wall behind the bare face: brick, block or an existing wall in renovation.
struct Masonry {
    double thickness = 0;
    Source source;
};

/// A position along a wall and what it is measured from.
struct Across {
    enum class From { left_bare, left_finished, right_bare, right_finished, centre };
    From from = From::left_bare;
    double distance = 0;  ///< away from the corner named; from the centre, positive to the right
    Source source;
};

/// A gap at the edge of a panel, and where it is written; nowhere, when the file leaves it out.
struct EdgeGap {
    double width = 4;
    Source source;
};

/// The middle of the gap between two panels of a wall, and that gap where it is not the wall's.
struct Join : Across {
    std::optional<EdgeGap> gap;
};

/// A level gap right across a wall's panels, from one end to the other: its middle above the datum, and that gap where
/// it is not the wall's.
struct LevelJoin {
    double height = 0;
    std::optional<EdgeGap> gap;
    Source source;
};

/// Gaps of one wall's panels, where they are not the job's: at its ends, its rim or floor, its top line, its joins.
struct WallGaps {
    std::optional<EdgeGap> left;
    std::optional<EdgeGap> right;
    std::optional<EdgeGap> bottom;
    std::optional<EdgeGap> top;
    std::optional<EdgeGap> join;
};

/// A window, doorway or hatch in a wall: upright, measured on the bare face from the left bare corner and the datum.
struct WallOpening {
    std::string id;
    std::string name;
    double left = 0;
    double right = 0;
    double bottom = 0;
    double top = 0;
    std::optional<double> reveal;  ///< how deep it is lined, from the bare face to the frame; without one, it is not
    std::optional<EdgeGap> gap;    ///< between the panels and its edge, where it is not the job's
    double corner_radius = 5;      ///< of the panels' inside corners
    Source source;
};

struct Wall {
    std::string id;
    std::string name;
    double width = 0;        ///< on the bare face
    double height = 0;       ///< above the datum
    double next_angle = 90;  ///< inside the room, to the next wall on the right
    std::vector<Layer> layers;
    std::optional<Studs> studs;
    std::vector<Noggin> noggins;
    std::optional<Masonry> masonry;
    std::vector<WallOpening> openings;
    std::vector<Join> joins;
    std::vector<LevelJoin> level_joins;
    WallGaps gaps;
    std::optional<double> panel_top;     ///< this wall's top line where it differs from the job's
    std::optional<BedKind> bedding;      ///< where it differs from the job's
    bool square_to_next = false;         ///< bedded in a plane square to the bare face of the next wall
    std::optional<SealantLook> sealant;  ///< where it differs from the job's
    Source source;
};

/// A tray, bath or level-entry floor former: a box standing against one wall.
struct Tray {
    std::string name;
    std::string wall;
    double left = 0;  ///< u of its left end
    double width = 0;
    double depth = 0;  ///< out from the bare face
    double base = 0;
    double rim = 0;                  ///< the level that panels stop above
    std::vector<std::string> walls;  ///< the walls whose panels stand over it
    Source source;
};

/// Gaps at the panels' edges, of walls that give none of their own.
struct Gaps {
    EdgeGap corner;
    EdgeGap join;
    EdgeGap tray;
    EdgeGap top;
    EdgeGap opening;
};

struct PanelRules {
    Gaps gaps;
    std::optional<double> top;  ///< top line above the datum; without one, the wall's height
    BedKind bedding = BedKind::follow;
    bool plumb = false;              ///< planes are plumb
    std::optional<double> bed_max;   ///< thickest bed that the adhesive allows, its own thickness included
    std::vector<std::string> order;  ///< the walls in the order they are lined
    bool order_given = false;        ///< by the job; else it is that of the file
    SealantLook sealant;
    Source source;
};

/// A hole or cut-out that a fitting needs in the panel, and the part that passes it.
/// Centres are relative to the fitting's own position, in u and v.
struct HoleNeed {
    RoundedRect opening;
    std::optional<RoundedRect> passes;
    Source source;
};

/// What covers a hole: a flange, rose, or plate.
struct FlangeShape {
    RoundedRect shape;
    Source source;
};

/// One simple solid of a fitting. Its depth is counted from the seat or from the finished face.
struct TypePart {
    enum class Datum { seat, face };
    enum class Axis { out, up, across };
    std::string role;  ///< body, spindle, flange, handle ... : names the solid
    Datum datum = Datum::seat;
    Axis axis = Axis::out;
    RoundedRect outline;  ///< across the axis: (u, v) for out, (u, depth) for up, (v, depth) for across
    double start = 0;     ///< along the axis
    double length = 0;
    Source source;
};

/// What a fitting is for, where a rule asks: heights of controls and rails, electrical zones.
/// `none`: the catalogue does not say; `other`: nothing that a rule asks about.
enum class Use { none, control, grab_rail, water_outlet, socket_outlet, electrical, other };

/// A fitting type from a catalogue. Which numbers matter depends on the family; one that is missing
/// makes the verdict unknown.
struct FittingType {
    std::string id;
    std::string name;
    std::string maker;
    Family family = Family::spindle;
    Trade trade = Trade::plumber;
    std::string connection;      ///< what it takes: a spline, or a thread such as "G 1/2" or "M3.5"
    MaybeLength spindle_length;  ///< spindle: from the seat to its end
    MaybeLength proud_min;       ///< spindle: least and most the spindle may stand proud
    MaybeLength proud_max;
    MaybeLength face_min;  ///< window: finished face from the body's datum plane, least and most
    MaybeLength face_max;
    MaybeLength tail_length;     ///< thread: from under the flange to the tail's end
    MaybeLength thread_length;   ///< thread: of the male thread at the tail's end
    MaybeLength socket_depth;    ///< thread, plate: depth of the female thread
    MaybeLength screw_length;    ///< screw, plate: under the head
    MaybeLength base_thickness;  ///< screw, plate: what the screw passes before the finished face
    MaybeLength embedment_min;   ///< screw: in timber
    MaybeLength recess_max;      ///< plate: most the box front may lie behind the finished face
    std::vector<HoleNeed> holes;
    std::vector<FlangeShape> flanges;
    std::vector<TypePart> parts;
    std::vector<TypePart> access;  ///< room it needs and does not fill; its role says what for: "handle sweep", "heat"
    Use use = Use::none;
    std::optional<double> price;  ///< of any one currency
    Source source;
};

/// A pipe or cable behind or on a wall.
struct PipeRun {
    enum class Kind { cold, hot, waste, cable };
    std::string id;
    std::string name;
    Kind kind = Kind::cold;
    std::string wall;
    double diameter = 0;
    double bend_radius = 0;             ///< of its middle line
    double plus_minus = 0;              ///< of where it runs
    std::vector<WallPoint> points;      ///< u from the left bare corner, v, n from the bare face there
    std::vector<std::string> connects;  ///< ids of fittings and pipes it joins: where they meet is no clash
    bool exposed = false;               ///< meant to be seen: it may leave its wall
    Source source;
};

/// A glass screen or door that stands out from a wall, and what it sweeps.
struct Screen {
    std::string id;
    std::string name;
    std::string wall;
    Across across;
    double width = 0;  ///< out from the finished face
    double thickness = 0;
    double bottom = 0;
    double top = 0;
    std::optional<double> profile;  ///< width on the panel of what holds it: a channel or clamps
    std::vector<double> fixings;    ///< heights of its clamps; none: held along its whole height
    double swing_left = 0;          ///< degrees from straight out, hinged at the wall
    double swing_right = 0;
    Source source;
};

/// Something that can be bought to put a depth right.
struct StockItem {
    enum class Kind { extension, kit, nipple, screw };
    std::string id;
    std::string name;
    Kind kind = Kind::extension;
    std::string fits;             ///< the connection it goes on
    MaybeLength adds;             ///< extension, kit, nipple: what it adds; screw: its length under the head
    MaybeLength socket_depth;     ///< nipple: depth of its own female thread
    MaybeLength thread_length;    ///< nipple: of its male thread that goes into the wall
    std::optional<double> price;  ///< of one, in any one currency
    Source source;
};

/// What was measured after rough-in, beside the design. What is left out stays as designed.
struct AsBuilt {
    MaybeLength seat;
    std::optional<Across> across;
    std::optional<double> height;
    std::string date;
    std::string by;
    Source source;
    Source height_source;
};

struct Fitting {
    std::string id;
    std::string name;
    std::string type;
    std::string wall;
    Across across;
    double height = 0;  ///< above the datum
    MaybeLength seat;   ///< n of the seat; negative is behind the bare face
    std::optional<AsBuilt> as_built;
    std::string with;  ///< id of the stocked item it is fitted with; empty for none. `type` then names the two together
    Source with_source;
    Source source;
    Source type_source;  ///< where the type, wall and height are written
    Source wall_source;
    Source height_source;
};

/// A stock sheet, or an offcut of an earlier job.
struct SheetStock {
    std::string id;
    double width = 0;
    double height = 0;         ///< the grain of a patterned sheet runs along it
    std::optional<int> count;  ///< how many there are; without one, as many as needed
    std::optional<double> price;
    bool turning = true;  ///< pieces may be turned on it
    bool offcut = false;
    Source source;
};

/// A figure of the bench: the job's, or the shipped one with its source.
struct BenchFigure {
    std::string key;
    double value = 0;
    std::string unit;
    std::string says;
    std::string shipped;        ///< source of the shipped value; empty: the job must give it
    std::optional<Source> set;  ///< where the job gives it
    double least = 0;           ///< what it may be
    double most = 0;
};

enum class BenchSaw { circular, table };

/// What cutting, bonding and sealing need to know.
struct BenchSettings {
    std::vector<BenchFigure> figures;  ///< every one, in the order they are told; see read_bench.cpp
    std::size_t sealant = 0;           ///< movement class: 0 for 25, then 20, 12.5, 7.5 per cent
    BenchSaw saw = BenchSaw::circular;
    std::string start;                     ///< of the work, as 2026-03-31
    std::map<std::string, double> prices;  ///< those given, by key: "adhesive_price" ...; see read_bench.cpp
    Source source;
};

/// The value of a figure by its key. Must hold: there is one of that key.
double figure(const BenchSettings& bench, const std::string& key);

struct LimitOverride {
    double value = 0;
    Source source;
};

struct Job {
    std::string file;
    std::string name;
    std::string revision;
    std::string datum;  ///< what level 0 is, in words
    std::string notes;
    bool closed = false;                       ///< the last wall meets the first
    std::optional<bool> bath_or_basin;         ///< whether the room has a bath or a shower basin: zones ask
    bool statistical = false;                  ///< judge on root-sum-square instead of worst case
    std::optional<double> seat_tolerance;      ///< +/- for a seat that states none: how well bodies are set
    std::optional<double> measured_tolerance;  ///< the same for an as-built seat: how well it was measured
    std::vector<Wall> walls;
    std::optional<Tray> tray;
    PanelRules panels;
    std::vector<FittingType> types;
    std::vector<StockItem> stock;
    std::vector<Fitting> fittings;
    std::vector<PipeRun> pipes;
    std::vector<Screen> screens;
    std::map<std::string, LimitOverride> limits;
    std::optional<SurveyReadings> survey;
    std::vector<SheetStock> sheets;
    std::optional<BenchSettings> bench;
};

/// The job with every as-built figure in place of the design's; the records stay.
Job as_fixed(Job job);

/// Gives every fitting that has an item from stock a type of its own, "TYPE+ITEM": the type with the item on it,
/// its lengths with what the item adds, +/- included. An item that does not go on the type is a fault.
void fit_stock(Job& job, Faults& faults);

/// Whether any fitting has as-built figures.
bool has_as_built(const Job& job);

std::string to_string(LayerKind kind);
std::string to_string(Trade trade);
std::string to_string(Family family);
std::string to_string(Across::From from);
std::string to_string(PipeRun::Kind kind);

}  // namespace standproud
