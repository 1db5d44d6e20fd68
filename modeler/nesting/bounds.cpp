#include <algorithm>

#include "nesting/large.hpp"

namespace standproud::nesting {

namespace {

struct Turned {
    Unit width;
    Unit height;
};

std::vector<Turned> ways(const PieceType& type, const StockKind& stock) {
    std::vector<Turned> all{{type.width, type.height}};
    if (stock.turning && type.turnable) all.push_back({type.height, type.width});
    return all;
}

bool fits(const PieceType& type, const StockKind& stock) {
    const auto all = ways(type, stock);
    return stock.count > 0 && std::any_of(all.begin(), all.end(), [&](Turned t) {
               return t.width <= stock.inside.width && t.height <= stock.inside.height;
           });
}

bool fit_together(const PieceType& a, const PieceType& b, const StockKind& stock) {
    if (stock.count == 0) return false;
    for (const Turned p : ways(a, stock)) {
        for (const Turned q : ways(b, stock)) {
            const bool beside =
                p.width + q.width <= stock.inside.width && std::max(p.height, q.height) <= stock.inside.height;
            const bool above =
                p.height + q.height <= stock.inside.height && std::max(p.width, q.width) <= stock.inside.width;
            if (beside || above) return true;
        }
    }
    return false;
}

/// Pieces of which no two fit on one sheet: each needs a sheet of its own, at best the cheapest ones.
std::int64_t by_pairs(const Task& task) {
    std::vector<const PieceType*> pieces;
    for (const PieceType& type : task.types) pieces.insert(pieces.end(), type.members.size(), &type);
    std::stable_sort(pieces.begin(), pieces.end(), [](const PieceType* a, const PieceType* b) {
        return static_cast<double>(a->width) * static_cast<double>(a->height) >
               static_cast<double>(b->width) * static_cast<double>(b->height);
    });
    std::vector<const PieceType*> alone;
    for (const PieceType* p : pieces) {
        const bool joins_any = std::any_of(alone.begin(), alone.end(), [&](const PieceType* q) {
            return std::any_of(task.stock.begin(), task.stock.end(),
                               [&](const StockKind& s) { return fit_together(*p, *q, s); });
        });
        if (!joins_any) alone.push_back(p);
    }
    std::vector<std::int64_t> costs;
    for (const StockKind& s : task.stock) {
        const bool of_use = std::any_of(alone.begin(), alone.end(), [&](const PieceType* p) { return fits(*p, s); });
        if (of_use) costs.insert(costs.end(), std::min<std::size_t>(s.count, alone.size()), s.cost.first);
    }
    std::sort(costs.begin(), costs.end());
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < std::min(costs.size(), alone.size()); ++i) sum += costs[i];
    return sum;
}

/// The pieces' area out of the sheets' area, the cheapest area first; the last sheet only in part, unless all sheets
/// count the same, when it counts whole.
std::int64_t by_area(const Task& task) {
    double needed = 0;
    for (const PieceType& type : task.types) {
        needed += static_cast<double>(type.members.size()) * static_cast<double>(type.width) *
                  static_cast<double>(type.height);
    }
    struct Kind {
        double area;
        std::int64_t cost;
        int count;
    };
    std::vector<Kind> kinds;
    bool all_alike = true;  // every sheet costs the same or nothing
    std::int64_t one = 0;
    for (const StockKind& s : task.stock) {
        if (s.count == 0 || s.inside.width <= task.kerf || s.inside.height <= task.kerf) continue;
        kinds.push_back(
            {static_cast<double>(s.inside.width) * static_cast<double>(s.inside.height), s.cost.first, s.count});
        if (s.cost.first == 0) continue;
        if (one != 0 && one != s.cost.first) all_alike = false;
        one = s.cost.first;
    }
    std::sort(kinds.begin(), kinds.end(), [](const Kind& a, const Kind& b) {
        return static_cast<double>(a.cost) * b.area < static_cast<double>(b.cost) * a.area;
    });
    double cost = 0;
    for (const Kind& kind : kinds) {
        for (int i = 0; i < kind.count && needed > 0; ++i) {
            const double share = all_alike ? 1.0 : std::min(1.0, needed / kind.area);
            cost += share * static_cast<double>(kind.cost);
            needed -= kind.area;
        }
    }
    return static_cast<std::int64_t>(std::ceil(cost - 1e-6 * std::max(1.0, cost * 1e-6)));
}

}  // namespace

std::int64_t least_first_cost(const Task& task) { return std::max(by_pairs(task), by_area(task)); }

}  // namespace standproud::nesting
