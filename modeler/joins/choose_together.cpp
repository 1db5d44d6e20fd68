#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "modeler/join_choice.hpp"

namespace standproud::joins {

namespace {

constexpr long long most_combinations = 2000;
constexpr double noise = 1e-6;

double usable(const nesting::Stock& s) { return (s.width - 2 * s.edge_trim) * (s.height - 2 * s.edge_trim); }

double price_of(const nesting::Stock& s) {
    if (s.price) return *s.price;
    return s.offcut ? 0 : s.width * s.height * 1e-6;
}

/// The least sum of `cost` over parts of sheets that hold an area, the best sheets for their cost first.
double least_for(double area, const std::vector<nesting::Stock>& stock, double (*cost)(const nesting::Stock&)) {
    std::vector<const nesting::Stock*> by_rate;
    for (const auto& s : stock) {
        if (usable(s) > 0 && (!s.count || *s.count > 0)) by_rate.push_back(&s);
    }
    std::sort(by_rate.begin(), by_rate.end(),
              [&](const auto* a, const auto* b) { return cost(*a) * usable(*b) < cost(*b) * usable(*a); });
    double sum = 0;
    for (const auto* s : by_rate) {
        const double there = s->count ? *s->count * usable(*s) : std::numeric_limits<double>::infinity();
        const double taken = std::min(area, there);
        sum += taken / usable(*s) * cost(*s);
        area -= taken;
        if (area <= noise) break;
    }
    return sum;
}

struct Combination {
    std::vector<std::size_t> layouts;
    AreaBound bound;
    std::size_t rank = 0;  ///< sum of the layouts' places in their walls' lists
};

class Choosing {
  public:
    Choosing(const std::vector<WallLayouts>& walls, const std::vector<nesting::Stock>& stock,
             const nesting::NestingRules& rules)
        : walls_(walls), stock_(stock), rules_(rules) {}

    JobChoice run(long long last_effort) {
        list();
        JobChoice choice;
        choice.combinations = static_cast<long long>(all_.size());
        const Combination own{std::vector<std::size_t>(walls_.size(), 0), {}, 0};
        choice.own = {own.layouts, nested(own, rules_)};
        offer(own, choice.own.answer);
        choice.nested = 1;
        for (const Combination& one : all_) {
            if (one.rank == 0) continue;
            if (best_ && !could_be_better(one.bound)) {
                ++choice.left_out;
                continue;
            }
            offer(one, nested(one, rules_));
            ++choice.nested;
        }
        auto last = rules_;
        last.effort = std::max(rules_.effort, last_effort);
        if (last.effort > rules_.effort) choice.own.answer = nested(own, last);
        if (!best_) {
            choice.best = choice.own;
            return choice;
        }
        choice.best = best_layout_.rank == 0 ? choice.own : JobLayout{best_layout_.layouts, nested(best_layout_, last)};
        const double found = first_of(*choice.best.answer.nesting);
        // What was left out cannot be better; of what was nested, no bound may lie below what was found.
        for (const JobLayout* again : {&choice.own, &choice.best}) {
            if (again->answer.nesting)
                bounds_[again->layouts] = std::max(bounds_[again->layouts], again->answer.nesting->bound);
        }
        choice.proved =
            std::all_of(bounds_.begin(), bounds_.end(), [&](const auto& one) { return found <= one.second + noise; });
        return choice;
    }

  private:
    [[nodiscard]] double first(const AreaBound& bound) const {
        return rules_.aim == nesting::Aim::fewest_sheets ? bound.sheets : bound.price;
    }
    [[nodiscard]] double second(const AreaBound& bound) const {
        return rules_.aim == nesting::Aim::fewest_sheets ? bound.price : bound.sheets;
    }
    [[nodiscard]] double first_of(const nesting::Nesting& n) const {
        return first({static_cast<double>(n.new_sheets), n.price});
    }
    [[nodiscard]] double second_of(const nesting::Nesting& n) const {
        return second({static_cast<double>(n.new_sheets), n.price});
    }

