// Where the joins of each wall could fall: layouts proposed from the sheets there are, with their scores, and what
// stands against those that would be better. As text and JSON.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/join_choice.hpp"
#include "modeler/joins.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

struct JoinWishes {
    std::vector<joins::Preference> order;  ///< the first counts first
    std::optional<double> align;           ///< mm from the left bare corner: a join is wanted there
    double least_piece = 100;              ///< mm, width of a piece
    double least_height = 100;             ///< mm, height of a piece between level joins
    bool levels_freely = false;            ///< level joins wherever they score better, not only where they are needed
    std::size_t layouts = 3;
};

/// Places of joins and of pieces' edges, those of the answer too, are counted from the left bare corner at the height
/// at which job files count them (half-way up the panels), mm, ready for `[[walls.joins]] across = ..., from = "left
/// bare"`. Level joins and pieces' upper and lower edges are counted from the datum.
struct WallJoins {
    double gap = 4;  ///< of its joins
    std::string wall;
    std::vector<double> drawn;         ///< as the job has them
    std::vector<double> drawn_levels;  ///< its level joins
    joins::JoinAnswer answer;
};

struct JoinsReport {
    std::string file;
    std::string name;
    std::string revision;
    JoinWishes wishes;
    joins::JoinRules rules;
    bool priced = false;             ///< every kind of new sheet has a price; else cost stands for area
    std::vector<std::string> stock;  ///< ids, as JoinPiece::stock counts them
    std::vector<WallJoins> walls;
    /// The layouts of all walls nested together, in the order of `walls`; nothing for one wall alone.
    std::optional<joins::JobChoiceAnswer> together;
};

/// Whether `together` counts the area of sheets in m2 in place of prices: waste is wanted least, before price.
bool together_by_area(const JoinsReport& report);

/// The joins that a wall has, in the terms of its proposed layouts. Places as in WallJoins.
struct DrawnJoins {
    std::string wall;
    joins::ScoreAnswer answer;
};

/// The words for preferences: fewest, cost, waste, symmetry, align.
std::optional<joins::Preference> preference_named(const std::string& word);

/// For one wall by its id, or for every wall with panels when `wall` is empty. Holes and flanges keep as far from edges
/// as `check` asks, set-out included, so that a layout taken over is clear there. Must hold: the job has [[sheets]] and
/// [bench] (`bench_faults`), and the wall, when named, has panels.
[[nodiscard]] JoinsReport plan_job_joins(const CheckedJob& job, const std::string& wall, const JoinWishes& wishes);

/// The joins as the job has them now, scored as `plan_job_joins` scores its own; some 0.1 ms a wall. A layout taken
/// over scores what it was promised, but for the 0.01 mm that are kept to spare for printing: sheets count here as they
/// are. Must hold: as for `plan_job_joins`.
[[nodiscard]] std::vector<DrawnJoins> score_job_joins(const CheckedJob& job, const std::string& wall,
                                                      const JoinWishes& wishes);

/// Ends with a line feed.
[[nodiscard]] std::string text_joins(const JoinsReport& report, const TextStyle& style);

/// "standproud-joins/1"; see viewer/joins.schema.json.
[[nodiscard]] std::string json_joins(const JoinsReport& report);

}  // namespace standproud::viewer
