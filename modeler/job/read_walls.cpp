// Walls, their framing and layers, tray and panels.
#include <fmt/format.h>

#include <cmath>

#include "job/readers.hpp"

namespace standproud {

namespace {

constexpr Range along{0, 20000, "mm"};
constexpr Range size{0, 20000, "mm", true};
constexpr Range level{-2000, 6000, "mm"};
constexpr Range timber{0, 400, "mm", true};
constexpr Range gap{0, 50, "mm"};
constexpr double least_opening = 50;  // mm: what is smaller is a hole, and a fitting's
const std::vector<std::string> bed_words{"follow", "plane"};

Studs read_studs(Table table) {
    Studs studs;
    studs.source = table.source();
    studs.width = table.number("width", timber);
    studs.depth = table.number("depth", timber);
    studs.set_back = table.maybe_number("set_back", {0, 200, "mm"}).value_or(0);
    studs.centres = table.numbers("centres", {-1000, 21000, "mm"});
    if (!table.has("centres")) table.fault("centres", "walls.studs.centres is missing", "[22.5, 450, ...]");
    table.finish();
    return studs;
}

Noggin read_noggin(Table& table) {
    Noggin noggin;
    noggin.source = table.source();
    noggin.left = table.number("left", along);
    noggin.right = table.number("right", along);
    noggin.height = table.number("height", {0, 6000, "mm"});
    noggin.size = table.number("size", {0, 1000, "mm", true});
    noggin.depth = table.number("depth", timber);
    noggin.set_back = table.maybe_number("set_back", {0, 200, "mm"}).value_or(0);
    if (noggin.right <= noggin.left)
        table.fault("right", "a noggin's right end is not right of its left end", "more than left");
    table.finish();
    return noggin;
}

std::optional<EdgeGap> maybe_gap(Table& table, const char* key) {
    const auto width = table.maybe_number(key, gap);
    return width ? std::optional(EdgeGap{*width, table.source_of(key)}) : std::nullopt;
}

WallGaps read_gaps(Table table) {
    WallGaps gaps;
    gaps.left = maybe_gap(table, "left");
    gaps.right = maybe_gap(table, "right");
    gaps.bottom = maybe_gap(table, "bottom");
    gaps.top = maybe_gap(table, "top");
    gaps.join = maybe_gap(table, "join");
    table.finish();
    return gaps;
}

WallOpening read_opening(Table& table) {
    WallOpening opening;
    opening.source = table.source();
    opening.id = table.id("id");
    opening.name = table.maybe_text("name").value_or(opening.id);
    opening.left = table.number("left", along);
    opening.right = table.number("right", along);
    opening.bottom = table.number("bottom", {0, 6000, "mm"});
    opening.top = table.number("top", {0, 6000, "mm", true});
    opening.reveal = table.maybe_number("reveal", {0, 1000, "mm", true});
    opening.gap = maybe_gap(table, "gap");
    opening.corner_radius = table.maybe_number("corner_radius", {0, 100, "mm", true}).value_or(5);
    if (opening.right - opening.left < least_opening)
        table.fault("right", "an opening is under 50 mm wide", "50 mm more than left");
    if (opening.top - opening.bottom < least_opening)
        table.fault("top", "an opening is under 50 mm high", "50 mm more than bottom");
    table.finish();
    return opening;
}

/// Inside the wall, apart from each other.
void check_openings(const Wall& wall, Table& table) {
    constexpr double apart = 20;  // mm: what stands between two openings can be lined
    for (std::size_t i = 0; i < wall.openings.size(); ++i) {
        const WallOpening& a = wall.openings[i];
        const auto outside = [&](const char* key, double found, double most) {
            if (found <= most + same_length) return;
            table.fault_at(a.source, fmt::format("walls.openings.{}", key), fmt::format("{}", found),
                           fmt::format("opening \"{}\" reaches outside wall \"{}\"", a.id, wall.id),
                           fmt::format("up to {:g} mm", most));
        };
        outside("right", a.right, wall.width);
        outside("top", a.top, wall.height);
        for (std::size_t j = 0; j < i; ++j) {
            const WallOpening& b = wall.openings[j];
            if (a.id == b.id)
                table.fault("openings", fmt::format("two openings of wall \"{}\" are called \"{}\"", wall.id, a.id),
                            "one of each name");
            const double across = std::max(a.left - b.right, b.left - a.right);
            const double up = std::max(a.bottom - b.top, b.bottom - a.top);
            if (std::max(across, up) >= apart) continue;
            table.fault(
                "openings",
                fmt::format("openings \"{}\" and \"{}\" of wall \"{}\" overlap or nearly touch", b.id, a.id, wall.id),
                fmt::format("{:g} mm or more apart, or one opening for both", apart));
        }
    }
}

Join read_join(Table& table) {
    Join join{read_across(table), maybe_gap(table, "gap")};
    table.finish();
    return join;
}

LevelJoin read_level_join(Table& table) {
    LevelJoin join;
    join.source = table.source();
    join.height = table.number("height", {0, 6000, "mm", true});
    join.gap = maybe_gap(table, "gap");
    table.finish();
    return join;
}

}  // namespace

std::vector<Layer> read_layers(Table& owner) {
    std::vector<Layer> layers;
    for (auto& table : owner.tables("layers")) {
        Layer layer;
        layer.source = table.source();
        layer.kind = static_cast<LayerKind>(table.word("kind", {"board", "membrane", "bed", "panel"}));
        layer.name = table.text("name");
        layer.thickness = table.length("thickness", {0, 200, "mm", layer.kind == LayerKind::panel});
        if (!layers.empty() &&
            (layer.kind < layers.back().kind || (layer.kind >= LayerKind::bed && layer.kind == layers.back().kind))) {
            table.fault("kind", "layers are out of order",
                        "from the bare face out: boards, membranes, one bed, one panel");
        }
        layer.colour = table.maybe_colour("colour");
        table.finish();
        layers.push_back(layer);
    }
    return layers;
}

Across read_across(Table& table) {
    Across across;
    across.source = table.source_of("across");
    across.distance = table.number("across", {-20000, 20000, "mm"});
    across.from = static_cast<Across::From>(
        table.word("from", {"left bare", "left finished", "right bare", "right finished", "centre"}));
    return across;
}

Wall read_wall(Table& table, const std::vector<Layer>& layers) {
    Wall wall;
    wall.source = table.source();
    wall.id = table.id("id");
    wall.name = table.maybe_text("name").value_or(wall.id);
    wall.width = table.number("width", size);
    wall.height = table.number("height", {0, 6000, "mm", true});
    wall.next_angle = table.maybe_number("next_angle", {45, 315, "degrees"}).value_or(90);
    wall.panel_top = table.maybe_number("panel_top", {0, 6000, "mm", true});
    if (const auto word = table.maybe_word("bedding", bed_words)) wall.bedding = static_cast<BedKind>(*word);
    wall.square_to_next = table.flag("square_to_next", false);
    wall.sealant = table.maybe_sealant("sealant_colour");
    wall.layers = table.has("layers") ? read_layers(table) : layers;
    if (!table.flag("lined", true)) {
        if (table.has("layers"))
            table.fault("lined", "a wall that is not lined has no layers", "lined = true, or no layers");
        wall.layers.clear();
    }
    if (auto studs = table.table("studs")) wall.studs = read_studs(*studs);
    for (auto& noggin : table.tables("noggins")) wall.noggins.push_back(read_noggin(noggin));
    if (auto masonry = table.table("masonry")) {
        wall.masonry = Masonry{masonry->number("thickness", {0, 1000, "mm", true}), masonry->source()};
        masonry->finish();
        if (wall.studs || !wall.noggins.empty()) {
            table.fault("masonry", "a wall is either masonry or studs and noggins", "one of the two");
        }
    }
    for (auto& opening : table.tables("openings")) wall.openings.push_back(read_opening(opening));
    check_openings(wall, table);
    for (auto& join : table.tables("joins")) wall.joins.push_back(read_join(join));
    for (auto& join : table.tables("level_joins")) wall.level_joins.push_back(read_level_join(join));
    if (auto gaps = table.table("gaps")) wall.gaps = read_gaps(*gaps);
    for (const auto& noggin : wall.noggins) {
        if (noggin.right > wall.width + same_length || noggin.height > wall.height) {
            table.fault("noggins",
                        fmt::format("a noggin on line {} reaches outside wall \"{}\"", noggin.source.line, wall.id),
                        fmt::format("0 to {:g} mm across, 0 to {:g} mm high", wall.width, wall.height));
        }
    }
    table.finish();
    return wall;
}

Tray read_tray(Table& table) {
    Tray tray;
    tray.source = table.source();
    tray.name = table.text("name");
    tray.wall = table.text("wall");
    tray.left = table.maybe_number("left", along).value_or(0);
    tray.width = table.number("width", size);
    tray.depth = table.number("depth", size);
    tray.base = table.number("base", level);
    tray.rim = table.number("rim", level);
    if (tray.rim < tray.base) table.fault("rim", "the tray's rim lies below its base", "base or more");
    tray.walls = table.names("walls");
    if (!table.has("walls"))
        table.fault("walls", "tray.walls is missing", "the walls whose panels stand over the rim: [\"back\", ...]");
    table.finish();
    return tray;
}

PanelRules read_panels(Table& table) {
    PanelRules panels;
    panels.source = table.source();
    const EdgeGap all = maybe_gap(table, "gap").value_or(EdgeGap{4, panels.source});
    panels.gaps.corner = maybe_gap(table, "corner_gap").value_or(all);
    panels.gaps.join = maybe_gap(table, "join_gap").value_or(all);
    panels.gaps.tray = maybe_gap(table, "tray_gap").value_or(all);
    panels.gaps.top = maybe_gap(table, "top_gap").value_or(all);
    panels.gaps.opening = maybe_gap(table, "opening_gap").value_or(all);
    panels.top = table.maybe_number("top", {0, 6000, "mm", true});
    panels.bedding = static_cast<BedKind>(table.maybe_word("bedding", bed_words).value_or(0));
    panels.plumb = table.flag("plumb", false);
    panels.sealant = table.maybe_sealant("sealant_colour").value_or(SealantLook{{}, panels.source});
    panels.bed_max = table.maybe_number("bed_max", {0, 100, "mm", true});
    panels.order = table.names("order");
    panels.order_given = table.has("order");
    table.finish();
    return panels;
}

}  // namespace standproud
