#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "joins/grid.hpp"
#include "joins/limits.hpp"
#include "joins/long_row.hpp"

namespace standproud::joins {

namespace {

constexpr std::size_t most_refused = 3;

/// Linear programmes for the best layout with so many joins, some 30 us each: beyond it, no layout is called the best.
constexpr long long most_effort = 60'000;
/// And for the next best ones, which promise less.
constexpr long long more_effort = 1'000;

struct Found {
    Places places;
    Assigned assigned;
    double room = 0;
    std::vector<std::string> reasons;
};

/// Keeps the best few that differ.
class Best {
  public:
    Best(const Problem& problem, std::size_t keep, double apart) : problem_(problem), keep_(keep), apart_(apart) {}

    [[nodiscard]] bool better(const Found& a, const Found& b) const {
        const int by_score = compare(problem_, a.assigned.score, b.assigned.score);
        if (by_score != 0) return by_score < 0;
        if (a.reasons.size() != b.reasons.size()) return a.reasons.size() < b.reasons.size();
        return a.room > b.room + 1e-9;
    }

    [[nodiscard]] bool worth_looking(const JoinScore& score) const {
        return found_.size() < keep_ || compare(problem_, score, found_.back().assigned.score) <= 0;
    }

    /// There are enough that are better, whatever sheets cost.
    [[nodiscard]] bool surely_full(const JoinScore& places) const {
        return full() && surely_worse(problem_, places, found_.back().assigned.score);
    }

    [[nodiscard]] bool full() const { return found_.size() >= keep_; }

    [[nodiscard]] bool better_than_first(const JoinScore& score) const {
        return found_.empty() || compare(problem_, score, found_.front().assigned.score) < 0;
    }
    [[nodiscard]] bool better_than_last(const JoinScore& score) const {
        return !full() || compare(problem_, score, found_.back().assigned.score) < 0;
    }

    void offer(const Found& one) {
        if (found_.size() >= keep_ && !better(one, found_.back())) return;
        for (const Found& f : found_) {
            if (alike(f, one) && !better(one, f)) return;
        }
        found_.erase(std::remove_if(found_.begin(), found_.end(), [&](const Found& f) { return alike(f, one); }),
                     found_.end());
        const auto at = std::find_if(found_.begin(), found_.end(), [&](const Found& f) { return better(one, f); });
        found_.insert(at, one);
        if (found_.size() > keep_) found_.pop_back();
    }

    [[nodiscard]] const std::vector<Found>& found() const { return found_; }

  private:
    [[nodiscard]] bool alike(const Found& a, const Found& b) const {
        if (a.places.count != b.places.count) return false;
        for (std::size_t i = 0; i < a.places.count; ++i) {
            if (std::abs(a.places.at[i] - b.places.at[i]) > apart_) return false;
        }
        return true;
    }

