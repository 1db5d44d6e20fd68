#include "window/measure.hpp"

#include <fmt/format.h>

#include <BRepExtrema_DistShapeShape.hxx>
#include <Standard_Failure.hxx>
#include <cmath>

#include "rules/words.hpp"

namespace standproud::viewer {

std::string piece_word(const TopoDS_Shape& piece) {
    switch (piece.ShapeType()) {
        case TopAbs_VERTEX:
            return "corner";
        case TopAbs_EDGE:
            return "edge";
        default:
            return "face";
    }
}

Measured3d measure(const TopoDS_Shape& a, RoomPoint picked_a, const TopoDS_Shape& b, RoomPoint picked_b) {
    Measured3d found{norm(picked_b - picked_a), {picked_a, picked_b}, ""};
    try {
        BRepExtrema_DistShapeShape least(a, b);
        if (least.IsDone() && least.NbSolution() > 0) {
            const gp_Pnt p = least.PointOnShape1(1);
            const gp_Pnt q = least.PointOnShape2(1);
            found = {least.Value(), {RoomPoint{p.X(), p.Y(), p.Z()}, RoomPoint{q.X(), q.Y(), q.Z()}}, ""};
        }
    } catch (const Standard_Failure&) {
        // The picked points stand.
    }
    const auto tidy = [](double value) { return rules::mm(std::round(100 * value) / 100); };
    const RoomPoint by = found.ends[1] - found.ends[0];
    found.words = fmt::format("From {} to {}: {} mm ({} x {} level, {} up)", piece_word(a), piece_word(b),
                              tidy(found.distance), tidy(std::abs(by.x)), tidy(std::abs(by.y)), tidy(std::abs(by.z)));
    return found;
}

}  // namespace standproud::viewer
