// Edges of solids in the 3D view: those that lie behind boards and panels are left out. The kernel draws a line a
// little in front of the face that it lies on, the more the flatter the face is seen, so that from afar the edges of a
// stud stood out from a panel 18 mm before it, in pieces, and looked like cracks.
#pragma once

#include <AIS_Shape.hxx>
#include <Graphic3d_ArrayOfSegments.hxx>
#include <vector>

#include "scene/look.hpp"

namespace standproud::viewer {

/// A sheet that one cannot see through, and the wall it is on.
struct Cover {
    std::size_t wall = 0;
    const Part* part = nullptr;
};

/// Boards and panels that are shown in full and in their place.
std::vector<Cover> covers(const Document& document, const Look& look, bool ghost_rest);

struct Segment {
    RoomPoint from;
    RoomPoint to;
};
bool operator==(const Segment& a, const Segment& b);

/// What of a part's edges is not behind a cover of its own wall.
std::vector<Segment> bare_of(const std::vector<Segment>& edges, const Part& part, const std::vector<Cover>& covers,
                             const Model& model, const Look& look);

/// All edges of a solid that has its mesh.
std::vector<Segment> edges_of(const TopoDS_Shape& solid);

/// A solid that draws the edges it is given instead of all of its own.
class EdgedSolid : public AIS_Shape {
    DEFINE_STANDARD_RTTI_INLINE(EdgedSolid, AIS_Shape)
  public:
    explicit EdgedSolid(const TopoDS_Shape& solid) : AIS_Shape(solid) {}

    std::vector<Segment> edges;
    bool edges_on = false;
    Handle(Graphic3d_AspectLine3d) edge_aspect;

    void Compute(const Handle(PrsMgr_PresentationManager) & manager, const Handle(Prs3d_Presentation) & picture,
                 const Standard_Integer mode) override;
};

}  // namespace standproud::viewer
