// From what the planner is given to the problem it works on, or what is wrong with it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "joins/problem.hpp"

namespace standproud::joins {

namespace {

std::vector<Preference> full_order(std::vector<Preference> order) {
    for (const Preference p : {Preference::fewest_joins, Preference::least_cost, Preference::least_waste}) {
        if (std::find(order.begin(), order.end(), p) == order.end()) order.push_back(p);
    }
    return order;
}

/// As it is said: a hundredth more or less, for a wall that leans, is of no interest to a reader.
double tenth(double value) { return std::round(10 * value) / 10; }

void forbid(Problem& problem, const std::vector<JoinFitting>& fittings) {
    const double half = problem.rules.gap / 2;
    const bool rows = problem.side == Axis::rows;
    const auto keep_off = [&](const RoundedRect& shape, double distance, std::string why) {
        const double middle = rows ? shape.centre.y : shape.centre.x;
        const double reach = (rows ? shape.half_height : shape.half_width) + distance + half;
        problem.forbidden.push_back({middle - reach, middle + reach, std::move(why), false});
    };
    for (const JoinFitting& fitting : fittings) {
        for (const RoundedRect& hole : fitting.holes) {
            keep_off(
                hole, problem.rules.hole_edge,
                fmt::format("nearer than {:g} mm to the hole of {}", tenth(problem.rules.hole_edge), fitting.name));
        }
        for (const RoundedRect& flange : fitting.flanges) {
            keep_off(flange, problem.rules.flange_edge,
                     problem.rules.flange_edge > 0 ? fmt::format("nearer than {:g} mm to the flange of {}",
                                                                 tenth(problem.rules.flange_edge), fitting.name)
                                                   : fmt::format("under the flange of {}", fitting.name));
        }
    }
    if (rows && problem.rules.outlet) {
        problem.forbidden.push_back({std::min(problem.left, *problem.rules.outlet) - 1, *problem.rules.outlet + half,
                                     "below the shower's outlet, where water runs over it", true});
    }
    if (!rows && problem.rules.wettest) {
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
                const auto fine = [](double half) { return half >= 0 && half <= 20'000; };
                if (std::isfinite(r.centre.x) && fine(r.half_width) && std::isfinite(r.centre.y) && fine(r.half_height))
                    continue;
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
        if (problem.side != Axis::alone) {
            const bool rows = problem.side == Axis::rows;
            problem.strips.push_back({t, rows ? height : width});
            if (!s.patterned) problem.strips.push_back({t, rows ? width : height});
            continue;
        }
        double along = 0;  // the longer way does whatever the shorter one does
        if (problem.height <= height + same_length) along = width;
        if (!s.patterned && problem.height <= width + same_length) along = std::max(along, height);
        if (along > 0) problem.strips.push_back({t, along});
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
    if (wrong(r.least_height, 0.01, 20'000)) {
        return fmt::format("least height {} mm; it must be 0.01 to 20 000", r.least_height);
    }
    if (wrong(r.hole_edge, 0, 1000)) return fmt::format("hole edge {} mm; it must be 0 to 1000", r.hole_edge);
    if (wrong(r.flange_edge, 0, 1000)) return fmt::format("flange edge {} mm; it must be 0 to 1000", r.flange_edge);
    if (wrong(r.wettest_clear, 0, 5000))
        return fmt::format("wettest clear {} mm; it must be 0 to 5000", r.wettest_clear);
    if (r.most_joins < 0 || r.most_joins >= static_cast<int>(most_planned)) {
        return fmt::format("most joins {}; it must be 0 to {}: with more there are too many layouts to search them all",
                           r.most_joins, most_planned - 1);
    }
    if (r.most_levels < 0 || r.most_levels > static_cast<int>(most_levels)) {
        return fmt::format("most level joins {}; it must be 0 to {}", r.most_levels, most_levels);
    }
    if (r.outlet && !std::isfinite(*r.outlet)) return "the height of the outlet is not a number";
    if ((r.wettest && !std::isfinite(*r.wettest)) || (wish.align && !std::isfinite(*wish.align))) {
        return "the wettest line or the line to align with is not a number";
    }
    if (problem.stock.size() > 30) return fmt::format("{} kinds of sheet; at most 30", problem.stock.size());
    if (wish.layouts == 0) return "0 layouts were asked for; at least 1";
    for (const nesting::Stock& s : problem.stock) {
        if (wrong(s.width - 2 * s.edge_trim, 0.01, 20'000) || wrong(s.height - 2 * s.edge_trim, 0.01, 20'000)) {
            return fmt::format("stock {}: {} x {} mm with edge trim {}; each side must be over 0 and at most 20 000",
                               s.id, s.width, s.height, s.edge_trim);
        }
    }
    return {};
}

}  // namespace

Problem pose(const Polygon& area, const std::vector<JoinFitting>& fittings, const std::vector<nesting::Stock>& stock,
             const JoinRules& rules, const JoinWish& wish, std::string& refused, Axis side) {
    Problem problem{stock, rules, full_order(wish.order), wish.align, 0, 0, 0, 0, {}, {}, 0, side, {}, {}};
    if (area.points.size() < 3) {
        refused = fmt::format("the panelled area has {} corners; at least 3 are needed", area.points.size());
        return problem;
    }
    const auto e = extent(Profile(area));
    const bool rows = side == Axis::rows;
    problem.left = e[rows ? 2 : 0];
    problem.right = e[rows ? 3 : 1];
    problem.height = rows ? e[1] - e[0] : e[3] - e[2];
    problem.area = standproud::area(area);
    find_strips(problem);
    forbid(problem, fittings);
    refused = refuse_numbers(problem, wish);
    if (refused.empty()) refused = refuse_fittings(fittings);
    if (problem.strips.empty())
        problem.too_high = fmt::format(
            "no sheet is high enough for {:.1f} mm, within its edge trim, without a level join", problem.height);
    return problem;
}

std::vector<JoinPiece> pieces_of(const Problem& problem, const Polygon& area, const Places& places,
                                 const Assigned* assigned) {
    std::vector<JoinPiece> pieces;
    const auto tall = extent(Profile(area));
    const auto widths = widths_of(problem, places);
    double from = problem.left;
    for (std::size_t i = 0; i <= places.count; ++i) {
        JoinPiece piece;
        piece.from = from;
        piece.to = from + widths[i];
        piece.bottom = tall[2];
        piece.top = tall[3];
        piece.outline = clipped(clipped(area, {1, 0}, piece.from), {-1, 0}, -piece.to);
        if (assigned) piece.stock = assigned->stock[i];
        if (assigned) piece.sheet = assigned->sheet[i];
        pieces.push_back(std::move(piece));
        from = pieces.back().to + problem.rules.gap;
    }
    return pieces;
}

}  // namespace standproud::joins
