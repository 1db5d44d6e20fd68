#include "bench_drawing/templates.hpp"

#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "bench/words.hpp"

namespace standproud::viewer {

namespace {

constexpr double heading_height = 7;
constexpr double tile_left = 10.5;
constexpr double tile_top = 18;

/// What is longer than this is marked out from the panel's edges, and so is a notch, mm.
constexpr double longest_template = 600;

bool has_template(const cutting::MarkedOpening& opening) {
    const RoundedRect& shape = opening.seen.shape;
    return !opening.seen.notch && 2 * std::max(shape.half_width, shape.half_height) <= longest_template;
}

/// Openings that are linked, each group in the order of the cut list.
std::vector<std::vector<std::size_t>> groups_of(const std::vector<cutting::MarkedOpening>& openings) {
    std::vector<std::size_t> group(openings.size());
    std::iota(group.begin(), group.end(), std::size_t{0});
    for (std::size_t i = 0; i < openings.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            if (!has_template(openings[i]) || !has_template(openings[j])) continue;
            if (gap_between(openings[i].seen.shape, openings[j].seen.shape) >= template_link) continue;
            const std::size_t from = group[i];
            for (auto& one : group) {
                if (one == from) one = group[j];
            }
        }
    }
    std::vector<std::vector<std::size_t>> groups;
    for (std::size_t g = 0; g < openings.size(); ++g) {
        std::vector<std::size_t> members;
        for (std::size_t i = 0; i < openings.size(); ++i) {
            if (group[i] == g && has_template(openings[i])) members.push_back(i);
        }
        const bool one_hole = members.size() == 1 && openings[members[0]].seen.shape.is_circle();
        if (!members.empty() && !one_hole) groups.push_back(std::move(members));
    }
    return groups;
}

std::size_t tiles_for(double length, double tile) {
    const double pitch = tile - tile_overlap;
    return static_cast<std::size_t>(std::max(1.0, std::ceil((length - tile_overlap) / pitch - same_length)));
}

/// Two marks on every seam between neighbours, in the middle of the overlap.
std::vector<Registration> marks_of(const Template& paper) {
    std::vector<Registration> marks;
    for (const auto& tile : paper.tiles) {
        const bool right = tile.column + 1 < paper.columns;
        const bool below = tile.row + 1 < paper.rows;
        for (const double part : {0.25, 0.75}) {
            if (right) marks.push_back({"", tile.corner + Vec2{tile_width - tile_overlap / 2, part * tile_height}});
            if (below) marks.push_back({"", tile.corner + Vec2{part * tile_width, tile_overlap / 2}});
        }
    }
    for (std::size_t i = 0; i < marks.size(); ++i) marks[i].name = fmt::format("R{}", i + 1);
    return marks;
}

bool in_tile(const Tile& tile, Vec2 p) {
    return p.x >= tile.corner.x && p.x <= tile.corner.x + tile_width && p.y >= tile.corner.y &&
           p.y <= tile.corner.y + tile_height;
}

Rect paper_of_tile() { return {tile_left, tile_top, tile_width, tile_height}; }

}  // namespace

std::vector<Template> templates_of(const BenchPanel& panel) {
    std::vector<Template> papers;
    const auto& openings = panel.plan->front.openings;
    for (auto& group : groups_of(openings)) {
        auto e = extent(openings[group.front()].seen.shape);
        for (const std::size_t i : group) {
            const auto one = extent(openings[i].seen.shape);
            e = {std::min(e[0], one[0]), std::max(e[1], one[1]), std::min(e[2], one[2]), std::max(e[3], one[3])};
        }
        Template paper;
        paper.panel = panel.id;
        paper.openings = std::move(group);
        paper.columns = tiles_for(e[1] - e[0] + 2 * template_around, tile_width);
        paper.rows = tiles_for(e[3] - e[2] + 2 * template_around, tile_height);
        // The openings in the middle of all tiles together.
        const auto span = [](std::size_t count, double tile) {
            return tile + static_cast<double>(count - 1) * (tile - tile_overlap);
        };
        const Vec2 low{(e[0] + e[1] - span(paper.columns, tile_width)) / 2,
                       (e[2] + e[3] - span(paper.rows, tile_height)) / 2};
        for (std::size_t row = 0; row < paper.rows; ++row) {
            for (std::size_t column = 0; column < paper.columns; ++column) {
                const double up = static_cast<double>(paper.rows - 1 - row) * (tile_height - tile_overlap);
                const double across = static_cast<double>(column) * (tile_width - tile_overlap);
                paper.tiles.push_back({row, column, low + Vec2{across, up}});
            }
        }
        paper.marks = marks_of(paper);
        papers.push_back(std::move(paper));
    }
    return papers;
}

