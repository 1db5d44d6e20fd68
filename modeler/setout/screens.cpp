#include "modeler/screens.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"

namespace standproud {

namespace {

constexpr double far = std::numeric_limits<double>::infinity();

/// A hold in the plane of the panels: x from left to right, y from bottom to top.
struct Place {
    double left = 0;
    double right = 0;
    double bottom = 0;
    double top = 0;
};

Place turned(const Place& p) { return {p.bottom, p.top, p.left, p.right}; }

Polygon turned(const Polygon& outline) {
    Polygon made;
    for (const Vec2 p : outline.points) made.points.push_back({p.y, p.x});
    return made;
}

/// What one panel covers of all levels from `low` to `high`, in x. Its outline is convex, so its ends there decide.
std::optional<std::pair<double, double>> covered(const Polygon& outline, double low, double high) {
    constexpr double inside = 1e-6;  // a line along an edge is not within the panel
    const auto e = extent(outline);
    low = std::max(low, e[2] + inside);
    high = std::min(high, e[3] - inside);
    if (high < low) return std::nullopt;
    std::pair<double, double> all{-far, far};
    for (const double y : {low, high}) {
        const auto spans = spans_at(outline, y);
        if (spans.empty()) return std::nullopt;
        all = {std::max(all.first, spans.front().first), std::min(all.second, spans.back().second)};
    }
    return all;
}

/// What no panel covers, from `from` to `to`, between two panels or beside one.
struct Open {
    double from = -far;
    double to = far;
    const Panel* before = nullptr;
    const Panel* after = nullptr;
};

/// Along x at the levels of a hold; with `up` along y, beside it.
std::vector<Open> open_beside(const std::vector<const Panel*>& panels, const Place& hold, bool up) {
    const Place at = up ? turned(hold) : hold;
    struct Cover {
        double from;
        double to;
        const Panel* panel;
    };
    std::vector<Cover> covers;
    for (const Panel* panel : panels) {
        const auto span = covered(up ? turned(panel->outline) : panel->outline, at.bottom, at.top);
        if (span) covers.push_back({span->first, span->second, panel});
    }
    std::sort(covers.begin(), covers.end(), [](const Cover& a, const Cover& b) { return a.from < b.from; });
    std::vector<Open> open(1);
    for (const auto& cover : covers) {
        open.back().to = cover.from;
        open.back().after = cover.panel;
        if (open.back().to <= open.back().from) open.pop_back();
        open.push_back({cover.to, far, cover.panel, nullptr});
    }
    return open;
}

std::string name_of(const Open& open, bool up) {
    if (open.before && open.after) return fmt::format("the join of {} and {}", open.before->id, open.after->id);
    if (open.before) return fmt::format("the {} edge of panel {}", up ? "top" : "right", open.before->id);
    if (open.after) return fmt::format("the {} edge of panel {}", up ? "bottom" : "left", open.after->id);
    return "";
}

/// Below 0: how far the nearer way out of a stretch is.
double room_beside(double low, double high, double from, double to) { return std::max(from - high, low - to); }

NearEdge beside(std::string of, const Place& hold, double from, double to) {
    return {std::move(of), room_beside(hold.left, hold.right, from, to), true, from - hold.right, to - hold.left};
}

struct Box {
    double left = 0;
    double right = 0;
    double bottom = 0;
    double top = 0;
};

std::vector<Box> solid_behind(const Wall& wall, double set_back) {
    // What is below the datum is floor.
    if (wall.masonry) return {{0, wall.width, -far, wall.height}};
    std::vector<Box> boxes;
    if (wall.studs && wall.studs->set_back <= set_back + same_length) {
        for (const double centre : wall.studs->centres)
            boxes.push_back({centre - wall.studs->width / 2, centre + wall.studs->width / 2, -far, wall.height});
    }
    for (const auto& noggin : wall.noggins) {
        if (noggin.set_back > set_back + same_length) continue;
        boxes.push_back({noggin.left, noggin.right, noggin.height - noggin.size / 2, noggin.height + noggin.size / 2});
    }
    return boxes;
}

/// Of several one above the other, those reaching furthest that together stand behind the whole of a channel.
std::optional<double> beyond_channel(const std::vector<Box>& boxes, const ScreenHold& hold) {
    struct Reach {
        double beyond;
        double bottom;
        double top;
    };
    std::vector<Reach> reaches;
    for (const auto& b : boxes) reaches.push_back({std::min(hold.u - b.left, b.right - hold.u), b.bottom, b.top});
    std::sort(reaches.begin(), reaches.end(), [](const Reach& a, const Reach& b) { return a.beyond > b.beyond; });
    for (std::size_t count = 1; count <= reaches.size(); ++count) {
        double held = hold.bottom;
        for (bool further = true; further && held < hold.top - same_length;) {
            further = false;
            for (std::size_t i = 0; i < count; ++i) {
                if (reaches[i].bottom > held + same_length || reaches[i].top <= held + same_length) continue;
                held = reaches[i].top;
                further = true;
            }
        }
        if (held >= hold.top - same_length) return reaches[count - 1].beyond;
    }
    return std::nullopt;
}

/// A hold on the panels of its wall.
class OnPanels {
  public:
    OnPanels(const Model& model, const ScreenHold& hold, double half)
        : model_(model),
          hold_(hold),
          up_(hold.clamp ? half : 0),
          middle_((hold.bottom + hold.top) / 2),
          rim_(panel_bottom(model.job, hold.wall)),
          line_(panel_top(model.job, model.room, hold.wall, hold.u)) {
        for (const auto& panel : model.panels) {
            if (panel.wall == hold.wall) panels_.push_back(&panel);
        }
        if (panels_.empty()) return;
        const double x = on(hold.u, middle_).x;
        place_ = {x - half, x + half, on(hold.u, hold.bottom).y - up_, on(hold.u, hold.top).y + up_};
    }

