// Meshes that the 3D view draws: they cover what the closed form says, whichever way the kernel makes them.
#include <gtest/gtest.h>

#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <cmath>
#include <gp_Vec.hxx>
#include <numbers>

#include "scene/solid_store.hpp"

namespace standproud::viewer {
namespace {

Part board(int holes) {
    Part part;
    part.id = "board";
    part.place = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    part.outline = RoundedRect{{3000, 1200}, 3000, 1200, 0};
    part.length = 9;
    for (int i = 0; i < holes; ++i)
        part.holes.push_back(RoundedRect{{100 + 70.0 * i, 900 + 3.0 * (i % 7)}, 15, 15, 15});
    return part;
}

double mesh_area(const TopoDS_Shape& solid) {
    double area = 0;
    for (TopExp_Explorer face(solid, TopAbs_FACE); face.More(); face.Next()) {
        TopLoc_Location where;
        const auto mesh = BRep_Tool::Triangulation(TopoDS::Face(face.Current()), where);
        EXPECT_FALSE(mesh.IsNull()) << "a face without a mesh";
        for (int i = 1; !mesh.IsNull() && i <= mesh->NbTriangles(); ++i) {
            int a = 0, b = 0, c = 0;
            mesh->Triangle(i).Get(a, b, c);
            area += gp_Vec(mesh->Node(a), mesh->Node(b)).Crossed(gp_Vec(mesh->Node(a), mesh->Node(c))).Magnitude() / 2;
        }
    }
    return area;
}

/// Few holes are meshed one way, many another: both cover the board less its holes, and the holes' walls.
TEST(Mesh, CoversABoardWithHoles) {
    for (const int holes : {0, 1, 12, 13, 80}) {
        Progress progress;
        const auto store = make_missing({board(holes)}, {}, progress);
        ASSERT_EQ(store.size(), 1u);
        ASSERT_EQ(store.begin()->second.fault, "");
        const double pi = std::numbers::pi;
        // Closed form: two faces, four edges, walls of the holes; a hole of 26 sides is 1 % less in area than a round
        // one.
        const double whole = 2 * 6000.0 * 2400 + 2 * 9 * (6000.0 + 2400);
        const double expected = whole + holes * (2 * pi * 15 * 9 - 2 * pi * 15 * 15);
        EXPECT_NEAR(mesh_area(store.begin()->second.shape), expected, 0.02 * holes * 2 * pi * 15 * 15 + 1) << holes;
    }
}

}  // namespace
}  // namespace standproud::viewer
