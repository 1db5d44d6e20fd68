#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "joins/limits.hpp"

namespace standproud::joins {

namespace {

constexpr std::size_t most_refused = 3;

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

std::vector<Preference> full_order(std::vector<Preference> order) {
    for (const Preference p : {Preference::fewest_joins, Preference::least_cost, Preference::least_waste}) {
        if (std::find(order.begin(), order.end(), p) == order.end()) order.push_back(p);
    }
    return order;
}

void forbid(Problem& problem, const std::vector<JoinFitting>& fittings) {
    const double half = problem.rules.gap / 2;
    const auto keep_off = [&](const RoundedRect& shape, double distance, std::string why) {
        problem.forbidden.push_back({shape.centre.x - shape.half_width - distance - half,
                                     shape.centre.x + shape.half_width + distance + half, std::move(why), false});
    };
    for (const JoinFitting& fitting : fittings) {
        for (const RoundedRect& hole : fitting.holes) {
            keep_off(hole, problem.rules.hole_edge,
                     fmt::format("nearer than {:g} mm to the hole of {}", problem.rules.hole_edge, fitting.name));
        }
        for (const RoundedRect& flange : fitting.flanges) {
            keep_off(flange, problem.rules.flange_edge,
                     problem.rules.flange_edge > 0 ? fmt::format("nearer than {:g} mm to the flange of {}",
                                                                 problem.rules.flange_edge, fitting.name)
                                                   : fmt::format("under the flange of {}", fitting.name));
        }
    }
    if (problem.rules.wettest) {
        const double clear = problem.rules.wettest_clear + half;
        problem.forbidden.push_back(
            {*problem.rules.wettest - clear, *problem.rules.wettest + clear,
             fmt::format("nearer than {:g} mm to the wettest line", problem.rules.wettest_clear), true});
    }
}

std::string refuse_fittings(const std::vector<JoinFitting>& fittings) {
    for (const JoinFitting& fitting : fittings) {
        for (const auto* list : {&fitting.holes, &fitting.flanges}) {
            for (const RoundedRect& r : *list) {
                if (std::isfinite(r.centre.x) && r.half_width >= 0 && r.half_width <= 20'000) continue;
                return fmt::format("fitting {}: a hole or flange at u {} is {} mm wide", fitting.name, r.centre.x,
                                   2 * r.half_width);
            }
        }
    }
    return {};
}

void find_strips(Problem& problem) {
    for (std::size_t t = 0; t < problem.stock.size(); ++t) {
        const nesting::Stock& s = problem.stock[t];
        if (s.count && *s.count == 0) continue;
        const double width = s.width - 2 * s.edge_trim;
        const double height = s.height - 2 * s.edge_trim;
        if (problem.height <= height + same_length) problem.strips.push_back({t, width});
        if (!s.patterned && problem.height <= width + same_length) problem.strips.push_back({t, height});
    }
    for (const Strip& strip : problem.strips) problem.widest = std::max(problem.widest, strip.along);
}

std::string refuse_numbers(const Problem& problem, const JoinWish& wish) {
    const JoinRules& r = problem.rules;
    const auto wrong = [](double x, double least, double most) { return !(x >= least && x <= most); };
    const double width = problem.right - problem.left;
    if (wrong(width, 1, 20'000) || wrong(problem.height, 1, 20'000)) {
        return fmt::format("the panelled area is {} x {} mm; each must be 1 to 20 000", width, problem.height);
    }
    if (wrong(r.gap, 0, 100)) return fmt::format("gap {} mm; it must be 0 to 100", r.gap);
    if (wrong(r.kerf, 0, 100)) return fmt::format("kerf {} mm; it must be 0 to 100", r.kerf);
    if (wrong(r.least_piece, 0.01, 20'000)) {
        return fmt::format("least piece {} mm; it must be 0.01 to 20 000", r.least_piece);
    }
    if (wrong(r.hole_edge, 0, 1000)) return fmt::format("hole edge {} mm; it must be 0 to 1000", r.hole_edge);
    if (wrong(r.flange_edge, 0, 1000)) return fmt::format("flange edge {} mm; it must be 0 to 1000", r.flange_edge);
    if (wrong(r.wettest_clear, 0, 5000))
        return fmt::format("wettest clear {} mm; it must be 0 to 5000", r.wettest_clear);
    if (r.most_joins < 0 || r.most_joins > 3) return fmt::format("most joins {}; it must be 0 to 3", r.most_joins);
    if ((r.wettest && !std::isfinite(*r.wettest)) || (wish.align && !std::isfinite(*wish.align))) {
        return "the wettest line or the line to align with is not a number";
    }
    if (wish.layouts == 0) return "0 layouts were asked for; at least 1";
    for (const nesting::Stock& s : problem.stock) {
        if (wrong(s.width - 2 * s.edge_trim, 0.01, 20'000) || wrong(s.height - 2 * s.edge_trim, 0.01, 20'000)) {
            return fmt::format("stock {}: {} x {} mm with edge trim {}; each side must be over 0 and at most 20 000",
                               s.id, s.width, s.height, s.edge_trim);
        }
    }
    if (problem.strips.empty()) {
        return fmt::format("no sheet is high enough for {:.1f} mm, within its edge trim: joins here are upright only",
                           problem.height);
    }
    return {};
}

bool fewest_first(const Problem& problem) { return problem.order.front() == Preference::fewest_joins; }

void search(const Problem& problem, bool wettest, Best& best) {
    Limits limits(problem, true, wettest);
    for (int n = 0; n <= problem.rules.most_joins; ++n) {
        if (best.full() && fewest_first(problem)) break;
        limits.each(static_cast<std::size_t>(n), [&](const Places& places) {
            if (best.surely_full(score_of_places(problem, places))) return;
            if (!objections(problem, places, wettest).empty()) return;
            const auto assigned = assign(problem, places);
            if (!assigned || !best.worth_looking(assigned->score)) return;
            best.offer({places, *assigned, room_of(problem, places, wettest), {}});
        });
    }
}

/// What would score better if the rules did not stand against it.
void search_refused(const Problem& problem, bool wettest, const JoinScore& chosen, Best& best) {
    Limits limits(problem, false, wettest);
    for (int n = 0; n <= problem.rules.most_joins; ++n) {
        if (n > chosen.joins && fewest_first(problem)) break;
        limits.each(static_cast<std::size_t>(n), [&](const Places& places) {
            const JoinScore quick = score_of_places(problem, places);
            if (surely_worse(problem, quick, chosen) || best.surely_full(quick)) return;
            const auto assigned = assign(problem, places);
            if (!assigned || compare(problem, assigned->score, chosen) >= 0) return;
            if (!best.worth_looking(assigned->score)) return;
            Found found{places, *assigned, 0, objections(problem, places, wettest)};
            if (!found.reasons.empty()) best.offer(found);
        });
    }
}

JoinLayout layout_of(const Problem& problem, const Polygon& area, const Found& found, bool on_wettest) {
    JoinLayout layout;
    layout.joins.assign(found.places.at.begin(),
                        found.places.at.begin() + static_cast<std::ptrdiff_t>(found.places.count));
    layout.score = found.assigned.score;
    layout.room = found.room;
    layout.on_wettest = on_wettest;
    const auto widths = widths_of(problem, found.places);
    double from = problem.left;
    for (std::size_t i = 0; i <= found.places.count; ++i) {
        JoinPiece piece;
        piece.from = from;
        piece.to = from + widths[i];
        piece.outline = clipped(clipped(area, {1, 0}, piece.from), {-1, 0}, -piece.to);
        piece.stock = found.assigned.stock[i];
        piece.sheet = found.assigned.sheet[i];
        layout.pieces.push_back(std::move(piece));
        from = layout.pieces.back().to + problem.rules.gap;
    }
    return layout;
}

std::string no_layout(const Problem& problem) {
    return fmt::format(
        "no layout with up to {} joins keeps the rules: {:.1f} mm to cover, pieces from {:g} to {:.1f} mm "
        "wide, {} stretches that joins must keep off",
        problem.rules.most_joins, problem.right - problem.left, problem.rules.least_piece, problem.widest,
        problem.forbidden.size());
}

}  // namespace

JoinAnswer plan_joins(const Polygon& area, const std::vector<JoinFitting>& fittings,
                      const std::vector<nesting::Stock>& stock, const JoinRules& rules, const JoinWish& wish) {
    JoinAnswer answer;
    if (area.points.size() < 3) {
        answer.refused = fmt::format("the panelled area has {} corners; at least 3 are needed", area.points.size());
        return answer;
    }
    Problem problem{stock, rules, full_order(wish.order), wish.align, 0, 0, 0, 0, {}, {}, 0, {}};
    const auto e = extent(Profile(area));
    problem.left = e[0];
    problem.right = e[1];
    problem.height = e[3] - e[2];
    problem.area = standproud::area(area);
    find_strips(problem);
    forbid(problem, fittings);
    answer.refused = refuse_numbers(problem, wish);
    if (answer.refused.empty()) answer.refused = refuse_fittings(fittings);
    if (!answer.refused.empty()) return answer;
    bool wettest = true;
    Best best(problem, wish.layouts, wish.apart);
    search(problem, wettest, best);
    if (best.found().empty() && rules.wettest) {
        wettest = false;
        search(problem, wettest, best);
    }
    if (best.found().empty()) {
        answer.refused = no_layout(problem);
        return answer;
    }
    JoinPlan plan;
    for (const Found& found : best.found()) plan.best.push_back(layout_of(problem, area, found, !wettest));
    Best refused(problem, most_refused, wish.apart);
    search_refused(problem, wettest, plan.best[0].score, refused);
    for (const Found& found : refused.found()) {
        plan.refused.push_back({layout_of(problem, area, found, false).joins, found.assigned.score, found.reasons});
    }
    answer.plan = std::move(plan);
    return answer;
}

}  // namespace standproud::joins
