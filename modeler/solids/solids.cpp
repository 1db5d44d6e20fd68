#include "modeler/solids.hpp"

#include <fmt/format.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepCheck.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepCheck_ListOfStatus.hxx>
#include <BRepCheck_Result.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeHalfSpace.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Precision.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Circ.hxx>
#include <gp_Pln.hxx>
#include <gp_Pnt.hxx>
#include <gp_Vec.hxx>
#include <sstream>
#include <stdexcept>

namespace standproud {

namespace {

gp_Pnt point_in_room(const Frame& place, Vec2 p) {
    const RoomPoint r = place.to_room(p.x, p.y, 0);
    return {r.x, r.y, r.z};
}

gp_Dir direction(RoomPoint d) { return {d.x, d.y, d.z}; }

gp_Circ circle_at(const Frame& place, Vec2 centre, double radius) {
    return {gp_Ax2(point_in_room(place, centre), direction(place.z), direction(place.x)), radius};
}

/// The kernel takes points nearer than its own confusion for one point, and has no edge between them.
void add_line(BRepBuilderAPI_MakeWire& wire, const Frame& place, Vec2 from, Vec2 to) {
    if (norm(to - from) <= Precision::Confusion()) return;
    wire.Add(BRepBuilderAPI_MakeEdge(point_in_room(place, from), point_in_room(place, to)).Edge());
}

TopoDS_Wire finished(BRepBuilderAPI_MakeWire& wire) {
    if (!wire.IsDone()) throw std::runtime_error("its outline or a hole has edges that do not join");
    if (!BRep_Tool::IsClosed(wire.Wire())) throw std::runtime_error("its outline or a hole does not close");
    return wire.Wire();
}

TopoDS_Wire wire_of(const Frame& place, const Polygon& shape) {
    BRepBuilderAPI_MakeWire wire;
    const auto& p = shape.points;
    for (std::size_t i = 0; i < p.size(); ++i) add_line(wire, place, p[i], p[(i + 1) % p.size()]);
    return finished(wire);
}

TopoDS_Wire wire_of(const Frame& place, const RoundedRect& s) {
    BRepBuilderAPI_MakeWire wire;
    if (s.is_circle()) {
        wire.Add(BRepBuilderAPI_MakeEdge(circle_at(place, s.centre, s.radius)).Edge());
        return finished(wire);
    }
    // Anticlockwise from the bottom right fillet: each corner's arc, then the straight side after it.
    const double a = s.half_width - s.radius;
    const double b = s.half_height - s.radius;
    const Vec2 centres[] = {{a, -b}, {a, b}, {-a, b}, {-a, -b}};
    const Vec2 outward[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    for (int i = 0; i < 4; ++i) {
        const Vec2 centre = s.centre + centres[i];
        const Vec2 next = s.centre + centres[(i + 1) % 4];
        if (s.radius > Precision::Confusion()) {
            const double start = (i - 1) * pi / 2;
            wire.Add(BRepBuilderAPI_MakeEdge(circle_at(place, centre, s.radius), start, start + pi / 2).Edge());
        }
        add_line(wire, place, centre + s.radius * outward[i], next + s.radius * outward[i]);
    }
    return finished(wire);
}

TopoDS_Wire wire_of(const Frame& place, const Profile& shape) {
    return std::visit([&](const auto& s) { return wire_of(place, s); }, shape);
}

/// What the kernel would take without a word and turn inside out.
void refuse_bad_numbers(const Part& part) {
    if (!(part.length > 0))
        throw std::runtime_error(fmt::format("its length is {:g} mm, it must be above 0", part.length));
    const RoomPoint twist = cross(part.place.x, part.place.y) - part.place.z;
    if (!(norm(twist) < same_length)) throw std::runtime_error("its frame is not right-handed and square");
    const auto check = [](const Profile& shape, const char* what) {
        if (!(area(shape) > 0)) throw std::runtime_error(fmt::format("{} has no area or runs clockwise", what));
        const auto* r = std::get_if<RoundedRect>(&shape);
        if (r && !(r->radius >= 0 && r->radius <= std::min(r->half_width, r->half_height) + same_length)) {
            throw std::runtime_error(
                fmt::format("{} has a corner radius of {:g} mm, wider than itself", what, r->radius));
        }
    };
    check(part.outline, "its outline");
    for (const auto& hole : part.holes) check(hole, "a hole");
}

/// The kernel's own words for the first faults found, to send with a report.
std::string kernel_words(const BRepCheck_Analyzer& analyzer, const TopoDS_Shape& shape) {
    std::ostringstream words;
    TopTools_IndexedMapOfShape pieces;
    TopExp::MapShapes(shape, pieces);
    for (int i = 1; i <= pieces.Extent(); ++i) {
        const Handle(BRepCheck_Result)& result = analyzer.Result(pieces(i));
        if (result.IsNull()) continue;
        const auto note = [&](const BRepCheck_ListOfStatus& statuses) {
            for (const auto status : statuses) {
                if (status != BRepCheck_NoError && words.tellp() == 0) BRepCheck::Print(status, words);
            }
        };
        note(result->Status());
        for (result->InitContextIterator(); result->MoreShapeInContext(); result->NextShapeInContext()) {
            note(result->StatusOnShape());
        }
    }
    std::string text = words.str();
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.back()))) text.pop_back();
    return text;
}

