// Stock sheets and the figures of the bench. A figure with a source, or a choice of this program that every sheet
// shows, may be left out; the job must give the others, because nobody else can know them.
#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "job/readers.hpp"

namespace standproud {

namespace {

/// `shipped` with no source: the job must give the figure.
struct Known {
    const char* key;
    const char* unit;
    double least;
    double most;
    const char* says;
    double value;
    const char* shipped;
};

constexpr const char* common = "common practice, no source";
constexpr const char* chosen = "chosen by this program, no source";
constexpr const char* moisture = "published, a maker's text for extruded acrylic sheet";

constexpr Known known_figures[] = {
    {"kerf", "mm", 0, 20, "width of the saw cut", 0, nullptr},
    {"trim", "mm", 0, 100, "taken off each edge of a new sheet before all else, kerf included", 0, nullptr},
    {"fixed_at", "C", -20, 60, "temperature of the panels when they are bonded", 0, nullptr},
    {"coldest", "C", -40, 60, "coldest that the panels get", 0, nullptr},
    {"hottest", "C", -20, 100, "hottest that the panels get", 0, nullptr},
    {"fixed_humidity", "% RH", 0, 100, "humidity that the panels are used to when they are bonded", 0, nullptr},
    {"driest", "% RH", 0, 100, "driest that they get used to", 0, nullptr},
    {"wettest", "% RH", 0, 100, "wettest that they get used to", 0, nullptr},
    {"sealant_depth", "mm", 1, 50, "depth of sealant in a gap; what is deeper gets backing", 0, nullptr},
    {"cartridge", "ml", 10, 2000, "what a cartridge of adhesive or sealant holds", 0, nullptr},
    {"waste", "%", 0, 100, "added to adhesive, sealant and tape", 0, nullptr},
    {"reach", "cm", 10, 63, "hands in front of the ankles when a panel is lifted", 0, nullptr},
    {"expansion", "1e-6/K", 0, 300, "thermal expansion of the panel", 70,
     "acrylic: from memory, within the published 50 to 90 (Lange's Handbook, 15th ed., table 10.2)"},
    {"density", "kg/m3", 100, 10000, "density of the panel", 1190, "acrylic: from memory (ISO 7823-1 practice)"},
    {"moisture_60", "%", 0, 5, "longer than dry at 60 % RH", 0.2, moisture},
    {"moisture_80", "%", 0, 5, "longer than dry at 80 % RH", 0.3, moisture},
    {"moisture_100", "%", 0, 5, "longer than dry at 100 % RH", 0.6, moisture},
    {"tape_spacing", "mm", 50, 1000, "between upright tapes, middle to middle, at most", 300, common},
    {"bead", "mm", 1, 20, "diameter of the adhesive bead", 6, common},
    {"tape_width", "mm", 1, 100, "width of the tape", 12, chosen},
    {"tape_inset", "mm", 0, 200, "from the edges of a panel to the tape", 20, chosen},
    {"tape_clear", "mm", 0, 200, "from a hole to the tape: room for the ring", 20, chosen},
    {"bead_clear", "mm", 0, 100, "from the bead to tape, ring and edge of the panel", 10, chosen},
    {"wave_length", "mm", 20, 2000, "up the panel for a whole wave of the bead", 200, chosen},
    {"ring_offset", "mm", 0, 100, "from the edge of a hole to the middle of its ring", 8, chosen},
    {"spacer_spacing", "mm", 50, 2000, "between spacers under the base, at most", 400, chosen},
    {"seal_after", "h", 0, 1000, "from bonding to sealing, right after which the front film comes off", 24, common},
    {"named_from", "mm", 0.1, 50, "tapers and leans of more than this are named", 1, chosen},
    {"drill_largest", "mm", 1, 50, "round holes up to this are drilled straight away", 10, chosen},
    {"step_drill_largest", "mm", 1, 100, "round holes up to this by step drill, larger ones by hole saw", 32, chosen},
    {"usable_offcut", "mm", 1, 5000, "a left-over with both sides at least this is kept", 100, chosen},
    {"paint_beyond", "mm", 0, 200, "wall painted on either side of a join", 20, chosen},
    {"lift_from", "cm", 0, 175, "hands above the floor when a panel is taken up", 75, chosen},
    {"lift_to", "cm", 0, 175, "hands above the floor when it is set", 120, chosen},
    {"minutes_body", "min", 1, 2000, "to fix the body of a fitting", 60, chosen},
    {"minutes_lining", "min", 1, 2000, "to fix boards and membranes on a square metre of wall", 40, chosen},
    {"minutes_packing", "min", 1, 2000, "to pack or level behind panels, a litre", 15, chosen},
    {"minutes_cut", "min", 1, 2000, "to cut the outline of a panel and finish its edges", 40, chosen},
    {"minutes_hole", "min", 1, 2000, "to make one hole or cut-out", 15, chosen},
    {"minutes_bond", "min", 1, 2000, "to bond a panel", 45, chosen},
    {"minutes_seal", "min", 1, 2000, "to seal a metre of joint", 10, chosen},
    {"minutes_finish", "min", 1, 2000, "to fit what shows of a fitting", 30, chosen},
    {"crews_plumber", "crews", 1, 50, "of the plumber: tasks in hand at a time", 1, common},
    {"crews_electrician", "crews", 1, 50, "of the electrician", 1, common},
    {"crews_builder", "crews", 1, 50, "of the builder", 1, common},
    {"crews_installer", "crews", 1, 50, "of the installer", 1, common},
};

void check_order(Table& table, const BenchSettings& bench, const char* low, const char* high) {
    if (!table.has(low) || !table.has(high) || figure(bench, low) <= figure(bench, high)) return;
    table.fault(low, fmt::format("{} is more than {}", low, high),
                fmt::format("at most {} {:g}", high, figure(bench, high)));
}

}  // namespace

double figure(const BenchSettings& bench, const std::string& key) {
    for (const auto& one : bench.figures) {
        if (one.key == key) return one.value;
    }
    throw std::logic_error("no figure of the bench is called " + key);
}

SheetStock read_sheet(Table& table) {
    SheetStock sheet;
    sheet.source = table.source();
    sheet.id = table.id("id");
    sheet.width = table.number("width", {0, 20000, "mm", true});
    sheet.height = table.number("height", {0, 20000, "mm", true});
    if (const auto count = table.maybe_number("count", {0, 10000, "sheets"})) {
        if (*count != std::floor(*count)) table.fault("count", "sheets are whole", "0 to 10000, a whole number");
        sheet.count = static_cast<int>(*count);
    }
    sheet.price = table.maybe_number("price", {0, 1e6, "of any one currency"});
    if (!table.has("turning"))
        table.fault("turning", "sheets.turning is missing", "true, or false for a patterned sheet");
    sheet.turning = table.flag("turning", true);
    sheet.offcut = table.flag("offcut", false);
    if (sheet.offcut && !sheet.count) sheet.count = 1;
    table.finish();
    return sheet;
}

BenchSettings read_bench(Table& table) {
    BenchSettings bench;
    bench.source = table.source();
    for (const auto& known : known_figures) {
        BenchFigure one{known.key, known.value, known.unit, known.says, known.shipped ? known.shipped : "",
                        {},        known.least, known.most};
        const Range range{known.least, known.most, known.unit};
        if (known.shipped) {
            one.value = table.maybe_number(known.key, range).value_or(known.value);
        } else {
            one.value = table.number(known.key, range);
        }
        if (one.unit == "crews" && one.value != std::floor(one.value))
            table.fault(known.key, "crews are whole", "1 to 50, a whole number");
        if (table.has(known.key)) one.set = table.source_of(known.key);
        bench.figures.push_back(std::move(one));
    }
    bench.sealant = table.word("sealant_class", {"25", "20", "12.5", "7.5"});
    bench.saw = static_cast<BenchSaw>(table.word("saw", {"circular", "table"}));
    bench.start = table.date("start");
    for (const char* key : {"adhesive_price", "sealant_price", "tape_price", "backing_price"}) {
        if (const auto price = table.maybe_number(key, {0, 1e6, "of any one currency"})) bench.prices[key] = *price;
    }
    if (figure(bench, "trim") > 0 && figure(bench, "trim") < figure(bench, "kerf"))
        table.fault("trim", "the saw would run half off the sheet: its cut is wider than what is taken off",
                    fmt::format("0, or {:g} mm (kerf) or more", figure(bench, "kerf")));
    check_order(table, bench, "coldest", "fixed_at");
    check_order(table, bench, "fixed_at", "hottest");
    check_order(table, bench, "driest", "fixed_humidity");
    check_order(table, bench, "fixed_humidity", "wettest");
    if (figure(bench, "moisture_60") > figure(bench, "moisture_80") ||
        figure(bench, "moisture_80") > figure(bench, "moisture_100"))
        table.fault("moisture_60", "a panel does not shrink as it gets wetter",
                    "moisture_60, moisture_80, moisture_100 in rising order");
    table.finish();
    return bench;
}

}  // namespace standproud
