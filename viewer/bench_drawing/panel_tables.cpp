// The words beside a panel: outline, openings, steps, and what goes on its rear.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench/words.hpp"
#include "bench_drawing/panel_sheet.hpp"

namespace standproud::viewer {

namespace {

constexpr double thumbnail = 34;

std::string point(Vec2 at) { return fmt::format("{}, {}", tenths(at.x), tenths(at.y)); }

void say_outline(Flow& flow, const PanelFace& face) {
    const auto& seen = face.seen;
    flow.heading(face.rear() ? "Outline, MIRRORED, as seen here" : "Outline, as seen here");
    const auto columns = stretched(
        {{15}, {28}, {19, Align::right}, {5}, {11}, {16}, {17, Align::right}, {17, Align::right}}, flow.width() - 4);
    flow.row({"corner", "at x, y", "degrees", "", "edge", "", "length", "leans"}, columns, true);
    for (std::size_t i = 0; i < seen.edges.size(); ++i) {
        const auto& edge = seen.edges[i];
        flow.row({fmt::format("{}", i + 1), point(seen.shape.outline.points[i]), fmt::format("{:.2f}", seen.angles[i]),
                  "", fmt::format("{}-{}", edge.from + 1, edge.to + 1), to_string(edge.side), tenths(edge.length),
                  edge.named ? tenths(edge.leans) + " !" : tenths(edge.leans)},
                 columns);
    }
    for (const auto& taper : seen.tapers)
        flow.say(fmt::format("TAPER: the {} is {} longer than the {}", to_string(taper.longer), tenths(taper.by),
                             to_string(taper.shorter)),
                 true);
}

/// The outline, drawn small and not to scale, with its diagonals.
void draw_diagonals(Sheet& sheet, const PanelFace& face, const Rect& box) {
    const auto& p = face.seen.shape.outline.points;
    const Rect inner{box.x + 3, box.y + 1, box.width - 6, 26};
    const double fit = std::max(face.panel.width / inner.width, face.panel.height / inner.height);
    const OnPaper on{fit,
                     {inner.centre().x - face.panel.width / fit / 2, inner.centre().y + face.panel.height / fit / 2}};
    draw_closed(sheet, on.at(p), medium);
    Flow flow(sheet, {box.x, inner.bottom() + 1.2, box.width, 20});
    for (const auto& one : face.seen.diagonals) {
        sheet.line(on.at(p[one.from]), on.at(p[one.to]), thin, Dash::dashed);
        flow.say(fmt::format("diagonal {}-{}: {}", one.from + 1, one.to + 1, tenths(one.length)));
    }
    flow.finish();
}

std::string tools_of(const PanelFace& face, std::size_t opening) {
    std::string tools;
    for (const auto& work : face.panel.plan->operations) {
        if (work.opening != opening || work.up != face.seen.face) continue;
        const std::string tool = to_string(work.tool);
        if (tools.find(tool) == std::string::npos) tools += (tools.empty() ? "" : ", ") + tool;
    }
    if (!tools.empty()) return tools;
    return face.rear() ? "from the front" : "from the REAR";
}

void say_openings(Flow& flow, const PanelFace& face) {
    if (face.seen.openings.empty()) return;
    flow.heading(face.rear() ? "Holes and cut-outs, MIRRORED, as seen here" : "Holes and cut-outs, as seen here");
    const auto columns = stretched({{6}, {24}, {32}, {26}, {28}, {25}, {24}}, flow.width());
    flow.row({"", "", "size", "centre across", "centre up", "x, y", "tool"}, columns, true);
    for (std::size_t i = 0; i < face.seen.openings.size(); ++i) {
        const auto& one = face.seen.openings[i];
        const auto from = [](const cutting::FromEdge& edge) {
            return fmt::format("{} from {}", tenths(edge.distance), to_string(edge.side));
        };
        if (!one.seen.notch) {
            flow.row({letter_of(i), one.seen.name, size_words(one.taken), from(one.across), from(one.up),
                      point(one.taken.centre), tools_of(face, i)},
                     columns);
            continue;
        }
        flow.row(
            {letter_of(i), one.seen.name, "notch " + size_words(one.taken), "its corner:", "", "", tools_of(face, i)},
            columns);
        for (const auto& corner : one.inside)
            flow.row({"", "", "", from(corner.across), from(corner.up), point(corner.at), ""}, columns);
    }
}

std::string count_of(std::size_t index) { return fmt::format("{}", index + 1); }

const char* work_words(const cutting::Operation& step) {
    switch (step.work) {
        case cutting::Work::drill_corners:
            return "drill the corner holes first, slowly";
        case cutting::Work::drill:
            return step.tool == cutting::Tool::step_drill
                       ? "from the front, start small, turns kept down"
                       : "from the front, turns kept down; a used bit, a new one grabs";
        case cutting::Work::hole_saw_front:
            return "hole saw from the front to half depth";
        case cutting::Work::hole_saw_rear:
            return "turn over, finish from the rear on the same pilot hole";
        default:
            return "saw from corner hole to corner hole, a fine blade that cuts downwards";
    }
}

/// What ruins the panel where it is missed.
bool is_loud(const cutting::Operation& step) {
    return step.mirrored || step.work == cutting::Work::rear_film_off || step.work == cutting::Work::front_film_off;
}

/// The steps that are done with this face up, numbered as in the cut list; what is alike and follows on is one line.
void say_steps(Flow& flow, const PanelFace& face) {
    flow.heading(face.rear() ? "Done with the REAR FACE UP, in this order"
                             : "Done with the FRONT FACE UP, in this order");
    const auto& all = face.panel.plan->operations;
    std::size_t other = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].on_wall && !face.rear()) continue;  // said below
        if (all[i].up != face.seen.face) {
            ++other;
            continue;
        }
        if (!all[i].opening) {
            flow.say(fmt::format("{}. {}", i + 1, all[i].says), is_loud(all[i]));
            continue;
        }
        std::vector<std::size_t> openings{*all[i].opening};
        std::vector<std::size_t> numbers{i};
        // A hole saw's steps alternate between the faces, so steps of the other face do not end a run.
        std::size_t last = i;
        for (std::size_t j = i + 1; j < all.size(); ++j) {
            if (all[j].up != face.seen.face) continue;
            if (!all[j].opening || all[j].work != all[i].work || all[j].tool != all[i].tool) break;
            openings.push_back(*all[j].opening);
            numbers.push_back(j);
            last = j;
        }
        for (std::size_t j = i; j <= last; ++j) other += all[j].up != face.seen.face ? 1 : 0;
        flow.say(fmt::format("{}. {}, {}: {}.", runs_of(numbers, count_of), runs_of(openings, letter_of),
                             to_string(all[i].tool), work_words(all[i])));
        i = last;
    }
    if (other > 0)
        flow.say(face.rear() ? "The other numbers are done with the front face up or on the wall: see the front sheet."
                             : "The other numbers are done with the REAR FACE UP: see the rear sheet, mirrored.");
}

