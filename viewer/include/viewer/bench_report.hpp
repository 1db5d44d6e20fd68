// The bench: every panel of one or more jobs as it is cut, the sheets it comes from, what moves, what is bought, and in
// which order the work is done. As text, JSON, CSV and iCalendar.
//
// Frames: a panel's own, as in modeler/cutting.hpp; a sheet's, as in modeler/nesting.hpp, seen from the front. mm.
#pragma once

#include <chrono>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "modeler/bond.hpp"
#include "modeler/cutting.hpp"
#include "modeler/gaps.hpp"
#include "modeler/lifting.hpp"
#include "modeler/movement.hpp"
#include "modeler/nesting.hpp"
#include "modeler/sequence.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

/// A hole about the part that passes it, hot and wet or cold and dry. `spare` is for set-out and drilling as exact as
/// the limit setout.hole says.
struct BenchHole {
    std::string name;
    double from_middle = 0;  ///< of the panel
    movement::HoleMovement moved;
};

struct BenchPanel {
    std::size_t job = 0;  ///< index into Bench::jobs
    std::string id;       ///< with its job's file where there are several
    std::string wall;
    bool in_reveal = false;     ///< a strip of a reveal: its front faces the opening, and its place is not on the wall
    cutting::PanelShape shape;  ///< from the front, in its own frame; also where there is no plan
    Vec2 at;                    ///< that frame's origin in its wall's: see BenchWall
    double width = 0;           ///< bounding size
    double height = 0;
    double thickness = 0;
    double area = 0;  ///< mm2, without holes and cut-outs
    double mass = 0;  ///< kg, of that area
    lifting::LiftAnswer lift;
    std::optional<cutting::CuttingPlan> plan;
    std::string not_cut;      ///< why there is no plan
    double grows_across = 0;  ///< mm of its whole width, hot and wet
    double grows_up = 0;
    double shrinks_across = 0;  ///< cold and dry
    double shrinks_up = 0;
    std::vector<BenchHole> holes;  ///< whose parts are known and round
    std::optional<bond::PanelBond> bond;
    std::string not_bonded;
    double bed = 0;        ///< mm, the bed's own thickness: tape and beads are reckoned for it
    double bed_least = 0;  ///< mm, with packing, along the wall's n: at surveyed spots as read, at the nodes of a grid
                           ///< and the outline's corners as the face is predicted there, openings left out; a face
                           ///< predicted in front of the bedding plane makes it less than the bed
    double bed_most = 0;
    double packing_volume = 0;  ///< mm3, a sum over the middles of a grid of at most 25 mm, openings left out; 0 where
                                ///< no packing is thicker than 0.05 mm (both chosen by this program, no source)
};

using standproud::JointKind;

/// A gap between two panels, or between a panel and what stands still.
struct BenchJoint {
    std::size_t job = 0;
    JointKind kind = JointKind::join;
    std::string name;
    std::string wall;                 ///< id of the BenchWall on which it lies
    std::vector<std::string> panels;  ///< ids of those beside it
    Vec2 from;                        ///< the gap's middle line, in the wall's frame
    Vec2 to;
    double gap = 0;      ///< mm, as drawn
    double at_face = 0;  ///< mm, at the panels' face: see PanelJoint
    double length = 0;   ///< mm
    double depth = 0;    ///< mm, panel and bed
    movement::GapMovement moved;
    double needed = 0;    ///< mm, the width from which the sealant stays within its class
    bool within = false;  ///< its class, as drawn
    bond::JointSeal seal;
    std::optional<Colour> sealant;          ///< its colour; none: clear
    std::optional<bond::PaintStrip> paint;  ///< behind a join sealed clear, in the panels' plane
    bool level = false;                     ///< a level join
    bool in_reveal = false;                 ///< beside a strip of a reveal: its place is not in the wall's plane
};

/// A gap that is wider at the face by more than this is spoken of, mm: chosen by this program, no source.
inline constexpr double seen_wider = 0.5;

/// A fitting where it comes through a wall.
struct BenchFitting {
    std::string name;
    Vec2 at;
    std::vector<RoundedRect> flanges;
};

/// A glass screen or door, edge on.
struct BenchScreen {
    std::string name;  ///< its id
    Vec2 bottom;       ///< of its glass
    Vec2 top;
    std::vector<Vec2> clamps;          ///< their middles
    std::vector<RoundedRect> holders;  ///< channel or clamps, where their width is told
};

/// A window, doorway or hatch, to its edge on the bare face.
struct BenchOpening {
    std::string name;  ///< its id
    RoundedRect shape;
};

