// The walls unfolded, side by side and true to scale: panels, holes, gaps, names; joins that can be dragged.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "modeler/gaps.hpp"
#include "rules/words.hpp"
#include "scene/palette.hpp"
#include "viewer/units.hpp"
#include "window/app.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

constexpr double between = 260;  // mm from wall to wall

struct Tints {
    ImU32 wall;
    ImU32 panel;
    ImU32 line;
    ImU32 ink;
    ImU32 faint;
    ImU32 join;
    ImU32 ground;
};

Tints tints(bool dark) {
    if (dark)
        return {IM_COL32(44, 49, 54, 255),    IM_COL32(72, 82, 90, 255),    IM_COL32(176, 186, 192, 255),
                IM_COL32(228, 232, 234, 255), IM_COL32(150, 158, 164, 255), IM_COL32(86, 180, 233, 255),
                IM_COL32(26, 29, 32, 255)};
    return {IM_COL32(226, 227, 222, 255), IM_COL32(252, 252, 250, 255), IM_COL32(84, 90, 95, 255),
            IM_COL32(30, 34, 38, 255),    IM_COL32(104, 110, 114, 255), IM_COL32(0, 114, 178, 255),
            IM_COL32(240, 241, 237, 255)};
}

/// A box on screen that is taken.
struct Taken {
    ImVec2 low;
    ImVec2 high;
};

bool meet(const Taken& a, const Taken& b) {
    return a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y;
}

/// The plan on screen: world is mm, x to the right, y up from the datum.
class Canvas {
  public:
    Canvas(const PlanView& plan, ImVec2 at, ImVec2 size, const Look& look)
        : tint(tints(look.dark)),
          draw(ImGui::GetWindowDrawList()),
          with_inches(look.inches),
          plan_(plan),
          at_(at),
          size_(size) {}

    [[nodiscard]] ImVec2 on(Vec2 p) const {
        return {at_.x + size_.x / 2 + static_cast<float>((p.x - plan_.middle.x) * plan_.pixels),
                at_.y + size_.y / 2 - static_cast<float>((p.y + plan_.middle.y) * plan_.pixels)};
    }
    [[nodiscard]] double x_of(float pixel) const {
        return plan_.middle.x + static_cast<double>(pixel - at_.x - size_.x / 2) / plan_.pixels;
    }
    [[nodiscard]] double y_of(float pixel) const {
        return -plan_.middle.y - static_cast<double>(pixel - at_.y - size_.y / 2) / plan_.pixels;
    }
    /// To 0.1 mm, in inches beside it where they are wanted: "700 (27.56 in)".
    [[nodiscard]] std::string said(double value) const {
        const std::string words = mm(std::round(10 * value) / 10);
        return with_inches ? fmt::format("{} ({})", words, inches(value)) : words;
    }
    /// Lines grow with the lettering.
    [[nodiscard]] static float pen(float thick) { return thick * ImGui::GetFontSize() / 15; }
    [[nodiscard]] float right() const { return at_.x + size_.x; }
    [[nodiscard]] float length(double millimetres) const { return static_cast<float>(millimetres * plan_.pixels); }