/// What is done on the wall, where the front is what is seen.
void say_wall_steps(Flow& flow, const PanelFace& face) {
    flow.heading("On the wall, in this order");
    const auto& all = face.panel.plan->operations;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].on_wall) flow.say(fmt::format("{}. {}", i + 1, all[i].says), is_loud(all[i]));
    }
}

void say_bond(Flow& flow, const PanelFace& face) {
    if (!face.panel.bond) {
        flow.heading("Not bonded");
        flow.say(face.panel.not_bonded);
        return;
    }
    const auto& bond = *face.panel.bond;
    const auto& settings = face.bench.jobs[face.panel.job].settings;
    flow.heading("Tape, adhesive, spacers, paint, as seen here");
    const auto columns = stretched({{50}, {100}}, flow.width());
    flow.row({fmt::format("tape, {} wide: its middle", tenths(figure(settings, "tape_width"))), "from and to, up"},
             columns, true);
    for (std::size_t end = bond.tape.size(); end > 0;) {
        // Bits of one strip stand together, from below.
        std::size_t start = end - 1;
        while (start > 0 && bond.tape[start - 1].strip == bond.tape[start].strip) --start;
        std::string bits;
        for (std::size_t i = start; i < end; ++i)
            bits += fmt::format("{}{} to {}", bits.empty() ? "" : " and ", tenths(bond.tape[i].from),
                                tenths(bond.tape[i].to));
        flow.row({fmt::format("{} from the LEFT", tenths(face.see({bond.tape[start].x, 0}).x)), bits}, columns);
        end = start;
    }
    std::string rings;
    if (!bond.rings.empty())
        rings =
            fmt::format(", {:.2f} m in {} ring{} {} mm off the openings", bond.ring_length / 1000, bond.rings.size(),
                        bond.rings.size() == 1 ? "" : "s", tenths(figure(settings, "ring_offset")));
    std::string straight;
    if (bond.leg_length > 0) straight = fmt::format(", {:.2f} m straight in legs", bond.leg_length / 1000);
    flow.say(fmt::format("Adhesive: {} mm bead, {:.2f} m in waves{}{}.", tenths(figure(settings, "bead")),
                         (bond.bead_length - bond.leg_length) / 1000, straight, rings));
    if (face.panel.packing_volume > 0)
        flow.say(fmt::format("Bed behind this panel {} to {}: pack or level to the bedding plane first; tape "
                             "and beads are reckoned for {}.",
                             tenths(face.panel.bed_least), tenths(face.panel.bed_most), tenths(face.panel.bed)),
                 true);
    std::vector<double> places;
    for (const double x : bond.spacers) places.push_back(face.see({x, 0}).x);
    std::sort(places.begin(), places.end());
    std::string spacers;
    for (const double x : places) spacers += (spacers.empty() ? "" : ", ") + tenths(x);
    if (!spacers.empty()) flow.say(fmt::format("Spacers under the base, from the LEFT: {}.", spacers));
    for (const auto& strip : paint_beside(face)) {
        const Vec2 middle = face.see({(strip.from + strip.to) / 2, (strip.bottom + strip.top) / 2});
        const bool above = strip.bottom > face.panel.height / 2 && strip.top > face.panel.height;
        const bool below = strip.top < face.panel.height / 2 && strip.bottom < 0;
        if (strip.to - strip.from > strip.top - strip.bottom && (above || below)) {
            flow.say(
                fmt::format("Wall painted before bonding behind the level join {}: {} high, {} of it behind this "
                            "panel.",
                            above ? "ABOVE" : "BELOW", tenths(strip.top - strip.bottom),
                            tenths(std::min(strip.top, face.panel.height) - std::max(strip.bottom, 0.0))));
            continue;
        }
        const bool right = middle.x > face.panel.width / 2;
        flow.say(fmt::format(
            "Wall painted before bonding behind the join on the {}: {} wide, {} of it under this panel, {} to {} up.",
            right ? "RIGHT" : "LEFT", tenths(strip.to - strip.from),
            tenths(std::min(strip.to, face.panel.width) - std::max(strip.from, 0.0)), tenths(strip.bottom),
            tenths(strip.top)));
    }
}

