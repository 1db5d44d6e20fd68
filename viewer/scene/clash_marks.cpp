#include "scene/clash_marks.hpp"

#include <fmt/format.h>

#include <AIS_Shape.hxx>
#include <BRepBndLib.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <Graphic3d_AspectFillArea3d.hxx>
#include <Graphic3d_SequenceOfHClipPlane.hxx>
#include <Poly_Triangulation.hxx>
#include <Prs3d_LineAspect.hxx>
#include <Prs3d_ShadingAspect.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <array>
#include <cmath>

#include "modeler/kernel_clearance.hpp"
#include "modeler/scene.hpp"
#include "modeler/solids.hpp"
#include "rules/words.hpp"
#include "scene/kernel_colours.hpp"
#include "viewer/clash_figure.hpp"
#include "viewer/units.hpp"

namespace standproud::viewer {

namespace {

// Okabe-Ito orange, which no verdict has, under black strokes: seen without colour, too.
constexpr Colour overlap_colour{230, 159, 0};
constexpr Colour stroke_colour{16, 18, 20};

const rules::Finding* chosen_clash(const Document& document) {
    const auto& chosen = document.selection.finding;
    if (!document.job || !chosen || *chosen >= document.job->findings.size()) return nullptr;
    const auto& finding = document.job->findings[*chosen];
    return finding.clash ? &finding : nullptr;
}

struct Found {
    TopoDS_Shape solid;
    bool is_room = false;  ///< of a handle, a door, a drill: nothing that is there
};

Found solid_of(const ::standproud::Scene& scene, const std::string& id) {
    for (std::size_t i = 0, pipe = 0; i < scene.things.size(); ++i) {
        const Thing& thing = scene.things[i];
        const bool is_pipe = thing.kind == Thing::Kind::pipe;
        if (thing.id == id) {
            if (is_pipe) return {make_solid(scene.pipes[pipe]), false};
            return {make_solid(scene.parts[scene.part_of[i]]), thing.kind != Thing::Kind::solid};
        }
        if (is_pipe) ++pipe;
    }
    return {};
}

void add_mesh(const TopoDS_Shape& solid) { BRepMesh_IncrementalMesh mesh(solid, 0.2, false, 0.25, false); }

}  // namespace

ClashSolids clash_solids(const Document& document) {
    ClashSolids solids;
    const auto* finding = chosen_clash(document);
    if (!finding) return solids;
    const auto& limits = document.job->limits;
    const ::standproud::Scene scene =
        build_scene(document.job->model, limits.at("setout.hole").value, limits.at("drill.depth").value);
    try {
        const Found a = solid_of(scene, finding->clash->part_a);
        const Found b = solid_of(scene, finding->clash->part_b);
        if (a.is_room) solids.room_a = a.solid;
        if (b.is_room) solids.room_b = b.solid;
        for (const auto* room : {&solids.room_a, &solids.room_b}) {
            if (!room->IsNull()) add_mesh(*room);
        }
        if (finding->clash->distance >= 0 || a.solid.IsNull() || b.solid.IsNull()) return solids;
        const KernelOverlap common = kernel_overlap(a.solid, b.solid);
        if (common.solid.IsNull() || common.volume < no_volume) return solids;
        solids.common = common.solid;
        solids.volume = common.volume;
        add_mesh(solids.common);
    } catch (const Standard_Failure&) {
        solids.common.Nullify();  // the flag and the words are there all the same
    } catch (const std::runtime_error&) {
        solids.common.Nullify();
    }
    return solids;
}

std::string clash_key(const Document& document) {
    const auto* finding = chosen_clash(document);
    return finding ? fmt::format("{} {}", document.generation, *document.selection.finding) : "";
}

namespace {

using Corners = std::array<gp_Pnt, 3>;

/// A figure that hangs under what it is of.
Flag figure_under(const Document& document, const rules::Finding& finding, RoomPoint of, const Look& look) {
    Flag flag;
    flag.name = "clash";
    const std::size_t wall = wall_index(document.job->model.job, finding.wall);
    if (wall < document.job->model.job.walls.size()) flag.wall = wall;
    flag.from_behind = true;  // what is in a wall is also looked at from behind
    flag.spot = flag.foot = of;
    flag.head = of - (0.1 * clash_span(*finding.clash)) * RoomPoint{0, 0, 1};
    flag.level = -1;
    flag.size = letter_size * look.scale;
    flag.line = look.scale;
    flag.weight = 2;
    return flag;
}

/// Strokes where planes a step apart, slanted to every wall, cut one triangle of a mesh.
void add_strokes(const Corners& corners, double step, TopoDS_Compound& strokes, const BRep_Builder& builder) {
    const gp_Dir across(1, 0.62, 0.79);
    std::array<double, 3> at{};
    for (std::size_t i = 0; i < 3; ++i) at[i] = gp_Vec(gp_Pnt(), corners[i]).Dot(gp_Vec(across)) / step;
    const auto [least, most] = std::minmax({at[0], at[1], at[2]});
    for (double k = std::ceil(least); k <= most; k += 1) {
        std::vector<gp_Pnt> ends;
        for (std::size_t i = 0; i < 3; ++i) {
            const std::size_t j = (i + 1) % 3;
            if ((at[i] < k) == (at[j] < k)) continue;
            const double part = (k - at[i]) / (at[j] - at[i]);
            ends.push_back(corners[i].Translated(part * gp_Vec(corners[i], corners[j])));
        }
        if (ends.size() != 2 || ends[0].Distance(ends[1]) < 1e-4) continue;
        builder.Add(strokes, BRepBuilderAPI_MakeEdge(ends[0], ends[1]).Edge());
    }
}

TopoDS_Compound hatching(const TopoDS_Shape& solid) {
    Bnd_Box box;
    BRepBndLib::Add(solid, box);
    const double step = std::clamp(std::sqrt(box.SquareExtent()) / 7, 1.5, 20.0);
    TopoDS_Compound strokes;
    const BRep_Builder builder;
    builder.MakeCompound(strokes);
    for (TopExp_Explorer faces(solid, TopAbs_FACE); faces.More(); faces.Next()) {
        TopLoc_Location place;
        const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(TopoDS::Face(faces.Current()), place);
        if (mesh.IsNull()) continue;
        for (int t = 1; t <= mesh->NbTriangles(); ++t) {
            std::array<int, 3> corner{};
            mesh->Triangle(t).Get(corner[0], corner[1], corner[2]);
            Corners corners;
            for (std::size_t i = 0; i < 3; ++i) corners[i] = mesh->Node(corner[i]).Transformed(place.Transformation());
            add_strokes(corners, step, strokes, builder);
        }
    }
    return strokes;
}

/// In front of what it lies in the plane of, and never cut away.
void keep_in_sight(const Handle(AIS_InteractiveObject) & object) {
    object->SetZLayer(Graphic3d_ZLayerId_Top);
    Handle(Graphic3d_SequenceOfHClipPlane) none = new Graphic3d_SequenceOfHClipPlane();
    none->SetOverrideGlobal(true);
    object->SetClipPlanes(none);
}

void add_overlap(std::vector<Handle(AIS_InteractiveObject)>& marks, const ClashSolids& solids, const Look& look) {
    Handle(AIS_Shape) solid = new AIS_Shape(solids.common);
    solid->SetColor(kernel_colour(overlap_colour));
    const Handle(Prs3d_Drawer)& how = solid->Attributes();
    how->ShadingAspect()->Aspect()->SetShadingModel(Graphic3d_TOSM_UNLIT);  // as strong from every side
    how->SetFaceBoundaryDraw(true);
    how->SetFaceBoundaryUpperContinuity(GeomAbs_C0);
    how->SetFaceBoundaryAspect(new Prs3d_LineAspect(kernel_colour(stroke_colour), Aspect_TOL_SOLID, 1.8 * look.scale));
    keep_in_sight(solid);
    marks.push_back(solid);
    Handle(AIS_Shape) strokes = new AIS_Shape(hatching(solids.common));
    strokes->SetColor(kernel_colour(stroke_colour));
    strokes->SetWidth(1.2 * look.scale);
    keep_in_sight(strokes);
    marks.push_back(strokes);
}

/// Room that is needed and nothing fills: a veil with edges.
void add_room(std::vector<Handle(AIS_InteractiveObject)>& marks, const TopoDS_Shape& room, const Look& look) {
    if (room.IsNull()) return;
    Handle(AIS_Shape) veil = new AIS_Shape(room);
    veil->SetColor(kernel_colour({86, 180, 233}));
    veil->SetTransparency(0.8F);
    veil->Attributes()->SetFaceBoundaryDraw(true);
    veil->Attributes()->SetFaceBoundaryAspect(
        new Prs3d_LineAspect(kernel_colour(ground(look.dark).ink), Aspect_TOL_DASH, look.scale));
    marks.push_back(veil);
}

RoomPoint any_across(RoomPoint way) {
    const RoomPoint beside = std::abs(way.z) < 0.9 ? RoomPoint{0, 0, 1} : RoomPoint{1, 0, 0};
    const RoomPoint across = cross(way, beside);
    return 1 / norm(across) * across;
}

/// A line between the two nearest points with a bar across each end; arms beyond them where there is little room.
void add_dimension(Marks& marks, const Document& document, const ClashFigure& figure, const rules::Finding& finding,
                   const Look& look) {
    const RoomPoint along = figure.on_b - figure.on_a;
    if (figure.distance < 1e-3 || norm(along) < 1e-6) return;
    const RoomPoint way = 1 / norm(along) * along;
    const RoomPoint across = any_across(way);
    const RoomPoint other = cross(way, across);
    const Colour ink = ground(look.dark).ink;
    const double half = 0.03 * clash_span(*finding.clash);
    const double arm = std::max(0.0, 3 * half - figure.distance);
    marks.objects.push_back(
        rod(figure.on_a, figure.on_b, verdict_colour(finding.verdict), std::clamp(figure.distance / 12, 0.4, 1.6)));
    for (const auto& [end, out] : {std::pair{figure.on_a, -1.0}, std::pair{figure.on_b, 1.0}}) {
        for (const RoomPoint bar : {across, other}) {
            marks.objects.push_back(line(end - half * bar, end + half * bar, ink, 1.8 * look.scale));
        }
        if (arm > 0) marks.objects.push_back(line(end, end + (out * arm) * way, ink, 1.8 * look.scale));
    }
    Flag flag = figure_under(document, finding, 0.5 * (figure.on_a + figure.on_b), look);
    flag.words = fmt::format(" {} ", length_words(std::round(10 * figure.distance) / 10, look.inches));
    flag.plate = ink;
    marks.flags.push_back(flag);
}

}  // namespace

Marks clash_marks(const Document& document, const ClashSolids& solids, const Look& look) {
    Marks marks;
    const auto* finding = chosen_clash(document);
    if (!finding) return marks;
    add_room(marks.objects, solids.room_a, look);
    add_room(marks.objects, solids.room_b, look);
    const auto figure = clash_figure(*finding);
    if (!figure) return marks;
    if (!figure->overlap) {
        add_dimension(marks, document, *figure, *finding, look);
    } else if (!solids.common.IsNull()) {
        add_overlap(marks.objects, solids, look);
        Flag flag = figure_under(document, *finding, finding->clash->at, look);
        flag.words = fmt::format(" in both: {:.{}f} cm\u00b3 ", solids.volume / 1000, solids.volume < 1e5 ? 2 : 0);
        flag.plate = stroke_colour;
        marks.flags.push_back(flag);
    }
    return marks;
}

}  // namespace standproud::viewer
