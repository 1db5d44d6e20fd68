#include <CGAL/Exact_rational.h>
#include <CGAL/Polytope_distance_d.h>
#include <CGAL/Polytope_distance_d_traits_3.h>
#include <CGAL/Simple_cartesian.h>

#include <cmath>

#include "support/references.hpp"

namespace standproud::references {

double cgal_hull_distance(const std::vector<RoomPoint>& a, const std::vector<RoomPoint>& b) {
    using Exact = CGAL::Exact_rational;
    using Kernel = CGAL::Simple_cartesian<double>;
    using Traits = CGAL::Polytope_distance_d_traits_3<Kernel, Exact, double>;
    std::vector<Kernel::Point_3> p;
    std::vector<Kernel::Point_3> q;
    for (const auto& c : a) p.emplace_back(c.x, c.y, c.z);
    for (const auto& c : b) q.emplace_back(c.x, c.y, c.z);
    CGAL::Polytope_distance_d<Traits> distance(p.begin(), p.end(), q.begin(), q.end());
    const Exact squared = distance.squared_distance_numerator() / distance.squared_distance_denominator();
    return std::sqrt(CGAL::to_double(squared));
}

}  // namespace standproud::references
