#include "survey/bedding_problem.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace standproud::survey {

namespace {

/// Spots within this of one place or one line are there: places are taped to a millimetre, so a tilt read off less is
/// none, mm.
constexpr double one_place = 1;

/// A bed within this of bed_min rests, mm.
constexpr double resting = 1e-7;

/// The most a panel's back may tilt, mm per mm.
constexpr double steepest = 1;

using Kind = BeddingDoubt::Kind;

Vec2 place(const WallPoint& spot) { return {spot.u, spot.v}; }

Vec2 centroid(const Polygon& shape) {
    const auto& p = shape.points;
    Vec2 sum;
    double twice = 0;
    for (std::size_t i = 1; i + 1 < p.size(); ++i) {
        const double part = cross(p[i] - p[0], p[i + 1] - p[0]);
        sum = sum + part / 3 * ((p[i] - p[0]) + (p[i + 1] - p[0]));
        twice += part;
    }
    return p[0] + 1 / twice * sum;
}

/// The corners of the convex hull, anticlockwise (the monotone chain: Andrew 1979).
std::vector<Vec2> hull_of(std::vector<Vec2> points) {
    std::sort(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
    const auto same = [](Vec2 a, Vec2 b) { return a.x == b.x && a.y == b.y; };
    points.erase(std::unique(points.begin(), points.end(), same), points.end());
    if (points.size() < 3) return points;
    std::vector<Vec2> hull;
    for (int side = 0; side < 2; ++side) {
        const std::size_t start = hull.size();
        for (const Vec2 p : points) {
            while (hull.size() >= start + 2 &&
                   cross(hull.back() - hull[hull.size() - 2], p - hull[hull.size() - 2]) <= 0) {
                hull.pop_back();
            }
            hull.push_back(p);
        }
        hull.pop_back();
        std::reverse(points.begin(), points.end());
    }
    return hull;
}

Vec2 nearest_on(Vec2 a, Vec2 b, Vec2 p) {
    const Vec2 edge = b - a;
    const double square = dot(edge, edge);
    const double t = square > 0 ? std::clamp(dot(p - a, edge) / square, 0.0, 1.0) : 0.0;
    return a + t * edge;
}

/// The place in a convex, anticlockwise hull that is nearest to p: p itself inside.
Vec2 nearest_in(const std::vector<Vec2>& hull, Vec2 p) {
    bool inside = hull.size() >= 3;
    Vec2 nearest = hull.front();
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Vec2 a = hull[i];
        const Vec2 b = hull[(i + 1) % hull.size()];
        inside = inside && cross(b - a, p - a) >= 0;
        const Vec2 candidate = nearest_on(a, b, p);
        if (norm(candidate - p) < norm(nearest - p)) nearest = candidate;
    }
    return inside ? p : nearest;
}

double reach_along(const std::vector<Vec2>& hull, Vec2 direction) {
    double least = dot(hull.front(), direction);
    double most = least;
    for (const Vec2 p : hull) {
        least = std::min(least, dot(p, direction));
        most = std::max(most, dot(p, direction));
    }
    return most - least;
}

/// The direction along the strip that holds the hull most narrowly: it lies along one of its edges.
Vec2 narrow_strip(const std::vector<Vec2>& hull) {
    Vec2 best{1, 0};
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Vec2 edge = hull[(i + 1) % hull.size()] - hull[i];
        if (norm(edge) == 0) continue;
        const Vec2 along = 1 / norm(edge) * edge;
        const double width = reach_along(hull, {-along.y, along.x});
        if (width < least) {
            least = width;
            best = along;
        }
    }
    return best;
}

bool convex(const Polygon& outline) {
    const auto& p = outline.points;
    if (p.size() < 3 || !(area(outline) > 0)) return false;
    double turned = 0;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 a = p[(i + 1) % p.size()] - p[i];
        const Vec2 b = p[(i + 2) % p.size()] - p[(i + 1) % p.size()];
        if (cross(a, b) < -same_length * (norm(a) + norm(b))) return false;
        turned += std::atan2(cross(a, b), dot(a, b));
    }
    return turned < 3 * pi;  // once round, not twice
}

