// Nesting: rectangular pieces on rectangular stock by guillotine cuts, each from edge to edge of the part in hand.
// Plain values in, plain values out; knows nothing of walls.
//
// Frame of a sheet: x along its width, y along its height, origin at the lower left corner of the untrimmed sheet, seen
// from the side that the pieces' sizes are given on. mm. The grain of a patterned sheet runs along y.
//
// Sizes count to 0.001 mm: pieces and kerf are taken up to the next, stock down to the last. Sizes up to 20 000 mm.
// A cut takes the kerf. Where less than a kerf is left beyond a cut, the saw runs out over the edge and nothing is
// left.
#pragma once

#include <cstddef>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace standproud::nesting {

/// A piece to be cut: the bounding size of a panel.
struct Piece {
    std::string id;
    double width = 0;      ///< mm, > 0
    double height = 0;     ///< mm, > 0
    bool turnable = true;  ///< may be turned by 90 degrees
};

/// One kind of sheet, or an offcut of an earlier job.
struct Stock {
    std::string id;
    double width = 0;               ///< mm, > 0
    double height = 0;              ///< mm, > 0
    std::optional<double> price{};  ///< of one, >= 0, to 0.0001. DEFAULT the area in m2, 0 for an offcut
    std::optional<int> count{};     ///< how many there are, >= 0. DEFAULT as many as needed
    bool patterned = false;         ///< no piece may be turned on it
    bool offcut = false;            ///< does not count as a sheet
    double edge_trim = 0;           ///< mm taken off each of its four edges before all else, kerf included
};

enum class Aim {
    fewest_sheets,  ///< fewest sheets (offcuts do not count), then lowest price, then largest offcut left
    cheapest,       ///< lowest price, then fewest sheets, then largest offcut left
};

struct NestingRules {
    double kerf = 0;  ///< mm, >= 0
    Aim aim = Aim::fewest_sheets;
    /// mm: a leftover whose sides are both at least this is an offcut, otherwise waste
    double usable_side = 100;
    /// Elementary steps before the search settles for a bound; the same on any machine. The default is a second or two.
    long long effort = 100'000'000;
    unsigned seed = 1;  ///< of the search for large jobs
};

/// A rectangle on a sheet, mm.
struct Rect {
    double x = 0;
    double y = 0;
    double width = 0;
    double height = 0;
};

struct Placed {
    std::size_t piece = 0;  ///< index into the pieces given
    Rect at;                ///< as it lies on the sheet
    bool turned = false;    ///< its width lies along y
};

/// A part of a sheet on its way through the saw: the tree of cuts. parts[0] is the whole sheet. A part that is cut
/// comes before what it is cut into, and cutting in the order of the list is always possible.
struct CutPart {
    enum class Kind {
        cut_upright,  ///< cut along x = `from`..`to`; first is left, second right
        cut_level,    ///< cut along y = `from`..`to`; first is below, second above
        piece,
        offcut,  ///< usable leftover
        waste,
    };
    Kind kind = Kind::waste;
    Rect at;
    double from = 0;                   ///< the kerf of the cut, sheet coordinate; to - from is less than the kerf only
    double to = 0;                     ///< where the saw runs out over the edge of the part
    std::optional<std::size_t> first;  ///< index into the parts; none: nothing is left on that side
    std::optional<std::size_t> second;
    std::size_t piece = 0;  ///< for Kind::piece: index into the pieces
    bool trims = false;     ///< a cut that takes the edge trim off
};

/// One sheet cut up.
struct SheetLayout {
    std::size_t stock = 0;  ///< index into the stock given
    std::vector<Placed> placed;
    std::vector<CutPart> parts;
    std::vector<Rect> offcuts;  ///< usable leftovers, largest area first
};

/// The answer for a job. What is not proved is the best found.
struct Nesting {
    std::vector<SheetLayout> sheets;
    int new_sheets = 0;          ///< sheets used that are not offcuts
    double price = 0;            ///< of all stock used, by the prices given or their DEFAULT
    double largest_offcut = 0;   ///< mm2; 0: none is usable
    double found = 0;            ///< what the aim counts first: sheets or price
    double bound = 0;            ///< no layout can have less than this; equals `found` when proved
    double gap = 0;              ///< (found - bound) / found; 0 proves `found`
    bool cost_proved = false;    ///< sheets and price are proved best, in the order of the aim
    bool offcut_proved = false;  ///< and the largest offcut too
};

/// A nesting, or why there is none: in words, naming the piece or stock and the number that is wrong.
struct NestingAnswer {
    std::optional<Nesting> nesting;
    std::string refused;
};

/// Exact, with proof, up to about a dozen pieces (more when many are alike); beyond, best found with its bound. Broken
/// off by `stop` it returns soon, with what it has found and the bound, never as proved; or refuses, and says that it
/// was stopped.
[[nodiscard]] NestingAnswer nest(const std::vector<Piece>& pieces, const std::vector<Stock>& stock,
                                 const NestingRules& rules, std::stop_token stop = {});

/// What is wrong with a layout, in words; empty: nothing. Works from the sizes alone and shares no code with `nest`:
/// every piece once and of its size, turned only where allowed, within the trimmed sheet, a kerf between any two, and
/// an order of edge-to-edge cuts that sets them all free; the tree of cuts adds up.
[[nodiscard]] std::vector<std::string> check_layout(const std::vector<Piece>& pieces, const std::vector<Stock>& stock,
                                                    const NestingRules& rules, const std::vector<SheetLayout>& sheets);

/// What may be put on the one sheet of `most_on_sheet`.
struct Item {
    double width = 0;           ///< mm, > 0
    double height = 0;          ///< mm, > 0
    double value = 0;           ///< >= 0
    std::optional<int> most{};  ///< how many at most. DEFAULT any number
    bool turnable = false;
};

struct SingleSheet {
    double width = 0;   ///< mm, > 0
    double height = 0;  ///< mm, > 0
    double kerf = 0;
    std::vector<Item> items;
    long long effort = 100'000'000;  ///< as in NestingRules
};

/// The most value on one sheet.
struct SheetValue {
    double value = 0;
    double bound = 0;  ///< no layout has more; equals `value` when proved
    bool proved = false;
    SheetLayout layout;  ///< Placed::piece and CutPart::piece are indices into the items
};

struct SheetValueAnswer {
    std::optional<SheetValue> best;
    std::string refused;
};

/// The most valuable guillotine layout of a single sheet. Unlimited items: full dynamic programme (Gilmore and Gomory
/// 1966) over the sums of sizes. Limited items: best-first search over rectangles built from pieces, with the programme
/// as bound on what fits around them (Viswanathan and Bagchi 1993; Wang 1983 for the building).
[[nodiscard]] SheetValueAnswer most_on_sheet(const SingleSheet& problem);

}  // namespace standproud::nesting
