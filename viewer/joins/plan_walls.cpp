// A job's walls put to the join planner.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench/work_out.hpp"
#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"
#include "viewer/joins_report.hpp"

namespace standproud::viewer {

namespace {

/// Places are printed and typed in to 0.01 mm: what stands on a limit must not be over it then.
constexpr double printed = 0.01;

/// Each wall's panels as one, in their own plane, openings not cut out.
std::vector<Panel> whole_panels(const Model& model) {
    Job plain = model.job;
    for (auto& one : plain.walls) {
        one.joins.clear();
        one.level_joins.clear();
        one.openings.clear();
    }
    return lay_panels(plain, model.room);
}

std::vector<joins::JoinFitting> fittings_on(const Model& model, std::size_t wall, const Panel& whole) {
    std::vector<joins::JoinFitting> fittings;
    for (std::size_t i = 0; i < model.fittings.size(); ++i) {
        const PlacedFitting& placed = model.fittings[i];
        if (placed.wall != wall) continue;
        joins::JoinFitting fitting{fitting_of(model, placed).id, {}, {}};
        for (const auto& panel : model.panels) {
            for (const auto& hole : panel.holes) {
                if (hole.fitting == i) fitting.holes.push_back(hole.opening);
            }
        }
        for (const auto& flange : type_of(model, placed).flanges) {
            RoundedRect shape = moved(flange.shape, {placed.u, placed.v});
            shape.centre = on_panel(model, whole, shape.centre);
            fitting.flanges.push_back(shape);
        }
        fittings.push_back(std::move(fitting));
    }
    return fittings;
}

/// Upright joins may run into an opening, level ones not; none so near its edges that a narrow strip would be left.
std::vector<joins::JoinFitting> openings_on(const Model& model, std::size_t wall, const Panel& whole, double strip) {
    std::vector<joins::JoinFitting> found;
    for (const auto& cut : cuts_of(model.job, model.room, wall, whole.place)) {
        const auto e = extent(cut.shape);
        joins::JoinFitting edges{"the edge of " + model.job.walls[wall].openings[cut.opening].id, {}, {}};
        for (const double x : {e[0], e[1]})
            edges.holes.push_back(RoundedRect::rect({x, (e[2] + e[3]) / 2}, 2 * strip, e[3] - e[2] + 2 * strip));
        found.push_back(std::move(edges));
    }
    return found;
}

/// The wall is wettest under its highest outlet: where that is, in the panel's plane.
std::optional<Vec2> highest_outlet(const Model& model, std::size_t wall, const Panel& whole) {
    std::optional<Vec2> line;
    double highest = 0;
    for (const auto& placed : model.fittings) {
        if (placed.wall != wall || type_of(model, placed).use != Use::water_outlet) continue;
        if (line && placed.v <= highest) continue;
        highest = placed.v;
        line = on_panel(model, whole, {placed.u, placed.v});
    }
    return line;
}

/// Places counted from the left bare corner, half-way up the panels, and heights from the datum, half-way along them,
/// against x and y of the panels' own plane. The plane may be turned against the wall, so a mm of one is not quite a mm
/// of the other.
class Places {
  public:
    Places(const Model& model, std::size_t w, const Panel& whole)
        : wall_(model.room.walls[w]),
          plane_(whole.place),
          middle_((panel_bottom(model.job, w) + panel_top(model.job, model.room, w, model.job.walls[w].width / 2)) / 2),
          corner_(bare_corner(model.job, model.room, w, Side::left, middle_)),
          at_0_(on_plane(wall_, plane_, {0, middle_}).x),
          per_mm_((on_plane(wall_, plane_, {1000, middle_}).x - at_0_) / 1000),
          along_(model.job.walls[w].width / 2),
          at_datum_(on_plane(wall_, plane_, {along_, 0}).y),
          up_per_mm_((on_plane(wall_, plane_, {along_, 1000}).y - at_datum_) / 1000) {}

