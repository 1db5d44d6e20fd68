#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "nesting/large.hpp"

namespace standproud::nesting {

namespace {

constexpr double largest_side = 20'000;
constexpr double price_steps = 10'000;  // 0.0001

bool side_wrong(double mm) { return !(mm > 0 && mm <= largest_side); }

std::string refuse_piece(const Piece& piece) {
    if (side_wrong(piece.width) || side_wrong(piece.height)) {
        return fmt::format("piece {}: {} x {} mm; each side must be over 0 and at most {}", piece.id, piece.width,
                           piece.height, largest_side);
    }
    return {};
}

std::string refuse_stock(const Stock& stock) {
    if (side_wrong(stock.width) || side_wrong(stock.height)) {
        return fmt::format("stock {}: {} x {} mm; each side must be over 0 and at most {}", stock.id, stock.width,
                           stock.height, largest_side);
    }
    if (stock.price && !(*stock.price >= 0 && *stock.price <= 1e7)) {
        return fmt::format("stock {}: price {}; it must be 0 to 10 000 000", stock.id, *stock.price);
    }
    if (stock.count && *stock.count < 0) {
        return fmt::format("stock {}: count {}; it must be 0 or more", stock.id, *stock.count);
    }
    if (!(stock.edge_trim >= 0 && 2 * stock.edge_trim < std::min(stock.width, stock.height))) {
        return fmt::format("stock {}: edge trim {} mm; it must be 0 or more and leave something of {} x {}", stock.id,
                           stock.edge_trim, stock.width, stock.height);
    }
    return {};
}

std::string refuse_rules(const NestingRules& rules) {
    if (!(rules.kerf >= 0 && rules.kerf <= 100)) {
        return fmt::format("kerf {} mm; it must be 0 to 100", rules.kerf);
    }
    if (!(rules.usable_side > 0 && rules.usable_side <= largest_side)) {
        return fmt::format("usable side {} mm; it must be over 0 and at most {}", rules.usable_side, largest_side);
    }
    return {};
}

std::string refusal(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, const NestingRules& rules) {
    std::string all = refuse_rules(rules);
    const auto add = [&](const std::string& one) {
        if (!one.empty()) all += (all.empty() ? "" : "; ") + one;
    };
    for (const Piece& piece : pieces) add(refuse_piece(piece));
    for (const Stock& s : stock) add(refuse_stock(s));
    return all;
}

double price_of(const Stock& stock) {
    if (stock.price) return *stock.price;
    return stock.offcut ? 0 : stock.width * stock.height * 1e-6;
}

Task make_task(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, const NestingRules& rules) {
    Task task;
    task.kerf = units_up(rules.kerf);
    task.usable_side = units_up(rules.usable_side);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        Unit width = units_up(pieces[i].width) + task.kerf;
        Unit height = units_up(pieces[i].height) + task.kerf;
        const auto same = std::find_if(task.types.begin(), task.types.end(), [&](const PieceType& t) {
            return t.width == width && t.height == height && t.turnable == pieces[i].turnable;
        });
        if (same == task.types.end()) {
            task.types.push_back({width, height, pieces[i].turnable, {i}});
        } else {
            same->members.push_back(i);
        }
    }
    for (const Stock& s : stock) {
        StockKind kind;
        kind.bare = {units_down(s.width), units_down(s.height), units_up(s.edge_trim), task.kerf, task.usable_side};
        kind.inside = {kind.bare.width - 2 * kind.bare.trim + task.kerf,
                       kind.bare.height - 2 * kind.bare.trim + task.kerf};
        const std::int64_t sheets = s.offcut ? 0 : 1;
        const std::int64_t price = std::llround(price_of(s) * price_steps);
        kind.cost = rules.aim == Aim::fewest_sheets ? Cost{sheets, price} : Cost{price, sheets};
        kind.count = std::min(s.count.value_or(INT32_MAX), static_cast<int>(pieces.size()));
        kind.turning = !s.patterned;
        task.stock.push_back(kind);
    }
    return task;
}

/// A piece that no sheet holds, in words.
std::string too_large(const Task& task, const std::vector<Piece>& pieces) {
    std::string all;
    for (const PieceType& type : task.types) {
        const bool fits = std::any_of(task.stock.begin(), task.stock.end(), [&](const StockKind& s) {
            const auto in = [&](Unit w, Unit h) { return w <= s.inside.width && h <= s.inside.height; };
            return s.count > 0 &&
                   (in(type.width, type.height) || (s.turning && type.turnable && in(type.height, type.width)));
        });
        if (fits) continue;
        for (const std::size_t i : type.members) {
            all += fmt::format("{}piece {} of {} x {} mm is larger than any sheet there is, within its edge trim{}",
                               all.empty() ? "" : "; ", pieces[i].id, pieces[i].width, pieces[i].height,
                               type.turnable ? "" : " (it may not be turned)");
        }
    }
    return all;
}

/// Names the pieces and lays the plans.
std::vector<SheetLayout> lay_all(const Task& task, const std::vector<PlannedSheet>& planned) {
    std::vector<std::size_t> next(task.types.size(), 0);
    std::vector<SheetLayout> sheets;
    for (const PlannedSheet& p : planned) {
        SheetLayout sheet = lay_plan(p.plan, task.stock[p.stock].bare);
        sheet.stock = p.stock;
        for (CutPart& part : sheet.parts) {
            if (part.kind != CutPart::Kind::piece) continue;
            const std::size_t type = part.piece;
            part.piece = task.types[type].members[next[type]++];
            // Pieces are listed as the tree comes to them, which need not be the order of the parts.
            const auto at = std::find_if(sheet.placed.begin(), sheet.placed.end(),
                                         [&](const Placed& q) { return q.at.x == part.at.x && q.at.y == part.at.y; });
            at->piece = part.piece;
        }
        sheets.push_back(std::move(sheet));
    }
    return sheets;
}

void add_up(const std::vector<Stock>& stock, const NestingRules& rules, std::int64_t bound, Nesting& nesting) {
    for (const SheetLayout& sheet : nesting.sheets) {
        nesting.new_sheets += stock[sheet.stock].offcut ? 0 : 1;
        nesting.price += price_of(stock[sheet.stock]);
        if (sheet.offcuts.empty()) continue;
        nesting.largest_offcut = std::max(nesting.largest_offcut, sheet.offcuts[0].width * sheet.offcuts[0].height);
    }
    const bool sheets_first = rules.aim == Aim::fewest_sheets;
    nesting.found = sheets_first ? nesting.new_sheets : nesting.price;
    nesting.bound = static_cast<double>(bound) / (sheets_first ? 1 : price_steps);
    if (nesting.cost_proved) nesting.bound = nesting.found;
    nesting.gap = nesting.found > 0 ? (nesting.found - nesting.bound) / nesting.found : 0;
}

}  // namespace