    const Problem& problem_;
    std::size_t keep_;
    double apart_;
    std::vector<Found> found_;
};

bool fewest_first(const Problem& problem) { return problem.order.front() == Preference::fewest_joins; }

/// False: it would take too long to find the best.
bool search(const Problem& problem, bool wettest, Best& best) {
    Limits limits(problem, true, wettest);
    const auto offer = [&](const Places& places) {
        if (best.surely_full(score_of_places(problem, places))) return;
        if (!objections(problem, places, wettest).empty()) return;
        const auto assigned = assign(problem, places);
        if (!assigned || !best.worth_looking(assigned->score)) return;
        best.offer({places, *assigned, room_of(problem, places, wettest), {}});
    };
    for (std::size_t n = 0; n <= static_cast<std::size_t>(problem.rules.most_joins); ++n) {
        if (best.full() && fewest_first(problem)) break;
        if (n <= most_tried) {
            limits.each(n, offer);
            continue;
        }
        Effort effort{0, most_effort};
        search_long_row(
            problem, true, wettest, n, effort, [&](const JoinScore& s) { return best.better_than_first(s); }, offer);
        if (effort.spent) return false;
        Effort more{0, more_effort};
        search_long_row(
            problem, true, wettest, n, more, [&](const JoinScore& s) { return best.better_than_last(s); }, offer);
    }
    return true;
}

/// What would score better if the rules did not stand against it.
bool search_refused(const Problem& problem, bool wettest, const JoinScore& chosen, Best& best) {
    Limits limits(problem, false, wettest);
    const auto offer = [&](const Places& places) {
        const JoinScore quick = score_of_places(problem, places);
        if (surely_worse(problem, quick, chosen) || best.surely_full(quick)) return;
        const auto assigned = assign(problem, places);
        if (!assigned || compare(problem, assigned->score, chosen) >= 0) return;
        if (!best.worth_looking(assigned->score)) return;
        Found found{places, *assigned, 0, objections(problem, places, wettest)};
        if (!found.reasons.empty()) best.offer(found);
    };
    for (int n = 0; n <= problem.rules.most_joins; ++n) {
        if (n > chosen.joins && fewest_first(problem)) break;
        if (n <= static_cast<int>(most_tried)) {
            limits.each(static_cast<std::size_t>(n), offer);
            continue;
        }
        Effort effort{0, most_effort};
        search_long_row(
            problem, false, wettest, static_cast<std::size_t>(n), effort,
            [&](const JoinScore& s) { return compare(problem, s, chosen) < 0 && best.better_than_first(s); }, offer);
        if (effort.spent) return false;
    }
    return true;
}

JoinLayout layout_of(const Problem& problem, const Polygon& area, const Found& found, bool on_wettest) {
    JoinLayout layout;
    layout.joins.assign(found.places.at.begin(),
                        found.places.at.begin() + static_cast<std::ptrdiff_t>(found.places.count));
    layout.score = found.assigned.score;
    layout.room = found.room;
    layout.on_wettest = on_wettest;
    layout.pieces = pieces_of(problem, area, found.places, &found.assigned);
    return layout;
}

std::string no_layout(const Problem& problem) {
    return fmt::format(
        "no layout with up to {} joins keeps the rules: {:.1f} mm to cover, pieces from {:g} to {:.1f} mm "
        "wide, {} stretches that joins must keep off",
        problem.rules.most_joins, problem.right - problem.left, problem.rules.least_piece, problem.widest,
        problem.forbidden.size());
}

std::string too_many(const Problem& problem) {
    return fmt::format(
        "with up to {} joins, {} kinds of sheet and {} stretches that joins must keep off there are too many layouts "
        "to "
        "search them all: allow fewer joins",
        problem.rules.most_joins, problem.strips.size(), problem.forbidden.size());
}

/// All that is found on the way to a plan.
class Planning {
  public:
    Planning(const Polygon& area, const std::vector<JoinFitting>& fittings, const std::vector<nesting::Stock>& stock,
             const JoinRules& rules, const JoinWish& wish, const Problem& problem)
        : area_(area),
          rules_(rules),
          wish_(wish),
          problem_(problem),
          flat_(problem, wish.layouts, wish.apart),
          grid_(area, fittings, stock, rules, wish) {}

    JoinAnswer run() {
        if (problem_.too_high.empty() && !plan_flat()) return {std::nullopt, too_many(problem_)};
        plan_.why_levels = why_levels();
        if (plan_.best.empty() || wish_.levels_freely) plan_grid();
        if (grid_.shares > Grid::most_shares)
            return {std::nullopt,
                    "with level joins there are too many layouts to search them all: " +
                        std::string(wish_.levels_freely ? "ask for them only where they are needed, or " : "") +
                        "allow fewer joins"};
        if (plan_.best.empty()) {
            const bool tried = rules_.most_levels > 0;
            return {std::nullopt, plan_.why_levels + (tried ? fmt::format("; nor is there one with up to {} level "
                                                                          "joins and {} upright ones",
                                                                          rules_.most_levels, most_upright())
                                                            : "")};
        }
        if (plan_.best.front().levels.empty()) plan_.why_levels.clear();
        find_refused();
        return {std::move(plan_), {}};
    }

  private:
    [[nodiscard]] int most_upright() const { return std::min(rules_.most_joins, static_cast<int>(most_tried)); }