OnPaper tile_on_paper(const Tile& tile) {
    return {1, {tile_left - tile.corner.x, tile_top + tile_height + tile.corner.y}};
}

namespace {

class TileDrawing {
  public:
    TileDrawing(Sheet& sheet, const BenchPanel& panel, const Template& paper, const Tile& tile)
        : sheet_(sheet), panel_(panel), paper_(paper), tile_(tile), on_(tile_on_paper(tile)), area_(paper_of_tile()) {}

    void draw() {
        seams();
        cairo_save(sheet_.context());
        cairo_rectangle(sheet_.context(), area_.x, area_.y, area_.width, area_.height);
        cairo_clip(sheet_.context());
        sheet_.outline(on_.at(panel_.plan->front.shape.outline.points), heavy);
        for (const std::size_t i : paper_.openings) opening(panel_.plan->front.openings[i]);
        cairo_restore(sheet_.context());
        guides();
        marks();
        bar();
        for (const std::size_t i : paper_.openings) name(i);
        name_edges();
        name_seams();
    }

  private:
    /// As much of a line as lies on this tile, on paper.
    [[nodiscard]] std::optional<std::pair<Vec2, Vec2>> clipped(Vec2 from, Vec2 to) const {
        double low = 0;
        double high = 1;
        const auto within = [&](double start, double step, double least, double most) {
            if (std::abs(step) < 1e-12) return start >= least && start <= most;
            low = std::max(low, std::min((least - start) / step, (most - start) / step));
            high = std::min(high, std::max((least - start) / step, (most - start) / step));
            return low < high;
        };
        if (!within(from.x, to.x - from.x, area_.x, area_.right()) ||
            !within(from.y, to.y - from.y, area_.y, area_.bottom()))
            return std::nullopt;
        return std::pair(from + low * (to - from), from + high * (to - from));
    }

    void clipped_line(Vec2 a, Vec2 b, double width, Dash dash) {
        if (const auto ends = clipped(on_.at(a), on_.at(b))) sheet_.line(ends->first, ends->second, width, dash);
    }

    /// Must hold: drawing is clipped to the tile.
    void outline(const RoundedRect& shape, double width) {
        sheet_.outline(on_.at(rounded_points(shape, 90)), width);
        const auto sides = on_.at(rounded_points(shape, 12));
        for (std::size_t i = 0; i < sides.size(); ++i) {
            if (const auto ends = clipped(sides[i], sides[(i + 1) % sides.size()]))
                sheet_.drawn(ends->first, ends->second);
        }
    }

    void opening(const cutting::MarkedOpening& one) {
        outline(one.seen.shape, medium);
        for (const Vec2 corner : one.corner_holes) outline(RoundedRect::circle(corner, one.corner_diameter), thin);
        for (const Vec2 corner : one.corner_holes) {
            clipped_line(corner - Vec2{3, 0}, corner + Vec2{3, 0}, thin, Dash::solid);
            clipped_line(corner - Vec2{0, 3}, corner + Vec2{0, 3}, thin, Dash::solid);
        }
        const Vec2 c = one.seen.shape.centre;
        const double arm_x = one.seen.shape.half_width + 6;
        const double arm_y = one.seen.shape.half_height + 6;
        clipped_line(c - Vec2{arm_x, 0}, c + Vec2{arm_x, 0}, thin, Dash::centre);
        clipped_line(c - Vec2{0, arm_y}, c + Vec2{0, arm_y}, thin, Dash::centre);
    }

