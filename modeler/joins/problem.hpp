// Inside the join planner: the wall as an interval, what a join must keep off, and the scores.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "modeler/joins.hpp"

namespace standproud::joins {

constexpr std::size_t most_pieces = 7;   ///< of a row that is scored
constexpr std::size_t most_planned = 6;  ///< of a row that is searched for
constexpr std::size_t most_levels = 2;
constexpr std::size_t most_tried =
    3;  ///< joins of a row whose places are all tried; more are a programme: long_row.hpp

/// mm: narrower pieces are not spoken of, not even as refused.
constexpr double least_refused = 1;

/// Where the middle of a join must not be: strictly between.
struct Forbidden {
    double from = 0;
    double to = 0;
    std::string why;
    bool wettest = false;
};

/// A way that pieces come out of a stock sheet: strips beside one another along `along`.
struct Strip {
    std::size_t stock = 0;
    double along = 0;
};

/// What a problem is about: upright joins alone, or one side of a grid of upright and level joins.
enum class Axis {
    alone,
    columns,  ///< of a grid: strips both ways, by their length
    rows,  ///< of a grid: u stands for v, width for height, strips by their sheet's size across them, in the same order
};

/// Which sheet each piece comes from.
struct Assigned {
    JoinScore score;
    std::array<std::size_t, most_pieces> stock{};
    std::array<int, most_pieces> sheet{};
};

struct Problem {
    const std::vector<nesting::Stock>& stock;
    const JoinRules& rules;
    std::vector<Preference> order;
    std::optional<double> align;
    double left = 0;
    double right = 0;
    double height = 0;
    double area = 0;
    std::vector<Forbidden> forbidden;
    std::vector<Strip> strips;  ///< that take pieces of the wall's height
    double widest = 0;          ///< the widest piece any sheet gives
    Axis side = Axis::alone;
    std::string too_high{};  ///< no sheet is high enough without level joins: in words
    /// What was worked out before, by which choices of pieces fit which strip.
    mutable std::unordered_map<std::string, std::optional<Assigned>> known{};
};

/// A number of joins, rising.
struct Places {
    std::array<double, most_pieces - 1> at{};
    std::size_t count = 0;
};

/// The problem as given; `refused` says what is wrong with it, and is empty when nothing is. `stock` and `rules` must
/// outlive it.
Problem pose(const Polygon& area, const std::vector<JoinFitting>& fittings, const std::vector<nesting::Stock>& stock,
             const JoinRules& rules, const JoinWish& wish, std::string& refused, Axis side = Axis::alone);

/// The pieces between the joins, with their sheets where they are `assigned`.
std::vector<JoinPiece> pieces_of(const Problem& problem, const Polygon& area, const Places& places,
                                 const Assigned* assigned);

/// Widths of the pieces between the joins.
std::array<double, most_pieces> widths_of(const Problem& problem, const Places& places);

/// One more sheet of a kind.
void add_sheet(const Problem& problem, std::size_t stock, JoinScore& score);

/// The cheapest sheets, by the order of preference; nothing when the stock does not do. Must hold: places rise.
std::optional<Assigned> assign(const Problem& problem, const Places& places);

/// The parts of a score that need no sheets: joins, asymmetry, misalignment.
JoinScore score_of_places(const Problem& problem, const Places& places);

/// Whether a layout is worse than a score whatever its sheets cost: by the preferences that come before the sheets.
bool surely_worse(const Problem& problem, const JoinScore& places, const JoinScore& than);

/// Least width of a piece: what is not spoken of when the rules do not count.
double least_width(const Problem& problem, bool keep_rules);

/// Less: a is better. By the order of preference, equal within 1e-7.
int compare(const Problem& problem, const JoinScore& a, const JoinScore& b);

/// What stands against a layout; the wettest line only when it counts.
std::vector<std::string> objections(const Problem& problem, const Places& places, bool wettest);

/// Whether the middle of a join may be here.
bool allowed(const Problem& problem, double at, bool wettest);

double room_of(const Problem& problem, const Places& places, bool wettest);

/// All layouts with every join on a limit: calls back for each one that rises and whose pieces have possible widths.
/// With `keep_rules` false what is forbidden and the least width do not count.
class Limits {
  public:
    Limits(const Problem& problem, bool keep_rules, bool wettest);
    template <typename Visit>
    void each(std::size_t joins, const Visit& visit);

  private:
    template <typename Visit>
    void place(std::size_t joins, std::array<bool, most_pieces - 1>& set, Places& places, std::size_t placed,
               const Visit& visit);
    template <typename Visit>
    void try_at(std::size_t joins, std::size_t join, double at, std::array<bool, most_pieces - 1>& set, Places& places,
                std::size_t placed, const Visit& visit);
    [[nodiscard]] bool stands(std::size_t joins, std::size_t join, double at,
                              const std::array<bool, most_pieces - 1>& set, const Places& places) const;
    void find_spans(std::size_t joins);
    void find_anchors(std::size_t joins);

    const Problem& problem_;
    bool keep_rules_;
    bool wettest_;
    double least_ = 0;  ///< mm, width of a piece
    bool symmetrical_;
    [[nodiscard]] std::array<double, 2> fixed_sums(const Strip& strip) const;
    template <typename Visit>
    void centred(const Visit& visit);

    std::vector<double> edge_spans_;  ///< the same between an edge of the wall and a join
    std::vector<double> spans_;       ///< distances between the middles of two joins at which something changes
    std::vector<double> anchors_;     ///< places at which something changes for one join alone
};

}  // namespace standproud::joins
