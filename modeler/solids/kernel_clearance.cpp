#include "modeler/kernel_clearance.hpp"

#include <fmt/format.h>

#include <BRepAlgoAPI_Common.hxx>
#include <BRepBndLib.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepGProp.hxx>
#include <BRepOffsetAPI_MakePipeShell.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <GProp_GProps.hxx>
#include <Precision.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Ax3.hxx>
#include <gp_Circ.hxx>
#include <gp_Trsf.hxx>
#include <limits>
#include <stdexcept>

#include "modeler/solids.hpp"

namespace standproud {

namespace {

gp_Pnt point(RoomPoint p) { return {p.x, p.y, p.z}; }
RoomPoint point(const gp_Pnt& p) { return {p.X(), p.Y(), p.Z()}; }

TopoDS_Shape shifted(const TopoDS_Shape& shape, RoomPoint by) {
    gp_Trsf motion;
    motion.SetTranslation(gp_Vec(by.x, by.y, by.z));
    return BRepBuilderAPI_Transform(shape, motion, false).Shape();
}

KernelOverlap common(const TopoDS_Shape& a, const TopoDS_Shape& b, double touch) {
    TopTools_ListOfShape arguments;
    TopTools_ListOfShape tools;
    arguments.Append(a);
    tools.Append(b);
    BRepAlgoAPI_Common boolean;
    boolean.SetArguments(arguments);
    boolean.SetTools(tools);
    boolean.SetNonDestructive(true);  // by default the kernel alters what it is given
    boolean.SetFuzzyValue(touch);
    boolean.Build();
    if (!boolean.IsDone() || boolean.Shape().IsNull()) throw std::runtime_error("the kernel finds no common solid");
    KernelOverlap overlap;
    TopExp_Explorer corner(boolean.Shape(), TopAbs_VERTEX);
    if (!TopExp_Explorer(boolean.Shape(), TopAbs_SOLID).More() || !corner.More()) return overlap;
    // Measured from a corner of its own, so that nothing cancels; the call without a precision is 5e-5 off.
    GProp_GProps properties(BRep_Tool::Pnt(TopoDS::Vertex(corner.Current())));
    BRepGProp::VolumeProperties(boolean.Shape(), properties, 1e-6);
    if (properties.Mass() <= no_volume) return overlap;
    overlap.solid = boolean.Shape();
    overlap.volume = properties.Mass();
    overlap.middle = point(properties.CentreOfMass());
    return overlap;
}

bool boxes_meet(const TopoDS_Shape& a, const TopoDS_Shape& b) {
    Bnd_Box box_a;
    Bnd_Box box_b;
    BRepBndLib::Add(a, box_a);
    BRepBndLib::Add(b, box_b);
    return !box_a.IsOut(box_b);
}

/// Some 1 in 150 crossings of equal cylinders come out empty; the other way round, or with a hair of tolerance, they do
/// not. So what is empty is asked again.
KernelOverlap surely_common(const TopoDS_Shape& a, const TopoDS_Shape& b, double touch) {
    if (!boxes_meet(a, b)) return {};
    KernelOverlap overlap = common(a, b, touch);
    if (overlap.volume == 0) overlap = common(b, a, touch);
    if (overlap.volume == 0) overlap = common(a, b, std::max(touch, touch_length));
    return overlap;
}

Separation apart(const TopoDS_Shape& a, const TopoDS_Shape& b) {
    BRepExtrema_DistShapeShape distance(a, b);
    if (!distance.IsDone() || distance.NbSolution() == 0) throw std::runtime_error("the kernel finds no distance");
    Separation s;
    // A point inside the other gives 0 as well: what overlaps was sorted out by its volume before.
    s.distance = distance.Value();
    s.on_a = point(distance.PointOnShape1(1));
    s.on_b = point(distance.PointOnShape2(1));
    s.common = 0.5 * (s.on_a + s.on_b);
    const RoomPoint step = s.on_b - s.on_a;
    s.direction = norm(step) > same_length ? (1 / norm(step)) * step : RoomPoint{0, 0, 1};
    s.error = touch_length;
    return s;
}

/// Greatest extent of a body along the unit direction n.
double reach_along(const Body& body, RoomPoint n) {
    double most = -std::numeric_limits<double>::infinity();
    for (const auto& piece : body.pieces) {
        const Frame& f = piece.place;
        const Vec2 flat{dot(n, f.x), dot(n, f.y)};
        for (const Vec2 p : piece.outline.core) {
            most = std::max(most, dot(n, f.origin) + dot(p, flat) + piece.outline.disc * norm(flat) +
                                      std::max(0.0, piece.length * dot(n, f.z)));
        }
    }
    return most;
}

/// Sizes of a shape along the axes of a frame.
std::array<double, 3> sizes_in(const TopoDS_Shape& shape, const Frame& f) {
    gp_Trsf to_frame;
    to_frame.SetTransformation(gp_Ax3(point(f.origin), gp_Dir(f.z.x, f.z.y, f.z.z), gp_Dir(f.x.x, f.x.y, f.x.z)));
    Bnd_Box box;
    BRepBndLib::AddOptimal(BRepBuilderAPI_Transform(shape, to_frame, true).Shape(), box, false, false);
    const gp_Pnt low = box.CornerMin();
    const gp_Pnt high = box.CornerMax();
    return {high.X() - low.X(), high.Y() - low.Y(), high.Z() - low.Z()};
}

void push_out(const Part& a, const Part& b, const TopoDS_Shape& solid_a, const TopoDS_Shape& solid_b,
              const KernelOverlap& overlap, Separation& s) {
    const Body body_a = make_body(a, 0);
    const Body body_b = make_body(b, 0);
    double least = std::numeric_limits<double>::infinity();
    for (const Frame& f : {a.place, b.place}) {
        const auto shared = sizes_in(overlap.solid, f);
        const RoomPoint axes[] = {f.x, f.y, f.z};
        for (std::size_t i = 0; i < 6; ++i) {
            const RoomPoint n = (i % 2 == 0 ? 1.0 : -1.0) * axes[i / 2];
            // By the size of what they share; where that is not enough, past each other altogether.
            double push = reach_along(body_a, n) + reach_along(body_b, -1.0 * n);
            const double less = shared[i / 2] + touch_length;
            if (less < std::min(least, push) && common(solid_a, shifted(solid_b, less * n), 0).volume == 0) push = less;
            if (push >= least) continue;
            least = push;
            s.direction = n;
        }
    }
    s.distance = -least;
    s.common = overlap.middle;
    s.on_a = s.common + (least / 2) * s.direction;
    s.on_b = s.on_a + s.distance * s.direction;
    s.error = touch_length;
    s.least = false;
}

template <class Work>
auto guarded(const std::string& what, const Work& work) {
    try {
        return work();
    } catch (const Standard_Failure& failure) {
        throw std::runtime_error(fmt::format("{}: the kernel gives up: {}", what, failure.GetMessageString()));
    } catch (const std::runtime_error& fault) {
        throw std::runtime_error(fmt::format("{}: {}", what, fault.what()));
    }
}

TopoDS_Wire middle_line(const Pipe& pipe) {
    BRepBuilderAPI_MakeWire wire;
    RoomPoint from = pipe.points.front();
    const auto straight_to = [&](RoomPoint to) {
        if (norm(to - from) > Precision::Confusion()) wire.Add(BRepBuilderAPI_MakeEdge(point(from), point(to)).Edge());
        from = to;
    };
    for (const auto& bend : bends_of(pipe)) {
        straight_to(bend.start);
        if (bend.radius == 0) continue;
        const GC_MakeArcOfCircle arc(point(bend.start), point(bend.middle), point(bend.end));
        wire.Add(BRepBuilderAPI_MakeEdge(arc.Value()).Edge());
        from = bend.end;
    }
    straight_to(pipe.points.back());
    if (!wire.IsDone()) throw std::runtime_error("its points do not make one line");
    return wire.Wire();
}

TopoDS_Shape swept(const Pipe& pipe) {
    if (pipe.points.size() < 2) throw std::runtime_error("it has fewer than two points");
    if (!(pipe.diameter > 0)) {
        throw std::runtime_error(fmt::format("its diameter is {:g} mm, it must be above 0", pipe.diameter));
    }
    const RoomPoint start = pipe.points[1] - pipe.points[0];
    if (!(norm(start) > Precision::Confusion())) throw std::runtime_error("its first two points are one");
    const gp_Circ circle(gp_Ax2(point(pipe.points[0]), gp_Dir(start.x, start.y, start.z)), pipe.diameter / 2);
    const TopoDS_Wire profile = BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire();
    BRepOffsetAPI_MakePipeShell sweep(middle_line(pipe));
    sweep.SetTransitionMode(BRepBuilderAPI_RoundCorner);  // corners without a bend
    sweep.Add(profile);
    if (!sweep.IsReady()) throw std::runtime_error("the kernel cannot sweep along it");
    sweep.Build();
    if (!sweep.IsDone() || !sweep.MakeSolid()) throw std::runtime_error("the kernel makes no solid of it");
    return sweep.Shape();
}

}  // namespace

KernelOverlap kernel_overlap(const TopoDS_Shape& a, const TopoDS_Shape& b, double touch) {
    return guarded("common solid", [&] { return surely_common(a, b, touch); });
}

Separation kernel_separation(const Part& a, const Part& b, std::size_t number_a, std::size_t number_b) {
    const TopoDS_Shape solid_a = make_solid(a);
    const TopoDS_Shape solid_b = make_solid(b);
    return guarded(fmt::format("parts {} and {}", a.id, b.id), [&] {
        const KernelOverlap overlap = surely_common(solid_a, solid_b, 0);
        Separation s;
        if (overlap.volume > 0) {
            push_out(a, b, solid_a, solid_b, overlap, s);
        } else {
            s = apart(solid_a, solid_b);
        }
        s.a = number_a;
        s.b = number_b;
        return s;
    });
}

TopoDS_Shape make_solid(const Pipe& pipe) {
    return guarded("pipe", [&] { return swept(pipe); });
}

}  // namespace standproud
