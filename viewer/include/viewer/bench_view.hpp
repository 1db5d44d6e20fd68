// The installer's bench of an open job, as the window shows it: what is worked out beside, the walls unfolded, the
// joins with their live scores, layouts to take over, and what a job without a bench is asked. No window here.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "viewer/bench_report.hpp"
#include "viewer/joins_report.hpp"
#include "viewer/state.hpp"

namespace standproud::viewer {

/// What a job must have before panels can be cut and joins be planned.
struct BenchLack {
    bool bench = false;   ///< no [bench]
    bool sheets = false;  ///< no [[sheets]]
    bool panels = false;  ///< no wall carries panels
    [[nodiscard]] bool any() const { return bench || sheets || panels; }
};
BenchLack bench_lack(const CheckedJob& job);
/// What to add, in a sentence; empty when nothing lacks.
std::string lack_words(const BenchLack& lack);

// Worked out beside: nesting may take seconds.

/// Everything that the work needs, of its own, so that the job may be edited meanwhile.
struct BenchTask {
    std::uint64_t serial = 0;
    std::shared_ptr<const CheckedJob> job;
    JoinWishes wishes;
};

struct BenchResult {
    std::uint64_t serial = 0;
    bool stopped = false;            ///< broken off: good for nothing
    std::string refused;             ///< why there is no bench; empty when there is
    Bench bench;                     ///< of the one job
    JoinsReport joins;               ///< proposed for every wall with panels
    std::vector<std::string> pages;  ///< titles of the drawings, as `draw_page` counts them
};

/// Which job and wishes a result is of.
struct BenchStamp {
    std::uint64_t generation = 0;
    std::vector<joins::Preference> order;
    bool levels_freely = false;
    bool operator==(const BenchStamp&) const = default;
};

struct BenchView {
    JoinWishes wishes;
    std::shared_ptr<const BenchResult> shown;  ///< the last one taken; of an earlier text while `out_of_date`

    // Kept by the functions below.
    std::uint64_t serial = 0;  ///< of the task last begun
    BenchStamp begun;          ///< what that task is of
    BenchStamp taken;          ///< what `shown` is of
    std::uint64_t scored = 0;  ///< the generation that `scores` are of
    std::vector<DrawnJoins> scores;
};

/// Whether what is shown is not of the document's present job and the present wishes.
bool out_of_date(const BenchView& view, const Document& document);

/// The work to be done; nothing when all is up to date, when that work is under way, or when the job lacks something.
std::optional<BenchTask> begin_bench(BenchView& view, const Document& document);

/// Whether the work last begun is not of the document's present job and the present wishes: its result will be let go.
bool overtaken(const BenchView& view, const Document& document);

/// Does it, on any thread. What goes wrong is said in the result. `stop` breaks it off; the result is then good for
/// nothing.
BenchResult work_out(const BenchTask& task, std::stop_token stop = {});

/// Takes a result. False, and nothing changes, when the job has been edited since, or another one opened.
bool take_result(BenchView& view, const Document& document, BenchResult result);

/// After another job was opened: its generations count from 1 again.
void forget_bench(BenchView& view);

/// The joins of every wall with panels as they are drawn now, scored; worked out once for each edit, fast enough to
/// follow a drag. Empty when the job lacks something.
const std::vector<DrawnJoins>& live_scores(BenchView& view, const Document& document);

/// The score of one wall; null when there is none.
const DrawnJoins* score_of(const std::vector<DrawnJoins>& scores, const std::string& wall);

/// Whether every kind of new sheet has a price: else costs stand for areas and are not said.
bool sheets_priced(const CheckedJob& job);

/// "2 joins, 2 new sheets, price 456.00, waste 1.10 m2, 3 mm off the middle". Without prices `cost` is not said; of
/// joins that no sheets are found for, only what is known.
std::string score_words(const joins::JoinScore& score, bool priced, bool cut_from_sheets = true);

/// What a layout costs less or more than the joins as drawn: "1 sheet fewer, price 228.00 less". "the same" when
/// nothing differs that is printed.
std::string difference_words(const joins::JoinScore& layout, const joins::JoinScore& drawn, bool priced);

// Walls unfolded.

struct UnfoldedJoin {
    std::size_t join = 0;  ///< index into Wall::joins
    double x = 0;          ///< of its middle, in the wall's unfolded frame
    double bottom = 0;     ///< between which levels the panels stand
    double top = 0;
    double across = 0;     ///< as written in the job
    double sign = 1;       ///< of `across` when x grows
    double from_left = 0;  ///< its place, as WallJoins counts
};

struct UnfoldedPanel {
    std::string id;
    Polygon outline;  ///< convex, before it is notched
    std::vector<RoundedRect> openings;
    std::vector<RoundedRect> notches;  ///< within the outline's bounding size
    Polygon cut;                       ///< the outline less them
};

/// A wall in the frame of BenchWall, with what can be taken hold of. mm.
struct UnfoldedWall {
    std::size_t wall = 0;  ///< index into the job's walls
    BenchWall outline;
    std::vector<UnfoldedPanel> panels;
    std::vector<UnfoldedJoin> joins;
    double corner = 0;               ///< x of the place that WallJoins counts from
    std::array<double, 4> extent{};  ///< of all that is drawn: least x, greatest x, least y, greatest y
};

/// The walls that carry panels, in the job's order. Needs neither [bench] nor [[sheets]].
std::vector<UnfoldedWall> unfold(const CheckedJob& job);

// Commands.

/// Replaces the joins of a wall by a layout's, rounded to 0.01 mm, as one step. Joins that stay joins keep their lines
/// with what is written beside them; everything else in the text stays byte for byte. Must hold: the places are those
/// of WallJoins.
[[nodiscard]] Refusal take_layout(Document& document, std::size_t wall, const std::vector<double>& places,
                                  const std::vector<double>& levels = {});

/// One figure or word that a new bench needs and nobody else can know.
struct BenchQuestion {
    std::string key;                   ///< in the file; "sheets.width" for those of the sheet
    std::string says;                  ///< in words
    std::string unit;                  ///< empty for words
    std::vector<std::string> choices;  ///< one of these; empty: a number, or what `says` asks for
    bool optional = false;
};

/// What has to be asked to fill what lacks.
std::vector<BenchQuestion> bench_questions(const BenchLack& lack);

/// Answers by key, as typed.
using BenchAnswers = std::map<std::string, std::string>;

/// Writes [bench] and one [[sheets]] at the end of the file, as far as they lack, as one step. Refuses, with what is
/// wrong, unless every question is answered and the job has no faults with the answers.
[[nodiscard]] Refusal add_bench(Document& document, const BenchAnswers& answers);

}  // namespace standproud::viewer