NestingAnswer nest(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, const NestingRules& rules,
                   std::stop_token stop) {
    NestingAnswer answer;
    answer.refused = refusal(pieces, stock, rules);
    if (!answer.refused.empty()) return answer;
    const Task task = make_task(pieces, stock, rules);
    answer.refused = too_large(task, pieces);
    if (!answer.refused.empty()) return answer;
    Nesting nesting;
    Effort effort{rules.effort, stop};
    const ExactAnswer exact = solve_exactly(task, effort, true);
    if (exact.state == ExactAnswer::State::impossible) {
        answer.refused = "the stock there is does not hold all the pieces: every way of cutting was tried";
        return answer;
    }
    std::vector<PlannedSheet> planned = exact.sheets;
    nesting.cost_proved = exact.state == ExactAnswer::State::solved;
    nesting.offcut_proved = exact.offcut_proved;
    if (!nesting.cost_proved) {
        Effort more{rules.effort, stop};
        auto found = search_large(task, more, rules.seed);
        if (!found) {
            answer.refused = stop.stop_requested()
                                 ? "stopped before a layout was found"
                                 : "no layout was found with the stock there is; that none exists is not proved";
            return answer;
        }
        planned = std::move(*found);
    }
    // Whoever broke it off is told of no proof, wherever the search stood.
    if (stop.stop_requested()) nesting.cost_proved = nesting.offcut_proved = false;
    nesting.sheets = lay_all(task, planned);
    add_up(stock, rules, least_first_cost(task), nesting);
    answer.nesting = std::move(nesting);
    return answer;
}

}  // namespace standproud::nesting