    void list() {
        Combination one{std::vector<std::size_t>(walls_.size(), 0), {}, 0};
        while (true) {
            double area = 0;
            for (std::size_t w = 0; w < walls_.size(); ++w) {
                for (const auto& piece : walls_[w].layouts[one.layouts[w]]) area += piece.width * piece.height;
            }
            one.bound = bound_of_area(area, stock_);
            one.rank = std::accumulate(one.layouts.begin(), one.layouts.end(), std::size_t{0});
            all_.push_back(one);
            std::size_t w = 0;
            while (w < walls_.size() && ++one.layouts[w] == walls_[w].layouts.size()) one.layouts[w++] = 0;
            if (w == walls_.size()) break;
        }
        std::stable_sort(all_.begin(), all_.end(), [&](const Combination& a, const Combination& b) {
            if (std::abs(first(a.bound) - first(b.bound)) > noise) return first(a.bound) < first(b.bound);
            if (std::abs(second(a.bound) - second(b.bound)) > noise) return second(a.bound) < second(b.bound);
            return a.rank < b.rank;
        });
    }

    [[nodiscard]] bool could_be_better(const AreaBound& bound) const {
        const double by = first_of(*best_) - first(bound);
        if (std::abs(by) > noise) return by > 0;
        return second(bound) < second_of(*best_) - noise;
    }

    /// Layouts with pieces of the same sizes nest alike.
    nesting::NestingAnswer nested(const Combination& one, const nesting::NestingRules& rules) {
        std::vector<nesting::Piece> pieces;
        for (std::size_t w = 0; w < walls_.size(); ++w) {
            const auto& layout = walls_[w].layouts[one.layouts[w]];
            pieces.insert(pieces.end(), layout.begin(), layout.end());
        }
        std::vector<long long> sizes;
        for (const auto& piece : pieces) {
            sizes.push_back(std::llround(piece.width * 1000));
            sizes.push_back(std::llround(piece.height * 1000) * 2 + (piece.turnable ? 1 : 0));
        }
        sizes.push_back(rules.effort);
        const auto known = known_.find(sizes);
        if (known != known_.end()) return known->second;
        return known_.emplace(sizes, nesting::nest(pieces, stock_, rules)).first->second;
    }

    void offer(const Combination& one, const nesting::NestingAnswer& answer) {
        if (!answer.nesting) return;
        double& bound = bounds_[one.layouts];
        bound = std::max(bound, answer.nesting->bound);
        if (best_) {
            const double by = first_of(*best_) - first_of(*answer.nesting);
            const double then = second_of(*best_) - second_of(*answer.nesting);
            if (by < -noise) return;
            if (by <= noise && (then < -noise || (then <= noise && one.rank >= best_layout_.rank))) return;
        }
        best_ = answer.nesting;
        best_layout_ = one;
    }

    const std::vector<WallLayouts>& walls_;
    const std::vector<nesting::Stock>& stock_;
    const nesting::NestingRules& rules_;
    std::vector<Combination> all_;
    std::map<std::vector<long long>, nesting::NestingAnswer> known_;
    std::optional<nesting::Nesting> best_;
    Combination best_layout_;
    std::map<std::vector<std::size_t>, double> bounds_;  ///< what each that was nested needs at least
};

}  // namespace

AreaBound bound_of_area(double area, const std::vector<nesting::Stock>& stock) {
    const double sheets = least_for(area, stock, [](const nesting::Stock& s) { return s.offcut ? 0.0 : 1.0; });
    double cheapest = std::numeric_limits<double>::infinity();
    for (const auto& s : stock) {
        if (!s.offcut && (!s.count || *s.count > 0)) cheapest = std::min(cheapest, price_of(s));
    }
    const double whole = std::ceil(sheets - noise);
    const double price = least_for(area, stock, price_of);
    return {whole, whole > 0 && std::isfinite(cheapest) ? std::max(price, whole * cheapest) : price};
}

JobChoiceAnswer choose_together(const std::vector<WallLayouts>& walls, const std::vector<nesting::Stock>& stock,
                                const nesting::NestingRules& rules, long long last_effort) {
    long long combinations = 1;
    for (const auto& wall : walls) {
        if (wall.layouts.empty()) return {std::nullopt, fmt::format("wall {} has no layout", wall.wall)};
        combinations *= static_cast<long long>(wall.layouts.size());
        if (combinations > most_combinations)
            return {std::nullopt,
                    fmt::format("more than {} combinations of layouts: ask for fewer layouts of each wall",
                                most_combinations)};
    }
    JobChoice choice = Choosing(walls, stock, rules).run(last_effort);
    if (!choice.best.answer.nesting) return {std::nullopt, choice.best.answer.refused};
    return {std::move(choice), {}};
}

}  // namespace standproud::joins
