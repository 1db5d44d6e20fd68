// The set-out sheet as a whole, and the bare wall on it.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "drawing/setout_panes.hpp"
#include "drawing/title_block.hpp"
#include "rules/words.hpp"

namespace standproud::viewer {

namespace {

constexpr double border = 8;
constexpr double title_height = 25;
constexpr double heading_height = 6.5;
constexpr double corner_row = 3.8;  // above the wall: where its finished corners are
constexpr double bar_height = 6;
constexpr double least_below = 30;  // running figures, with what they belong to
constexpr double most_below = 40;
constexpr double least_beside = 27;  // heights
constexpr double most_beside = 38;
constexpr double right_margin = 6;
constexpr double widest_pane = 121;
constexpr double narrowest_pane = 96;
constexpr Ink timber{0.9, 0.9, 0.9};

/// A piece of timber, as far as it lies inside the wall.
void draw_timber(Sheet& sheet, const Wall& wall, const Elevation& on, const std::array<double, 4>& extent) {
    const double left = std::max(0.0, extent[0]);
    const double right = std::min(wall.width, extent[1]);
    const double bottom = std::max(0.0, extent[2]);
    const double top = std::min(wall.height, extent[3]);
    if (left >= right || bottom >= top) return;
    const Rect box{on.x(left), on.y(top), (right - left) / on.scale, (top - bottom) / on.scale};
    sheet.fill({{box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}}, timber);
    sheet.frame(box, 0.12);
}

/// The finished corner steps where a panel starts or ends, on this wall or on the one beside it.
void draw_finished_corner(Sheet& sheet, const SetOutJob& job, const Elevation& on, Side side) {
    const Corner* corner = corner_at(job.model.room, job.set_out.wall, side);
    if (corner == nullptr) return;
    std::set<double> steps{0, job.wall().height};
    for (const std::size_t w : {job.set_out.wall, neighbour(*corner, job.set_out.wall)}) {
        steps.insert(panel_bottom(job.model.job, w));
        steps.insert(panel_top(job.model.job, job.model.room, w, job.model.job.walls[w].width / 2));
    }
    for (auto from = steps.begin(); std::next(from) != steps.end(); ++from) {
        const double low = std::clamp(*from, 0.0, job.wall().height);
        const double high = std::clamp(*std::next(from), 0.0, job.wall().height);
        const auto u = finished_corner(job.model.job, job.model.room, job.set_out.wall, side, (low + high) / 2);
        if (!u || *u < 0 || *u > job.wall().width || high - low < same_length) continue;
        sheet.line({on.x(*u), on.y(low)}, {on.x(*u), on.y(high)}, thin, Dash::dashed);
    }
}

/// How far in the finished corner is where the panels are, above the wall at its side.
void say_finished_corner(Sheet& sheet, const SetOutJob& job, Side side, const Rect& box) {
    const double v = (panel_bottom(job.model.job, job.set_out.wall) +
                      panel_top(job.model.job, job.model.room, job.set_out.wall, job.wall().width / 2)) /
                     2;
    const auto u = finished_corner(job.model.job, job.model.room, job.set_out.wall, side, v);
    const bool left = side == Side::left;
    std::string words = "free end";
    if (u) {
        const double in = left ? *u : job.wall().width - *u;
        words = fmt::format("finished corner {} {}", tape(std::abs(in)), in < 0 ? "outside" : "in");
    }
    sheet.text(words, box,
               {.size = 2.6, .least = 2.2, .align = left ? Align::left : Align::right, .stand = Stand::middle});
}

void draw_joins(Sheet& sheet, const SetOutJob& job, const Elevation& on) {
    const double bottom = std::max(0.0, panel_bottom(job.model.job, job.set_out.wall));
    const double top =
        std::min(job.wall().height, panel_top(job.model.job, job.model.room, job.set_out.wall, job.wall().width / 2));
    if (top <= bottom) return;
    for (const auto& join : job.wall().joins) {
        const auto u = along_wall(job.model.job, job.model.room, job.set_out.wall, join, (bottom + top) / 2);
        if (u) sheet.line({on.x(*u), on.y(bottom)}, {on.x(*u), on.y(top)}, medium, Dash::dashed);
    }
    if (top < job.wall().height - same_length) {
        sheet.line({on.paper.x, on.y(top)}, {on.paper.right(), on.y(top)}, thin);
    }
}

void draw_rim(Sheet& sheet, const SetOutJob& job, const Elevation& on) {
    const auto& tray = job.model.job.tray;
    if (!tray || tray->rim > job.wall().height) return;
    const bool over = std::find(tray->walls.begin(), tray->walls.end(), job.wall().id) != tray->walls.end();
    const bool own = tray->wall == job.wall().id;
    if (!over && !own) return;
    const double left = own ? std::clamp(tray->left, 0.0, job.wall().width) : 0;
    const double right = own ? std::clamp(tray->left + tray->width, 0.0, job.wall().width) : job.wall().width;
    sheet.line({on.x(left), on.y(tray->rim)}, {on.x(right), on.y(tray->rim)}, medium);
}

/// The glass edge on, and what holds it.
void draw_screens(Sheet& sheet, const SetOutJob& job, const Elevation& on) {
    for (const auto& screen : job.set_out.screens) {
        const double x = on.x(screen.left_bare);
        const auto y = [&](double v) { return std::clamp(on.y(v), on.paper.y, on.paper.bottom()); };
        if (screen.profile) {
            const double half = *screen.profile / 2;
            const auto hold = [&](double bottom, double top) {
                sheet.outline({{x - half / on.scale, y(bottom)},
                               {x + half / on.scale, y(bottom)},
                               {x + half / on.scale, y(top)},
                               {x - half / on.scale, y(top)}},
                              thin);
            };
            if (screen.fixings.empty()) hold(screen.bottom, screen.top);
            for (const double height : screen.fixings) hold(height - half, height + half);
        }
        sheet.line({x, y(screen.bottom)}, {x, y(screen.top)}, heavy);
    }
}

/// Where timber is still to be fixed.
void draw_wanted(Sheet& sheet, const SetOutJob& job, const Elevation& on) {
    constexpr double around = 1.2;  // mm on paper
    for (const auto& need : job.set_out.noggins) {
        if (need.there) continue;
        const double left = std::max(on.x(need.left) - around, on.paper.x);
        const double right = std::min(on.x(need.right) + around, on.paper.right());
        const double top = std::max(on.y(need.top) - around, on.paper.y);
        const double bottom = std::min(on.y(need.bottom) + around, on.paper.bottom());
        sheet.outline({{left, top}, {right, top}, {right, bottom}, {left, bottom}}, thin, black, Dash::dashed);
    }
}

/// Crossed strokes in a frame, the usual sign for an opening, and its name and size where there is room.
void draw_openings(Sheet& sheet, const SetOutJob& job, const Elevation& on) {
    for (const auto& opening : job.set_out.openings) {
        const Rect box{on.x(opening.left_bare), on.y(opening.top), opening.width / on.scale,
                       (opening.top - opening.bottom) / on.scale};
        sheet.fill({{box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}}, white);
        sheet.line({box.x, box.y}, {box.right(), box.bottom()}, thin);
        sheet.line({box.x, box.bottom()}, {box.right(), box.y}, thin);
        sheet.frame(box, medium);
        const std::string words =
            fmt::format("{}, {} x {}", opening.name, tape(opening.width), tape(opening.top - opening.bottom));
        const LetterStyle style{.size = 2.6, .least = 2.2, .align = Align::centre, .stand = Stand::middle};
        const Vec2 size = sheet.measure(words, box.width - 2, style);
        const Rect plate{box.centre().x - size.x / 2 - 0.6, box.centre().y - size.y / 2 - 0.3, size.x + 1.2,
                         size.y + 0.6};
        if (plate.width > box.width - 0.4 || plate.height > box.height - 0.4) continue;
        sheet.fill(
            {{plate.x, plate.y}, {plate.right(), plate.y}, {plate.right(), plate.bottom()}, {plate.x, plate.bottom()}},
            white);
        sheet.text(words, plate, style);
    }
}

}  // namespace

double setout_scale(const Wall& wall, double width, double height) {
    constexpr std::array<double, 7> scales{10, 20, 25, 50, 100, 200, 500};
    for (const double scale : scales) {
        if (wall.width / scale <= width && wall.height / scale <= height) return scale;
    }
    return scales.back();
}

std::string tape(double value) {
    std::string figure = number(value);
    if (figure.ends_with(".0")) figure.resize(figure.size() - 2);
    return figure;
}

void draw_wall(Sheet& sheet, const SetOutJob& job, const Elevation& on) {
    const Wall& wall = job.wall();
    if (wall.studs) {
        for (const double centre : wall.studs->centres) {
            draw_timber(sheet, wall, on,
                        {centre - wall.studs->width / 2, centre + wall.studs->width / 2, 0, wall.height});
        }
    }
    for (const auto& noggin : wall.noggins) {
        draw_timber(sheet, wall, on,
                    {noggin.left, noggin.right, noggin.height - noggin.size / 2, noggin.height + noggin.size / 2});
    }
    draw_joins(sheet, job, on);
    draw_openings(sheet, job, on);
    draw_rim(sheet, job, on);
    draw_finished_corner(sheet, job, on, Side::left);
    draw_finished_corner(sheet, job, on, Side::right);
    draw_wanted(sheet, job, on);
    draw_screens(sheet, job, on);
    sheet.frame(on.paper, heavy);
    sheet.line({on.paper.x - 4, on.y(0)}, {on.paper.right() + 4, on.y(0)}, medium, Dash::datum);
}

namespace {

/// Where the wall, what is around it, and the tables lie.
struct Layout {
    Elevation on;
    Rect pane;
    Rect tables;
    double below = 0;
    bool stacked = false;  ///< the tables lie below the wall
};

constexpr double around_wall = heading_height + corner_row + bar_height;

/// The wall on the left, tables on the right. What the wall leaves free goes to the figures first, then to the tables.
Layout side_by_side(const Wall& wall, const Rect& all) {
    Layout layout;
    const double tall = all.height - around_wall;
    Elevation& on = layout.on;
    on.scale = setout_scale(wall, widest_pane - least_beside - right_margin, tall - least_below);
    on.paper.width = wall.width / on.scale;
    on.paper.height = wall.height / on.scale;
    const double beside = std::clamp(widest_pane - right_margin - on.paper.width, least_beside, most_beside);
    const double width = std::clamp(beside + on.paper.width + right_margin, narrowest_pane, widest_pane);
    layout.below = std::clamp(tall - on.paper.height, least_below, most_below);
    on.paper.x = all.x + beside + (width - beside - right_margin - on.paper.width) / 2;
    on.paper.y = all.y + heading_height + corner_row;
    layout.pane = {all.x, all.y, width, all.height};
    layout.tables = {layout.pane.right(), all.y, all.width - width, all.height};
    return layout;
}

/// A long wall across the whole sheet, tables below.
Layout stacked(const Wall& wall, const Rect& all) {
    constexpr double least_tables = 70;
    Layout layout;
    layout.stacked = true;
    layout.below = least_below;
    Elevation& on = layout.on;
    on.scale = setout_scale(wall, all.width - most_beside - right_margin,
                            all.height - around_wall - least_below - least_tables);
    on.paper.width = wall.width / on.scale;
    on.paper.height = wall.height / on.scale;
    on.paper.x = all.x + most_beside + (all.width - most_beside - right_margin - on.paper.width) / 2;
    on.paper.y = all.y + heading_height + corner_row;
    layout.pane = {all.x, all.y, all.width, around_wall + on.paper.height + least_below};
    layout.tables = {all.x, layout.pane.bottom(), all.width, all.height - layout.pane.height};
    return layout;
}

void draw_pane(Sheet& sheet, const SetOutJob& job, const Layout& layout) {
    const Elevation& on = layout.on;
    const Rect& pane = layout.pane;
    draw_wall(sheet, job, on);
    const double middle = on.paper.centre().x;
    const double row = on.paper.y - corner_row;
    const double reach = std::min(middle - pane.x - 2.5, std::max(on.paper.width / 2, 40.0));
    say_finished_corner(sheet, job, Side::left, {middle - 1 - reach, row, reach, corner_row - 0.4});
    const double right = std::min(pane.right() - 1.5, middle + 1 + std::max(on.paper.width / 2, 40.0));
    say_finished_corner(sheet, job, Side::right, {middle + 1, row, right - middle - 1, corner_row - 0.4});
    const std::size_t figures =
        draw_figures(sheet, job, on, {pane.x + 1, on.paper.bottom(), pane.width - 2, layout.below},
                     {pane.x + 1, on.paper.y, on.paper.x - pane.x - 1, on.paper.height});
    const std::size_t names =
        draw_crosses(sheet, job, on, {on.paper.x, on.paper.y, pane.right() - on.paper.x - 1, on.paper.height});
    std::string heading = fmt::format("Bare wall seen from inside, 1:{:g}", on.scale);
    if (figures + names > 0)
        heading += fmt::format(" (and {}: see the text report)", rules::counted(figures + names, "more figure"));
    sheet.text(heading, {pane.x + 2, pane.y + 1, pane.width - 4, heading_height - 1.5},
               {.size = 3.4, .least = 2.2, .bold = true, .stand = Stand::middle});
    draw_scale_bar(sheet, on.scale, {pane.x + 2, pane.bottom() - bar_height + 0.5, pane.width - 5, bar_height - 1});
}

}  // namespace

void draw_setout_on(Sheet& sheet, const SetOutJob& job) {
    sheet.fill({{0, 0}, {Sheet::width, 0}, {Sheet::width, Sheet::height}, {0, Sheet::height}}, white);
    const Rect all{border, border, Sheet::width - 2 * border, Sheet::height - 2 * border};
    const Wall& wall = job.wall();
    const Rect room{all.x, all.y, all.width, all.height - title_height};
    Layout layout = side_by_side(wall, room);
    if (const Layout other = stacked(wall, room); layout.on.scale > 50 && other.on.scale < layout.on.scale)
        layout = other;
    const std::string name = wall.name.empty() ? wall.id : wall.name;
    draw_pane(sheet, job, layout);
    draw_setout_tables(sheet, job, layout.tables);
    draw_title_block(sheet,
                     {"set-out, to mark on the bare wall", name, wall.id, job.model.job.name, job.model.job.revision,
                      "how to measure",
                      fmt::format("bare wall {} wide, {} high. Across: hook the tape at the LEFT BARE corner, at the "
                                  "fitting's own height. Up: from "
                                  "the datum. Figures in (brackets) count from the finished corners, which do not "
                                  "exist yet.",
                                  tape(wall.width), tape(wall.height)),
                      job.model.job.datum, layout.on.scale},
                     {all.x, room.bottom(), all.width, title_height});
    sheet.frame(all, heavy);
    sheet.line({all.x, room.bottom()}, {all.right(), room.bottom()}, heavy);
    const Rect& tables = layout.tables;
    sheet.line({tables.x, tables.y}, layout.stacked ? Vec2{tables.right(), tables.y} : Vec2{tables.x, tables.bottom()},
               medium);
}

}  // namespace standproud::viewer
