// The figures around the wall, and the names in it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "drawing/setout_panes.hpp"

namespace standproud::viewer {

namespace {

constexpr double pitch = 3.9;  // mm from figure to figure
constexpr double off_wall = 3;
constexpr double leader = 3.2;

/// One figure of a running dimension. When room runs out, those of the highest rank go first.
struct Figure {
    double at = 0;
    std::string of;
    int rank = 0;
};

LetterStyle figure_style(const Figure& figure, bool upwards) {
    return {.size = 3.3,
            .least = 2.2,
            .align = Align::right,
            .stand = Stand::middle,
            .upwards = upwards,
            .bold_bytes = tape(figure.at).size()};
}

std::string words_of(const Figure& figure) { return fmt::format("{} {}", tape(figure.at), figure.of); }

/// In order, with one figure for what lies at the same place, as long as its words go into `length`.
std::vector<Figure> merged(const Sheet& sheet, std::vector<Figure> figures, double length) {
    std::stable_sort(figures.begin(), figures.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
    std::vector<Figure> result;
    for (auto& figure : figures) {
        if (!result.empty() && tape(result.back().at) == tape(figure.at)) {
            Figure both = result.back();
            both.of += ", " + figure.of;
            both.rank = std::min(both.rank, figure.rank);
            if (sheet.measure(words_of(both), 1000, figure_style(both, false)).x <= length) {
                result.back() = both;
                continue;
            }
        }
        result.push_back(std::move(figure));
    }
    return result;
}

/// How much of a box beside the wall is left for words.
double words_length(double box) { return box - off_wall - leader - 0.5; }

std::size_t drop_beyond(std::vector<Figure>& figures, double length) {
    const auto most = static_cast<std::size_t>(std::max(1.0, std::floor(length / pitch)));
    std::size_t dropped = 0;
    while (figures.size() > most) {
        auto worst = figures.begin();
        for (auto it = figures.begin(); it != figures.end(); ++it) {
            if (it->rank >= worst->rank) worst = it;
        }
        figures.erase(worst);
        ++dropped;
    }
    return dropped;
}

std::vector<Figure> across_figures(const Sheet& sheet, const SetOutJob& job, double length) {
    std::vector<Figure> figures{{0, "LEFT BARE", 0}, {job.wall().width, "BARE", 0}};
    for (const auto& mark : job.set_out.marks) figures.push_back({mark.left_bare, mark.fitting, 1});
    for (const auto& pair : job.set_out.pairs) {
        figures.push_back({pair.left_bare, "centre line", 2});
    }
    for (const auto& screen : job.set_out.screens) figures.push_back({screen.left_bare, screen.screen, 1});
    for (const auto& opening : job.set_out.openings) {
        figures.push_back({opening.left_bare, opening.opening + " left", 2});
        figures.push_back({opening.left_bare + opening.width, opening.opening + " right", 2});
    }
    const double v = (panel_bottom(job.model.job, job.set_out.wall) +
                      panel_top(job.model.job, job.model.room, job.set_out.wall, job.wall().width / 2)) /
                     2;
    for (const auto& join : job.wall().joins) {
        const auto u = along_wall(job.model.job, job.model.room, job.set_out.wall, join, v);
        if (u) figures.push_back({*u, "join", 3});
    }
    return merged(sheet, std::move(figures), length);
}

std::vector<Figure> height_figures(const Sheet& sheet, const SetOutJob& job, double length) {
    std::vector<Figure> figures{{0, "datum", 0}};
    for (const auto& mark : job.set_out.marks) figures.push_back({mark.height, mark.fitting, 1});
    for (const auto& screen : job.set_out.screens) {
        for (const double height : screen.fixings) figures.push_back({height, screen.screen + " clamp", 1});
        figures.push_back({screen.bottom, screen.screen + " bottom", 2});
        if (screen.top <= job.wall().height) figures.push_back({screen.top, screen.screen + " top", 2});
    }
    const bool only_one = job.set_out.openings.size() == 1;
    for (const auto& opening : job.set_out.openings) {
        const std::string of = only_one ? "" : opening.opening + " ";
        if (opening.bottom > 0) figures.push_back({opening.bottom, of + "sill", 2});
        figures.push_back({opening.top, of + "head", 2});
    }
    const double top = panel_top(job.model.job, job.model.room, job.set_out.wall, job.wall().width / 2);
    if (top < job.wall().height - same_length) figures.push_back({top, "panels", 2});
    figures.push_back({job.wall().height, "wall", 2});
    const auto& tray = job.model.job.tray;
    if (tray && tray->rim <= job.wall().height) {
        const bool over = std::find(tray->walls.begin(), tray->walls.end(), job.wall().id) != tray->walls.end();
        if (over || tray->wall == job.wall().id) figures.push_back({tray->rim, "rim", 1});
    }
    return merged(sheet, std::move(figures), length);
}

void draw_below(Sheet& sheet, const std::vector<Figure>& figures, const Elevation& on, const Rect& box) {
    const double line = box.y + off_wall;
    std::vector<double> wanted;
    for (const auto& figure : figures) wanted.push_back(on.x(figure.at));
    const auto places = spread(wanted, pitch, box.x + pitch / 2, box.right() - pitch / 2);
    sheet.line({on.x(figures.front().at), line}, {on.x(figures.back().at), line}, thin);
    for (std::size_t i = 0; i < figures.size(); ++i) {
        const double x = wanted[i];
        sheet.line({x, box.y + 0.8}, {x, line + 1}, thin);
        sheet.line({x, line + 1}, {places[i], line + leader}, thin);
        sheet.dot({x, line}, 1.1);
        const double top = line + leader + 0.4;
        sheet.text(words_of(figures[i]), {places[i] - pitch / 2 + 0.02, top, pitch - 0.04, box.bottom() - top},
                   figure_style(figures[i], true));
        sheet.measured({on.x(0), line}, {x, line}, figures[i].at);
    }
}

void draw_beside(Sheet& sheet, const std::vector<Figure>& figures, const Elevation& on, const Rect& box) {
    const double line = box.right() - off_wall;
    std::vector<double> wanted;
    // From the top down, as places run on paper.
    for (auto it = figures.rbegin(); it != figures.rend(); ++it) wanted.push_back(on.y(it->at));
    const auto places = spread(wanted, pitch, box.y + pitch / 2, box.bottom() - pitch / 2 + 1.5);
    sheet.line({line, wanted.front()}, {line, wanted.back()}, thin);
    for (std::size_t i = 0; i < figures.size(); ++i) {
        const Figure& figure = figures[figures.size() - 1 - i];
        const double y = wanted[i];
        sheet.line({line - 1, y}, {box.right() - 0.8, y}, thin);
        sheet.line({line - 1, y}, {line - leader, places[i]}, thin);
        sheet.dot({line, y}, 1.1);
        const double right = line - leader - 0.4;
        sheet.text(words_of(figure), {box.x, places[i] - pitch / 2 + 0.02, right - box.x, pitch - 0.04},
                   figure_style(figure, false));
        sheet.measured({line, on.y(0)}, {line, y}, figure.at);
    }
}

}  // namespace

std::vector<double> spread(const std::vector<double>& wanted, double pitch_wanted, double low, double high) {
    // With the pitch taken off, places need only be in order: neighbours that are not are pooled to their mean.
    struct Pool {
        double sum = 0;
        std::size_t count = 0;
        [[nodiscard]] double mean() const { return sum / static_cast<double>(count); }
    };
    const auto shift = [&](std::size_t i) { return pitch_wanted * static_cast<double>(i); };
    std::vector<Pool> pools;
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        pools.push_back({wanted[i] - shift(i), 1});
        while (pools.size() > 1 && pools[pools.size() - 2].mean() > pools.back().mean()) {
            const Pool last = pools.back();
            pools.pop_back();
            pools.back().sum += last.sum;
            pools.back().count += last.count;
        }
    }
    std::vector<double> places;
    const double last = wanted.empty() ? high : high - shift(wanted.size() - 1);
    for (const auto& pool : pools) {
        for (std::size_t i = 0; i < pool.count; ++i) {
            const double place = std::max(low, std::min(pool.mean(), last));
            places.push_back(place + shift(places.size()));
        }
    }
    return places;
}

std::size_t draw_figures(Sheet& sheet, const SetOutJob& job, const Elevation& on, const Rect& below,
                         const Rect& beside) {
    auto across = across_figures(sheet, job, words_length(below.height));
    auto heights = height_figures(sheet, job, words_length(beside.width));
    const std::size_t dropped = drop_beyond(across, below.width) + drop_beyond(heights, beside.height);
    draw_below(sheet, across, on, below);
    draw_beside(sheet, heights, on, beside);
    return dropped;
}

namespace {

constexpr double arm = 2.6;  // mm of paper, from a cross's middle

Rect around(Vec2 spot, double reach) { return {spot.x - reach, spot.y - reach, 2 * reach, 2 * reach}; }

Vec2 nearest_in(const Rect& box, Vec2 spot) {
    return {std::clamp(spot.x, box.x, box.right()), std::clamp(spot.y, box.y, box.bottom())};
}

/// Finds room for a name near its cross: clear of every other name, figure and cross, and of lines where there is such
/// a place near by.
class NameFinder {
  public:
    NameFinder(const Sheet& sheet, const Rect& room, std::vector<Vec2> spots)
        : sheet_(sheet), room_(room), spots_(std::move(spots)) {}