    std::vector<ImVec2> all(const std::vector<Vec2>& points, Vec2 by) const {
        std::vector<ImVec2> result;
        for (const Vec2 p : points) result.push_back(on(p + by));
        return result;
    }
    void fill(const std::vector<Vec2>& points, Vec2 by, ImU32 colour) const {
        const auto corners = all(points, by);
        draw->AddConvexPolyFilled(corners.data(), static_cast<int>(corners.size()), colour);
    }
    void outline(const std::vector<Vec2>& points, Vec2 by, ImU32 colour, float thick, bool closed = true) const {
        const auto corners = all(points, by);
        draw->AddPolyline(corners.data(), static_cast<int>(corners.size()), colour,
                          closed ? ImDrawFlags_Closed : ImDrawFlags_None, pen(thick));
    }
    void rounded(const RoundedRect& shape, Vec2 by, std::optional<ImU32> filled, ImU32 colour, float thick) const {
        const Vec2 c = shape.centre + by;
        const ImVec2 low = on({c.x - shape.half_width, c.y + shape.half_height});
        const ImVec2 high = on({c.x + shape.half_width, c.y - shape.half_height});
        const float round = length(shape.radius);
        if (filled) draw->AddRectFilled(low, high, *filled, round);
        draw->AddRect(low, high, colour, round, 0, pen(thick));
    }
    void dashed(Vec2 from, Vec2 to, ImU32 colour, float thick) const {
        const ImVec2 a = on(from);
        const ImVec2 b = on(to);
        const float whole = std::hypot(b.x - a.x, b.y - a.y);
        const float dash = 0.5F * ImGui::GetFontSize();
        for (float done = 0; done < whole; done += 1.7F * dash) {
            const float s = done / whole;
            const float e = std::min(1.0F, (done + dash) / whole);
            draw->AddLine(ImVec2(a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)),
                          ImVec2(a.x + e * (b.x - a.x), a.y + e * (b.y - a.y)), colour, pen(thick));
        }
    }

    void take(const ImVec2& low, const ImVec2& high) { taken_.push_back({low, high}); }
    [[nodiscard]] bool free(const ImVec2& place, const ImVec2& text) const {
        const Taken box{ImVec2(place.x - 2, place.y - 1), ImVec2(place.x + text.x + 2, place.y + text.y + 1)};
        return std::none_of(taken_.begin(), taken_.end(), [&](const Taken& t) { return meet(t, box); });
    }
    /// Words at the first of some places (their left top corners) that is free; false: none is.
    bool name(const std::string& words, const std::vector<ImVec2>& places, ImU32 colour, float size) {
        for (const ImVec2 place : places) {
            if (!free(place, measure(words, size))) continue;
            put(words, place, colour, size);
            return true;
        }
        return false;
    }
    void put(const std::string& words, ImVec2 place, ImU32 colour, float size) {
        const ImVec2 text = measure(words, size);
        draw->AddText(ImGui::GetFont(), size, place, colour, words.c_str());
        taken_.push_back({place, ImVec2(place.x + text.x, place.y + text.y)});
    }
    [[nodiscard]] static ImVec2 measure(const std::string& words, float size) {
        return ImGui::GetFont()->CalcTextSizeA(size, FLT_MAX, 0, words.c_str());
    }

    Tints tint;
    ImDrawList* draw;
    bool with_inches;

  private:
    const PlanView& plan_;
    ImVec2 at_;
    ImVec2 size_;
    std::vector<Taken> taken_;
};

/// Where each wall's own frame lies in the plan.
std::vector<Vec2> shifts(const std::vector<UnfoldedWall>& walls) {
    std::vector<Vec2> all;
    double x = 0;
    for (const auto& wall : walls) {
        all.push_back({x - wall.extent[0], 0});
        x += wall.extent[1] - wall.extent[0] + between;
    }
    return all;
}

void fit(PlanView& plan, const std::vector<UnfoldedWall>& walls, const ImVec2& size) {
    double width = -between;
    double low = 0;
    double high = 0;
    for (const auto& wall : walls) {
        width += wall.extent[1] - wall.extent[0] + between;
        low = std::min(low, wall.extent[2]);
        high = std::max(high, wall.extent[3]);
    }
    const double em = static_cast<double>(ImGui::GetFontSize());
    const double above = 7.4 * em;  // captions
    const double below = 5.6 * em;  // figures
    const double room = static_cast<double>(size.y) - above - below;
    plan.pixels = std::max(0.02, std::min((static_cast<double>(size.x) - 3 * em) / width, room / (high - low)));
    plan.middle = {width / 2, -(low + high) / 2 - (above - below) / 2 / plan.pixels};
}

double small_text() { return 0.87 * static_cast<double>(ImGui::GetFontSize()); }