    /// A join is upright and straight in the wall's frame. By how much an edge there leaves its place in the plane,
    /// over `reach` up or down and through `depth` of bed and panel.
    [[nodiscard]] double astray(double reach, double depth) const {
        return std::abs(on_plane(wall_, plane_, {0, middle_ + reach}).x - at_0_) +
               depth * std::abs(dot(plane_.z, wall_.x));
    }
    /// The same for an edge along a level join, over `reach` left or right.
    [[nodiscard]] double level_astray(double reach, double depth) const {
        return std::abs(on_plane(wall_, plane_, {along_ + reach, 0}).y - at_datum_) +
               depth * std::abs(dot(plane_.z, wall_.y));
    }
    [[nodiscard]] double middle() const { return middle_; }
    [[nodiscard]] double of_u(double u) const { return u - corner_; }
    /// x of the place that places count from.
    [[nodiscard]] double zero() const { return at_0_ + per_mm_ * corner_; }
    /// y of the datum.
    [[nodiscard]] double datum() const { return at_datum_; }
    void heights_from_plane(std::vector<double>& all) const {
        for (double& y : all) y /= up_per_mm_;
    }
    void heights_to_plane(std::vector<double>& all) const {
        for (double& v : all) v *= up_per_mm_;
    }
    [[nodiscard]] double height_from_plane(double y) const { return y / up_per_mm_; }
    /// Between places and x counted from `zero`.
    [[nodiscard]] double to_plane(double place) const { return per_mm_ * place; }
    [[nodiscard]] double from_plane(double x) const { return x / per_mm_; }
    void from_plane(std::vector<double>& all) const {
        for (double& x : all) x = from_plane(x);
    }