    /// Without level joins. False: too many to search.
    bool plan_flat() {
        bool whole = search(problem_, wettest_, flat_);
        if (whole && flat_.found().empty() && rules_.wettest) {
            wettest_ = false;
            whole = search(problem_, wettest_, flat_);
        }
        for (const Found& found : flat_.found()) plan_.best.push_back(layout_of(problem_, area_, found, !wettest_));
        return whole;
    }

    [[nodiscard]] std::string why_levels() const {
        if (!problem_.too_high.empty()) return problem_.too_high;
        if (plan_.best.empty()) return no_layout(problem_);
        return "they score better, by the wish";
    }

    /// The fewest level joins that do; of those, off running water if possible.
    void plan_grid() {
        for (std::size_t levels = 1; levels <= static_cast<std::size_t>(rules_.most_levels); ++levels) {
            const bool full = plan_.best.size() >= wish_.layouts;
            const JoinScore last = full ? plan_.best.back().score : JoinScore{};
            for (const auto& [wettest, outlet] :
                 {std::pair(true, true), {false, true}, {true, false}, {false, false}}) {
                if ((!wettest && !rules_.wettest) || (!outlet && !rules_.outlet)) continue;
                const auto found = search_grid(grid_, levels, wettest, outlet, wish_.layouts, wish_.apart, nullptr,
                                               full ? &last : nullptr);
                if (found.empty() && plan_.best.empty()) continue;
                if (plan_.best.empty()) {
                    grid_wettest_ = wettest;
                    grid_outlet_ = outlet;
                }
                for (const GridFound& one : found) plan_.best.push_back(grid_layout(grid_, area_, one, !wettest));
                sort_by_score(plan_.best, wish_.layouts);
                break;  // running water is come near only where there is no other layout
            }
            if (!plan_.best.empty() && !wish_.levels_freely) break;
        }
    }

    template <typename Layout>
    void sort_by_score(std::vector<Layout>& layouts, std::size_t keep) const {
        std::stable_sort(layouts.begin(), layouts.end(),
                         [&](const Layout& a, const Layout& b) { return compare(problem_, a.score, b.score) < 0; });
        if (layouts.size() > keep) layouts.resize(keep);
    }

    void find_refused() {
        const JoinScore& chosen = plan_.best.front().score;
        if (problem_.too_high.empty()) {
            Best refused(problem_, most_refused, wish_.apart);
            plan_.refused_whole = search_refused(problem_, wettest_, chosen, refused);
            for (const Found& found : refused.found())
                plan_.refused.push_back(
                    {layout_of(problem_, area_, found, false).joins, found.assigned.score, found.reasons, {}});
        }
        const auto levels = static_cast<std::size_t>(wish_.levels_freely ? rules_.most_levels : chosen.levels);
        for (std::size_t m = 1; m <= levels; ++m) {
            for (const GridFound& one :
                 search_grid(grid_, m, grid_wettest_, grid_outlet_, most_refused, wish_.apart, &chosen)) {
                const JoinLayout layout = grid_layout(grid_, area_, one, false);
                auto reasons = one.columns.reasons;
                reasons.insert(reasons.end(), one.rows.reasons.begin(), one.rows.reasons.end());
                plan_.refused.push_back({layout.joins, layout.score, std::move(reasons), layout.levels});
            }
        }
        if (grid_.shares > Grid::most_shares) plan_.refused_whole = false;
        sort_by_score(plan_.refused, most_refused);
    }

    const Polygon& area_;
    const JoinRules& rules_;
    const JoinWish& wish_;
    const Problem& problem_;
    Best flat_;
    Grid grid_;
    bool wettest_ = true;
    bool grid_wettest_ = true;
    bool grid_outlet_ = true;
    JoinPlan plan_;
};

}  // namespace

JoinAnswer plan_joins(const Polygon& area, const std::vector<JoinFitting>& fittings,
                      const std::vector<nesting::Stock>& stock, const JoinRules& rules, const JoinWish& wish) {
    JoinAnswer answer;
    const Problem problem = pose(area, fittings, stock, rules, wish, answer.refused);
    if (!answer.refused.empty()) return answer;
    return Planning(area, fittings, stock, rules, wish, problem).run();
}

}  // namespace standproud::joins
