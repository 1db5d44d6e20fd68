#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>

#include <algorithm>
#include <cmath>
#include <list>

#include "support/references.hpp"

namespace standproud::references {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
struct Nesting {
    int level = -1;
};
using FaceBase = CGAL::Triangulation_face_base_with_info_2<Nesting, Kernel>;
using Faces = CGAL::Triangulation_data_structure_2<CGAL::Triangulation_vertex_base_2<Kernel>,
                                                   CGAL::Constrained_triangulation_face_base_2<Kernel, FaceBase>>;
using Triangulation = CGAL::Constrained_Delaunay_triangulation_2<Kernel, Faces, CGAL::Exact_predicates_tag>;

std::vector<Vec2> corners(const Profile& profile, double chord) {
    const auto* r = std::get_if<RoundedRect>(&profile);
    if (!r) return std::get<Polygon>(profile).points;
    if (r->radius <= 0) {
        const double a = r->half_width;
        const double b = r->half_height;
        return {r->centre + Vec2{-a, -b}, r->centre + Vec2{a, -b}, r->centre + Vec2{a, b}, r->centre + Vec2{-a, b}};
    }
    const double step = 2 * std::acos(std::max(0.0, 1 - chord / r->radius));
    const int chords = std::max(1, static_cast<int>(std::ceil(pi / 2 / step)));
    const double a = r->half_width - r->radius;
    const double b = r->half_height - r->radius;
    const Vec2 middles[] = {{a, b}, {-a, b}, {-a, -b}, {a, -b}};
    std::vector<Vec2> points;
    for (int quarter = 0; quarter < 4; ++quarter) {
        for (int i = 0; i <= chords; ++i) {
            const double angle = pi / 2 * (quarter + double(i) / chords);
            const Vec2 p = r->centre + middles[quarter] + r->radius * Vec2{std::cos(angle), std::sin(angle)};
            if (points.empty() || norm(p - points.back()) > 1e-7) points.push_back(p);
        }
    }
    if (norm(points.front() - points.back()) <= 1e-7) points.pop_back();
    return points;
}

/// Levels by how many outlines have been crossed from outside: odd is material.
void mark(Triangulation& t) {
    std::list<std::pair<Triangulation::Face_handle, int>> open{{t.infinite_face(), 0}};
    while (!open.empty()) {
        const auto [start, level] = open.front();
        open.pop_front();
        if (start->info().level != -1) continue;
        std::list<Triangulation::Face_handle> same{start};
        while (!same.empty()) {
            const auto face = same.front();
            same.pop_front();
            if (face->info().level != -1) continue;
            face->info().level = level;
            for (int i = 0; i < 3; ++i) {
                const auto next = face->neighbor(i);
                if (next->info().level != -1) continue;
                if (t.is_constrained({face, i})) {
                    open.emplace_back(next, level + 1);
                } else {
                    same.push_back(next);
                }
            }
        }
    }
}

}  // namespace

Mesh mesh_of(const Part& part, double chord) {
    Mesh mesh;
    const auto add = [&](RoomPoint a, RoomPoint b, RoomPoint c) {
        for (const auto& p : {a, b, c}) mesh.points.push_back(p);
    };
    Triangulation t;
    std::vector<std::vector<Vec2>> loops{corners(part.outline, chord)};
    for (const auto& hole : part.holes) {
        auto loop = corners(hole, chord);
        std::reverse(loop.begin(), loop.end());
        loops.push_back(std::move(loop));
    }
    for (const auto& loop : loops) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec2 p = loop[i];
            const Vec2 q = loop[(i + 1) % loop.size()];
            t.insert_constraint({p.x, p.y}, {q.x, q.y});
            const RoomPoint a = part.place.to_room(p.x, p.y, 0);
            const RoomPoint b = part.place.to_room(q.x, q.y, 0);
            const RoomPoint up = part.length * part.place.z;
            add(a, b, b + up);
            add(a, b + up, a + up);
        }
    }
    mark(t);
    for (auto face = t.finite_faces_begin(); face != t.finite_faces_end(); ++face) {
        if (face->info().level % 2 == 0) continue;
        const auto at = [&](int i, double z) {
            const auto& p = face->vertex(i)->point();
            return part.place.to_room(p.x(), p.y(), z);
        };
        add(at(0, part.length), at(1, part.length), at(2, part.length));
        add(at(0, 0), at(2, 0), at(1, 0));
    }
    return mesh;
}

}  // namespace standproud::references
