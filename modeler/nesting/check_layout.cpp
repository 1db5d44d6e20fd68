// The outside opinion on layouts: from sizes and places alone, in plain millimetres, with none of the nester's code.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "modeler/nesting.hpp"

namespace standproud::nesting {

namespace {

constexpr double grain = 0.0011;  ///< sizes count to 0.001 mm
constexpr double noise = 1e-6;

using Faults = std::vector<std::string>;

double right(const Rect& r) { return r.x + r.width; }
double top(const Rect& r) { return r.y + r.height; }

bool same(double a, double b) { return std::abs(a - b) <= noise; }
bool same(const Rect& a, const Rect& b) {
    return same(a.x, b.x) && same(a.y, b.y) && same(a.width, b.width) && same(a.height, b.height);
}

/// Whether edge-to-edge cuts, a kerf wide each, can set all pieces free.
bool cuts_exist(std::vector<Rect> pieces, double kerf) {
    if (pieces.size() <= 1) return true;
    for (const bool upright : {true, false}) {
        const auto low = [&](const Rect& r) { return upright ? r.x : r.y; };
        const auto high = [&](const Rect& r) { return upright ? right(r) : top(r); };
        std::sort(pieces.begin(), pieces.end(), [&](const Rect& a, const Rect& b) { return low(a) < low(b); });
        double reached = high(pieces[0]);
        for (std::size_t i = 1; i < pieces.size(); ++i) {
            if (low(pieces[i]) >= reached + kerf - noise) {
                const auto middle = pieces.begin() + static_cast<std::ptrdiff_t>(i);
                return cuts_exist({pieces.begin(), middle}, kerf) && cuts_exist({middle, pieces.end()}, kerf);
            }
            reached = std::max(reached, high(pieces[i]));
        }
    }
    return false;
}

void check_piece(const Placed& placed, const Piece& piece, const Stock& stock, const std::string& where,
                 Faults& faults) {
    const double width = placed.turned ? piece.height : piece.width;
    const double height = placed.turned ? piece.width : piece.height;
    if (placed.at.width < width - noise || placed.at.width > width + grain || placed.at.height < height - noise ||
        placed.at.height > height + grain) {
        faults.push_back(fmt::format("{}: piece {} is cut {} x {}, needed {} x {}", where, piece.id, placed.at.width,
                                     placed.at.height, width, height));
    }
    if (placed.turned && (stock.patterned || !piece.turnable)) {
        faults.push_back(fmt::format("{}: piece {} is turned and must not be", where, piece.id));
    }
    const double trim = stock.edge_trim;
    if (placed.at.x < trim - noise || placed.at.y < trim - noise || right(placed.at) > stock.width - trim + noise ||
        top(placed.at) > stock.height - trim + noise) {
        faults.push_back(fmt::format("{}: piece {} reaches outside the trimmed sheet", where, piece.id));
    }
}

void check_apart(const SheetLayout& sheet, double kerf, const std::string& where, Faults& faults) {
    std::vector<Rect> rects;
    for (std::size_t i = 0; i < sheet.placed.size(); ++i) {
        const Rect& a = sheet.placed[i].at;
        rects.push_back(a);
        for (std::size_t j = 0; j < i; ++j) {
            const Rect& b = sheet.placed[j].at;
            const double apart = std::max({a.x - right(b), b.x - right(a), a.y - top(b), b.y - top(a)});
            if (apart < kerf - noise) {
                faults.push_back(
                    fmt::format("{}: placed {} and {} are {} mm apart, kerf {}", where, j, i, apart, kerf));
            }
        }
    }
    if (!cuts_exist(rects, kerf)) faults.push_back(where + ": no order of edge-to-edge cuts sets the pieces free");
}

/// One cut: its sides and its kerf make up the part.
void check_cut(const SheetLayout& sheet, std::size_t index, double kerf, const std::string& where, Faults& faults) {
    const CutPart& part = sheet.parts[index];
    const bool upright = part.kind == CutPart::Kind::cut_upright;
    const double start = upright ? part.at.x : part.at.y;
    const double end = upright ? right(part.at) : top(part.at);
    Rect first = part.at;
    Rect second = part.at;
    (upright ? first.width : first.height) = part.from - start;
    (upright ? second.x : second.y) = part.to;
    (upright ? second.width : second.height) = end - part.to;
    const auto check_side = [&](const std::optional<std::size_t>& side, const Rect& expected, double size) {
        if (!side) {
            if (size > noise) faults.push_back(fmt::format("{}: cut {} loses a side of {} mm", where, index, size));
        } else if (*side <= index || *side >= sheet.parts.size() || !same(sheet.parts[*side].at, expected)) {
            faults.push_back(fmt::format("{}: cut {} gives a part that does not match", where, index));
        }
    };
    check_side(part.first, first, part.from - start);
    check_side(part.second, second, end - part.to);
    const double taken = part.to - part.from;
    const bool runs_out = part.to >= end - noise || part.from <= start + noise;
    if (taken > kerf + grain || (taken < kerf - noise && !runs_out)) {
        faults.push_back(fmt::format("{}: cut {} takes {} mm, kerf {}", where, index, taken, kerf));
    }
}

void check_tree(const SheetLayout& sheet, const Stock& stock, double kerf, const std::string& where, Faults& faults) {
    if (sheet.parts.empty() || !same(sheet.parts[0].at.x, 0) || !same(sheet.parts[0].at.y, 0) ||
        std::abs(sheet.parts[0].at.width - stock.width) > grain ||
        std::abs(sheet.parts[0].at.height - stock.height) > grain) {
        faults.push_back(where + ": the tree of cuts does not start with the whole sheet");
        return;
    }
    std::vector<int> parents(sheet.parts.size(), 0);
    std::vector<Placed> left = sheet.placed;
    for (std::size_t i = 0; i < sheet.parts.size(); ++i) {
        const CutPart& part = sheet.parts[i];
        if (part.kind == CutPart::Kind::cut_upright || part.kind == CutPart::Kind::cut_level) {
            check_cut(sheet, i, kerf, where, faults);
            for (const auto& side : {part.first, part.second}) {
                if (side && *side < parents.size()) ++parents[*side];
            }
        } else if (part.kind == CutPart::Kind::piece) {
            const auto at = std::find_if(left.begin(), left.end(),
                                         [&](const Placed& p) { return p.piece == part.piece && same(p.at, part.at); });
            if (at == left.end()) {
                faults.push_back(fmt::format("{}: part {} is a piece that is not listed as placed", where, i));
            } else {
                left.erase(at);
            }
        }
    }
    if (!left.empty()) faults.push_back(where + ": a placed piece is not in the tree of cuts");
    for (std::size_t i = 0; i < parents.size(); ++i) {
        if (parents[i] != (i == 0 ? 0 : 1)) faults.push_back(fmt::format("{}: part {} hangs loose", where, i));
    }
}

void check_offcuts(const SheetLayout& sheet, double usable_side, const std::string& where, Faults& faults) {
    for (const Rect& offcut : sheet.offcuts) {
        if (std::min(offcut.width, offcut.height) < usable_side - noise) {
            faults.push_back(fmt::format("{}: an offcut of {} x {} is not usable", where, offcut.width, offcut.height));
        }
        for (const Placed& p : sheet.placed) {
            const bool clear = right(offcut) <= p.at.x + noise || right(p.at) <= offcut.x + noise ||
                               top(offcut) <= p.at.y + noise || top(p.at) <= offcut.y + noise;
            if (!clear) faults.push_back(where + ": an offcut lies over a piece");
        }
    }
}

}  // namespace

std::vector<std::string> check_layout(const std::vector<Piece>& pieces, const std::vector<Stock>& stock,
                                      const NestingRules& rules, const std::vector<SheetLayout>& sheets) {
    Faults faults;
    std::vector<int> times(pieces.size(), 0);
    std::vector<int> used(stock.size(), 0);
    for (std::size_t s = 0; s < sheets.size(); ++s) {
        const std::string where = fmt::format("sheet {}", s + 1);
        const SheetLayout& sheet = sheets[s];
        if (sheet.stock >= stock.size()) {
            faults.push_back(where + ": no such stock");
            continue;
        }
        ++used[sheet.stock];
        for (const Placed& placed : sheet.placed) {
            if (placed.piece >= pieces.size()) {
                faults.push_back(where + ": no such piece");
                continue;
            }
            ++times[placed.piece];
            check_piece(placed, pieces[placed.piece], stock[sheet.stock], where, faults);
        }
        check_apart(sheet, rules.kerf, where, faults);
        check_tree(sheet, stock[sheet.stock], rules.kerf, where, faults);
        check_offcuts(sheet, rules.usable_side, where, faults);
    }
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (times[i] != 1) faults.push_back(fmt::format("piece {} is placed {} times", pieces[i].id, times[i]));
    }
    for (std::size_t t = 0; t < stock.size(); ++t) {
        if (stock[t].count && used[t] > *stock[t].count) {
            faults.push_back(fmt::format("stock {}: {} used of {}", stock[t].id, used[t], *stock[t].count));
        }
    }
    return faults;
}

}  // namespace standproud::nesting
