// A job's walls put to the join planner.
#include <algorithm>
#include <cmath>

#include "bench/work_out.hpp"
#include "modeler/gaps.hpp"
#include "viewer/joins_report.hpp"

namespace standproud::viewer {

namespace {

/// Places are printed and typed in to 0.01 mm: what stands on a limit must not be over it then.
constexpr double printed = 0.01;

/// The wall's panels as one, in their own plane; nothing where it has none.
std::optional<Panel> whole_panel(const Model& model, std::size_t wall) {
    Job plain = model.job;
    for (auto& one : plain.walls) one.joins.clear();
    for (auto& panel : lay_panels(plain, model.room)) {
        if (panel.wall == wall) return panel;
    }
    return std::nullopt;
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

/// The wall is wettest under its highest outlet.
std::optional<double> wettest_line(const Model& model, std::size_t wall, const Panel& whole) {
    std::optional<double> line;
    double highest = 0;
    for (const auto& placed : model.fittings) {
        if (placed.wall != wall || type_of(model, placed).use != Use::water_outlet) continue;
        if (line && placed.v <= highest) continue;
        highest = placed.v;
        line = on_panel(model, whole, {placed.u, placed.v}).x;
    }
    return line;
}

/// Places counted from the left bare corner, half-way up the panels, against x of the panels' own plane. The plane may
/// be turned against the wall, so a mm of one is not quite a mm of the other.
class Places {
  public:
    Places(const Model& model, std::size_t w, const Panel& whole)
        : wall_(model.room.walls[w]),
          plane_(whole.place),
          middle_((panel_bottom(model.job, w) + panel_top(model.job, model.room, w, model.job.walls[w].width / 2)) / 2),
          corner_(bare_corner(model.job, model.room, w, Side::left, middle_)),
          at_0_(on_plane(wall_, plane_, {0, middle_}).x),
          per_mm_((on_plane(wall_, plane_, {1000, middle_}).x - at_0_) / 1000) {}

    /// A join is upright and straight in the wall's frame. By how much an edge there leaves its place in the plane,
    /// over `reach` up or down and through `depth` of bed and panel.
    [[nodiscard]] double astray(double reach, double depth) const {
        return std::abs(on_plane(wall_, plane_, {0, middle_ + reach}).x - at_0_) +
               depth * std::abs(dot(plane_.z, wall_.x));
    }
    [[nodiscard]] double middle() const { return middle_; }
    [[nodiscard]] double of_u(double u) const { return u - corner_; }
    [[nodiscard]] double to_plane(double place) const { return at_0_ + per_mm_ * (place + corner_); }
    [[nodiscard]] double from_plane(double x) const { return (x - at_0_) / per_mm_ - corner_; }
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
};

WallJoins plan_wall(const Model& model, std::size_t w, const Panel& whole, const JoinsReport& report) {
    const Job& job = model.job;
    const Places places(model, w, whole);
    WallJoins planned;
    planned.wall = job.walls[w].id;
    planned.gap = join_gap(job, w).width;
    for (const auto& join : job.walls[w].joins) {
        if (const auto u = along_wall(job, model.room, w, join, places.middle()))
            planned.drawn.push_back(places.of_u(*u));
    }
    std::sort(planned.drawn.begin(), planned.drawn.end());
    joins::JoinRules rules = report.rules;
    rules.gap = planned.gap;
    const auto tall = extent(whole.outline);
    const auto& bedding = model.room.faces[w].bedding;
    const double depth = whole.thickness + build_up(job, model.room, w, 0, 0) + (bedding ? bedding->greatest_bed : 0);
    const double astray = places.astray((tall[3] - tall[2]) / 2, depth);
    rules.hole_edge += astray + printed;
    rules.flange_edge += astray + printed;
    rules.wettest = wettest_line(model, w, whole);
    joins::JoinWish wish;
    wish.order = report.wishes.order;
    wish.layouts = report.wishes.layouts;
    if (report.wishes.align) wish.align = places.to_plane(*report.wishes.align);
    std::vector<nesting::Stock> stock;
    for (const auto& sheet : job.sheets) {
        stock.push_back(stock_of(sheet, *job.bench, report.priced));
        stock.back().width -= 2 * printed;  // both edges of a piece may be joins
        stock.back().height -= 2 * printed;
    }
    planned.answer = joins::plan_joins(whole.outline, fittings_on(model, w, whole), stock, rules, wish);
    if (!planned.answer.plan) return planned;
    for (auto& layout : planned.answer.plan->best) {
        places.from_plane(layout.joins);
        for (auto& piece : layout.pieces) {
            piece.from = places.from_plane(piece.from);
            piece.to = places.from_plane(piece.to);
        }
    }
    for (auto& refused : planned.answer.plan->refused) places.from_plane(refused.joins);
    return planned;
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

JoinsReport plan_job_joins(const CheckedJob& job, const std::string& wall, const JoinWishes& wishes) {
    const Model& model = job.model;
    const Job& read = model.job;
    JoinsReport report;
    report.file = read.file;
    report.name = read.name;
    report.revision = read.revision;
    report.wishes = wishes;
    const double setout = job.limits.at("setout.hole").value;
    report.rules.gap = read.panels.gaps.join.width;
    report.rules.least_piece = wishes.least_piece;
    report.rules.hole_edge = job.limits.at("hole.edge").value + setout;
    report.rules.flange_edge = setout;
    report.rules.kerf = figure(*read.bench, "kerf");
    std::vector<const SheetStock*> sheets;
    for (const auto& sheet : read.sheets) {
        sheets.push_back(&sheet);
        report.stock.push_back(sheet.id);
    }
    report.priced = all_priced(sheets);
    for (std::size_t w = 0; w < read.walls.size(); ++w) {
        if (!wall.empty() && read.walls[w].id != wall) continue;
        const auto whole = whole_panel(model, w);
        if (whole) report.walls.push_back(plan_wall(model, w, *whole, report));
    }
    return report;
}

}  // namespace standproud::viewer
