#include "scene/edges.hpp"

#include <AIS_DisplayMode.hxx>
#include <Graphic3d_AspectLine3d.hxx>
#include <Graphic3d_Group.hxx>
#include <Prs3d_Presentation.hxx>
#include <StdPrs_ShadedShape.hxx>
#include <algorithm>
#include <cmath>

#include "scene/kernel_colours.hpp"

namespace standproud::viewer {

namespace {

/// Edges nearer than this to a sheet's own edge are seen beside it: mm.
constexpr double rim = 4;

bool within(const Profile& outline, Vec2 p, double more) {
    for (const double y : {p.y - more, p.y + more}) {
        const auto spans = spans_at(outline, y);
        const bool in = std::any_of(spans.begin(), spans.end(),
                                    [&](const auto& s) { return p.x - more > s.first && p.x + more < s.second; });
        if (!in) return false;
    }
    return true;
}

bool behind(const Cover& cover, RoomPoint point, const Look& look) {
    const Part& sheet = *cover.part;
    const auto [x, y, z] = sheet.place.from_room(point);
    constexpr double touching = 0.5;
    constexpr double deep = 400;  // no wall is thicker
    if (z > touching || z < -deep) return false;
    const Vec2 at{x, y};
    if (!within(sheet.outline, at, rim)) return false;
    for (const auto& hole : sheet.holes) {
        const auto [left, right, low, high] = extent(hole);
        if (x > left && x < right && y > low && y < high) return false;
    }
    // A sheet that is cut away there covers nothing.
    return !look.cut.on || dot(look.cut.away, sheet.place.to_room(x, y, sheet.length)) < look.cut.at;
}

}  // namespace

bool operator==(const Segment& a, const Segment& b) {
    const auto same = [](RoomPoint p, RoomPoint q) { return p.x == q.x && p.y == q.y && p.z == q.z; };
    return same(a.from, b.from) && same(a.to, b.to);
}

std::vector<Cover> covers(const Document& document, const Look& look, bool ghost_rest) {
    std::vector<Cover> found;
    const Model& model = document.job->model;
    if (look.apart > 0 || look.survey.on || ghost_rest) return found;
    for (const auto& part : document.parts) {
        if (part.layer != "board" && part.layer != "panel") continue;
        const std::size_t wall = wall_index(model.job, part.wall);
        if (wall == model.job.walls.size() || dot(part.place.z, model.room.walls[wall].z) < 0.9) continue;
        if (shown(part, look, document.selection, ghost_rest) == Shown::full) found.push_back({wall, &part});
    }
    return found;
}

std::vector<Segment> bare_of(const std::vector<Segment>& edges, const Part& part, const std::vector<Cover>& covers,
                             const Model& model, const Look& look) {
    const std::size_t wall = wall_index(model.job, part.wall);
    std::vector<const Cover*> own;
    for (const auto& cover : covers) {
        if (cover.wall == wall && cover.part != &part) own.push_back(&cover);
    }
    if (own.empty()) return edges;
    const auto hidden = [&](RoomPoint p) {
        return std::any_of(own.begin(), own.end(), [&](const Cover* cover) { return behind(*cover, p, look); });
    };
    std::vector<Segment> bare;
    for (const auto& [from, to] : edges) {
        constexpr double step = 10;  // mm: nobody sees whether a line ends so much earlier
        const int steps = std::max(1, static_cast<int>(std::ceil(norm(to - from) / step)));
        const auto at = [&, from = from, to = to](double share) { return from + share * (to - from); };
        int begun = -1;
        for (int i = 0; i <= steps; ++i) {
            const bool out = i < steps && !hidden(at((i + 0.5) / steps));
            if (out && begun < 0) begun = i;
            if (out || begun < 0) continue;
            bare.push_back({at(static_cast<double>(begun) / steps), at(static_cast<double>(i) / steps)});
            begun = -1;
        }
    }
    return bare;
}

std::vector<Segment> edges_of(const TopoDS_Shape& solid) {
    std::vector<Segment> edges;
    const Handle(Graphic3d_ArrayOfSegments) all = StdPrs_ShadedShape::FillFaceBoundaries(solid, GeomAbs_C0);
    if (all.IsNull()) return edges;
    const auto point = [&](int rank) {
        const gp_Pnt p = all->Vertice(all->EdgeNumber() > 0 ? all->Edge(rank) : rank);
        return RoomPoint{p.X(), p.Y(), p.Z()};
    };
    const int ends = all->EdgeNumber() > 0 ? all->EdgeNumber() : all->VertexNumber();
    for (int rank = 1; rank + 1 <= ends; rank += 2) edges.push_back({point(rank), point(rank + 1)});
    return edges;
}

void EdgedSolid::Compute(const Handle(PrsMgr_PresentationManager) & manager, const Handle(Prs3d_Presentation) & picture,
                         const Standard_Integer mode) {
    AIS_Shape::Compute(manager, picture, mode);
    if (mode != AIS_Shaded || !edges_on || edges.empty()) return;
    Handle(Graphic3d_ArrayOfSegments) lines = new Graphic3d_ArrayOfSegments(static_cast<int>(2 * edges.size()));
    for (const auto& edge : edges) {
        lines->AddVertex(kernel_point(edge.from));
        lines->AddVertex(kernel_point(edge.to));
    }
    const Handle(Graphic3d_Group) group = picture->NewGroup();
    group->SetGroupPrimitivesAspect(edge_aspect);
    group->AddPrimitiveArray(lines);
}

}  // namespace standproud::viewer
