// Pipes, cables and screens.
#include <fmt/format.h>

#include "job/readers.hpp"

namespace standproud {

PipeRun read_pipe(Table& table) {
    PipeRun pipe;
    pipe.source = table.source();
    pipe.id = table.id("id");
    pipe.name = table.maybe_text("name").value_or(pipe.id);
    pipe.kind = static_cast<PipeRun::Kind>(table.word("kind", {"cold", "hot", "waste", "cable"}));
    pipe.wall = table.text("wall");
    pipe.diameter = table.number("diameter", {0, 200, "mm", true});
    pipe.bend_radius = table.maybe_number("bend_radius", {0, 1000, "mm"}).value_or(0);
    pipe.plus_minus = table.number("plus_minus", {0, 100, "mm"});
    for (const auto& [point, source] : table.triples("points", {-20000, 20000, "mm"})) {
        pipe.points.push_back({point[0], point[1], point[2]});
    }
    if (pipe.points.size() < 2) {
        table.fault("points", "a pipe runs through two points or more", "[[across, height, depth], ...]");
    }
    for (std::size_t i = 1; i < pipe.points.size(); ++i) {
        const WallPoint& a = pipe.points[i - 1];
        const WallPoint& b = pipe.points[i];
        if (norm(RoomPoint{b.u - a.u, b.v - a.v, b.n - a.n}) > same_length) continue;
        table.fault("points", fmt::format("points {} and {} of a pipe are the same", i, i + 1), "points apart");
    }
    pipe.connects = table.names("connects");
    pipe.exposed = table.flag("exposed", false);
    table.finish();
    return pipe;
}

Screen read_screen(Table& table) {
    constexpr Range size{0, 5000, "mm", true};
    Screen screen;
    screen.source = table.source();
    screen.id = table.id("id");
    screen.name = table.maybe_text("name").value_or(screen.id);
    screen.wall = table.text("wall");
    screen.across = read_across(table);
    screen.width = table.number("width", size);
    screen.thickness = table.number("thickness", {0, 100, "mm", true});
    screen.bottom = table.number("bottom", {-2000, 6000, "mm"});
    screen.top = table.number("top", {-2000, 6000, "mm"});
    screen.profile = table.maybe_number("profile", {0, 500, "mm", true});
    screen.fixings = table.numbers("fixings", {-2000, 6000, "mm"});
    screen.swing_left = table.maybe_number("swing_left", {0, 90, "degrees"}).value_or(0);
    screen.swing_right = table.maybe_number("swing_right", {0, 90, "degrees"}).value_or(0);
    if (screen.top <= screen.bottom) table.fault("top", "a screen's top is not above its bottom", "more than bottom");
    if (screen.profile && *screen.profile < screen.thickness)
        table.fault("profile", "what holds a screen is narrower than its glass", "its thickness or more");
    for (const double height : screen.fixings) {
        if (height >= screen.bottom && height <= screen.top) continue;
        table.fault("fixings", fmt::format("the fixing at {:g} is not on the glass", height), "from bottom to top");
    }
    table.finish();
    return screen;
}

}  // namespace standproud