/// Name of the wall, score, broken rules: above it, as wide as it is.
void draw_caption(App& app, Canvas& canvas, const UnfoldedWall& wall, Vec2 by) {
    const float em = ImGui::GetFontSize();
    const auto size = static_cast<float>(small_text());
    const ImVec2 foot = canvas.on(Vec2{wall.extent[0], wall.extent[3]} + by);
    float wide = std::max(13 * em, canvas.length(wall.extent[1] - wall.extent[0] + 0.6 * between));
    if (canvas.right() - foot.x > 8 * em) wide = std::min(wide, canvas.right() - foot.x - 0.5F * em);
    struct Line {
        std::string words;
        float size;
        ImU32 colour;
        bool broken;
    };
    const Colour red = verdict_colour(rules::Verdict::fails);
    const ImU32 bad = IM_COL32(red.red, red.green, red.blue, 255);
    std::vector<Line> lines{
        {wall.outline.name.empty() ? wall.outline.id : wall.outline.name, em, canvas.tint.ink, false}};
    if (const auto* drawn = score_of(live_scores(app.bench.view, *app.document), wall.outline.id)) {
        const auto& scored = drawn->answer.scored;
        const std::string words =
            scored ? score_words(scored->score, sheets_priced(*app.document->job), scored->cut_from_sheets)
                   : drawn->answer.refused;
        lines.push_back({words, size, scored ? canvas.tint.faint : canvas.tint.ink, !scored});
        if (scored && !scored->broken.empty()) {
            const std::size_t more = scored->broken.size() - 1;
            lines.push_back({scored->broken.front() + (more > 0 ? fmt::format(" (and {} more)", more) : ""), size,
                             canvas.tint.ink, true});
        }
    }
    float y = foot.y - 0.7F * em;
    for (auto& line : lines) {
        line.words = in_lines(line.words, wide - (line.broken ? 1.2F * em : 0.0F), line.size);
        y -= Canvas::measure(line.words, line.size).y + 0.15F * em;
    }
    for (const auto& line : lines) {
        if (line.broken) canvas.draw->AddText(ImGui::GetFont(), line.size, ImVec2(foot.x, y), bad, "X");
        const float x = foot.x + (line.broken ? 1.2F * em : 0.0F);
        canvas.draw->AddText(ImGui::GetFont(), line.size, ImVec2(x, y), line.colour, line.words.c_str());
        y += Canvas::measure(line.words, line.size).y + 0.15F * em;
    }
}

void draw_panels(Canvas& canvas, const UnfoldedWall& wall, Vec2 by) {
    canvas.fill(wall.outline.bare.points, by, canvas.tint.wall);
    canvas.outline(wall.outline.bare.points, by, canvas.tint.faint, 1);
    for (const auto& panel : wall.panels) {
        canvas.fill(panel.outline.points, by, canvas.tint.panel);
        for (const auto& notch : panel.notches) canvas.rounded(notch, by, canvas.tint.wall, canvas.tint.wall, 1.4F);
        canvas.outline(panel.cut.points, by, canvas.tint.line, 1.4F);
        const auto e = extent(Profile(panel.outline));
        for (const double x : {e[0], e[1]}) {  // names keep off the upright edges
            const ImVec2 top = canvas.on(Vec2{x, e[3]} + by);
            const ImVec2 foot = canvas.on(Vec2{x, e[2]} + by);
            canvas.take(ImVec2(top.x - 3, top.y), ImVec2(foot.x + 3, foot.y));
        }
    }
    for (const auto& panel : wall.panels) {
        for (const auto& notch : panel.notches) {
            const auto e = extent(notch);
            canvas.take(canvas.on(Vec2{e[0], e[3]} + by), canvas.on(Vec2{e[1], e[2]} + by));
        }
        for (const auto& hole : panel.openings) {
            canvas.rounded(hole, by, canvas.tint.ground, canvas.tint.line, 1.4F);
            const Vec2 c = hole.centre + by;
            canvas.take(canvas.on({c.x - hole.half_width, c.y + hole.half_height}),
                        canvas.on({c.x + hole.half_width, c.y - hole.half_height}));
        }
    }
    for (const auto& fitting : wall.outline.fittings) {
        for (const auto& flange : fitting.flanges) canvas.rounded(flange, by, std::nullopt, canvas.tint.faint, 1);
        const ImVec2 c = canvas.on(fitting.at + by);
        const float arm = 0.3F * ImGui::GetFontSize();
        canvas.draw->AddLine(ImVec2(c.x - arm, c.y), ImVec2(c.x + arm, c.y), canvas.tint.line);
        canvas.draw->AddLine(ImVec2(c.x, c.y - arm), ImVec2(c.x, c.y + arm), canvas.tint.line);
    }
    for (const auto& stay : wall.outline.stays) canvas.outline(stay.line, by, canvas.tint.line, 3, false);
}