TopoDS_Shape extruded(const Part& part) {
    refuse_bad_numbers(part);
    const gp_Pln plane(gp_Ax3(point_in_room(part.place, {0, 0}), direction(part.place.z), direction(part.place.x)));
    BRepBuilderAPI_MakeFace face(plane, wire_of(part.place, part.outline), false);
    for (const auto& hole : part.holes) face.Add(TopoDS::Wire(wire_of(part.place, hole).Reversed()));
    if (!face.IsDone()) throw std::runtime_error("the kernel makes no face from its outline and holes");
    const RoomPoint along = part.length * part.place.z;
    const TopoDS_Shape solid = BRepPrimAPI_MakePrism(face.Face(), gp_Vec(along.x, along.y, along.z)).Shape();
    if (solid.IsNull() || solid.ShapeType() != TopAbs_SOLID)
        throw std::runtime_error("the kernel makes no solid of it");
    // A hole across the edge or across another hole still gives a solid with a likely volume: only this tells.
    const BRepCheck_Analyzer analyzer(solid);
    if (!analyzer.IsValid()) {
        throw std::runtime_error(fmt::format(
            "not a valid solid; holes must lie inside the outline and apart, and edges must not cross (kernel: {})",
            kernel_words(analyzer, solid)));
    }
    return solid;
}

/// The greatest and the least height of the far face over the outline.
std::pair<double, double> far_heights(const Part& part) {
    const auto e = extent(part.outline);
    std::vector<Vec2> corners{{e[0], e[2]}, {e[1], e[2]}, {e[1], e[3]}, {e[0], e[3]}};
    if (const auto* polygon = std::get_if<Polygon>(&part.outline)) corners = polygon->points;
    std::vector<double> heights;
    for (const Vec2 corner : corners) heights.push_back(part.length + dot(part.taper, corner));
    const auto [least, greatest] = std::minmax_element(heights.begin(), heights.end());
    return {*greatest, *least};
}

/// A prism up to the highest place of its far face, cut off along that face.
TopoDS_Shape tapered(const Part& part) {
    const auto [highest, lowest] = far_heights(part);
    if (!(lowest > 0)) {
        throw std::runtime_error(fmt::format("its far face comes down to {:g} mm, it must stay above 0", lowest));
    }
    Part straight = part;
    straight.taper = {};
    straight.length = highest + 1;
    const TopoDS_Shape whole = extruded(straight);
    const RoomPoint on = part.place.to_room(0, 0, part.length);
    const RoomPoint out = part.place.z - part.taper.x * part.place.x - part.taper.y * part.place.y;
    const BRepBuilderAPI_MakeFace face(gp_Pln(gp_Pnt(on.x, on.y, on.z), direction(out)));
    const RoomPoint above = on + 100.0 * out;
    BRepPrimAPI_MakeHalfSpace cut_off(face.Face(), gp_Pnt(above.x, above.y, above.z));
    TopTools_ListOfShape from;
    TopTools_ListOfShape tools;
    from.Append(whole);
    tools.Append(cut_off.Solid());
    BRepAlgoAPI_Cut cut;
    cut.SetArguments(from);
    cut.SetTools(tools);
    cut.SetNonDestructive(true);
    cut.Build();
    if (cut.HasErrors()) throw std::runtime_error("the kernel cannot cut its far face");
    TopExp_Explorer solids(cut.Shape(), TopAbs_SOLID);
    if (!solids.More()) throw std::runtime_error("nothing is left behind its far face");
    const TopoDS_Shape solid = solids.Current();
    if (!BRepCheck_Analyzer(solid).IsValid()) throw std::runtime_error("its far face makes no valid solid");
    return solid;
}

}  // namespace

TopoDS_Shape make_solid(const Part& part) {
    try {
        return part.taper.x == 0 && part.taper.y == 0 ? extruded(part) : tapered(part);
    } catch (const Standard_Failure& failure) {
        throw std::runtime_error(
            fmt::format("part {}: the kernel refuses it: {}", part.id, failure.GetMessageString()));
    } catch (const std::runtime_error& fault) {
        throw std::runtime_error(fmt::format("part {}: {}", part.id, fault.what()));
    }
}

double solid_volume(const TopoDS_Shape& shape) {
    // Measured from a corner of the shape itself: from the room's origin, large parts would cancel.
    TopExp_Explorer corner(shape, TopAbs_VERTEX);
    if (!corner.More()) return 0;
    GProp_GProps properties(BRep_Tool::Pnt(TopoDS::Vertex(corner.Current())));
    BRepGProp::VolumeProperties(shape, properties, 1e-9);
    return properties.Mass();
}

}  // namespace standproud
