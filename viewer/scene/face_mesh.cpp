#include "scene/face_mesh.hpp"

#include <fmt/format.h>

#include <AIS_InteractiveContext.hxx>
#include <Graphic3d_ArrayOfSegments.hxx>
#include <Graphic3d_ArrayOfTriangles.hxx>
#include <Graphic3d_AspectFillArea3d.hxx>
#include <Graphic3d_AspectLine3d.hxx>
#include <Graphic3d_Group.hxx>
#include <Prs3d_Presentation.hxx>
#include <algorithm>

#include "scene/kernel_colours.hpp"

namespace standproud::viewer {

namespace {

constexpr double step = 50;            // mm between nodes: half of what a straightedge shows
constexpr std::size_t line_every = 4;  // a line of the grid at every 200 mm

/// A grid of triangles, each corner with a colour of its own.
class FaceMesh : public AIS_InteractiveObject {
    DEFINE_STANDARD_RTTI_INLINE(FaceMesh, AIS_InteractiveObject)
  public:
    FaceMesh(std::size_t columns, std::size_t rows, std::vector<RoomPoint> points, std::vector<Colour> colours,
             Colour ink, double width)
        : columns_(columns),
          rows_(rows),
          points_(std::move(points)),
          colours_(std::move(colours)),
          ink_(ink),
          width_(width) {}

    [[nodiscard]] Standard_Boolean AcceptDisplayMode(const Standard_Integer mode) const override { return mode == 0; }

    void Compute(const Handle(PrsMgr_PresentationManager) &, const Handle(Prs3d_Presentation) & picture,
                 const Standard_Integer) override {
        add_triangles(picture);
        add_lines(picture);
    }
    void ComputeSelection(const Handle(SelectMgr_Selection) &, const Standard_Integer) override {}

  private:
    void add_triangles(const Handle(Prs3d_Presentation) & picture) const {
        const int count = static_cast<int>(points_.size());
        const int cells = static_cast<int>((columns_ - 1) * (rows_ - 1));
        Handle(Graphic3d_ArrayOfTriangles) mesh = new Graphic3d_ArrayOfTriangles(count, 6 * cells, false, true);
        for (std::size_t i = 0; i < points_.size(); ++i) {
            // Colours of corners are drawn as they are, not turned from linear to sRGB like those of materials.
            const Colour& c = colours_[i];
            mesh->AddVertex(kernel_point(points_[i]),
                            Quantity_Color(c.red / 255.0, c.green / 255.0, c.blue / 255.0, Quantity_TOC_RGB));
        }
        const int across = static_cast<int>(columns_);
        for (int row = 0; row + 1 < static_cast<int>(rows_); ++row) {
            for (int column = 0; column + 1 < across; ++column) {
                const int at = row * across + column + 1;
                mesh->AddEdges(at, at + 1, at + across);
                mesh->AddEdges(at + 1, at + across + 1, at + across);
            }
        }
        Handle(Graphic3d_AspectFillArea3d) how = new Graphic3d_AspectFillArea3d();
        how->SetInteriorStyle(Aspect_IS_SOLID);
        how->SetShadingModel(Graphic3d_TOSM_UNLIT);  // a colour is a figure here: light must not change it
        how->SetFaceCulling(Graphic3d_TypeOfBackfacingModel_DoubleSided);
        const Handle(Graphic3d_Group) group = picture->NewGroup();
        group->SetGroupPrimitivesAspect(how);
        group->AddPrimitiveArray(mesh);
    }