void name_fittings(Canvas& canvas, const UnfoldedWall& wall, Vec2 by) {
    const auto size = static_cast<float>(small_text());
    const float gap = 0.35F * ImGui::GetFontSize();
    for (const auto& fitting : wall.outline.fittings) {
        auto box = std::array<double, 4>{fitting.at.x, fitting.at.x, fitting.at.y, fitting.at.y};
        for (const auto& f : fitting.flanges) {
            box = {std::min(box[0], f.centre.x - f.half_width), std::max(box[1], f.centre.x + f.half_width),
                   std::min(box[2], f.centre.y - f.half_height), std::max(box[3], f.centre.y + f.half_height)};
        }
        const ImVec2 low = canvas.on(Vec2{box[0], box[3]} + by);
        const ImVec2 high = canvas.on(Vec2{box[1], box[2]} + by);
        const ImVec2 text = Canvas::measure(fitting.name, size);
        const float middle = (low.y + high.y - text.y) / 2;
        const float centre = (low.x + high.x - text.x) / 2;
        std::vector<ImVec2> places;
        if (high.x - low.x > text.x + 4 * gap && high.y - low.y > 3 * text.y)  // a niche has room within
            places.push_back(ImVec2(centre, middle - text.y));
        for (const float off : {gap, 2.5F * gap, 6 * gap, 10 * gap}) {
            places.push_back(ImVec2(high.x + off, middle));
            places.push_back(ImVec2(low.x - off - text.x, middle));
            places.push_back(ImVec2(centre, high.y + off));
            places.push_back(ImVec2(centre, low.y - off - text.y));
        }
        canvas.name(fitting.name, places, canvas.tint.ink, size);
    }
}

/// Above the panels' feet, where nothing else is.
void name_stays(Canvas& canvas, const UnfoldedWall& wall, Vec2 by) {
    const auto size = static_cast<float>(small_text());
    const float gap = 0.35F * ImGui::GetFontSize();
    double foot = wall.extent[3];
    for (const auto& panel : wall.panels) foot = std::min(foot, extent(Profile(panel.outline))[2]);
    for (const auto& stay : wall.outline.stays) {
        if (stay.line.size() > 2 || stay.line.front().y != stay.line.back().y) continue;  // the floor needs no name
        const auto e = extent(Profile(wall.panels.front().outline));
        const ImVec2 at = canvas.on(Vec2{e[0], foot} + by);
        const ImVec2 text = Canvas::measure(stay.name, size);
        canvas.name(stay.name, {ImVec2(at.x + 2 * gap, at.y - text.y - gap)}, canvas.tint.faint, size);
    }
}

