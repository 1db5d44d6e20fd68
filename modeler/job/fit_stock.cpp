// A type with an item from stock on it, as one type: what an extension, kit, nipple or longer screw makes of it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "modeler/job.hpp"

namespace standproud {

namespace {

std::optional<Family> family_for(StockItem::Kind kind, Family wanted) {
    switch (kind) {
        case StockItem::Kind::extension:
            return Family::spindle;
        case StockItem::Kind::kit:
            return Family::window;
        case StockItem::Kind::nipple:
            return Family::thread;
        case StockItem::Kind::screw:
            return wanted == Family::plate ? Family::plate : Family::screw;
    }
    return std::nullopt;
}

/// Two lengths end to end. A +/- that either lacks is unknown for the two together.
MaybeLength added(const MaybeLength& length, const MaybeLength& more, bool statistical) {
    if (!length || !more) return std::nullopt;
    Length sum = *length;
    sum.value += more->value;
    sum.tolerance.reset();
    if (length->tolerance && more->tolerance) {
        sum.tolerance =
            statistical ? std::hypot(*length->tolerance, *more->tolerance) : *length->tolerance + *more->tolerance;
    }
    return sum;
}

/// The end of a window, moved by an item. The end may stand without a +/-, and is then taken as exact.
MaybeLength moved_end(MaybeLength end, const MaybeLength& by, bool statistical) {
    if (end && !end->tolerance) end->tolerance = 0;
    return added(end, by, statistical);
}

/// The solids that get longer: the spindle by what is put on it; a screw is another one, its head where it was.
void lengthen_parts(FittingType& type, const char* role, double by, bool at_the_back) {
    for (auto& part : type.parts) {
        if (part.role != role || part.length + by <= 0) continue;
        part.length += by;
        if (at_the_back) part.start -= by;
    }
}

FittingType fitted(FittingType type, const StockItem& item, bool statistical) {
    type.id += "+" + item.id;
    type.name += " with " + item.name;
    switch (item.kind) {
        case StockItem::Kind::extension:
            type.spindle_length = added(type.spindle_length, item.adds, statistical);
            if (item.adds) lengthen_parts(type, "spindle", item.adds->value, false);
            type.connection.clear();  // an extension on an extension is not offered
            break;
        case StockItem::Kind::kit:
            type.face_min = moved_end(type.face_min, item.adds, statistical);
            type.face_max = moved_end(type.face_max, item.adds, statistical);
            type.connection.clear();
            break;
        case StockItem::Kind::nipple:
            type.tail_length = added(type.tail_length, item.adds, statistical);
            type.socket_depth = item.socket_depth;
            break;
        case StockItem::Kind::screw:
            if (type.screw_length && item.adds)
                lengthen_parts(type, "screw", item.adds->value - type.screw_length->value, true);
            type.screw_length = item.adds;
            break;
    }
    return type;
}

template <class Items>
auto find_id(Items& items, const std::string& id) {
    return std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.id == id; });
}

}  // namespace

void fit_stock(Job& job, Faults& faults) {
    for (auto& fitting : job.fittings) {
        if (fitting.with.empty()) continue;
        const auto item = find_id(job.stock, fitting.with);
        const auto type = find_id(job.types, fitting.type);
        if (type == job.types.end()) continue;  // said already, by the references
        if (item == job.stock.end()) {
            std::string known;
            for (const auto& each : job.stock) {
                if (each.fits == type->connection) known += (known.empty() ? "" : ", ") + each.id;
            }
            faults.push_back({fitting.with_source, "fittings.with", fmt::format("\"{}\"", fitting.with),
                              known.empty() ? "nothing in stock fits this type" : known,
                              fmt::format("fittings.with names \"{}\", which is not in stock", fitting.with)});
            continue;
        }
        if (item->fits != type->connection || family_for(item->kind, type->family) != type->family) {
            faults.push_back({fitting.with_source, "fittings.with", fmt::format("\"{}\"", fitting.with),
                              fmt::format("an item that fits \"{}\"", type->connection),
                              fmt::format("{} fits \"{}\"; it does not go on {}", item->id, item->fits, type->id)});
            continue;
        }
        const std::string id = type->id + "+" + item->id;
        if (find_id(job.types, id) == job.types.end()) job.types.push_back(fitted(*type, *item, job.statistical));
        fitting.type = id;
    }
}

}  // namespace standproud