    void add_lines(const Handle(Prs3d_Presentation) & picture) const {
        std::vector<std::pair<std::size_t, std::size_t>> lines;
        for (std::size_t row = 0; row < rows_; ++row) {
            for (std::size_t column = 0; column < columns_; ++column) {
                const std::size_t at = row * columns_ + column;
                if (column + 1 < columns_ && kept(row, rows_)) lines.emplace_back(at, at + 1);
                if (row + 1 < rows_ && kept(column, columns_)) lines.emplace_back(at, at + columns_);
            }
        }
        Handle(Graphic3d_ArrayOfSegments) strokes = new Graphic3d_ArrayOfSegments(static_cast<int>(2 * lines.size()));
        for (const auto& [from, to] : lines) {
            strokes->AddVertex(kernel_point(points_[from]));
            strokes->AddVertex(kernel_point(points_[to]));
        }
        const Handle(Graphic3d_Group) group = picture->NewGroup();
        group->SetGroupPrimitivesAspect(new Graphic3d_AspectLine3d(kernel_colour(ink_), Aspect_TOL_SOLID, width_));
        group->AddPrimitiveArray(strokes);
    }

    static bool kept(std::size_t index, std::size_t count) { return index % line_every == 0 || index + 1 == count; }

    std::size_t columns_;
    std::size_t rows_;
    std::vector<RoomPoint> points_;
    std::vector<Colour> colours_;
    Colour ink_;
    double width_;
};

Handle(AIS_InteractiveObject)
    mesh_of(const Model& model, const FaceGrid& grid, const std::array<double, 2>& ends, const Look& look) {
    std::vector<RoomPoint> points;
    std::vector<Colour> colours;
    const double span = std::max(ends[1] - ends[0], 1e-9);
    const Colour none = look.dark ? Colour{92, 98, 104} : Colour{196, 200, 200};  // no figure here
    for (const auto& node : grid.nodes) {
        points.push_back(model.room.walls[grid.wall].to_room(node.u, node.v, look.survey.times * node.n));
        const bool has = !look.survey.packing || node.packing;
        const double figure = look.survey.packing ? node.packing.value_or(0) : node.n;
        colours.push_back(has ? cividis((figure - ends[0]) / span) : none);
    }
    return new FaceMesh(grid.columns, grid.rows, std::move(points), std::move(colours), {84, 88, 92}, look.scale);
}

}  // namespace

std::vector<FaceGrid> face_grids(const CheckedJob& job) {
    std::vector<FaceGrid> grids;
    if (!job.model.survey) return grids;
    for (std::size_t w = 0; w < job.model.room.walls.size(); ++w) grids.push_back(face_grid(job, w, step));
    return grids;
}

std::vector<WallMark> survey_meshes(const CheckedJob& job, const std::vector<FaceGrid>& grids, const Look& look) {
    std::vector<WallMark> marks;
    const auto ends = figures_between(grids, look.survey.packing);
    for (const auto& grid : grids) marks.push_back({grid.wall, mesh_of(job.model, grid, ends, look)});
    return marks;
}

std::vector<Flag> survey_flags(const CheckedJob& job, const Look& look) {
    std::vector<Flag> flags;
    const Model& model = job.model;
    for (const auto& mark : reading_marks(job)) {
        if (!look.survey.values && !mark.suspect) continue;
        const double n = look.survey.times * model.room.faces[mark.wall].bare.at(mark.u, mark.v).n;
        Flag flag;
        flag.name = fmt::format("reading {}", flags.size() + 1);
        flag.words = (mark.suspect ? " X " : " ") + mark.words + " ";
        flag.wall = mark.wall;
        flag.spot = flag.foot = flag.head = model.room.walls[mark.wall].to_room(mark.u, mark.v, n + 2);
        flag.plate = mark.suspect ? verdict_colour(rules::Verdict::fails) : ground(look.dark).top;
        flag.size = (mark.suspect ? 14 : 10) * look.scale;
        if (!mark.suspect) {
            // A figure far from its spot is no help; nearer, there is room.
            flag.facing = 0.3;
            flag.reach = 3 * flag.size;
        }
        flag.weight = mark.suspect ? 1 : 0;
        flags.push_back(flag);
    }
    return flags;
}

}  // namespace standproud::viewer
