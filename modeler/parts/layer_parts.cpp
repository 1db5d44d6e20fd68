// Boards, membranes, beds and panels, with the openings that fittings need.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"
#include "panels/bounds.hpp"
#include "parts/make.hpp"

namespace standproud {

namespace {

/// Clearance cut round a body in what covers it, mm: common practice, no source.
constexpr double body_clearance = 5;

RoundedRect around(const RoundedRect& a, const RoundedRect& b) {
    if (margin_inside(a, b) >= 0) return b;
    if (margin_inside(b, a) >= 0) return a;
    const auto ea = extent(a);
    const auto eb = extent(b);
    const double left = std::min(ea[0], eb[0]);
    const double right = std::max(ea[1], eb[1]);
    const double bottom = std::min(ea[2], eb[2]);
    const double top = std::max(ea[3], eb[3]);
    return RoundedRect::rect({(left + right) / 2, (bottom + top) / 2}, right - left, top - bottom);
}

/// Openings that touch become one, so that the outline stays simple.
void merge(std::vector<RoundedRect>& shapes) {
    for (std::size_t i = 0; i < shapes.size(); ++i) {
        for (std::size_t j = i + 1; j < shapes.size(); ++j) {
            if (gap_between(shapes[i], shapes[j]) > 0) continue;
            shapes[i] = around(shapes[i], shapes[j]);
            shapes.erase(shapes.begin() + static_cast<std::ptrdiff_t>(j));
            i = static_cast<std::size_t>(-1);  // start again: the larger one may touch others
            break;
        }
    }
}

RoundedRect footprint(const TypePart& part, const PlacedFitting& placed, const Reach& reach) {
    if (part.axis == TypePart::Axis::out) return moved(part.outline, {placed.u, placed.v});
    return RoundedRect::rect({(reach.left + reach.right) / 2, (reach.bottom + reach.top) / 2}, reach.right - reach.left,
                             reach.top - reach.bottom);
}

RoundedRect grown(RoundedRect shape, double by) {
    shape.half_width += by;
    shape.half_height += by;
    shape.radius += by;
    return shape;
}

/// Holes that do not meet a cut.
void add_clear_of(const std::vector<PanelCut>& cuts, const std::vector<Profile>& holes, std::vector<Profile>& to) {
    for (const auto& hole : holes) {
        const auto* shape = std::get_if<RoundedRect>(&hole);
        const bool meets = shape && std::any_of(cuts.begin(), cuts.end(), [&](const PanelCut& cut) {
                               return gap_between(cut.shape, *shape) <= 0;
                           });
        if (!meets) to.push_back(hole);
    }
}

}  // namespace

void add_slab(const Model& model, std::size_t wall, const Part& slab, bool with_fittings, bool with_panel_holes,
              std::vector<Part>& parts) {
    std::vector<PanelCut> cuts;
    const auto& all = model.job.walls[wall].openings;
    for (std::size_t i = 0; i < all.size(); ++i) {
        cuts.push_back({i, opening_on(model.room.walls[wall], slab.place, all[i], 0, 0), false});
    }
    Panel whole;
    whole.outline = std::get<Polygon>(slab.outline);
    int number = 0;
    for (const auto& piece : cut_round(whole, cuts)) {
        Part part = slab;
        if (++number > 1) part.id += fmt::format("-{}", number);
        part.outline = cut_outline(piece);
        for (const auto& cut : inner_cuts(piece)) part.holes.emplace_back(cut);
        if (with_fittings) {
            add_clear_of(piece.cuts, openings(model, wall, slab.place, slab.length, piece.outline, with_panel_holes),
                         part.holes);
        }
        parts.push_back(std::move(part));
    }
}

std::vector<Profile> openings(const Model& model, std::size_t wall, const Frame& place, double thickness,
                              const Polygon& outline, bool with_panel_holes) {
    const Frame& upright = model.room.walls[wall];
    std::vector<RoundedRect> shapes;
    for (std::size_t f = 0; f < model.fittings.size(); ++f) {
        const PlacedFitting& placed = model.fittings[f];
        if (placed.wall != wall) continue;
        const FittingType& type = type_of(model, placed);
        const double from = depth_of(upright, place, {placed.u, placed.v});
        const double to = from + thickness;
        std::vector<RoundedRect> here;
        if (with_panel_holes) {
            for (const auto& need : type.holes) here.push_back(moved(need.opening, {placed.u, placed.v}));
        }
        const std::size_t holes = here.size();
        const auto add = [&](const TypePart& part) {
            const auto datum = datum_of(model, placed, part);
            if (!datum) return;
            const Reach reach = reach_of(part, placed, *datum);
            if (std::min(reach.front, to) - std::max(reach.back, from) <= same_length) return;
            const RoundedRect shape = footprint(part, placed, reach);
            const bool passes = std::any_of(here.begin(), here.begin() + static_cast<std::ptrdiff_t>(holes),
                                            [&](const auto& hole) { return margin_inside(shape, hole) >= 0; });
            if (!passes) here.push_back(grown(shape, body_clearance));
        };
        for (const auto& part : type.parts) add(part);
        for (const auto& part : passing_parts(model, placed)) add(part);
        for (auto& shape : here) {
            shape.centre = on_plane(upright, place, shape.centre);
            shapes.push_back(shape);
        }
    }
    merge(shapes);
    std::vector<Profile> inside;
    for (const auto& shape : shapes) {
        if (margin_inside(shape, outline) > same_length) inside.emplace_back(shape);
    }
    return inside;
}

namespace {

void add_board(const Model& model, std::size_t w, int index, double from, double to, int number,
               std::vector<Part>& parts) {
    const Wall& wall = model.job.walls[w];
    const Layer& layer = wall.layers[static_cast<std::size_t>(index)];
    const Frame place = moved_out(bare_plane(model.room, w), from);
    std::vector<HalfSpace> bounds = ends_of(model.job, model.room, w, index);
    bounds.push_back(above_level(panel_bottom(model.job, w)));
    bounds.push_back(under_top(model.job, model.room, w, 0));
    const Polygon outline = outline_within(model.job, w, place, 0, to - from, bounds);
    const std::string kind = to_string(layer.kind);
    const Part slab{fmt::format("{}/{}-{}", wall.id, kind, number),
                    layer.name,
                    "builder",
                    kind,
                    wall.id,
                    "",
                    layer.source,
                    place,
                    outline,
                    {},
                    to - from,
                    {},
                    layer.colour};
    add_slab(model, w, slab, true, true, parts);
}

std::string number_of(const Panel& panel) { return panel.id.substr(panel.id.rfind('-') + 1); }

/// From what it is put on to the panel's back, under the panel's outline.
void add_bed(const Model& model, std::size_t w, const Layer& layer, double from, double to, std::vector<Part>& parts) {
    const Wall& wall = model.job.walls[w];
    const Frame place = moved_out(bare_plane(model.room, w), from);
    const bool in_plane = model.room.faces[w].bedding.has_value();
    for (const auto& panel : model.panels) {
        if (panel.wall != w) continue;
        Part bed{fmt::format("{}/bed-{}", wall.id, number_of(panel)),
                 layer.name,
                 "installer",
                 "bed",
                 wall.id,
                 "",
                 layer.source,
                 place,
                 cut_outline(panel),
                 {},
                 to - from,
                 {},
                 layer.colour};
        Panel under = panel;  // seen from what it is put on
        if (in_plane) {
            const auto on_bare = [&](Vec2 p) {
                const auto local = place.from_room(panel.place.to_room(p.x, p.y, 0));
                return Vec2{local[0], local[1]};
            };
            for (Vec2& p : under.outline.points) p = on_bare(p);
            for (auto& cut : under.cuts) cut.shape.centre = on_bare(cut.shape.centre);
            bed.outline = cut_outline(under);
            // The panel's back, seen from here: z . (origin - p) = 0.
            const Vec2 slope{dot(panel.place.z, place.x), dot(panel.place.z, place.y)};
            const double out = dot(panel.place.z, place.z);
            bed.length = dot(panel.place.z, panel.place.origin - place.origin) / out;
            bed.taper = -1 / out * slope;
        }
        const double middle = bed.length + dot(bed.taper, centroid(bed.outline));
        for (const auto& cut : inner_cuts(under)) bed.holes.emplace_back(cut);
        add_clear_of(under.cuts, openings(model, w, place, middle, under.outline, true), bed.holes);
        parts.push_back(std::move(bed));
    }
}

void add_panels(const Model& model, std::size_t w, const Layer& layer, std::vector<Part>& parts) {
    for (const auto& panel : model.panels) {
        if (panel.wall != w) continue;
        std::vector<Profile> holes;
        for (const auto& cut : inner_cuts(panel)) holes.emplace_back(cut);
        for (const auto& hole : panel.holes) {
            if (hole.drilled) holes.emplace_back(hole.opening);
        }
        const Wall& wall = model.job.walls[w];
        parts.push_back({fmt::format("{}/panel-{}", wall.id, number_of(panel)),
                         layer.name,
                         "installer",
                         "panel",
                         wall.id,
                         "",
                         panel.source,
                         panel.place,
                         cut_outline(panel),
                         std::move(holes),
                         panel.thickness,
                         {},
                         layer.colour});
    }
}

/// The strips of lined reveals, and what they are bedded in.
void add_reveals(const Model& model, std::vector<Part>& parts) {
    for (const auto& strip : model.reveals) {
        const Wall& wall = model.job.walls[strip.wall];
        const std::string name = strip.id.substr(wall.id.size() + 1);
        const Part panel{fmt::format("{}/panel-{}", wall.id, name),
                         reveal_strip,
                         "installer",
                         "panel",
                         wall.id,
                         "",
                         strip.source,
                         strip.place,
                         strip.outline,
                         {},
                         strip.thickness,
                         {},
                         wall.layers.back().colour};
        const double deep = bed_of(wall);
        if (deep > 0) {
            Part bed = panel;
            bed.id = fmt::format("{}/bed-{}", wall.id, name);
            bed.name = reveal_bed;
            bed.layer = "bed";
            bed.colour.reset();
            bed.place = moved_out(strip.place, -deep);
            bed.length = deep;
            parts.push_back(std::move(bed));
        }
        parts.push_back(panel);
    }
}

}  // namespace

void add_layer_parts(const Model& model, std::vector<Part>& parts) {
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        double n = 0;
        std::map<LayerKind, int> count;
        const auto& layers = model.job.walls[w].layers;
        for (std::size_t i = 0; i < layers.size(); ++i) {
            const double to = n + layers[i].thickness.value;
            if (to - n > 0) {
                switch (layers[i].kind) {
                    case LayerKind::board:
                    case LayerKind::membrane:
                        add_board(model, w, static_cast<int>(i), n, to, ++count[layers[i].kind], parts);
                        break;
                    case LayerKind::bed:
                        add_bed(model, w, layers[i], n, to, parts);
                        break;
                    case LayerKind::panel:
                        add_panels(model, w, layers[i], parts);
                        break;
                }
            }
            n = to;
        }
    }
    add_reveals(model, parts);
}

}  // namespace standproud