/// What stays as it is: a tray's or bath's rim, the floor.
struct BenchStay {
    std::string name;
    std::vector<Vec2> line;
};

/// A wall that carries panels, in the plane of their backs, seen from the front: x level along it from the line through
/// its left bare corner at datum level, y up from the datum. mm.
struct BenchWall {
    std::size_t job = 0;
    std::string id;  ///< with its job's file where there are several
    std::string name;
    std::string datum;                     ///< what level 0 is, in words
    Polygon bare;                          ///< the bare wall
    int lined = 0;                         ///< which it is in the order of lining, from 1
    double bare_width = 0;                 ///< as the job has it
    std::optional<double> finished_width;  ///< between finished corners, half-way up the panels; none if one is open
    double bottom = 0;                     ///< of the panels' band, half-way along, from datum
    double top = 0;
    std::vector<std::size_t> panels;  ///< indices into Bench::panels, from left to right
    std::vector<BenchFitting> fittings;
    std::vector<BenchScreen> screens;
    std::vector<BenchStay> stays;
    std::vector<BenchOpening> openings;
    std::vector<std::string> reveals;  ///< how the strips of each lined opening are set, in sentences
};

struct Bought {
    std::string what;
    std::string priced_by;  ///< key in [bench]
    double per_unit = 1;    ///< mm or mm3
    std::string unit;       ///< of what is counted: cartridge, metre
    bond::Purchase purchase;
};

/// A line of the bill of quantities.
struct BillLine {
    std::string what;
    double quantity = 0;
    std::string unit;             ///< piece, cartridge, metre
    std::optional<double> price;  ///< of one unit, as the files give it
};

struct BenchJob {
    std::string file;
    std::string name;
    std::string revision;
    BenchSettings settings;
    movement::Strain strain;
    double hole_allowance = 0;  ///< the limit setout.hole
    double least_join = 0;      ///< the limit join.least
    std::string least_join_source;
    std::vector<std::string> order;  ///< the walls in the order they are lined
    bool order_given = false;        ///< by the job
    LiningOrder proposed;            ///< the order this program would take
    bool order_as_proposed = false;  ///< at every corner
    int failing = 0;                 ///< findings of `check`
    int unknown = 0;
    std::vector<std::string>
        open;  ///< those, in words: "fails: cold-tap (hole.edge), 40 mm hole from the panel's edge"
};

struct Bench {
    std::vector<BenchJob> jobs;
    std::vector<BenchPanel> panels;  ///< pieces of the nesting, in that order
    std::vector<BenchJoint> joints;
    std::vector<BenchWall> walls;
    std::vector<Bought> bought;
    std::vector<BillLine> bill;
    std::vector<nesting::Piece> pieces;
    std::vector<nesting::Stock> stock;
    nesting::NestingRules nesting_rules;
    nesting::NestingAnswer sheets;
    bool priced = false;  ///< every kind of sheet that is used has a price in its job
    std::vector<sequence::Task> tasks;
    sequence::SequenceAnswer order;  ///< as if every trade had as many crews as it liked
    sequence::CrewsAnswer shared;    ///< the tasks' times, with the jobs' crews
    sequence::Crews crews;
    std::vector<std::string> settle_first;  ///< what stands against cutting, in words
};

/// Must hold: every job has [bench] and the first has [[sheets]]; see `bench_faults`.
/// `stop` breaks the nesting off.
[[nodiscard]] Bench work_out_bench(const std::vector<CheckedJob>& jobs, std::stop_token stop = {});

/// What the jobs lack, or where they contradict one another, to be worked out together.
[[nodiscard]] Faults bench_faults(const std::vector<CheckedJob>& jobs);

/// The walls of one job that carry panels; BenchWall::panels counts the model's panels. Needs no [bench].
[[nodiscard]] std::vector<BenchWall> walls_with_panels(const CheckedJob& job);

/// For a person. Ends with a line feed.
[[nodiscard]] std::string text_bench(const Bench& bench, const TextStyle& style);

/// "standproud-bench/1"; see viewer/bench.schema.json.
[[nodiscard]] std::string json_bench(const Bench& bench);

/// One line a thing to mark or cut, RFC 4180: a header, commas, CRLF. x and y as seen on the face that is up.
[[nodiscard]] std::string csv_bench(const Bench& bench);

/// The tasks as iCalendar (RFC 5545).
[[nodiscard]] std::string calendar_bench(const Bench& bench, std::chrono::sys_seconds made_at);

}  // namespace standproud::viewer