/// Its name and its size, in the middle of the panel, or above or below it where there is room.
void name_panels(Canvas& canvas, const UnfoldedWall& wall, Vec2 by) {
    const float em = ImGui::GetFontSize();
    const auto size = static_cast<float>(small_text());
    for (const auto& fitting : wall.outline.fittings) {
        for (const auto& f : fitting.flanges)
            canvas.take(canvas.on(f.centre + by + Vec2{-f.half_width, f.half_height}),
                        canvas.on(f.centre + by + Vec2{f.half_width, -f.half_height}));
    }
    for (const auto& panel : wall.panels) {
        const auto e = extent(Profile(panel.outline));
        const ImVec2 low = canvas.on(Vec2{e[0], e[3]} + by);
        const ImVec2 high = canvas.on(Vec2{e[1], e[2]} + by);
        std::string measures =
            fmt::format("{} x {}", mm(std::round(10 * (e[1] - e[0])) / 10), mm(std::round(10 * (e[3] - e[2])) / 10));
        if (canvas.with_inches) {
            const std::string both = fmt::format("{} ({} x {})", measures, inches(e[1] - e[0]), inches(e[3] - e[2]));
            if (Canvas::measure(both, size).x <= high.x - low.x - 12) measures = both;
        }
        const ImVec2 first = Canvas::measure(panel.id, em);
        ImVec2 second = Canvas::measure(measures, size);
        const bool narrow = second.x > high.x - low.x - 12;
        if (narrow) second = ImVec2(0, 0);
        const ImVec2 both(std::max(first.x, second.x), first.y + second.y);
        const float middle = (low.x + high.x) / 2;
        if (both.x > high.x - low.x - 12) continue;
        for (float off = 0; off < (high.y - low.y) / 2 - 2 * em; off += 0.5F * em) {
            const float up = (low.y + high.y - both.y) / 2 - off;
            const float down = (low.y + high.y - both.y) / 2 + off;
            const auto room = [&](float y) {  // with some air, so that it is not taken for a fitting's
                return canvas.free(ImVec2(middle - both.x / 2, y - 0.4F * em), ImVec2(both.x, both.y + 0.8F * em));
            };
            if (!room(up) && !room(down)) continue;
            const float y = room(up) ? up : down;
            canvas.put(panel.id, ImVec2(middle - first.x / 2, y), canvas.tint.ink, em);
            if (!narrow) canvas.put(measures, ImVec2(middle - second.x / 2, y + first.y), canvas.tint.faint, size);
            break;
        }
    }
}

/// Widths of the panels, and places of the joins from the left bare corner, below the wall.
void draw_figures(Canvas& canvas, const UnfoldedWall& wall, Vec2 by) {
    const float em = ImGui::GetFontSize();
    const auto size = static_cast<float>(small_text());
    const float foot = canvas.on(Vec2{0, wall.extent[2]} + by).y;
    for (const auto& panel : wall.panels) {
        const auto e = extent(Profile(panel.outline));
        const float a = canvas.on(Vec2{e[0], 0} + by).x;
        const float b = canvas.on(Vec2{e[1], 0} + by).x;
        const float y = foot + 0.9F * em;
        std::string words = canvas.said(e[1] - e[0]);
        if (Canvas::measure(words, size).x + 0.6F * em > b - a) words = mm(std::round(10 * (e[1] - e[0])) / 10);
        const ImVec2 text = Canvas::measure(words, size);
        for (const float x : {a, b})
            canvas.draw->AddLine(ImVec2(x, y - 0.35F * em), ImVec2(x, y + 0.35F * em), canvas.tint.faint);
        if (text.x + 0.6F * em > b - a) continue;
        const float middle = (a + b - text.x) / 2;
        canvas.draw->AddLine(ImVec2(a, y), ImVec2(middle - 3, y), canvas.tint.faint);
        canvas.draw->AddLine(ImVec2(middle + text.x + 3, y), ImVec2(b, y), canvas.tint.faint);
        canvas.put(words, ImVec2(middle, y - text.y / 2), canvas.tint.ink, size);
    }
    for (const auto& join : wall.joins) {
        const float x = canvas.on(Vec2{join.x, 0} + by).x;
        const std::string words = fmt::format("join at {}", canvas.said(join.from_left));
        const ImVec2 text = Canvas::measure(words, size);
        const float y = foot + 1.6F * em;
        canvas.name(words, {ImVec2(x - text.x / 2, y), ImVec2(x - text.x / 2, y + 1.1F * em)}, canvas.tint.join, size);
    }
    if (wall.joins.empty()) {
        const ImVec2 at = canvas.on(Vec2{wall.extent[0], wall.extent[2]} + by);
        canvas.name("no join", {ImVec2(at.x, foot + 1.6F * em)}, canvas.tint.faint, size);
    }
}

