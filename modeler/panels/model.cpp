#include "modeler/model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"

namespace standproud {

const FittingType& type_of(const Model& model, const PlacedFitting& placed) { return model.job.types[placed.type]; }
const Fitting& fitting_of(const Model& model, const PlacedFitting& placed) {
    return model.job.fittings[placed.fitting];
}

namespace {

std::size_t type_index(const Job& job, const std::string& id) {
    const auto found =
        std::find_if(job.types.begin(), job.types.end(), [&](const FittingType& t) { return t.id == id; });
    return static_cast<std::size_t>(found - job.types.begin());
}

/// A recess said to be closed must come back to where it started, to 5 mm and half a degree of turning.
void check_closing(const Job& job, const Room& room, Faults& faults) {
    if (!job.closed || job.walls.empty()) return;
    double turned = 0;
    for (const auto& wall : job.walls) turned += 180 - wall.next_angle;
    const Frame& last = room.walls.back();
    const RoomPoint end = last.to_room(job.walls.back().width, 0, 0);
    const double missed = norm(end - room.walls.front().origin);
    if (missed > 5 || std::abs(turned - 360) > 0.5) {
        faults.push_back({job.walls.back().source, "job.closed", "true",
                          "widths and angles that come back to the start, within 5 mm and 0.5 degrees",
                          fmt::format("the recess does not close: the last wall ends {:.1f} mm from the first, after "
                                      "turning {:.1f} of 360 degrees",
                                      missed, turned)});
    }
}

void check_panels(const Model& model, Faults& faults) {
    for (const auto& panel : model.panels) {
        if (panel.outline.points.size() >= 3 && area(panel.outline) > 0) continue;
        const Wall& wall = model.job.walls[panel.wall];
        const Source& where = !wall.joins.empty()         ? wall.joins.front().source
                              : !wall.level_joins.empty() ? wall.level_joins.front().source
                                                          : wall.source;
        faults.push_back({where, "walls", fmt::format("{:g} mm wide, {:g} mm high", wall.width, wall.height),
                          "a panel wider and higher than 0",
                          fmt::format("panel {} has no size left between its gaps: check joins, top line and rim of "
                                      "wall \"{}\"",
                                      panel.id, wall.id)});
    }
}

/// Rounded inside corners must not reach the opening's own corners, or the strips of its reveal.
void check_opening_corners(const Job& job, Faults& faults) {
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        const Wall& wall = job.walls[w];
        if (!has_panels(wall)) continue;
        for (const auto& opening : wall.openings) {
            const double half = std::min(opening.right - opening.left, opening.top - opening.bottom) / 2;
            const double most = std::min(largest_corner_radius(job, w, opening), half + kept_back(job, w, opening));
            if (opening.corner_radius <= most + same_length) continue;
            faults.push_back({opening.source, "walls.openings.corner_radius",
                              fmt::format("{:g}", opening.corner_radius),
                              fmt::format("up to {:.1f} mm, or a wider gap", std::floor(most * 10) / 10),
                              fmt::format("the panels' inside corners round opening \"{}\" of wall \"{}\" reach its {}",
                                          opening.id, wall.id, opening.reveal ? "reveal strips" : "corners")});
        }
    }
}

/// A reveal that is too shallow or too small for strips a gap short of the frame and of each other.
void check_reveals(const Model& model, Faults& faults) {
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        const Wall& wall = model.job.walls[w];
        if (!has_panels(wall)) continue;
        for (const auto& opening : wall.openings) {
            const auto there = [&](const char* strip) {
                const std::string id = fmt::format("{}-{}-{}", wall.id, opening.id, strip);
                return std::any_of(model.reveals.begin(), model.reveals.end(),
                                   [&](const Panel& panel) { return panel.wall == w && panel.id == id; });
            };
            if (!opening.reveal || (there("head") && there("left-jamb") && there("right-jamb"))) continue;
            faults.push_back({opening.source, "walls.openings.reveal", fmt::format("{:g}", *opening.reveal),
                              "a deeper reveal, a larger opening, a narrower gap, or no reveal",
                              fmt::format("the gaps of opening \"{}\" of wall \"{}\" leave no strips to line it",
                                          opening.id, wall.id)});
        }
    }
}