    /// The lines through the first opening's centre, right across the paper: they lie at measured distances from the
    /// panel's edges and put the paper in its place.
    void guides() {
        const auto& first = panel_.plan->front.openings[paper_.openings.front()];
        const Vec2 c = first.seen.shape.centre;
        constexpr double far = 1e4;
        clipped_line({c.x, -far}, {c.x, far}, 0.13, Dash::dashed);
        clipped_line({-far, c.y}, {far, c.y}, 0.13, Dash::dashed);
        const LetterStyle style{.size = 2.6, .least = least_text, .stand = Stand::middle};
        const Vec2 spot = on_.at(c);
        if (spot.x > area_.x && spot.x < area_.right()) {
            const double y = area_.y + 2;
            (void)draw_name(sheet_,
                            fmt::format("this line is {} from the {} edge", tenths(first.across.distance),
                                        to_string(first.across.side)),
                            {spot.x, y}, {area_, 60, 30}, style);
        }
        if (spot.y > area_.y && spot.y < area_.bottom()) {
            (void)draw_name(
                sheet_,
                fmt::format("this line is {} from the {} edge", tenths(first.up.distance), to_string(first.up.side)),
                {area_.x + 2, spot.y}, {area_, 60, 30}, style);
        }
    }

    /// Where the next tile begins: the overlap's edges.
    void seams() {
        sheet_.frame(area_, 0.13);
        if (tile_.column > 0) seam({area_.x + tile_overlap, area_.y}, {area_.x + tile_overlap, area_.bottom()});
        if (tile_.column + 1 < paper_.columns)
            seam({area_.right() - tile_overlap, area_.y}, {area_.right() - tile_overlap, area_.bottom()});
        if (tile_.row > 0) seam({area_.x, area_.y + tile_overlap}, {area_.right(), area_.y + tile_overlap});
        if (tile_.row + 1 < paper_.rows)
            seam({area_.x, area_.bottom() - tile_overlap}, {area_.right(), area_.bottom() - tile_overlap});
    }

    void seam(Vec2 from, Vec2 to) {
        sheet_.line(from, to, 0.13, Dash::datum);
        seams_.push_back(from + 0.4 * (to - from));
    }

    void name_seams() {
        for (const Vec2 at : seams_)
            (void)draw_name(sheet_, "overlap begins here", at, {area_, 20},
                            {.size = 2.3, .least = least_text, .stand = Stand::middle});
    }

    void marks() {
        for (const auto& mark : paper_.marks) {
            if (!in_tile(tile_, mark.at)) continue;
            const Vec2 p = on_.at(mark.at);
            sheet_.line({p.x - 5, p.y}, {p.x + 5, p.y}, thin);
            sheet_.line({p.x, p.y - 5}, {p.x, p.y + 5}, thin);
            sheet_.outline(rounded_points(RoundedRect::circle(p, 5)), thin);
            (void)draw_name(sheet_, mark.name, {p.x + 3, p.y - 3}, {area_, 12},
                            {.size = 2.6, .least = least_text, .bold = true, .stand = Stand::middle});
        }
    }

    /// 100 mm, below the tile.
    void bar() {
        const double y = area_.bottom() + 4;
        const double x = area_.x + 2;
        for (int i = 0; i <= 10; ++i) sheet_.line({x + i * 10, y - (i % 5 == 0 ? 2 : 1)}, {x + i * 10, y}, thin);
        sheet_.line({x, y}, {x + 100, y}, medium);
        sheet_.measured({x, y}, {x + 100, y}, 100);
        sheet_.text("check bar: 100 mm. Print at 100 %, not \"fit to page\"; measure this bar before use.",
                    {x + 103, y - 3.4, 150, 4.4},
                    {.size = 2.8, .least = least_text, .bold = true, .stand = Stand::middle});
    }