/// Samples of what is drawn on the rear.
void draw_key(Sheet& sheet, const Rect& box) {
    const double y = box.centre().y;
    double x = box.x;
    const auto name = [&](const char* words, double width) {
        sheet.text(words, {x, box.y, width, box.height}, {.size = 2.5, .least = least_text, .stand = Stand::middle});
        x += width;
    };
    const std::vector<Vec2> tape{{x, y - 0.4}, {x + 7, y - 0.4}, {x + 7, y + 0.4}, {x, y + 0.4}};
    sheet.fill(tape, {0.7, 0.7, 0.7});
    draw_closed(sheet, tape, 0.13);
    x += 8.5;
    name("tape", 12);
    std::vector<Vec2> wave;
    for (int i = 0; i <= 40; ++i) wave.push_back({x + i * 0.2, y - 1.1 * std::sin(i * pi / 10)});
    draw_curve(sheet, wave, 0.25);
    x += 9.5;
    name("adhesive bead", 27);
    sheet.fill({{x, y - 0.8}, {x + 1, y + 0.9}, {x - 1, y + 0.9}}, black);
    x += 2.5;
    name("spacer", 17);
    sheet.outline({{x, y - 1.2}, {x + 7, y - 1.2}, {x + 7, y + 1.2}, {x, y + 1.2}}, thin, black, Dash::dashed);
    x += 8.5;
    name("wall painted behind a join", 48);
}

void say_handling(Flow& flow, const PanelFace& face) {
    const auto& lift = face.panel.lift;
    flow.heading("Handling");
    flow.say(
        fmt::format("{} x {} x {}, {:.2f} kg: {}. Mark with a felt pen, on the film. As a rule the clear film is the "
                    "front's, the tinted one the rear's; the maker's sheet decides.",
                    tenths(face.panel.width), tenths(face.panel.height), tenths(face.panel.thickness), face.panel.mass,
                    lift.people ? fmt::format("{} to lift (NIOSH 94-110)", *lift.people) : "MORE THAN TWO to lift"));
    for (const auto& hole : face.panel.holes) {
        if (hole.moved.spare < -same_length)
            flow.say(
                fmt::format("! hole {} is {:.2f} mm too small for movement and set-out", hole.name, -hole.moved.spare),
                true);
    }
}

}  // namespace

void draw_panel_tables(Sheet& sheet, const PanelFace& face, const Rect& pane) {
    Flow outline(sheet, {pane.x, pane.y, pane.width - thumbnail, pane.height});
    say_outline(outline, face);
    draw_diagonals(sheet, face, {pane.right() - thumbnail + 2, pane.y, thumbnail - 2, 40});
    const double under = std::max(
        outline.y() + 1, pane.y + 29 + 3.6 * static_cast<double>(std::min<std::size_t>(face.seen.diagonals.size(), 3)));
    double bottom = pane.bottom();
    if (face.rear()) {
        bottom -= 5;
        draw_key(sheet, {pane.x, bottom, pane.width, 5});
    }
    Flow flow(sheet, {pane.x, under, pane.width, bottom - under});
    say_openings(flow, face);
    say_steps(flow, face);
    if (face.rear()) {
        say_bond(flow, face);
    } else {
        if (face.panel.bond) say_wall_steps(flow, face);
        say_handling(flow, face);
    }
    flow.finish();
}

}  // namespace standproud::viewer
