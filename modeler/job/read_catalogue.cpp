// Fitting types, stocked items, and fittings in their places.
#include <fmt/format.h>

#include "job/readers.hpp"

namespace standproud {

namespace {

constexpr Range offset{-5000, 5000, "mm"};
constexpr Range opening{0, 3000, "mm", true};
constexpr Range small{0, 2000, "mm"};

const std::vector<std::string> roles{"body",  "spindle", "tail",  "flange", "handle",  "rose", "arm",   "spout",
                                     "screw", "box",     "plate", "rail",   "bracket", "seat", "niche", "pipe"};

/// A circle by its diameter, or a rectangle by width, height and corner radius.
RoundedRect read_shape(Table& table, bool radius_needed) {
    const Vec2 at = table.maybe_pair("at", offset).value_or(Vec2{});
    if (table.has("diameter")) return RoundedRect::circle(at, table.number("diameter", opening));
    if (!table.has("width") && !table.has("height")) {
        table.fault("diameter", "a shape has neither diameter nor width and height", "diameter, or width and height");
        (void)table.maybe_number("diameter", opening);
        (void)table.maybe_number("width", opening);
        (void)table.maybe_number("height", opening);
        (void)table.maybe_number("radius", small);
        return {};
    }
    const double width = table.number("width", opening);
    const double height = table.number("height", opening);
    const double most = std::min(width, height) / 2;
    const Range rounded{0, most, "mm: inside corners are drilled out, never square", true};
    const double radius =
        radius_needed ? table.number("radius", rounded) : table.maybe_number("radius", {0, most, "mm"}).value_or(0);
    return RoundedRect::rect(at, width, height, std::min(radius, most));
}

HoleNeed read_hole(Table& table) {
    HoleNeed hole;
    hole.source = table.source();
    hole.opening = read_shape(table, true);
    if (const auto passes = table.maybe_number("passes", opening)) {
        hole.passes = RoundedRect::circle(hole.opening.centre, *passes);
    } else if (table.has("passes_width") || table.has("passes_height")) {
        hole.passes = RoundedRect::rect(hole.opening.centre, table.number("passes_width", opening),
                                        table.number("passes_height", opening));
    } else {
        (void)table.maybe_number("passes_width", opening);
        (void)table.maybe_number("passes_height", opening);
    }
    table.finish();
    return hole;
}

const std::vector<std::string> accesses{"handle sweep", "hand room", "spanner", "cartridge", "heat"};
const std::vector<std::string> uses{"control", "grab rail", "water outlet", "socket outlet", "electrical", "other"};

TypePart read_part(Table& table, const char* key, const std::vector<std::string>& words) {
    TypePart part;
    part.source = table.source();
    part.role = words[table.word(key, words)];
    part.datum = static_cast<TypePart::Datum>(table.word("from", {"seat", "face"}));
    part.axis = static_cast<TypePart::Axis>(table.maybe_word("axis", {"out", "up", "across"}).value_or(0));
    part.outline = read_shape(table, false);
    part.start = table.number("start", offset);
    part.length = table.number("length", opening);
    table.finish();
    return part;
}

void read_family_lengths(Table& table, FittingType& type) {
    constexpr Range length{0, 2000, "mm"};
    constexpr Range either{-500, 2000, "mm"};
    switch (type.family) {
        case Family::spindle:
            type.spindle_length = table.maybe_length("spindle_length", length);
            type.proud_min = table.maybe_length("proud_min", either);
            type.proud_max = table.maybe_length("proud_max", either);
            break;
        case Family::window:
            type.face_min = table.maybe_length("face_min", either);
            type.face_max = table.maybe_length("face_max", either);
            break;
        case Family::thread:
            type.tail_length = table.maybe_length("tail_length", length);
            type.thread_length = table.maybe_length("thread_length", length);
            type.socket_depth = table.maybe_length("socket_depth", length);
            break;
        case Family::screw:
            type.screw_length = table.maybe_length("screw_length", length);
            type.base_thickness = table.maybe_length("base_thickness", length);
            type.embedment_min = table.maybe_length("embedment_min", length);
            break;
        case Family::plate:
            type.screw_length = table.maybe_length("screw_length", length);
            type.base_thickness = table.maybe_length("base_thickness", length);
            type.socket_depth = table.maybe_length("socket_depth", length);
            type.recess_max = table.maybe_length("recess_max", length);
            break;
    }
    const auto crossed = [&](const MaybeLength& low, const MaybeLength& high, const char* key) {
        if (low && high && low->value > high->value) {
            table.fault(key, fmt::format("the window of \"{}\" is upside down", type.id), "its least value or more");
        }
    };
    crossed(type.proud_min, type.proud_max, "proud_max");
    crossed(type.face_min, type.face_max, "face_max");
}

}  // namespace

FittingType read_type(Table& table) {
    FittingType type;
    type.source = table.source();
    type.id = table.id("id");
    type.name = table.text("name");
    type.maker = table.maybe_text("maker").value_or("");
    type.family = static_cast<Family>(table.word("family", {"spindle", "window", "thread", "screw", "plate"}));
    type.trade = static_cast<Trade>(table.word("trade", {"plumber", "electrician", "builder", "installer"}));
    type.connection = table.maybe_text("connection").value_or("");
    read_family_lengths(table, type);
    for (auto& hole : table.tables("holes")) type.holes.push_back(read_hole(hole));
    for (auto& flange : table.tables("flanges")) {
        type.flanges.push_back({read_shape(flange, false), flange.source()});
        flange.finish();
    }
    for (auto& part : table.tables("parts")) type.parts.push_back(read_part(part, "role", roles));
    for (auto& space : table.tables("access")) type.access.push_back(read_part(space, "for", accesses));
    type.price = table.maybe_number("price", {0, 1e6, "of any one currency"});
    if (const auto use = table.maybe_word("use", uses)) type.use = static_cast<Use>(*use + 1);
    table.finish();
    return type;
}

StockItem read_stock(Table& table) {
    StockItem item;
    item.source = table.source();
    item.id = table.id("id");
    item.name = table.text("name");
    item.kind = static_cast<StockItem::Kind>(table.word("kind", {"extension", "kit", "nipple", "screw"}));
    item.fits = table.text("fits");
    item.adds = table.maybe_length(item.kind == StockItem::Kind::screw ? "length" : "adds", {0, 1000, "mm", true});
    if (item.kind == StockItem::Kind::nipple) {
        item.socket_depth = table.maybe_length("socket_depth", {0, 500, "mm", true});
        item.thread_length = table.maybe_length("thread_length", {0, 500, "mm", true});
    }
    item.price = table.maybe_number("price", {0, 1e6, "of any one currency"});
    table.finish();
    return item;
}

namespace {

constexpr Range seat{-1000, 1000, "mm"};
constexpr Range level{-6000, 6000, "mm"};

AsBuilt read_as_built(Table table, const Job& job) {
    AsBuilt fixed;
    fixed.source = table.source();
    fixed.height_source = table.source_of("height");
    fixed.date = table.date("date");
    fixed.by = table.text("by");
    fixed.seat = table.maybe_length("seat", seat);
    if (fixed.seat && !fixed.seat->tolerance) fixed.seat->tolerance = job.measured_tolerance;
    if (table.has("across") || table.has("from")) {
        fixed.across = read_across(table);
    } else {
        (void)table.maybe_number("across", level);  // so that they are known keys
        (void)table.maybe_text("from");
    }
    fixed.height = table.maybe_number("height", level);
    if (!fixed.seat && !fixed.across && !fixed.height) {
        table.fault("seat", "an as-built record holds no measurement", "seat, height, or across and from");
    }
    table.finish();
    return fixed;
}

}  // namespace

Fitting read_fitting(Table& table, const Job& job) {
    Fitting fitting;
    fitting.source = table.source();
    fitting.id = table.id("id");
    fitting.name = table.maybe_text("name").value_or(fitting.id);
    fitting.type = table.text("type");
    fitting.wall = table.text("wall");
    fitting.type_source = table.source_of("type");
    fitting.wall_source = table.source_of("wall");
    fitting.height_source = table.source_of("height");
    fitting.across = read_across(table);
    fitting.height = table.number("height", level);
    fitting.seat = table.maybe_length("seat", seat);
    if (fitting.seat && !fitting.seat->tolerance) fitting.seat->tolerance = job.seat_tolerance;
    fitting.with = table.maybe_text("with").value_or("");
    fitting.with_source = table.source_of("with");
    if (auto fixed = table.table("as_built")) fitting.as_built = read_as_built(*fixed, job);
    table.finish();
    return fitting;
}

}  // namespace standproud