std::string wrong_with(const std::vector<WallPoint>& spots, const Polygon& outline, const BeddingRule& rule) {
    constexpr double most = 20000;
    const auto sound = [](double x) { return std::abs(x) <= most; };  // false for what is no number, too
    for (std::size_t i = 0; i < spots.size(); ++i) {
        if (!sound(spots[i].u) || !sound(spots[i].v) || !sound(spots[i].n)) {
            return fmt::format("spot {} is at u {:g}, v {:g}, n {:g}: each must be a number from -20000 to 20000 mm",
                               i + 1, spots[i].u, spots[i].v, spots[i].n);
        }
    }
    for (const Vec2 p : outline.points) {
        if (!sound(p.x) || !sound(p.y)) return fmt::format("the outline has a corner at u {:g}, v {:g}", p.x, p.y);
    }
    if (!convex(outline)) return "the outline must be convex, its corners listed anticlockwise, and not flat";
    if (!sound(rule.substrate) || rule.substrate < 0) {
        return fmt::format("substrate is {:g} mm: it must be 0 or more", rule.substrate);
    }
    if (!sound(rule.bed_min) || rule.bed_min < 0) {
        return fmt::format("bed_min is {:g} mm: it must be 0 or more", rule.bed_min);
    }
    if (rule.bed_max && !(sound(*rule.bed_max) && *rule.bed_max >= rule.bed_min)) {
        return fmt::format("bed_max is {:g} mm: it must be bed_min ({:g} mm) or more", *rule.bed_max, rule.bed_min);
    }
    if (rule.turn && !(std::abs(*rule.turn) <= 1)) {
        return fmt::format("turn is {:g} mm per mm: it must be from -1 to 1", *rule.turn);
    }
    return {};
}

void doubt(BeddingProblem& problem, Kind kind, std::string says) { problem.doubts.push_back({kind, std::move(says)}); }

/// Two free tilts: none of them may go unread.
void free_both(BeddingProblem& problem, const std::vector<Vec2>& hull) {
    const Vec2 along = narrow_strip(hull);
    const Vec2 across{-along.y, along.x};
    const double length = reach_along(hull, along);
    const double width = reach_along(hull, across);
    if (length < one_place) {
        doubt(problem, Kind::one_spot,
              fmt::format("all spots are at u {:.0f}, v {:.0f}: how the face tilts is not known; taken as not at all",
                          hull[0].x, hull[0].y));
        return;
    }
    problem.along.push_back(1 / length * along);
    if (width < one_place) {
        doubt(problem, Kind::one_line,
              fmt::format("all spots are on one line from u {:.0f}, v {:.0f} to u {:.0f}, v {:.0f}: how the face tilts "
                          "across it is not known; taken as not at all",
                          hull[0].x, hull[0].y, hull[1].x, hull[1].y));
        return;
    }
    problem.along.push_back(1 / width * across);
}

void free_one(BeddingProblem& problem, const std::vector<Vec2>& hull, Vec2 direction) {
    const double length = reach_along(hull, direction);
    if (length < one_place) {
        const bool turns = direction.x != 0;
        doubt(problem, Kind::one_line,
              fmt::format("all spots are at {} {:.0f}: how the face {} is not known; taken as not at all",
                          turns ? "u" : "v", turns ? hull[0].x : hull[0].y, turns ? "turns" : "leans"));
        return;
    }
    problem.along.push_back(1 / length * direction);
}

/// The place the plane is lowest at: the middle, or the surveyed place nearest to it.
void aim(BeddingProblem& problem, const std::vector<Vec2>& hull) {
    problem.target = problem.middle;
    if (problem.along.size() == 2) {
        problem.target = nearest_in(hull, problem.middle);
    } else if (problem.along.size() == 1) {
        const Vec2 d = 1 / norm(problem.along[0]) * problem.along[0];
        double least = dot(hull.front(), d);
        double most = least;
        for (const Vec2 p : hull) {
            least = std::min(least, dot(p, d));
            most = std::max(most, dot(p, d));
        }
        const double at = dot(problem.middle, d);
        problem.target = problem.middle + (std::clamp(at, least, most) - at) * d;
    }
    const double off = norm(problem.target - problem.middle);
    if (off <= same_length) return;
    doubt(
        problem, Kind::middle_outside,
        fmt::format("the middle of the panel (u {:.0f}, v {:.0f}) lies {:.1f} mm outside the surveyed spots, so there "
                    "is no lowest plane; taken as lowest at u {:.0f}, v {:.0f}",
                    problem.middle.x, problem.middle.y, off, problem.target.x, problem.target.y));
}

}  // namespace

Rows BeddingProblem::entries(Vec2 at) const {
    Rows rows_at{1, 0, 0, 0};
    for (std::size_t k = 0; k < along.size(); ++k) rows_at[k + 1] = dot(along[k], at - target);
    return rows_at;
}

BackPlane BeddingProblem::plane(const Rows& unknowns) const {
    BackPlane plane = base;
    Vec2 tilt;
    for (std::size_t k = 0; k < along.size(); ++k) tilt = tilt + unknowns[k + 1] * along[k];
    plane.a += unknowns[0] - dot(tilt, target);
    plane.b += tilt.x;
    plane.c += tilt.y;
    return plane;
}

double BeddingProblem::needed(std::size_t spot, double substrate, double bed) const {
    const WallPoint& at = spots[spot];
    return at.n + substrate + bed - base.at(at.u, at.v);
}