    [[nodiscard]] bool any() const { return !panels_.empty() && hold_.top + up_ > rim_ && hold_.bottom - up_ < line_; }

    void add_openings(std::vector<NearEdge>& edges) const {
        for (const auto& cut : cuts_of(model_.job, model_.room, hold_.wall, panels_.front()->place)) {
            const auto c = extent(cut.shape);
            const auto& opening = model_.job.walls[hold_.wall].openings[cut.opening];
            NearEdge edge = beside("the edge at " + opening.name, place_, c[0], c[1]);
            const double over = room_beside(place_.bottom, place_.top, c[2], c[3]);
            edge.room = edge.room > 0 && over > 0 ? std::hypot(edge.room, over) : std::max(edge.room, over);
            edge.stays = true;
            edges.push_back(std::move(edge));
        }
    }

    void add_ends_beside(std::vector<NearEdge>& edges) const {
        for (const auto& open : open_beside(panels_, place_, false)) {
            if (open.before || open.after) {
                edges.push_back(beside(name_of(open, false), place_, open.from, open.to));
                continue;
            }
            // No panel at these levels at all.
            const Panel& nearest = model_.panels[panel_of(model_, hold_.wall, {hold_.u, middle_})];
            const Vec2 centre{(place_.left + place_.right) / 2, (place_.bottom + place_.top) / 2};
            const auto shape = RoundedRect::rect(centre, place_.right - place_.left, place_.top - place_.bottom);
            edges.push_back({"the edge of panel " + nearest.id, margin_inside(shape, nearest.outline)});
        }
    }

    void add_ends_above_and_below(std::vector<NearEdge>& edges) const {
        for (const auto& open : open_beside(panels_, place_, true)) {
            if (!open.before && !open.after) continue;  // it lies beside them all, which is told already
            const bool bounds = !open.before || !open.after;
            const bool beyond = !open.before ? hold_.bottom < rim_ - same_length : hold_.top > line_ + same_length;
            if (bounds && !hold_.clamp && !beyond) continue;
            edges.push_back({name_of(open, true), room_beside(place_.bottom, place_.top, open.from, open.to)});
        }
    }

    void add_finished_corners(std::vector<NearEdge>& edges) const {
        for (const Side side : {Side::left, Side::right}) {
            const auto corner = finished_corner(model_.job, model_.room, hold_.wall, side, middle_);
            if (!corner) continue;
            const double at = on(*corner, middle_).x;
            edges.push_back(side == Side::left ? beside("the left finished corner", place_, -far, at)
                                               : beside("the right finished corner", place_, at, far));
            edges.back().stays = true;
        }
    }

  private:
    [[nodiscard]] Vec2 on(double u, double v) const {
        return on_plane(model_.room.walls[hold_.wall], panels_.front()->place, {u, v});
    }

    const Model& model_;
    const ScreenHold& hold_;
    double up_;      ///< what a clamp reaches above and below its middle
    double middle_;  ///< v half-way up it
    double rim_;     ///< the lines between which the panels stand, gaps included
    double line_;
    std::vector<const Panel*> panels_;
    Place place_;
};

}  // namespace

std::optional<double> screen_place(const Model& model, const Screen& screen) {
    return along_wall(model.job, model.room, wall_index(model.job, screen.wall), screen.across,
                      (screen.bottom + screen.top) / 2);
}

std::vector<ScreenHold> holds_of(const Model& model, const Screen& screen) {
    const auto u = screen_place(model, screen);
    if (!u) return {};
    const std::size_t wall = wall_index(model.job, screen.wall);
    if (screen.fixings.empty()) return {{wall, *u, screen.bottom, screen.top, false}};
    std::vector<ScreenHold> holds;
    for (const double height : screen.fixings) holds.push_back({wall, *u, height, height, true});
    return holds;
}

double half_width(const Screen& screen) { return screen.profile.value_or(screen.thickness) / 2; }

std::vector<NearEdge> edges_near(const Model& model, const ScreenHold& hold, double half) {
    const OnPanels on(model, hold, half);
    if (!on.any()) return {};
    std::vector<NearEdge> edges;
    on.add_openings(edges);  // first: where a panel ends at one, that is its name
    on.add_ends_beside(edges);
    on.add_ends_above_and_below(edges);
    on.add_finished_corners(edges);
    return edges;
}

std::vector<std::pair<double, double>> timber_across(const Wall& wall, double set_back) {
    std::vector<std::pair<double, double>> spans;
    for (const auto& box : solid_behind(wall, set_back)) spans.emplace_back(box.left, box.right);
    return spans;
}

std::optional<double> timber_beyond(const Wall& wall, const ScreenHold& hold, double set_back) {
    const auto boxes = solid_behind(wall, set_back);
    std::optional<double> beyond;
    if (hold.clamp) {
        for (const auto& b : boxes) {
            const double here = std::min({hold.u - b.left, b.right - hold.u, hold.bottom - b.bottom, b.top - hold.top});
            beyond = std::max(beyond.value_or(here), here);
        }
    } else {
        beyond = beyond_channel(boxes, hold);
    }
    for (const auto& o : wall.openings) {
        const double away = std::max({o.left - hold.u, hold.u - o.right, o.bottom - hold.top, hold.bottom - o.top});
        if (beyond) beyond = std::min(*beyond, away);
    }
    return beyond;
}

}  // namespace standproud