/// The join under the pointer, if one is near enough.
std::optional<HeldJoin> join_at(const App& app, const Canvas& canvas, const std::vector<Vec2>& by) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    float nearest = 0.75F * ImGui::GetFontSize();
    std::optional<HeldJoin> found;
    for (std::size_t w = 0; w < app.bench.walls.size(); ++w) {
        const auto& wall = app.bench.walls[w];
        for (const auto& join : wall.joins) {
            const ImVec2 top = canvas.on(Vec2{join.x, join.top} + by[w]);
            const ImVec2 foot = canvas.on(Vec2{join.x, join.bottom} + by[w]);
            const float away = std::abs(mouse.x - top.x);
            if (away >= nearest || mouse.y < top.y || mouse.y > foot.y) continue;
            nearest = away;
            found = HeldJoin{wall.wall, join.join, canvas.x_of(mouse.x), join.x, join.across, join.sign};
        }
    }
    return found;
}

void draw_joins(App& app, const Canvas& canvas, const UnfoldedWall& wall, Vec2 by, const std::optional<HeldJoin>& hot) {
    for (const auto& join : wall.joins) {
        const bool near = hot && hot->wall == wall.wall && hot->join == join.join;
        const ImVec2 top = canvas.on(Vec2{join.x, join.top} + by);
        const ImVec2 foot = canvas.on(Vec2{join.x, join.bottom} + by);
        const Job& job = app.document->job->model.job;
        const float gap = canvas.length(gap_of(job, wall.wall, job.walls[wall.wall].joins[join.join]).width);
        canvas.draw->AddLine(top, foot, canvas.tint.join, std::max(Canvas::pen(near ? 4 : 2), gap));
        const ImVec2 grip(foot.x, foot.y - canvas.length(300));
        const float round = (near ? 0.5F : 0.4F) * ImGui::GetFontSize();
        canvas.draw->AddCircleFilled(grip, round + 2, canvas.tint.panel);
        canvas.draw->AddCircleFilled(grip, round, canvas.tint.join);
        if (app.places)
            (*app.places)[fmt::format("unfolded join {} of {}", join.join + 1, wall.outline.id)] = {grip.x, grip.y,
                                                                                                    grip.x, grip.y};
    }
    if (app.bench.pointed_wall != wall.outline.id) return;
    for (const double place : app.bench.pointed) {
        const double x = wall.corner + place;
        canvas.dashed(Vec2{x, wall.extent[2]} + by, Vec2{x, wall.extent[3]} + by, canvas.tint.join, 2);
    }
}

/// How to read it, and a rule to measure by.
void draw_scale(const Canvas& canvas, const ImVec2& at, const ImVec2& size, const Gaps& gaps) {
    const float em = ImGui::GetFontSize();
    const std::string how = fmt::format(
        "Gaps where no wall has its own: joins {}, corners {}, base {}, top {} mm. Joins from the left bare corner.",
        canvas.said(gaps.join.width), canvas.said(gaps.corner.width), canvas.said(gaps.tray.width),
        canvas.said(gaps.top.width));
    canvas.draw->AddText(ImGui::GetFont(), static_cast<float>(small_text()),
                         ImVec2(at.x + em, at.y + size.y - 1.6F * em), canvas.tint.faint, how.c_str());
    double measure = 100;
    for (const double one : {200.0, 500.0, 1000.0}) {
        if (canvas.length(one) < 9 * em) measure = one;
    }
    const float long_by = canvas.length(measure);
    const ImVec2 from(at.x + size.x - long_by - em, at.y + size.y - 0.9F * em);
    canvas.draw->AddLine(from, ImVec2(from.x + long_by, from.y), canvas.tint.line, 2);
    for (const float x : {from.x, from.x + long_by})
        canvas.draw->AddLine(ImVec2(x, from.y - 4), ImVec2(x, from.y + 4), canvas.tint.line, 2);
    const std::string words = length_words(measure, canvas.with_inches);
    const auto letters = static_cast<float>(small_text());
    const ImVec2 text = Canvas::measure(words, letters);
    canvas.draw->AddText(ImGui::GetFont(), letters, ImVec2(from.x + (long_by - text.x) / 2, from.y - text.y - 3),
                         canvas.tint.faint, words.c_str());
}

