#include <fmt/format.h>

#include <cmath>

#include "bench/words.hpp"
#include "rules/words.hpp"
#include "terminal/layout.hpp"

namespace standproud::viewer {

using rules::mm;
using rules::tenth_up;

namespace {

std::string tenth(double value) { return fmt::format("{:.1f}", std::round(value * 10) / 10 + 0.0); }
std::string point(Vec2 at) { return fmt::format("({}, {})", tenth(at.x), tenth(at.y)); }
std::string item(const std::string& text) { return wrapped(text, "  ", "      "); }
std::string loud(const std::string& text) { return wrapped(text, "  ! ", "    "); }

std::string edges_words(const cutting::SeenPanel& seen) {
    std::string text;
    for (std::size_t i = 0; i < seen.edges.size(); ++i) {
        const auto& edge = seen.edges[i];
        std::string line = fmt::format("edge {}-{} {}: {}, {:.2f} degrees at corner {}", edge.from + 1, edge.to + 1,
                                       to_string(edge.side), tenth(edge.length), seen.angles[i], i + 1);
        if (edge.named) line += fmt::format("; OUT OF SQUARE by {}", tenth(edge.leans));
        text += item(line);
    }
    for (const auto& diagonal : seen.diagonals)
        text += item(fmt::format("diagonal {}-{}: {}", diagonal.from + 1, diagonal.to + 1, tenth(diagonal.length)));
    for (const auto& taper : seen.tapers)
        text += loud(fmt::format("TAPER: the {} is {} longer than the {}", to_string(taper.longer), tenth(taper.by),
                                 to_string(taper.shorter)));
    return text;
}

std::string marked_words(const cutting::MarkedOpening& opening) {
    if (opening.seen.notch) {
        std::string text =
            fmt::format("{}: NOTCH {}, out of the outline", opening.seen.name, size_words(opening.taken));
        for (const auto& corner : opening.inside)
            text += fmt::format("; inside corner {} from the {} edge, {} from the {} edge, x, y {}",
                                tenth(corner.across.distance), to_string(corner.across.side), tenth(corner.up.distance),
                                to_string(corner.up.side), point(corner.at));
        return text;
    }
    return fmt::format("{}: {}; centre {} from the {} edge, {} from the {} edge; x, y {}", opening.seen.name,
                       size_words(opening.seen.shape), tenth(opening.across.distance), to_string(opening.across.side),
                       tenth(opening.up.distance), to_string(opening.up.side), point(opening.seen.shape.centre));
}

std::string corners_words(const cutting::SeenPanel& seen) {
    std::string text;
    for (const auto at : seen.shape.outline.points) text += (text.empty() ? "" : ", ") + point(at);
    return text;
}

std::string steps_words(const cutting::CuttingPlan& plan) {
    std::string text;
    int step = 0;
    for (const auto& work : plan.operations) {
        text += wrapped(fmt::format("{}. [{}] {}", ++step,
                                    work.on_wall                     ? "ON THE WALL"
                                    : work.up == cutting::Face::rear ? "REAR FACE UP"
                                                                     : "FRONT FACE UP",
                                    work.says),
                        "  ", "      ");
        const auto& seen = work.up == cutting::Face::rear ? plan.rear : plan.front;
        const std::string as = work.mirrored ? "MIRRORED, as seen on the rear: " : "as seen on the front: ";
        if (work.work == cutting::Work::saw_outline)
            text += wrapped(as + "corners at " + corners_words(seen), "      ", "      ");
        if (!work.opening) continue;
        if (work.work == cutting::Work::drill_corners) {
            std::string places;
            for (const auto& place : work.places) places += (places.empty() ? "" : ", ") + point(place.at);
            text += wrapped(as + "at " + places, "      ", "      ");
        } else {
            text += wrapped(as + marked_words(seen.openings[*work.opening]), "      ", "      ");
        }
    }
    return text;
}

/// Rounded up, so that it is enough.
std::string litres(double volume) { return fmt::format("{:.1f} litres", tenth_up(volume / 1e6)); }

std::string bed_words(const BenchPanel& panel) {
    if (panel.packing_volume <= 0) return "";
    return loud(
        fmt::format("bed behind it {} to {} mm: pack or level the wall to the bedding plane first, {} under "
                    "this panel; tape and beads are reckoned for {} mm of bed",
                    tenth(panel.bed_least), tenth(panel.bed_most), litres(panel.packing_volume), mm(panel.bed)));
}

std::string bond_words(const BenchPanel& panel) {
    if (!panel.bond) return item("bond: " + panel.not_bonded);
    const auto& bond = *panel.bond;
    std::string strips;
    for (const auto& strip : bond.tape) {
        strips += fmt::format("{}{} ({} to {} up)", strips.empty() ? "" : ", ", tenth(panel.width - strip.x),
                              tenth(strip.from), tenth(strip.to));
    }
    return item(fmt::format("tape, upright, on the REAR and as seen there, from its left edge: {}", strips)) +
           item(fmt::format("adhesive: {} mm bead, {:.2f} m in waves between the tapes,{} {:.2f} m in {} ring{} round "
                            "the openings",
                            mm(std::sqrt(bond.adhesive_volume / (bond.bead_length + bond.ring_length) * 4 / pi)),
                            (bond.bead_length - bond.leg_length) / 1000,
                            bond.leg_length > 0
                                ? fmt::format(" {:.2f} m straight in legs beside cut-outs,", bond.leg_length / 1000)
                                : "",
                            bond.ring_length / 1000, bond.rings.size(), bond.rings.size() == 1 ? "" : "s")) +
           item(fmt::format("rear to scuff, its film off: {:.3f} m2; spacers under the base: {}",
                            bond.scuffed_area / 1e6, bond.spacers.size()));
}

std::string lift_words(const BenchPanel& panel) {
    const std::string people =
        panel.lift.people ? fmt::format("{} to lift", *panel.lift.people) : "MORE THAN TWO to lift";
    return fmt::format("{:.2f} kg, {} (recommended {:.1f} kg for one, NIOSH 94-110)", panel.mass, people,
                       panel.lift.recommended);
}

std::string panel_text(const BenchPanel& panel, bool colour) {
    std::string text = "\n" +
                       heading(fmt::format("PANEL {}, wall {}: {} x {} x {}", panel.id, panel.wall, tenth(panel.width),
                                           tenth(panel.height), mm(panel.thickness)),
                               colour) +
                       "\n";
    text += item(fmt::format("{:.4f} m2 without openings, {}", panel.area / 1e6, lift_words(panel)));
    if (panel.plan) {
        text += "  seen from the FRONT, x to the right and y up from the lower left of the bounding size:\n";
        text += edges_words(panel.plan->front);
        for (const auto& opening : panel.plan->front.openings) text += item("mark " + marked_words(opening));
        text += steps_words(*panel.plan);
    } else {
        text += loud("NOT TO BE CUT AS DRAWN: " + panel.not_cut);
    }
    text +=
        item(fmt::format("moves: hot and wet {:.2f} longer across and {:.2f} up, cold and dry {:.2f} and {:.2f} "
                         "shorter",
                         panel.grows_across, panel.grows_up, panel.shrinks_across, panel.shrinks_up));
    for (const auto& hole : panel.holes) {
        const std::string line =
            fmt::format("hole {}: {} from the middle, moves {:.2f}, needs {:.2f}, {} {:.2f}", hole.name,
                        tenth(hole.from_middle), hole.moved.moves, hole.moved.needed_diameter,
                        hole.moved.spare < 0 ? "TOO SMALL by" : "spare", std::abs(hole.moved.spare));
        text += hole.moved.spare < -same_length ? loud(line) : item(line);
    }
    return text + bed_words(panel) + bond_words(panel);
}

std::string proof_words(const Bench& bench) {
    const auto& found = *bench.sheets.nesting;
    const std::string cost = bench.priced
                                 ? fmt::format("price {:.2f}", found.price)
                                 : fmt::format("{} new sheet{}", found.new_sheets, found.new_sheets == 1 ? "" : "s");
    if (found.cost_proved)
        return fmt::format("{}: proved, no layout of edge-to-edge cuts has less. Largest offcut {:.3f} m2{}", cost,
                           found.largest_offcut / 1e6,
                           !found.offcut_proved ? ", best found"
                           : bench.priced       ? ", proved the largest that this price leaves"
                                                : ", proved the largest that so few sheets, of the least area, leave");
    return fmt::format("{}: best found, NOT proved; no layout has less than {:.4g}, gap {:.1f} %", cost, found.bound,
                       100 * found.gap);
}

std::string cut_words(const SheetCut& cut, bool rear) {
    const char* edge = cut.upright ? (rear ? "RIGHT" : "left") : "bottom";
    std::string text = fmt::format("{}{} cut of the part {} x {}: kerf {} to {} from its {} edge",
                                   cut.trims ? "trim, " : "", cut.upright ? "upright" : "level", tenth(cut.part.width),
                                   tenth(cut.part.height), tenth(cut.from), tenth(cut.to), edge);
    if (cut.upright)
        text += fmt::format("; {} {}, {} {}", rear ? "right" : "left", cut.first, rear ? "left" : "right", cut.second);
    else
        text += fmt::format("; below {}, above {}", cut.first, cut.second);
    return text;
}

std::string sheets_text(const Bench& bench, bool colour) {
    std::string text = "\n" + heading("SHEETS", colour) + "\n";
    if (!bench.sheets.nesting) return text + loud("not nested: " + bench.sheets.refused);
    text += item(proof_words(bench));
    const bool rear = sawn_rear_up(bench);
    int number = 0;
    for (const auto& sheet : bench.sheets.nesting->sheets) {
        const auto& stock = bench.stock[sheet.stock];
        text += item(fmt::format("Sheet {}: {}{}, {} x {}", ++number, stock.id, stock.offcut ? " (OFFCUT)" : "",
                                 tenth(stock.width), tenth(stock.height)));
        if (rear)
            text += loud("sawn REAR FACE UP: left and right are MIRRORED; what is said below is as seen on the rear");
        int step = 0;
        for (const auto& cut : cuts_of(bench, sheet))
            text += wrapped(fmt::format("{}. {}", ++step, cut_words(cut, rear)), "    ", "        ");
        for (const auto& placed : sheet.placed) {
            if (placed.turned)
                text += wrapped(fmt::format("panel {} lies turned by 90 degrees", bench.pieces[placed.piece].id),
                                "    ", "        ");
        }
        for (const auto& offcut : sheet.offcuts)
            text += wrapped(fmt::format("keep offcut {} x {}", tenth(offcut.width), tenth(offcut.height)), "    ",
                            "        ");
    }
    return text + item("Panels are nested by bounding size; tapers and corners are cut after, panel by panel.");
}

std::string reveals_text(const Bench& bench, bool colour) {
    std::string text;
    for (const auto& wall : bench.walls) {
        for (const auto& words : wall.reveals) text += item(fmt::format("wall {}: {}", wall.id, words));
    }
    return text.empty() ? text : "\n" + heading("REVEALS", colour) + "\n" + text;
}

std::string joints_text(const Bench& bench, bool colour) {
    std::string text = "\n" + heading("GAPS AND SEALANT", colour) + "\n";
    text += item(
        "Strains are plus or minus, in parts of the gap as drawn; panels move about their middles, free of the "
        "bond. \"needs\" is the width from which the sealant stays within its class. Free edges, where a panel meets "
        "nothing, have no gap: nothing is sealed there.");
    std::vector<Row> rows{{"gap", "drawn", "hot and wet", "cold and dry", "squeezed", "stretched", "needs", "length"},
                          {"", "", "wide", "wide", "%", "%", "", ""}};
    for (const auto& joint : bench.joints) {
        rows.push_back(
            {joint.name, mm(joint.gap), fmt::format("{:.2f}", joint.moved.hot_and_wet),
             fmt::format("{:.2f}", joint.moved.cold_and_dry), fmt::format("{:.0f}", 100 * joint.moved.compression),
             fmt::format("{:.0f}", 100 * joint.moved.tension),
             fmt::format("{:.1f}{}", tenth_up(joint.needed), joint.within ? "" : " !"), tenth(joint.length)});
    }
    text += table(rows, {false, true, true, true, true, true, true, true}, colour);
    static constexpr const char* classes[] = {"25", "20", "12.5", "7.5"};
    for (const auto& joint : bench.joints) {
        if (!joint.within)
            text += loud(
                fmt::format("{}: strained beyond class {} (ISO 11600, plus or minus per cent of the width): ask the "
                            "maker, or widen to {:.1f} mm",
                            joint.name, classes[bench.jobs[joint.job].settings.sealant], tenth_up(joint.needed)));
        if (joint.at_face > joint.gap + seen_wider)
            text +=
                item(fmt::format("{}: the edge is cut square, so the gap is {} mm where it is narrowest, behind, and "
                                 "{} mm at the face: set the panel by its marks, not by spacers there",
                                 joint.name, mm(joint.gap), tenth(joint.at_face)));
        const BenchJob& job = bench.jobs[joint.job];
        if (joint.kind == JointKind::join && joint.gap < job.least_join - same_length)
            text += item(fmt::format("{}: {} mm is below the least of a sealed join, {} mm ({})", joint.name,
                                     mm(joint.gap), mm(job.least_join), job.least_join_source));
        if (joint.paint)
            text += item(fmt::format(
                "{}: before bonding paint the wall behind near the panel's colour, {} to {} from the left bare "
                "corner, {} to {} up: clear sealant shows it",
                joint.name, tenth(joint.paint->from), tenth(joint.paint->to), tenth(joint.paint->bottom),
                tenth(joint.paint->top)));
    }
    return text;
}

std::string bought_text(const Bench& bench, bool colour) {
    std::string text = "\n" + heading("TO BUY", colour) + "\n";
    for (const auto& one : bench.bought) {
        const bool metres = one.unit == "metre";
        const double in = 1000;
        const char* unit = metres ? "m" : "ml";
        text += item(fmt::format("{}: {:.1f} {} needed, {:.1f} {} waste allowed, {:.1f} {} in all: {} {}{}", one.what,
                                 one.purchase.needed / in, unit, one.purchase.waste / in, unit,
                                 one.purchase.with_waste / in, unit, one.purchase.units, one.unit,
                                 one.purchase.units == 1 ? "" : "s"));
    }
    if (bench.sheets.nesting) {
        std::vector<int> used(bench.stock.size(), 0);
        for (const auto& sheet : bench.sheets.nesting->sheets) ++used[sheet.stock];
        for (std::size_t i = 0; i < used.size(); ++i) {
            if (used[i] == 0) continue;
            text += item(fmt::format("{} {}{} {}", used[i], bench.stock[i].offcut ? "offcut" : "sheet",
                                     used[i] == 1 ? "" : "s", bench.stock[i].id));
        }
    }
    double packing = 0;
    for (const auto& panel : bench.panels) packing += panel.packing_volume;
    if (packing > 0)
        text +=
            item(fmt::format("packing or levelling behind panels: {}, without waste, of what the adhesive's maker "
                             "allows",
                             litres(packing)));
    return text;
}

/// Only with some price: quantities alone are said above.
std::string bill_text(const Bench& bench, bool colour) {
    double total = 0;
    int priced = 0;
    for (const auto& line : bench.bill) {
        if (!line.price) continue;
        total += line.quantity * *line.price;
        ++priced;
    }
    if (priced == 0) return "";
    std::string text = "\n" + heading("BILL OF QUANTITIES", colour) + "\n";
    std::vector<Row> rows{{"item", "quantity", "unit", "price", "amount"}, {"", "", "", "", ""}};
    for (const auto& line : bench.bill) {
        rows.push_back({line.what, fmt::format("{:g}", line.quantity), line.unit,
                        line.price ? fmt::format("{:.2f}", *line.price) : "not given",
                        line.price ? fmt::format("{:.2f}", line.quantity * *line.price) : ""});
    }
    text += table(rows, {false, true, false, true, true}, colour);
    text += fmt::format("  total of what has a price: {:.2f}\n", total);
    const int unpriced = static_cast<int>(bench.bill.size()) - priced;
    if (unpriced > 0)
        text += loud(fmt::format("{} of {} {} not in it", unpriced, rules::counted(bench.bill.size(), "line"),
                                 unpriced == 1 ? "has no price and is" : "have no price and are"));
    return text + item("Prices as the files give them, of any one currency, without labour.");
}

std::string crews_words(const Bench& bench) {
    std::string words;
    for (const auto& [trade, count] : bench.crews) {
        const bool works = std::any_of(bench.tasks.begin(), bench.tasks.end(),
                                       [&, &trade = trade](const auto& task) { return task.trade == trade; });
        if (works)
            words += fmt::format("{}{} {} crew{}", words.empty() ? "" : ", ", trade, count, count == 1 ? "" : "s");
    }
    return words;
}

std::string tasks_text(const Bench& bench, bool colour) {
    std::string text = "\n" + heading("SEQUENCE", colour) + "\n";
    if (!bench.shared.refused.empty()) return text + loud(bench.shared.refused);
    text += item("Working days Monday to Friday, 8 to 16 h, nobody else on site: a plan to talk over, not a promise.");
    const auto& calendar = bench.shared.calendar;
    text += item("People: " + crews_words(bench) + ".");
    int step = 0;
    for (const std::size_t i : bench.shared.order) {
        const auto& task = bench.tasks[i];
        const auto& dated = calendar.tasks[i];
        text += item(fmt::format("{}. {} to {}, {}: {}", ++step, minute_words(dated.start),
                                 minute_words(bench.tasks[i].work > 0 ? dated.finish : dated.ready), task.trade,
                                 task.name));
        if (!task.hold.empty()) text += wrapped(task.hold, "    ! ", "      ");
    }
    for (const std::size_t i : bench.shared.order) {
        const auto& task = bench.tasks[i];
        const auto& dated = calendar.tasks[i];
        if (dated.busy_with) {
            text += item(fmt::format("{} waits for its own trade, to {}; busy with {}", task.trade, task.name,
                                     bench.tasks[*dated.busy_with].name));
        } else if (dated.held_by && bench.tasks[*dated.held_by].trade != task.trade) {
            const auto& other = bench.tasks[*dated.held_by];
            text += item(fmt::format("{} waits for {}: {}", task.trade, other.trade, other.name));
        }
    }
    text += item("Ready " + minute_words(calendar.end));
    if (bench.shared.proved) return text + item("No sharing of these people among these tasks ends sooner: proved.");
    return text + item(fmt::format("Best found; none ends before {}: not proved to be the earliest.",
                                   minute_words(bench.shared.bound)));
}

std::string list_words(const std::vector<std::string>& words, const char* mark) {
    std::string text;
    for (const auto& word : words) text += fmt::format("{}{}{}{}", text.empty() ? "" : ", ", mark, word, mark);
    return text;
}

/// Nothing is changed by what is proposed: the job says what holds.
std::string lining_text(const Bench& bench, bool colour) {
    std::string text = "\n" + heading("ORDER OF LINING", colour) + "\n";
    for (const auto& job : bench.jobs) {
        text += item(fmt::format("{}{}, {}", bench.jobs.size() > 1 ? job.file + ": " : "", list_words(job.order, ""),
                                 job.order_given ? "as the job says."
                                                 : "as the walls stand in the file: the job gives "
                                                   "no order."));
        const std::string why = fmt::format("because {} (common practice, no source)", job.proposed.why);
        if (job.order_as_proposed) {
            text += item("This program would propose the same, " + why + ".");
        } else {
            text += loud(fmt::format("proposed: {}, {}. To take it, order = [{}] under [panels]; panels change.",
                                     list_words(job.proposed.walls, ""), why, list_words(job.proposed.walls, "\"")));
        }
    }
    return text;
}

std::string figures_text(const BenchJob& job, bool colour) {
    std::string text = "\n" + heading("FIGURES USED, " + job.file, colour) + "\n";
    for (const auto& one : job.settings.figures) {
        text += item(fmt::format("{} = {} {}: {} [{}]", one.key, mm(one.value), one.unit, one.says,
                                 one.set ? to_string(*one.set) : "shipped: " + one.shipped));
    }
    text += item(fmt::format("gives: growth {:.3f} % by heat and {:.3f} % by moisture, shrinkage {:.3f} % and {:.3f} %",
                             100 * job.strain.thermal_growth, 100 * job.strain.moisture_growth,
                             100 * job.strain.thermal_shrinkage, 100 * job.strain.moisture_shrinkage));
    text += item("lifting: straight ahead, a fair grip, seldom (chosen by this program, no source)");
    return text + item(fmt::format("setout.hole = {} mm: how far holes may be off, from the limits of check",
                                   mm(job.hole_allowance)));
}

}  // namespace

std::string text_bench(const Bench& bench, const TextStyle& style) {
    std::string text;
    for (const auto& job : bench.jobs)
        text += heading(fmt::format("{}{}: bench", job.name, job.revision.empty() ? "" : ", revision " + job.revision),
                        style.colour) +
                "\n" + job.file + "\n";
    text += wrapped(
        "Lengths in mm. A panel is marked as seen on the face that is up: REAR FACE UP, left and right are "
        "mirrored, and the coordinates given for that step are mirrored already. Both faces come with a film, as a "
        "rule clear on the front and tinted on the rear; the maker's sheet decides. Mark with a felt pen, on the film; "
        "the steps say when which film comes off. Tools, faces, films: common practice, no source.",
        "", "");
    if (!bench.settle_first.empty()) {
        text += "\n" + heading("TO SETTLE BEFORE THE FIRST CUT", style.colour) + "\n";
        for (const auto& one : bench.settle_first) text += loud(one);
    }
    for (const auto& panel : bench.panels) text += panel_text(panel, style.colour);
    text += sheets_text(bench, style.colour) + reveals_text(bench, style.colour) + joints_text(bench, style.colour) +
            bought_text(bench, style.colour) + bill_text(bench, style.colour) + lining_text(bench, style.colour) +
            tasks_text(bench, style.colour);
    for (const auto& job : bench.jobs) text += figures_text(job, style.colour);
    return text +
           "\nIsolate water and power before work. Find cables and pipes before drilling; keep dust down and out of "
           "your\n"
           "lungs. Check every figure on site; local codes and the makers' own sheets come first.\n";
}

}  // namespace standproud::viewer
