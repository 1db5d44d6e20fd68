#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/corefinement.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/orient_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/orientation.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/repair_polygon_soup.h>
#include <CGAL/Surface_mesh.h>

#include <cmath>
#include <stdexcept>

#include "support/references.hpp"

namespace standproud::references {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;
using Surface = CGAL::Surface_mesh<Point>;
namespace pmp = CGAL::Polygon_mesh_processing;

/// Corners of neighbouring triangles differ by rounding: they are taken to 1e-7 mm.
double taken(double x) { return std::round(x * 1e7) / 1e7; }

Surface surface_of(const Part& part, double chord) {
    std::vector<Point> points;
    std::vector<std::vector<std::size_t>> triangles;
    const Mesh mesh = mesh_of(part, chord);
    for (std::size_t i = 0; i < mesh.points.size(); i += 3) {
        triangles.push_back({i, i + 1, i + 2});
        for (std::size_t k = 0; k < 3; ++k) {
            const RoomPoint& p = mesh.points[i + k];
            points.emplace_back(taken(p.x), taken(p.y), taken(p.z));
        }
    }
    pmp::repair_polygon_soup(points, triangles);
    if (!pmp::orient_polygon_soup(points, triangles)) throw std::runtime_error("a mesh that is not closed");
    Surface surface;
    pmp::polygon_soup_to_polygon_mesh(points, triangles, surface);
    if (!CGAL::is_closed(surface)) throw std::runtime_error("a mesh that is not closed");
    if (!pmp::is_outward_oriented(surface)) pmp::reverse_face_orientations(surface);
    return surface;
}

}  // namespace

double cgal_common_volume(const Part& a, const Part& b, double chord) {
    Surface first = surface_of(a, chord);
    Surface second = surface_of(b, chord);
    Surface common;
    if (!pmp::corefine_and_compute_intersection(first, second, common)) {
        throw std::runtime_error("no closed common mesh");
    }
    return common.is_empty() ? 0 : CGAL::to_double(pmp::volume(common));
}

}  // namespace standproud::references