std::vector<Column> BeddingProblem::slack() const {
    std::vector<Column> columns;
    for (std::size_t k = 0; k < along.size(); ++k) {
        for (const double way : {1.0, -1.0}) {
            Column column;
            column.entries[k + 1] = way;
            column.upper = 1e-12 + 2e-11 * norm(along[k]);
            columns.push_back(column);
        }
    }
    return columns;
}

SimplexAnswer BeddingProblem::lowest(std::vector<Column> columns) const {
    const Rows balance{1, 0, 0, 0};
    const SimplexAnswer answer = most_worth(rows(), columns, balance);
    if (answer.state != SimplexAnswer::State::infeasible) return answer;
    for (const Column& column : slack()) columns.push_back(column);
    return most_worth(rows(), columns, balance);
}

std::optional<BeddingProblem> state_problem(const std::vector<WallPoint>& spots, const Polygon& outline,
                                            const BeddingRule& rule, std::string& refused) {
    refused = wrong_with(spots, outline, rule);
    if (!refused.empty()) return std::nullopt;
    BeddingProblem problem;
    problem.spots = spots;
    std::vector<Vec2> places;
    double mean = 0;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        const Vec2 p = place(spots[i]);
        if (norm(nearest_in(outline.points, p) - p) > rule.count_within + same_length) continue;
        problem.counted.push_back(i);
        places.push_back(p);
        mean += spots[i].n;
    }
    if (places.empty()) {
        refused = spots.empty() ? "there are no surveyed spots"
                                : fmt::format("none of the {} surveyed spots is within {:g} mm of the panel",
                                              spots.size(), rule.count_within);
        return std::nullopt;
    }
    problem.middle = centroid(outline);
    problem.base.b = rule.turn.value_or(0);
    problem.base.a = mean / static_cast<double>(places.size()) - problem.base.b * problem.middle.x;
    const std::vector<Vec2> hull = hull_of(places);
    for (const Vec2 corner : outline.points) {
        problem.unsurveyed = std::max(problem.unsurveyed, norm(nearest_in(hull, corner) - corner));
    }
    if (!rule.plumb && !rule.turn) free_both(problem, hull);
    if (rule.plumb && !rule.turn) free_one(problem, hull, {1, 0});
    if (!rule.plumb && rule.turn) free_one(problem, hull, {0, 1});
    aim(problem, hull);
    return problem;
}

std::string in_words(const std::vector<BeddingDoubt>& doubts) {
    std::string text;
    for (const auto& one : doubts) text += (text.empty() ? "" : "; ") + one.says;
    return text;
}

std::string too_steep(const BackPlane& plane) {
    if (std::hypot(plane.b, plane.c) <= steepest) return {};
    return fmt::format(
        "the lowest plane turns by {:.3g} and leans by {:.3g} mm per mm: no wall is that steep, so the "
        "spots lie too close together, or too much to one side of the panel's middle",
        plane.b, plane.c);
}

Bedding measured(const BeddingProblem& problem, const BeddingRule& rule, BackPlane back,
                 const std::vector<double>& depths, bool settle) {
    const auto bed_at = [&](std::size_t i) {
        const WallPoint& spot = problem.spots[i];
        return back.at(spot.u, spot.v) - spot.n + (depths.empty() ? 0 : depths[i]) - rule.substrate;
    };
    double least = std::numeric_limits<double>::infinity();
    for (const std::size_t i : problem.counted) least = std::min(least, bed_at(i));
    if (settle || least < rule.bed_min) back.a += rule.bed_min - least;
    Bedding bedding;
    bedding.back = back;
    bedding.assumed = problem.doubts;
    bedding.unsurveyed = problem.unsurveyed;
    bedding.back_at_middle = back.at(problem.middle.x, problem.middle.y);
    bedding.thickest = problem.counted.front();
    for (std::size_t i = 0; i < problem.spots.size(); ++i) {
        const double bed = bed_at(i);
        bedding.spots.push_back({problem.spots[i], false, bed, bed - rule.bed_min, false});
    }
    for (const std::size_t i : problem.counted) {
        SpotBed& spot = bedding.spots[i];
        spot.counted = true;
        spot.rests = spot.packing <= resting;
        if (spot.rests) bedding.rests_on.push_back(i);
        if (spot.bed > bedding.spots[bedding.thickest].bed + same_length) bedding.thickest = i;
        bedding.mean_packing += spot.packing / static_cast<double>(problem.counted.size());
    }
    bedding.greatest_bed = bedding.spots[bedding.thickest].bed;
    bedding.greatest_packing = bedding.spots[bedding.thickest].packing;
    return bedding;
}

}  // namespace standproud::survey
