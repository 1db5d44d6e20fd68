#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "drawing/sheet.hpp"
#include "viewer/section.hpp"

namespace standproud::viewer {

namespace {

/// What lies further than this from the fitting is never on the sheet, mm.
constexpr double surroundings = 1000;

std::string corner_words(const char* side, double bare, std::optional<double> finished) {
    return fmt::format("from the {} corner {} bare, {}", side, number(bare),
                       finished ? number(*finished) + " finished" : "no finished corner");
}

std::string position_words(const PlacedFitting& placed) {
    return fmt::format("{}; {}; height {} above datum",
                       corner_words("left", placed.from_left_bare, placed.from_left_finished),
                       corner_words("right", placed.from_right_bare, placed.from_right_finished), number(placed.v));
}

std::vector<SectionPiece> pieces_near(const std::vector<Part>& parts, const Frame& wall, Vec2 axis,
                                      const std::string& fitting) {
    std::vector<SectionPiece> pieces;
    for (auto& cut : cut_level(parts, wall, axis.y)) {
        const auto e = extent(cut.outline);
        const bool near =
            e[0] < axis.x + surroundings && e[1] > axis.x - surroundings && e[2] < surroundings && e[3] > -surroundings;
        if (!near) continue;
        const Part& part = parts[cut.part];
        pieces.push_back({part.name, part.layer, part.fitting == fitting, std::move(cut.outline)});
    }
    return pieces;
}

/// Solids lay every wall's bare face in its plane. Near this spot the face stands `off` further out: what lies on it is
/// shown where it is.
void show_unevenness(std::vector<SectionPiece>& pieces, double off, double substrate) {
    for (auto& piece : pieces) {
        if (piece.of_fitting) continue;
        const bool on_face =
            piece.layer == "frame" || piece.layer == "masonry" || piece.layer == "board" || piece.layer == "membrane";
        const auto e = extent(piece.outline);
        for (auto& p : piece.outline.points) {
            const bool back_of_bed = piece.layer == "bed" && p.y < (e[2] + e[3]) / 2 && e[2] < substrate + 50;
            if (on_face || back_of_bed) p.y += off;
        }
    }
}

/// Packing is filled with what the bed is made of: one layer on the sheet.
void join_packing(std::vector<LayerAtSpot>& layers) {
    for (std::size_t i = 0; i + 1 < layers.size(); ++i) {
        if (layers[i].name != "packing" || layers[i + 1].kind != LayerKind::bed) continue;
        LayerAtSpot& bed = layers[i + 1];
        bed.name += " with packing";
        bed.from = layers[i].from;
        bed.thickness.value += layers[i].thickness.value;
        if (bed.thickness.tolerance)
            bed.thickness.tolerance = *bed.thickness.tolerance + *layers[i].thickness.tolerance;
        layers.erase(layers.begin() + static_cast<std::ptrdiff_t>(i));
        return;
    }
}

bool is_reach(const rules::Finding& finding) { return finding.rule.rfind("reach.", 0) == 0; }

std::optional<double> timber_face(const rules::Finding& finding) {
    for (const auto& term : finding.terms) {
        if (term.name.ends_with("'s face")) return term.value;
    }
    return std::nullopt;
}

/// Where a finding's quantity starts and which way it runs. DEVELOPERS.md gives the formulas: a spindle stands
/// proud of the face; a body, box or socket lies behind it; a tail's or a screw's end lies inside its socket
/// or its timber.
std::optional<JudgedLine> judged_line(const Model& model, const PlacedFitting& placed, const SectionDrawing& drawing,
                                      std::size_t index) {
    const auto inwards_from = [&](double n) { return JudgedLine{index, n, -1}; };
    switch (type_of(model, placed).family) {
        case Family::spindle:
            return JudgedLine{index, drawing.face, 1};
        case Family::window:
            return inwards_from(drawing.face);
        case Family::thread:
            if (drawing.seat) return inwards_from(*drawing.seat);
            return std::nullopt;
        case Family::plate: {
            const bool engages = drawing.findings[index].quantity.find("engage") != std::string::npos;
            if (!engages) return inwards_from(drawing.face);
            if (drawing.seat) return inwards_from(*drawing.seat);
            return std::nullopt;
        }
        case Family::screw: {
            // Of several screws one was judged; the term of its sum says where its timber is.
            const auto timber = timber_face(drawing.findings[index]);
            if (timber) return inwards_from(*timber);
            return std::nullopt;
        }
    }
    return std::nullopt;
}

}  // namespace

SectionDrawing section_of(const Model& model, const std::vector<Part>& parts,
                          const std::vector<rules::Finding>& findings, std::size_t placed_fitting) {
    const PlacedFitting& placed = model.fittings[placed_fitting];
    const Fitting& fitting = fitting_of(model, placed);
    const Wall& wall = model.job.walls[placed.wall];
    const auto or_id = [](const std::string& name, const std::string& id) { return name.empty() ? id : name; };

    SectionDrawing drawing;
    drawing.title = or_id(fitting.name, fitting.id);
    drawing.job = model.job.name;
    drawing.revision = model.job.revision;
    drawing.wall = or_id(wall.name, wall.id);
    drawing.position = position_words(placed);
    drawing.datum = model.job.datum;
    std::copy_if(findings.begin(), findings.end(), std::back_inserter(drawing.findings),
                 [&](const auto& f) { return f.subject == fitting.id; });
    std::stable_sort(drawing.findings.begin(), drawing.findings.end(),
                     [](const auto& a, const auto& b) { return severity(a.verdict) > severity(b.verdict); });
    Vec2 axis{placed.u, placed.v};
    for (const auto& finding : drawing.findings) {
        if (!finding.spot) continue;
        axis = *finding.spot;
        drawing.one_of_several = norm(axis - Vec2{placed.u, placed.v}) > same_length;
    }
    drawing.u = axis.x;
    drawing.v = axis.y;
    drawing.face = build_up(model.job, model.room, placed.wall, axis.x, axis.y);
    if (fitting.seat) drawing.seat = fitting.seat->value;
    drawing.layers = build_up_at(model.job, model.room, placed.wall, axis.x, axis.y);
    // Depths on the sheet are from the bare face at this spot, as they are in the file.
    Frame here = model.room.walls[placed.wall];
    const double face = drawn_face(model.room, placed.wall, axis.x, axis.y);
    here.origin = here.to_room(0, 0, face);
    const double bare = drawing.layers.empty() ? 0 : drawing.layers.front().from;
    for (auto& layer : drawing.layers) {
        layer.from -= bare;
        layer.to -= bare;
    }
    join_packing(drawing.layers);
    drawing.pieces = pieces_near(parts, here, axis, fitting.id);
    if (model.room.faces[placed.wall].bedding) {
        show_unevenness(drawing.pieces, face - model.room.faces[placed.wall].bare.plane(axis.y), drawing.face);
    }
    const auto reach = std::find_if(drawing.findings.begin(), drawing.findings.end(), is_reach);
    if (reach != drawing.findings.end() && reach->nominal) {
        drawing.judged =
            judged_line(model, placed, drawing, static_cast<std::size_t>(reach - drawing.findings.begin()));
    }
    return drawing;
}

}  // namespace standproud::viewer