void drag_held(App& app, const Canvas& canvas, const std::vector<Vec2>& by) {
    BenchDesk& desk = app.bench;
    const HeldJoin held = *desk.held;
    const double moved = canvas.x_of(ImGui::GetIO().MousePos.x) - held.x;
    for (std::size_t w = 0; w < desk.walls.size(); ++w) {  // where it would be, also while the job has faults there
        if (desk.walls[w].wall != held.wall || desk.walls[w].joins.empty()) continue;
        const auto& join = desk.walls[w].joins.front();
        canvas.dashed(Vec2{held.start + moved, join.bottom} + by[w], Vec2{held.start + moved, join.top} + by[w],
                      canvas.tint.join, 1);
    }
    const ImVec2 by_mouse = ImGui::GetIO().MouseDelta;
    if (by_mouse.x == 0 && by_mouse.y == 0) return;
    if (!held.moved && canvas.length(std::abs(moved)) < Canvas::pen(3)) return;
    desk.held->moved = true;
    // Whole millimetres: nobody sets out finer by hand.
    const double across = std::round(held.across + held.sign * moved);
    const Refusal refusal = move_join(*app.document, held.wall, held.join, across);
    const Model& model = app.document->job->model;
    outcome(app, refusal, join_words(app, held.wall, held.join, panel_bottom(model.job, held.wall) + 300));
}

}  // namespace

void draw_unfolded(App& app) {
    BenchDesk& desk = app.bench;
    const Document& document = *app.document;
    if (desk.unfolded != document.generation) {
        desk.walls = unfold(*document.job);
        desk.unfolded = document.generation;
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 size = ImGui::GetContentRegionAvail();
    if (desk.walls.empty()) {
        const float em = ImGui::GetFontSize();
        ImGui::SetCursorPos(ImVec2(std::max(2 * em, (size.x - 34 * em) / 2), 0.3F * size.y));
        ImGui::BeginChild("lacks", ImVec2(34 * em, 0));
        draw_lack(app);
        ImGui::EndChild();
        return;
    }
    if (size.x < 80 || size.y < 80) return;
    if (!desk.plan.moved) fit(desk.plan, desk.walls, size);
    ImGui::InvisibleButton(
        "plan", size,
        ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight | ImGuiButtonFlags_MouseButtonMiddle);
    note_place(app, "plan");
    Canvas canvas(desk.plan, at, size, app.look);
    const auto by = shifts(desk.walls);
    const bool over = ImGui::IsItemHovered();
    const auto hot = desk.held ? desk.held : over ? join_at(app, canvas, by) : std::nullopt;
    if (over && ImGui::IsMouseClicked(0) && hot) {
        desk.held = hot;
        app.wall = hot->wall;
        desk.show_joins = true;
    }
    if (!ImGui::IsMouseDown(0)) desk.held.reset();
    if (hot) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    move_plan(desk.plan, at, size, !desk.held);
    canvas.draw->PushClipRect(at, ImVec2(at.x + size.x, at.y + size.y), true);
    canvas.draw->AddRectFilled(at, ImVec2(at.x + size.x, at.y + size.y), canvas.tint.ground);
    for (std::size_t w = 0; w < desk.walls.size(); ++w) {
        const auto& wall = desk.walls[w];
        draw_panels(canvas, wall, by[w]);
        draw_joins(app, canvas, wall, by[w], hot);
        name_fittings(canvas, wall, by[w]);
        name_stays(canvas, wall, by[w]);
        name_panels(canvas, wall, by[w]);
        draw_figures(canvas, wall, by[w]);
        draw_caption(app, canvas, wall, by[w]);
    }
    draw_scale(canvas, at, size, document.job->model.job.panels.gaps);
    if (desk.held) drag_held(app, canvas, by);
    canvas.draw->PopClipRect();
}

}  // namespace standproud::viewer