    /// Leaders start on the outline, where it lies on this tile: the middle is for the drill.
    void name(std::size_t index) {
        const auto& one = panel_.plan->front.openings[index];
        const RoundedRect& shape = one.seen.shape;
        const auto e = extent(shape);
        const Vec2 inside{std::clamp(shape.centre.x, tile_.corner.x, tile_.corner.x + tile_width),
                          std::clamp(shape.centre.y, tile_.corner.y, tile_.corner.y + tile_height)};
        if (inside.x < e[0] || inside.x > e[1] || inside.y < e[2] || inside.y > e[3]) return;  // not on this tile
        // Away from the other openings of the group.
        double others = 0;
        for (const std::size_t i : paper_.openings) others += panel_.plan->front.openings[i].seen.shape.centre.x;
        const double aside = shape.centre.x < others / static_cast<double>(paper_.openings.size()) - 1 ? -1 : 1;
        const auto start = [&](double way) {
            const Vec2 edge = shape.is_circle() ? shape.radius * Vec2{aside * std::sqrt(0.5), way * std::sqrt(0.5)}
                                                : Vec2{aside * shape.half_width / 2, way * shape.half_height};
            return on_.at(in_tile(tile_, shape.centre + edge) ? shape.centre + edge : inside);
        };
        const LetterStyle bold{.size = 3.4, .least = least_text, .bold = true, .stand = Stand::middle};
        const LetterStyle plain{.size = 2.8, .least = least_text, .stand = Stand::middle};
        const NameRoom room{area_, 80, 60};
        (void)draw_name(sheet_, fmt::format("{} {}, {}", letter_of(index), one.seen.name, size_words(shape)), start(1),
                        room, bold);
        (void)draw_name(sheet_,
                        fmt::format("centre {} from {}, {} from {}", tenths(one.across.distance),
                                    to_string(one.across.side), tenths(one.up.distance), to_string(one.up.side)),
                        start(-1), room, plain);
    }

    /// Edges of the panel that this tile shows.
    void name_edges() {
        const auto& p = panel_.plan->front.shape.outline.points;
        for (const auto& edge : panel_.plan->front.edges) {
            clipped_line(p[edge.from], p[edge.to], heavy, Dash::solid);
            const Vec2 middle = tile_.corner + Vec2{tile_width / 2, tile_height / 2};
            const Vec2 along = p[edge.to] - p[edge.from];
            const double t = dot(middle - p[edge.from], along) / dot(along, along);
            const Vec2 foot = p[edge.from] + std::clamp(t, 0.0, 1.0) * along;
            if (!in_tile(tile_, foot)) continue;
            (void)draw_name(sheet_, fmt::format("{} edge of the panel", to_string(edge.side)), on_.at(foot), {area_},
                            {.size = 2.8, .least = least_text, .stand = Stand::middle});
        }
    }

    Sheet& sheet_;
    const BenchPanel& panel_;
    const Template& paper_;
    const Tile& tile_;
    OnPaper on_;
    Rect area_;
    std::vector<Vec2> seams_;
};

}  // namespace

void draw_tile(Sheet& sheet, const Bench& bench, const BenchPanel& panel, const Template& paper, std::size_t index) {
    const Tile& tile = paper.tiles[index];
    std::string letters;
    for (const std::size_t i : paper.openings) letters += (letters.empty() ? "" : " ") + letter_of(i);
    const auto& job = bench.jobs[panel.job];
    const Rect room =
        begin_page(sheet, {fmt::format("template, panel {}: {}", panel.id, letters), job.name, job.revision, 1});
    draw_banner(
        sheet,
        fmt::format("TEMPLATE 1:1 FOR THE FRONT FACE OF {}, this side up{}: row {} of {}, column {} of {}", panel.id,
                    paper.tiles.size() > 1 ? ". Tile" : "", tile.row + 1, paper.rows, tile.column + 1, paper.columns),
        {room.x, room.y, room.width, heading_height}, false);
    TileDrawing(sheet, panel, paper, tile).draw();
}

}  // namespace standproud::viewer