std::optional<PlacedFitting> place(const Model& model, std::size_t index, Faults& faults) {
    const Job& job = model.job;
    const Fitting& fitting = job.fittings[index];
    PlacedFitting placed;
    placed.fitting = index;
    placed.type = type_index(job, fitting.type);
    placed.wall = wall_index(job, fitting.wall);
    if (placed.type == job.types.size() || placed.wall == job.walls.size()) return std::nullopt;
    const Wall& wall = job.walls[placed.wall];
    const auto u = along_wall(job, model.room, placed.wall, fitting.across, fitting.height);
    if (!u) return std::nullopt;
    placed.u = *u;
    placed.v = fitting.height;
    placed.from_left_bare = placed.u - bare_corner(job, model.room, placed.wall, Side::left, placed.v);
    placed.from_right_bare = bare_corner(job, model.room, placed.wall, Side::right, placed.v) - placed.u;
    const bool along = placed.from_left_bare < 0 || placed.from_right_bare < 0;
    if (along || placed.v < 0 || placed.v > wall_top(job, model.room, placed.wall, placed.u)) {
        faults.push_back({along ? fitting.across.source : fitting.height_source,
                          along ? "fittings.across" : "fittings.height",
                          fmt::format("{:g}", along ? placed.from_left_bare : placed.v),
                          fmt::format("0 to {:g} mm {}", along ? wall.width : wall.height,
                                      along ? "from the left bare corner" : "above the datum"),
                          fmt::format("fitting \"{}\" lies outside its wall \"{}\"", fitting.id, wall.id)});
        return std::nullopt;
    }
    if (const WallOpening* opening = opening_at(wall, {placed.u, placed.v})) {
        faults.push_back(
            {fitting.across.source, "fittings.across", fmt::format("{:g} across, {:g} up", placed.u, placed.v),
             fmt::format("outside {:g} to {:g} mm across or {:g} to {:g} mm up", opening->left, opening->right,
                         opening->bottom, opening->top),
             fmt::format("fitting \"{}\" lies in opening \"{}\" of wall \"{}\"", fitting.id, opening->id, wall.id)});
        return std::nullopt;
    }
    if (const auto left = finished_corner(job, model.room, placed.wall, Side::left, placed.v)) {
        placed.from_left_finished = placed.u - *left;
    }
    if (const auto right = finished_corner(job, model.room, placed.wall, Side::right, placed.v)) {
        placed.from_right_finished = *right - placed.u;
    }
    return placed;
}

bool fits_at_all(const RoundedRect& opening, const Panel& panel) {
    const auto e = extent(panel.outline);
    return 2 * opening.half_width < e[1] - e[0] && 2 * opening.half_height < e[3] - e[2];
}

void assign_holes(Model& model, Faults& faults) {
    for (std::size_t f = 0; f < model.fittings.size(); ++f) {
        const PlacedFitting& placed = model.fittings[f];
        const FittingType& type = type_of(model, placed);
        for (std::size_t h = 0; h < type.holes.size(); ++h) {
            RoundedRect opening = moved(type.holes[h].opening, {placed.u, placed.v});
            const Vec2 at = opening.centre;
            if (at.y > panel_top(model.job, model.room, placed.wall, at.x)) continue;
            if (at.y < panel_bottom(model.job, placed.wall)) continue;
            const std::size_t p = panel_of(model, placed.wall, at);
            if (p == model.panels.size()) continue;
            opening.centre = on_panel(model, model.panels[p], at);
            PanelHole hole{f, h, opening, true};
            if (!fits_at_all(hole.opening, model.panels[p])) {
                faults.push_back(
                    {type.holes[h].source, "types.holes",
                     fmt::format("{:g} x {:g} mm", 2 * hole.opening.half_width, 2 * hole.opening.half_height),
                     "a hole smaller than its panel",
                     fmt::format("the hole of \"{}\" is larger than panel {}", fitting_of(model, placed).id,
                                 model.panels[p].id)});
                continue;
            }
            const auto& cuts = model.panels[p].cuts;
            hole.drilled = margin_inside(hole.opening, model.panels[p].outline) > 0 &&
                           std::none_of(cuts.begin(), cuts.end(),
                                        [&](const auto& cut) { return gap_between(cut.shape, hole.opening) <= 0; }) &&
                           std::none_of(model.panels[p].holes.begin(), model.panels[p].holes.end(), [&](const auto& o) {
                               return o.drilled && gap_between(o.opening, hole.opening) <= 0;
                           });
            model.panels[p].holes.push_back(hole);
        }
    }
}

}  // namespace

Model build_model(Job job, Faults& faults) {
    std::optional<Survey> survey;
    if (job.survey) survey = adjust_survey(job);
    return build_model(std::move(job), std::move(survey), faults);
}

Model build_model(Job job, std::optional<Survey> survey, Faults& faults) {
    Model model;
    model.survey = std::move(survey);
    const bool surveyed = model.survey && model.survey->converged;
    model.job = surveyed ? as_surveyed(std::move(job), *model.survey) : std::move(job);
    model.room = surveyed ? lay_out(model.job, *model.survey) : lay_out(model.job);
    check_closing(model.job, model.room, faults);
    model.panels = lay_panels(model.job, model.room);
    model.reveals = lay_reveals(model.job, model.room);
    check_panels(model, faults);
    check_opening_corners(model.job, faults);
    check_reveals(model, faults);
    for (std::size_t i = 0; i < model.job.fittings.size(); ++i) {
        if (const auto placed = place(model, i, faults)) model.fittings.push_back(*placed);
    }
    assign_holes(model, faults);
    return model;
}

}  // namespace standproud
