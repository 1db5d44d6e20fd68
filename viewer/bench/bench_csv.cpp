#include <fmt/format.h>

#include <optional>

#include "bench/words.hpp"
#include "terminal/csv.hpp"

namespace standproud::viewer {

namespace {

/// One line; what is not said is left empty.
struct Line {
    std::string file;
    std::string of;    ///< the panel or sheet
    std::string what;  ///< panel, edge, diagonal, corner, outline corner, mark, step, cut, piece, offcut
    std::string name;
    std::optional<int> step;
    std::string tool;
    std::string up;
    std::string mirrored;
    std::optional<double> x;
    std::optional<double> y;
    std::optional<double> width;
    std::optional<double> height;
    std::optional<double> size;
    std::string says;
};

std::string text_of(const Line& line) {
    const auto figure = [](const std::optional<double>& value) {
        return value ? fmt::format("{:.2f}", *value + 0.0) : "";
    };
    return fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{},{}\r\n", csv_cell(line.file), csv_cell(line.of),
                       csv_cell(line.what), csv_cell(line.name), line.step ? std::to_string(*line.step) : "",
                       csv_cell(line.tool), line.up, line.mirrored, figure(line.x), figure(line.y), figure(line.width),
                       figure(line.height), figure(line.size), csv_cell(line.says));
}

/// An opening's width and height, or its diameter.
void put_size(Line& line, const RoundedRect& shape) {
    line.width = 2 * shape.half_width;
    line.height = 2 * shape.half_height;
    line.size = 2 * shape.radius;
}

std::string panel_lines(const BenchPanel& panel, const std::string& file) {
    Line whole{file, panel.id,    "panel",      panel.wall,      {},           "", "", "", {},
               {},   panel.width, panel.height, panel.thickness, panel.not_cut};
    std::string text = text_of(whole);
    if (!panel.plan) return text;
    const auto& front = panel.plan->front;
    Line line{file, panel.id, "", "", {}, "", "front", "no", {}, {}, {}, {}, {}, ""};
    for (std::size_t i = 0; i < front.edges.size(); ++i) {
        const Vec2 at = front.shape.outline.points[i];
        Line corner = line;
        corner.what = "corner";
        corner.name = std::to_string(i + 1);
        corner.x = at.x;
        corner.y = at.y;
        corner.says = fmt::format("{:.3f} degrees", front.angles[i]);
        text += text_of(corner);
        Line edge = line;
        edge.what = "edge";
        edge.name = to_string(front.edges[i].side);
        edge.size = front.edges[i].length;
        if (front.edges[i].named) edge.says = fmt::format("out of square by {:.1f} mm", front.edges[i].leans);
        text += text_of(edge);
    }
    for (const auto& diagonal : front.diagonals) {
        Line one = line;
        one.what = "diagonal";
        one.name = fmt::format("{}-{}", diagonal.from + 1, diagonal.to + 1);
        one.size = diagonal.length;
        text += text_of(one);
    }
    return text;
}

std::string step_lines(const BenchPanel& panel, const std::string& file) {
    std::string text;
    if (!panel.plan) return text;
    int step = 0;
    for (const auto& work : panel.plan->operations) {
        Line line{file,
                  panel.id,
                  "step",
                  "",
                  ++step,
                  to_string(work.tool),
                  to_string(work.up),
                  work.mirrored ? "yes" : "no",
                  {},
                  {},
                  {},
                  {},
                  {},
                  work.says};
        const auto& seen = work.up == cutting::Face::rear ? panel.plan->rear : panel.plan->front;
        if (work.opening) {
            line.name = seen.openings[*work.opening].seen.name;
            put_size(line, seen.openings[*work.opening].taken);
        }
        if (work.work == cutting::Work::saw_outline) {
            for (const Vec2 at : seen.shape.outline.points) {
                line.x = at.x;
                line.y = at.y;
                text += text_of(line);
            }
        } else if (work.places.empty()) {
            text += text_of(line);
        }
        for (const auto& place : work.places) {
            line.x = place.at.x;
            line.y = place.at.y;
            if (place.diameter > 0) line.size = place.diameter;
            text += text_of(line);
        }
    }
    return text;
}

std::string sheet_lines(const Bench& bench) {
    std::string text;
    if (!bench.sheets.nesting) return text;
    int number = 0;
    const bool rear = sawn_rear_up(bench);
    for (const auto& sheet : bench.sheets.nesting->sheets) {
        const auto& stock = bench.stock[sheet.stock];
        const std::string of = fmt::format("sheet {} {}", ++number, stock.id);
        const char* tool = rear ? "circular saw" : "table saw";
        int step = 0;
        for (const auto& cut : cuts_of(bench, sheet)) {
            // Seen on the face that is up: rear up, the far side of the kerf comes first.
            const double near_left = rear && cut.upright ? cut.part.width - cut.to : cut.from;
            Line line{"",
                      of,
                      "cut",
                      cut.upright ? "upright" : "level",
                      ++step,
                      tool,
                      rear ? "rear" : "front",
                      rear && cut.upright ? "yes" : "no",
                      {},
                      {},
                      cut.part.width,
                      cut.part.height,
                      {},
                      cut.first + " | " + cut.second};
            (cut.upright ? line.x : line.y) = near_left;
            text += text_of(line);
        }
        for (const auto& placed : sheet.placed)
            text += text_of({"",
                             of,
                             "piece",
                             bench.pieces[placed.piece].id,
                             {},
                             "",
                             "front",
                             "no",
                             placed.at.x,
                             placed.at.y,
                             placed.at.width,
                             placed.at.height,
                             {},
                             placed.turned ? "turned" : ""});
        for (const auto& offcut : sheet.offcuts)
            text += text_of({"",
                             of,
                             "offcut",
                             "",
                             {},
                             "",
                             "front",
                             "no",
                             offcut.x,
                             offcut.y,
                             offcut.width,
                             offcut.height,
                             {},
                             "keep"});
    }
    return text;
}

}  // namespace

std::string csv_bench(const Bench& bench) {
    std::string text = "file,of,what,name,step,tool,face_up,mirrored,x_mm,y_mm,width_mm,height_mm,size_mm,says\r\n";
    for (const auto& panel : bench.panels) {
        const auto& file = bench.jobs[panel.job].file;
        text += panel_lines(panel, file) + step_lines(panel, file);
    }
    return text + sheet_lines(bench);
}

}  // namespace standproud::viewer