  private:
    Frame wall_;
    Frame plane_;
    double middle_;
    double corner_;
    double at_0_;
    double per_mm_;
    double along_;
    double at_datum_;
    double up_per_mm_;
};

/// A wall as the planner takes it.
struct PosedWall {
    Places places;
    Polygon area;  ///< from Places::zero and datum, so that what the planner says in words is a place, to the lean
    std::vector<joins::JoinFitting> fittings;
    std::vector<nesting::Stock> stock;
    joins::JoinRules rules;
    joins::JoinWish wish;
    std::vector<double> drawn;         ///< the wall's own joins, rising
    std::vector<double> drawn_levels;  ///< and its level joins, heights from the datum, rising
};

/// With so much to spare at every hole, flange and sheet's edge, mm.
PosedWall pose(const Model& model, const Panel& whole, const JoinsReport& report, double spare) {
    const Job& job = model.job;
    const std::size_t w = whole.wall;
    PosedWall posed{Places(model, w, whole), whole.outline, fittings_on(model, w, whole), {}, report.rules, {}, {}, {}};
    const Places& places = posed.places;
    const double strip = std::max(0.0, report.rules.least_piece - report.rules.hole_edge);
    for (auto& edges : openings_on(model, w, whole, strip)) posed.fittings.push_back(std::move(edges));
    const Vec2 shift{-places.zero(), -places.datum()};
    for (Vec2& corner : posed.area.points) corner = corner + shift;
    for (auto& fitting : posed.fittings) {
        for (auto* shapes : {&fitting.holes, &fitting.flanges}) {
            for (RoundedRect& shape : *shapes) shape = moved(shape, shift);
        }
    }
    for (const auto& join : job.walls[w].joins) {
        if (const auto u = along_wall(job, model.room, w, join, places.middle()))
            posed.drawn.push_back(places.of_u(*u));
    }
    std::sort(posed.drawn.begin(), posed.drawn.end());
    for (const auto& level : placed_levels(job, w)) posed.drawn_levels.push_back(level.v);
    posed.rules.gap = join_gap(job, w).width;
    const auto tall = extent(whole.outline);
    const auto& bedding = model.room.faces[w].bedding;
    const double depth = whole.thickness + build_up(job, model.room, w, 0, 0) + (bedding ? bedding->greatest_bed : 0);
    const double astray =
        std::max(places.astray((tall[3] - tall[2]) / 2, depth), places.level_astray((tall[1] - tall[0]) / 2, depth));
    posed.rules.hole_edge += astray + spare;
    posed.rules.flange_edge += astray + spare;
    if (const auto outlet = highest_outlet(model, w, whole)) {
        posed.rules.wettest = outlet->x + shift.x;
        posed.rules.outlet = outlet->y + shift.y;
    }
    posed.wish.levels_freely = report.wishes.levels_freely;
    posed.wish.order = report.wishes.order;
    posed.wish.layouts = report.wishes.layouts;
    if (report.wishes.align) posed.wish.align = places.to_plane(*report.wishes.align);
    for (const auto& sheet : job.sheets) {
        posed.stock.push_back(stock_of(sheet, *job.bench, report.priced));
        posed.stock.back().width -= 2 * spare;  // both edges of a piece may be joins
        posed.stock.back().height -= 2 * spare;
    }
    return posed;
}

void from_plane(const Places& places, std::vector<joins::JoinPiece>& pieces) {
    for (auto& piece : pieces) {
        piece.from = places.from_plane(piece.from);
        piece.to = places.from_plane(piece.to);
        piece.bottom = places.height_from_plane(piece.bottom);
        piece.top = places.height_from_plane(piece.top);
    }
}

/// Why joins of a wall cannot be planned: openings that part its panels, or take all of them.
std::string parted_words(const Model& model, std::size_t wall) {
    if (model.job.walls[wall].openings.empty()) return "";
    Job plain = model.job;
    for (std::size_t w = 0; w < plain.walls.size(); ++w) {
        plain.walls[w].joins.clear();
        plain.walls[w].level_joins.clear();
        if (w != wall) plain.walls[w].layers.clear();
    }
    const auto panels = lay_panels(plain, model.room);
    const auto pieces =
        std::count_if(panels.begin(), panels.end(), [&](const Panel& panel) { return panel.wall == wall; });
    if (pieces == 1) return "";
    return pieces == 0 ? "openings leave nothing of its panels"
                       : fmt::format(
                             "openings part its panels into {} without any join: joins are planned only for "
                             "walls in one piece; draw those that are wanted, and ask bench",
                             pieces);
}

WallJoins plan_wall(const Model& model, const Panel& whole, const JoinsReport& report) {
    const PosedWall posed = pose(model, whole, report, printed);
    WallJoins planned;
    planned.wall = model.job.walls[whole.wall].id;
    planned.gap = posed.rules.gap;
    planned.drawn = posed.drawn;
    planned.drawn_levels = posed.drawn_levels;
    planned.answer.refused = parted_words(model, whole.wall);
    if (!planned.answer.refused.empty()) return planned;
    planned.answer = joins::plan_joins(posed.area, posed.fittings, posed.stock, posed.rules, posed.wish);
    if (!planned.answer.plan) return planned;
    // The sheets as they are, not less what printing rounds off: the same score as for joins that are drawn.
    const PosedWall plain = pose(model, whole, report, 0);
    for (auto& layout : planned.answer.plan->best) {
        const auto again = joins::score_joins(plain.area, plain.fittings, plain.stock, plain.rules, plain.wish,
                                              layout.joins, layout.levels);
        if (again.scored) layout.score = again.scored->score;
        posed.places.from_plane(layout.joins);
        posed.places.heights_from_plane(layout.levels);
        from_plane(posed.places, layout.pieces);
    }
    for (auto& refused : planned.answer.plan->refused) {
        posed.places.from_plane(refused.joins);
        posed.places.heights_from_plane(refused.levels);
    }
    return planned;
}

DrawnJoins score_wall(const Model& model, const Panel& whole, const JoinsReport& report) {
    const PosedWall posed = pose(model, whole, report, 0);
    std::vector<double> places = posed.drawn;
    for (double& place : places) place = posed.places.to_plane(place);
    std::vector<double> levels = posed.drawn_levels;
    posed.places.heights_to_plane(levels);
    DrawnJoins drawn;
    drawn.wall = model.job.walls[whole.wall].id;
    drawn.answer.refused = parted_words(model, whole.wall);
    if (!drawn.answer.refused.empty()) return drawn;
    drawn.answer = joins::score_joins(posed.area, posed.fittings, posed.stock, posed.rules, posed.wish,
                                      std::move(places), std::move(levels));
    if (!drawn.answer.scored) return drawn;
    drawn.answer.scored->joins = posed.drawn;
    drawn.answer.scored->levels = posed.drawn_levels;
    from_plane(posed.places, drawn.answer.scored->pieces);
    return drawn;
}

/// All but the walls.
JoinsReport begin_report(const CheckedJob& job, const JoinWishes& wishes) {
    const Job& read = job.model.job;
    JoinsReport report;
    report.file = read.file;
    report.name = read.name;
    report.revision = read.revision;
    report.wishes = wishes;
    const double setout = job.limits.at("setout.hole").value;
    report.rules.gap = read.panels.gaps.join.width;
    report.rules.least_piece = wishes.least_piece;
    report.rules.least_height = wishes.least_height;
    report.rules.hole_edge = job.limits.at("hole.edge").value + setout;
    report.rules.flange_edge = setout;
    report.rules.kerf = figure(*read.bench, "kerf");
    std::vector<const SheetStock*> sheets;
    for (const auto& sheet : read.sheets) {
        sheets.push_back(&sheet);
        report.stock.push_back(sheet.id);
    }
    report.priced = all_priced(sheets);
    return report;
}

/// Calls back with the whole panel of each wall that is asked for, in the walls' order.
template <typename Visit>
void each_wall(const Model& model, const std::string& wall, const Visit& visit) {
    const auto wholes = whole_panels(model);
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        if (!wall.empty() && model.job.walls[w].id != wall) continue;
        const auto whole =
            std::find_if(wholes.begin(), wholes.end(), [&](const Panel& panel) { return panel.wall == w; });
        if (whole != wholes.end()) visit(*whole);
    }
}

/// What counts first of sheets and price, by the wish; without one, as `bench` nests.
nesting::NestingRules rules_together(const JoinsReport& report, const BenchSettings& settings) {
    nesting::NestingRules rules;
    rules.kerf = figure(settings, "kerf");
    rules.usable_side = figure(settings, "usable_offcut");
    rules.aim = report.priced ? nesting::Aim::cheapest : nesting::Aim::fewest_sheets;
    const auto& order = report.wishes.order;
    for (const auto preference : {joins::Preference::least_cost, joins::Preference::least_waste}) {
        if (std::find(order.begin(), order.end(), preference) != order.end()) rules.aim = nesting::Aim::cheapest;
    }
    rules.effort = 2'000'000;  // of each combination: some hundredths of a second
    return rules;
}

void nest_together(const CheckedJob& job, JoinsReport& report) {
    constexpr long long last_effort = 20'000'000;
    const Job& read = job.model.job;
    double thickness = 0;
    for (const auto& panel : job.model.panels) {
        if (thickness > 0 && std::abs(panel.thickness - thickness) > same_length) {
            report.together = {std::nullopt, "panels of different thickness do not come from the same sheets"};
            return;
        }
        thickness = panel.thickness;
    }
    std::vector<joins::WallLayouts> walls;
    for (const auto& wall : report.walls) {
        joins::WallLayouts layouts{wall.wall, {}};
        if (!wall.answer.plan) {
            report.together = {std::nullopt, "wall " + wall.wall + " has no layout"};
            return;
        }
        for (const auto& layout : wall.answer.plan->best) {
            std::vector<nesting::Piece> pieces;
            for (const auto& piece : layout.pieces) {
                const auto e = extent(Profile(piece.outline));
                // To spare for places that are typed in.
                pieces.push_back({wall.wall, e[1] - e[0] + 2 * printed, e[3] - e[2] + 2 * printed, true});
            }
            layouts.layouts.push_back(std::move(pieces));
        }
        walls.push_back(std::move(layouts));
    }
    // The strips of reveals come from the same sheets, whatever the joins.
    joins::WallLayouts strips{"reveals", {{}}};
    for (const auto& strip : job.model.reveals) {
        const auto e = extent(Profile(strip.outline));
        strips.layouts[0].push_back({strip.id, e[1] - e[0], e[3] - e[2], true});
    }
    if (!strips.layouts[0].empty()) walls.push_back(std::move(strips));
    std::vector<nesting::Stock> stock;
    for (const auto& sheet : read.sheets) {
        stock.push_back(stock_of(sheet, *read.bench, report.priced));
        if (together_by_area(report)) stock.back().price = sheet.width * sheet.height * 1e-6;
    }
    report.together = joins::choose_together(walls, stock, rules_together(report, *read.bench), last_effort);
}

}  // namespace

