// Outside opinions on distances: FCL 0.7 and CGAL 5.5, from Debian 12. Kept apart because their headers are slow.
#pragma once

#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "modeler/parts.hpp"

namespace standproud::references {

/// Triangles, three points each, arcs as chords no further than `chord` mm from them.
struct Mesh {
    std::vector<RoomPoint> points;
};
Mesh mesh_of(const Part& part, double chord);

/// Distance of two parts that are whole boxes or cylinders by FCL's own shapes (libccd, 1e-6 wanted). Nothing when they
/// overlap.
std::optional<double> fcl_distance(const Part& a, const Part& b);

/// Depth by FCL's own shapes (libccd). Nothing when they are apart.
std::optional<double> fcl_depth(const Part& a, const Part& b);

/// Distance of the surfaces of two parts, as meshes with arcs cut to `chord` mm; drilled ones with rounded rectangles
/// only.
double fcl_mesh_distance(const Part& a, const Part& b, double chord);

/// All parts as meshes under FCL's tree of boxes.
class MeshScene {
  public:
    MeshScene(const std::vector<Part>& parts, double chord);
    ~MeshScene();
    /// How many pairs are no further apart than this.
    [[nodiscard]] std::size_t near(double within) const;

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

/// How many pairs of boxes meet, by FCL's tree of boxes, built for the question.
std::size_t fcl_box_pairs(const std::vector<std::pair<RoomPoint, RoomPoint>>& boxes);

/// Volume that the meshes of two parts both fill, by Boolean intersection, mm3.
double cgal_common_volume(const Part& a, const Part& b, double chord);

/// Distance of the hulls of two sets of points, exact arithmetic.
double cgal_hull_distance(const std::vector<RoomPoint>& a, const std::vector<RoomPoint>& b);

}  // namespace standproud::references
