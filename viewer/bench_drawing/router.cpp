#include "bench_drawing/router.hpp"

#include <fmt/format.h>

#include <cmath>

#include "bench/words.hpp"

namespace standproud::viewer {

namespace {

/// Text inside XML 1.0: what may not stand there becomes a space.
std::string escaped(const std::string& words) {
    std::string safe;
    for (const char c : words) {
        if (c == '&')
            safe += "&amp;";
        else if (c == '<')
            safe += "&lt;";
        else if (c == '>')
            safe += "&gt;";
        else if (c == '"')
            safe += "&quot;";
        else
            safe += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    }
    return safe;
}

/// Six decimals: a millionth of a millimetre, so that nothing is lost.
std::string figure_of(double value) {
    std::string text = fmt::format("{:.6f}", value);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return text == "-0" ? "0" : text;
}

std::string point(Vec2 p) { return figure_of(p.x) + "," + figure_of(p.y); }

/// y down in SVG: `height` at the top is its 0.
Vec2 turned(Vec2 p, double height) { return {p.x, height - p.y}; }

std::string outline_path(const Polygon& outline, double height) {
    std::string path;
    for (const Vec2 p : outline.points) path += (path.empty() ? "M" : " L") + point(turned(p, height));
    return path + " Z";
}

/// Quarter arcs and the straight lines between them, where there are any.
std::string opening_path(const RoundedRect& shape, double height) {
    const double a = shape.half_width - shape.radius;
    const double b = shape.half_height - shape.radius;
    const double r = shape.radius;
    const Vec2 c = turned(shape.centre, height);
    const auto line_to = [&](Vec2 by) { return " L" + point(c + by); };
    const auto arc_to = [&](Vec2 by) { return fmt::format(" A{0},{0} 0 0 1 {1}", figure_of(r), point(c + by)); };
    std::string path = "M" + point(c + Vec2{-a, -b - r});
    if (a > 0) path += line_to({a, -b - r});
    path += arc_to({a + r, -b});
    if (b > 0) path += line_to({a + r, b});
    path += arc_to({a, b + r});
    if (a > 0) path += line_to({-a, b + r});
    path += arc_to({-a - r, b});
    if (b > 0) path += line_to({-a - r, -b});
    return path + arc_to({-a, -b - r}) + " Z";
}

std::string group(const char* id, const std::string& paths) {
    return fmt::format("  <g id=\"{}\">\n{}  </g>\n", id, paths);
}

}  // namespace

std::string router_svg(const Bench& bench, const BenchPanel& panel) {
    const auto& front = panel.plan->front;
    std::string holes;
    std::string cut_outs;
    for (const auto& opening : front.openings) {
        if (opening.seen.notch) continue;
        const auto& shape = opening.seen.shape;
        const std::string path =
            fmt::format("    <path d=\"{}\"><title>{}: {}</title></path>\n", opening_path(shape, panel.height),
                        escaped(opening.seen.name), escaped(size_words(shape)));
        (shape.is_circle() ? holes : cut_outs) += path;
    }
    const auto& job = bench.jobs[panel.job];
    const std::string size = fmt::format("width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\"",
                                         figure_of(panel.width), figure_of(panel.height));
    return fmt::format(
               "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
               "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" {}>\n"
               "  <title>{}, panel {}, FRONT FACE UP</title>\n"
               "  <desc>FRONT FACE UP: seen from the front, top of the panel at the top. Units are millimetres, 1:1. "
               "Kerf and tool radius are NOT compensated: the paths are the finished edges. Thickness {}. Revision {}. "
               "Measure on site before cutting.</desc>\n",
               size, escaped(job.name), escaped(panel.id), figure_of(panel.thickness),
               job.revision.empty() ? "not given" : escaped(job.revision)) +
           "  <g id=\"front-face-up\" fill=\"none\" stroke=\"black\" stroke-width=\"0.1\">\n" +
           group("outline", fmt::format("    <path d=\"{}\"><title>outline</title></path>\n",
                                        outline_path(front.cut, panel.height))) +
           group("holes", holes) + group("cut-outs", cut_outs) + "  </g>\n</svg>\n";
}

}  // namespace standproud::viewer
