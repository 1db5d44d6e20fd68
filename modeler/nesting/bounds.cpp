#include <algorithm>
#include <limits>
#include <numeric>

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

/// A function that never lets parts of a whole that fit together come to more than 1 (dual feasible: Fekete and
/// Schepers 2001, Lueker 1983). Applied to widths and heights it sees what areas do not: that a little over half is a
/// whole.
struct Feasible {
    enum class Kind { plain, cut_small, steps } kind = Kind::plain;
    double parameter = 0;

    [[nodiscard]] double operator()(double x) const {
        constexpr double noise = 1e-12;
        switch (kind) {
            case Kind::plain:
                return x;
            case Kind::cut_small:
                if (x > 1 - parameter + noise) return 1;
                return x < parameter + noise ? 0 : x;
            case Kind::steps: {
                const double k = parameter;
                const double times = (k + 1) * x;
                // Sizes are whole thousandths: so near to a whole number is a whole number.
                if (std::abs(times - std::round(times)) <= noise * 100) return x;
                return std::floor(times) / k;
            }
        }
        return 0;
    }
};

std::vector<Feasible> all_feasible() {
    std::vector<Feasible> all{{Feasible::Kind::plain, 0}};
    for (double e = 0.05; e <= 0.5; e += 0.05) all.push_back({Feasible::Kind::cut_small, e});
    for (double k = 1; k <= 5; ++k) all.push_back({Feasible::Kind::steps, k});
    return all;
}

/// The share of a sheet that a piece takes at least, however it lies; infinite: it does not fit.
double share(const PieceType& type, const StockKind& stock, const Feasible& across, const Feasible& up) {
    double least = std::numeric_limits<double>::infinity();
    const auto w = static_cast<double>(stock.inside.width);
    const auto h = static_cast<double>(stock.inside.height);
    for (const Turned t : ways(type, stock)) {
        if (stock.count == 0 || t.width > stock.inside.width || t.height > stock.inside.height) continue;
        least = std::min(least, across(static_cast<double>(t.width) / w) * up(static_cast<double>(t.height) / h));
    }
    return least;
}

/// What every piece is worth at least: its share of the cheapest sheet for it. No sheet can hold more worth than it
/// costs, so together the pieces cost no less. With `free_apart` the sheets that cost nothing are left out of that, and
/// the most they can hold is taken off instead.
double worth_together(const Task& task, const Feasible& across, const Feasible& up, bool free_apart) {
    double together = 0;
    std::vector<double> most_dense(task.stock.size(), 0);  // worth for a whole sheet's area
    for (const PieceType& type : task.types) {
        double worth = std::numeric_limits<double>::infinity();
        for (const StockKind& stock : task.stock) {
            if (free_apart && stock.cost.first == 0) continue;
            const double part = share(type, stock, across, up);
            if (std::isfinite(part)) worth = std::min(worth, part * static_cast<double>(stock.cost.first));
        }
        if (!std::isfinite(worth)) worth = 0;  // only free sheets hold it
        together += worth * static_cast<double>(type.members.size());
        for (std::size_t t = 0; free_apart && t < task.stock.size(); ++t) {
            if (task.stock[t].cost.first != 0) continue;
            const double area = share(type, task.stock[t], {}, {});
            if (std::isfinite(area)) most_dense[t] = std::max(most_dense[t], worth / area);
        }
    }
    for (std::size_t t = 0; t < task.stock.size(); ++t) together -= most_dense[t] * task.stock[t].count;
    return together;
}

std::int64_t by_shares(const Task& task) {
    double most = 0;
    const auto functions = all_feasible();
    for (const Feasible& across : functions) {
        for (const Feasible& up : functions) {
            for (const bool free_apart : {false, true}) {
                most = std::max(most, worth_together(task, across, up, free_apart));
            }
        }
    }
    return static_cast<std::int64_t>(std::ceil(most * (1 - 1e-9) - 1e-6));
}

/// Every cost is a multiple of what all sheets' costs have in common.
std::int64_t round_up_to_common(const Task& task, std::int64_t bound) {
    std::int64_t common = 0;
    for (const StockKind& stock : task.stock) common = std::gcd(common, stock.cost.first);
    return common == 0 ? bound : (bound + common - 1) / common * common;
}

}  // namespace

std::int64_t least_first_cost(const Task& task) {
    return round_up_to_common(task, std::max({by_pairs(task), by_area(task), by_shares(task)}));
}

}  // namespace standproud::nesting