    [[nodiscard]] std::optional<Rect> place(Vec2 spot, Vec2 size) const {
        constexpr double near_by = 9;
        const auto free = search(spot, size, near_by, true);
        return free ? free : search(spot, size, std::numeric_limits<double>::max(), false);
    }

  private:
    [[nodiscard]] std::optional<Rect> search(Vec2 spot, Vec2 size, double limit, bool off_lines) const {
        std::optional<Rect> best;
        double least = limit;
        constexpr double step = 0.7;
        for (double y = room_.y + 0.6; y + size.y <= room_.bottom() - 0.6; y += step) {
            for (double x = room_.x + 0.6; x + size.x <= room_.right() - 0.6; x += step) {
                const Rect box{x, y, size.x, size.y};
                const double away = norm(nearest_in(box, spot) - spot);
                if (away < least && is_good(box, spot, off_lines)) {
                    least = away;
                    best = box;
                }
            }
        }
        return best;
    }

    [[nodiscard]] bool is_good(const Rect& box, Vec2 spot, bool off_lines) const {
        for (const Vec2 other : spots_) {
            if (overlap(box, around(other, arm + 0.3))) return false;
        }
        const Vec2 end = nearest_in(box, spot);
        for (const auto& text : sheet_.texts()) {
            if (overlap(text.box, box) || crosses(text.box, spot, end)) return false;
        }
        return !off_lines || sheet_.is_free(box);
    }

