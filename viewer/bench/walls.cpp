// The walls that carry panels, as their elevations show them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench/work_out.hpp"
#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"
#include "modeler/screens.hpp"
#include "rules/words.hpp"

namespace standproud::viewer {

namespace {

/// The bare wall, its corners seen square to the plane of the panels.
Polygon bare_outline(const Model& model, std::size_t wall, const Frame& place) {
    const auto corner = [&](Side side, double v) {
        const double u = bare_corner(model.job, model.room, wall, side, v);
        return on_plane(model.room.walls[wall], place, {u, v});
    };
    const auto top = [&](Side side) {
        const double level = model.job.walls[wall].height;
        return wall_top(model.job, model.room, wall, bare_corner(model.job, model.room, wall, side, level));
    };
    return {{corner(Side::left, 0), corner(Side::right, 0), corner(Side::right, top(Side::right)),
             corner(Side::left, top(Side::left))}};
}

std::vector<BenchFitting> fittings_on(const Model& model, std::size_t wall, const Frame& place) {
    std::vector<BenchFitting> fittings;
    for (const auto& placed : model.fittings) {
        if (placed.wall != wall) continue;
        BenchFitting made{
            fitting_of(model, placed).id, on_plane(model.room.walls[wall], place, {placed.u, placed.v}), {}};
        for (const auto& flange : type_of(model, placed).flanges) made.flanges.push_back(moved(flange.shape, made.at));
        fittings.push_back(std::move(made));
    }
    return fittings;
}

std::vector<BenchScreen> screens_on(const Model& model, std::size_t wall, const Frame& place) {
    std::vector<BenchScreen> screens;
    for (const auto& screen : model.job.screens) {
        const auto holds = holds_of(model, screen);
        if (holds.empty() || holds.front().wall != wall) continue;
        const auto on = [&](double v) { return on_plane(model.room.walls[wall], place, {holds.front().u, v}); };
        BenchScreen made{screen.id, on(screen.bottom), on(screen.top), {}, {}};
        for (const auto& hold : holds) {
            const Vec2 bottom = on(hold.bottom);
            const Vec2 top = on(hold.top);
            if (hold.clamp) made.clamps.push_back(bottom);
            if (!screen.profile) continue;
            const double width = *screen.profile;
            made.holders.push_back(
                RoundedRect::rect(0.5 * (bottom + top), width, hold.clamp ? width : top.y - bottom.y));
        }
        screens.push_back(std::move(made));
    }
    return screens;
}

std::vector<BenchStay> stays_at(const Model& model, std::size_t wall, const Frame& place) {
    std::vector<BenchStay> stays;
    const auto on = [&](double u, double v) { return on_plane(model.room.walls[wall], place, {u, v}); };
    const double width = model.job.walls[wall].width;
    const auto& floor = model.room.faces[wall].floor;
    if (floor.size() > 1) {
        stays.push_back({"floor", {}});
        for (const Vec2 at : floor) stays.back().line.push_back(on(at.x, at.y));
    }
    const auto& tray = model.job.tray;
    if (!tray) return stays;
    const std::string& id = model.job.walls[wall].id;
    const bool own = tray->wall == id;
    const bool over = std::find(tray->walls.begin(), tray->walls.end(), id) != tray->walls.end();
    if (!own && !over) return stays;
    const double left = own ? std::max(0.0, tray->left) : 0;
    const double right = own ? std::min(width, tray->left + tray->width) : width;
    stays.push_back({"rim of " + tray->name, {on(left, tray->rim), on(right, tray->rim)}});
    return stays;
}

void measure(const Model& model, std::size_t wall, BenchWall& made) {
    const double middle = model.job.walls[wall].width / 2;
    made.bare_width = model.job.walls[wall].width;
    made.bottom = panel_bottom(model.job, wall);
    made.top = panel_top(model.job, model.room, wall, middle);
    const double level = (made.bottom + made.top) / 2;
    const auto left = finished_corner(model.job, model.room, wall, Side::left, level);
    const auto right = finished_corner(model.job, model.room, wall, Side::right, level);
    if (left && right) made.finished_width = *right - *left;
}

/// Of the walls that have panels, which this is in the order of lining.
int lined_as(const Model& model, std::size_t wall) {
    int place = 1;
    for (const auto& id : model.job.panels.order) {
        if (id == model.job.walls[wall].id) break;
        place += std::any_of(model.panels.begin(), model.panels.end(),
                             [&](const auto& panel) { return model.job.walls[panel.wall].id == id; })
                     ? 1
                     : 0;
    }
    return place;
}

/// Length of a strip: its longer way, or what it is on the drawing.
double strip_length(const Model& model, const std::string& id) {
    for (const auto& strip : model.reveals) {
        if (strip.id != id) continue;
        const auto e = extent(strip.outline);
        return runs_across(strip) ? e[1] - e[0] : e[3] - e[2];
    }
    return 0;
}

/// Where the strips of a lined opening go. Nothing for one that is not lined.
std::string reveal_words(const Model& model, std::size_t wall, const WallOpening& opening) {
    if (!opening.reveal) return "";
    const auto tenth = [](double value) { return rules::mm(std::round(value * 10) / 10); };
    const std::string id = model.job.walls[wall].id + "-" + opening.id;
    const double gap = gap_of(model.job, opening).width;
    const double sill = strip_length(model, id + "-sill");
    std::string words = fmt::format(
        "{}: the wall's panels end {} mm outside its edges. Its strips are bedded on the reveal, bed {} mm, with their "
        "fronts flush with the wall's panels, whose edges they cover, and end {} mm short of the frame, which is {} mm "
        "in from the bare face. ",
        opening.name, tenth(kept_back(model.job, wall, opening)), tenth(bed_of(model.job.walls[wall])), tenth(gap),
        tenth(*opening.reveal));
    words += fmt::format(
        "{} {} long, {} mm short of the opening's edge at either end; jambs {} long between, {} mm off "
        "what is above and below. ",
        sill > 0 ? "Sill and head" : "Head", tenth(strip_length(model, id + "-head")), tenth(gap),
        tenth(strip_length(model, id + "-left-jamb")), tenth(gap));
    return words + fmt::format(
                       "On their drawings the frame is at the upper edge of {}, at the right edge of the left "
                       "jamb, at the left edge of the right one. Prop the head until its adhesive holds.",
                       sill > 0 ? "sill and head" : "the head");
}

}  // namespace

std::vector<BenchWall> walls_of(const CheckedJob& job, std::size_t index, std::size_t offset,
                                const std::string& before) {
    const Model& model = job.model;
    std::vector<BenchWall> walls;
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        BenchWall made;
        for (std::size_t p = 0; p < model.panels.size(); ++p) {
            if (model.panels[p].wall == w) made.panels.push_back(offset + p);
        }
        if (made.panels.empty()) continue;
        std::sort(made.panels.begin(), made.panels.end(), [&](std::size_t a, std::size_t b) {
            return extent(model.panels[a - offset].outline)[0] < extent(model.panels[b - offset].outline)[0];
        });
        const Frame& place = model.panels[made.panels.front() - offset].place;
        made.job = index;
        made.id = before + model.job.walls[w].id;
        made.name = model.job.walls[w].name;
        made.datum = model.job.datum;
        made.bare = bare_outline(model, w, place);
        made.lined = lined_as(model, w);
        measure(model, w, made);
        made.fittings = fittings_on(model, w, place);
        made.screens = screens_on(model, w, place);
        made.stays = stays_at(model, w, place);
        for (const auto& opening : model.job.walls[w].openings) {
            made.openings.push_back({opening.id, opening_on(model.room.walls[w], place, opening, 0, 0)});
            const std::string words = reveal_words(model, w, opening);
            if (!words.empty()) made.reveals.push_back(words);
        }
        walls.push_back(std::move(made));
    }
    return walls;
}

std::vector<BenchWall> walls_with_panels(const CheckedJob& job) { return walls_of(job, 0, 0, ""); }

}  // namespace standproud::viewer