std::optional<joins::Preference> preference_named(const std::string& word) {
    if (word == "fewest") return joins::Preference::fewest_joins;
    if (word == "cost") return joins::Preference::least_cost;
    if (word == "waste") return joins::Preference::least_waste;
    if (word == "symmetry") return joins::Preference::symmetrical;
    if (word == "align") return joins::Preference::aligned;
    return std::nullopt;
}

bool together_by_area(const JoinsReport& report) {
    for (const auto preference : report.wishes.order) {
        if (preference == joins::Preference::least_waste) return true;
        if (preference == joins::Preference::least_cost) return false;
    }
    return false;
}

JoinsReport plan_job_joins(const CheckedJob& job, const std::string& wall, const JoinWishes& wishes) {
    JoinsReport report = begin_report(job, wishes);
    each_wall(job.model, wall,
              [&](const Panel& whole) { report.walls.push_back(plan_wall(job.model, whole, report)); });
    if (wall.empty() && (report.walls.size() > 1 || !job.model.reveals.empty())) nest_together(job, report);
    return report;
}

std::vector<DrawnJoins> score_job_joins(const CheckedJob& job, const std::string& wall, const JoinWishes& wishes) {
    const JoinsReport report = begin_report(job, wishes);
    std::vector<DrawnJoins> all;
    each_wall(job.model, wall, [&](const Panel& whole) { all.push_back(score_wall(job.model, whole, report)); });
    return all;
}

}  // namespace standproud::viewer