    const Sheet& sheet_;
    Rect room_;
    std::vector<Vec2> spots_;
};

void draw_pair_lines(Sheet& sheet, const SetOutJob& job, const Elevation& on) {
    constexpr double beyond = 9;
    for (const auto& pair : job.set_out.pairs) {
        const double x = on.x(pair.left_bare);
        const double y = on.y(pair.height);
        sheet.line({x, std::max(on.paper.y, y - beyond)}, {x, std::min(on.paper.bottom(), y + beyond)}, thin,
                   Dash::centre);
        sheet.line({on.x(pair.left_bare - pair.apart / 2), y}, {on.x(pair.left_bare + pair.apart / 2), y}, thin,
                   Dash::centre);
    }
}

}  // namespace

std::size_t draw_crosses(Sheet& sheet, const SetOutJob& job, const Elevation& on, const Rect& room) {
    draw_pair_lines(sheet, job, on);
    std::vector<Vec2> spots;
    for (const auto& mark : job.set_out.marks) {
        const Vec2 spot{on.x(mark.left_bare), on.y(mark.height)};
        sheet.line({spot.x - arm, spot.y}, {spot.x + arm, spot.y}, heavy);
        sheet.line({spot.x, spot.y - arm}, {spot.x, spot.y + arm}, heavy);
        spots.push_back(spot);
    }
    std::vector<std::string> named;
    for (const auto& mark : job.set_out.marks) named.push_back(mark.fitting);
    for (const auto& screen : job.set_out.screens) {
        const double middle = std::clamp((screen.bottom + screen.top) / 2, 0.0, job.wall().height);
        spots.push_back({on.x(screen.left_bare), on.y(middle)});
        named.push_back(screen.screen);
    }
    const NameFinder finder(sheet, room, spots);
    const LetterStyle style{.size = 3.4, .least = 2.2, .bold = true, .stand = Stand::middle};
    const double widest = std::min(45.0, room.width - 2);
    std::size_t unnamed = 0;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        const std::string& name = named[i];
        const Vec2 size = sheet.measure(name, 1000, style);
        const auto box = finder.place(spots[i], {std::min(size.x + 0.8, widest), size.y + 0.1});
        if (!box) {
            ++unnamed;
            continue;
        }
        // What lies under the name must not strike it through.
        sheet.fill({{box->x, box->y}, {box->right(), box->y}, {box->right(), box->bottom()}, {box->x, box->bottom()}},
                   white);
        const Vec2 end = nearest_in(*box, spots[i]);
        if (norm(end - spots[i]) > 2 * arm) sheet.line(spots[i], end, thin);
        sheet.text(name, {box->x + 0.4, box->y, box->width - 0.4, box->height}, style);
    }
    return unnamed;
}

}  // namespace standproud::viewer
