// Profiles as convex outlines.
#include <algorithm>
#include <cmath>

#include "clearance/flat.hpp"

namespace standproud {

namespace {

/// Without corners written twice and corners on a straight edge.
std::vector<Vec2> cleaned(const std::vector<Vec2>& given) {
    std::vector<Vec2> p;
    for (const Vec2 corner : given) {
        if (p.empty() || norm(corner - p.back()) > same_length) p.push_back(corner);
    }
    while (p.size() > 1 && norm(p.front() - p.back()) <= same_length) p.pop_back();
    for (std::size_t i = 0; p.size() > 3 && i < p.size();) {
        const Vec2 before = p[(i + p.size() - 1) % p.size()];
        const Vec2 after = p[(i + 1) % p.size()];
        const double off = cross(after - before, p[i] - before) / std::max(norm(after - before), same_length);
        const bool between = dot(p[i] - before, after - p[i]) > 0;
        if (std::abs(off) <= same_length / 100 && between) {
            p.erase(p.begin() + static_cast<std::ptrdiff_t>(i));
            i = 0;
        } else {
            ++i;
        }
    }
    return p;
}

bool convex_at(const std::vector<Vec2>& p, std::size_t i) {
    const Vec2 before = p[(i + p.size() - 1) % p.size()];
    const Vec2 after = p[(i + 1) % p.size()];
    return cross(p[i] - before, after - p[i]) >= 0;
}

bool is_convex(const std::vector<Vec2>& p) {
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (!convex_at(p, i)) return false;
    }
    return true;
}

bool in_triangle(Vec2 a, Vec2 b, Vec2 c, Vec2 p) {
    return cross(b - a, p - a) >= 0 && cross(c - b, p - b) >= 0 && cross(a - c, p - c) >= 0;
}

bool is_ear(const std::vector<Vec2>& p, std::size_t i) {
    const std::size_t n = p.size();
    const Vec2 a = p[(i + n - 1) % n];
    const Vec2 c = p[(i + 1) % n];
    if (cross(p[i] - a, c - p[i]) <= 0) return false;
    for (std::size_t k = 0; k < n; ++k) {
        const bool own = k == i || k == (i + 1) % n || k == (i + n - 1) % n;
        if (!own && in_triangle(a, p[i], c, p[k])) return false;
    }
    return true;
}

std::vector<std::vector<Vec2>> triangles(std::vector<Vec2> p) {
    std::vector<std::vector<Vec2>> found;
    while (p.size() > 3) {
        std::size_t i = 0;
        while (i < p.size() && !is_ear(p, i)) ++i;
        if (i == p.size()) break;  // crosses itself: not a valid part
        found.push_back({p[(i + p.size() - 1) % p.size()], p[i], p[(i + 1) % p.size()]});
        p.erase(p.begin() + static_cast<std::ptrdiff_t>(i));
    }
    found.push_back(p);
    return found;
}

bool same(Vec2 a, Vec2 b) { return a.x == b.x && a.y == b.y; }

/// The two as one where they share an edge and the whole is convex; else empty.
std::vector<Vec2> joined(const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
    for (std::size_t i = 0; i < a.size(); ++i) {
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t next_i = (i + 1) % a.size();
            const std::size_t next_j = (j + 1) % b.size();
            if (!same(a[i], b[next_j]) || !same(a[next_i], b[j])) continue;
            std::vector<Vec2> whole;
            for (std::size_t k = 0; k < a.size(); ++k) whole.push_back(a[(next_i + k) % a.size()]);
            for (std::size_t k = 1; k + 1 < b.size(); ++k) whole.push_back(b[(next_j + k) % b.size()]);
            if (is_convex(whole)) return whole;
        }
    }
    return {};
}

/// Convex pieces by joining triangles (Hertel and Mehlhorn 1983: at most four times as many as needed).
std::vector<Outline> convex_pieces(const std::vector<Vec2>& p) {
    auto pieces = triangles(p);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        for (std::size_t j = i + 1; j < pieces.size(); ++j) {
            auto whole = joined(pieces[i], pieces[j]);
            if (whole.empty()) continue;
            pieces[i] = std::move(whole);
            pieces.erase(pieces.begin() + static_cast<std::ptrdiff_t>(j));
            j = i;  // the larger one may join others
        }
    }
    std::vector<Outline> outlines;
    for (auto& piece : pieces) outlines.push_back({cleaned(piece), 0});
    return outlines;
}

Outline outline_of(const RoundedRect& r) {
    const double a = std::max(0.0, r.half_width - r.radius);
    const double b = std::max(0.0, r.half_height - r.radius);
    const Vec2 c = r.centre;
    const bool wide = a > same_length;
    const bool high = b > same_length;
    if (wide && high) return {{c + Vec2{-a, -b}, c + Vec2{a, -b}, c + Vec2{a, b}, c + Vec2{-a, b}}, r.radius};
    if (wide) return {{c + Vec2{-a, 0}, c + Vec2{a, 0}}, r.radius};
    if (high) return {{c + Vec2{0, -b}, c + Vec2{0, b}}, r.radius};
    return {{c}, r.radius};
}

}  // namespace

std::vector<Outline> convex_outlines(const Profile& profile) {
    if (const auto* r = std::get_if<RoundedRect>(&profile)) return {outline_of(*r)};
    const auto corners = cleaned(std::get<Polygon>(profile).points);
    if (corners.size() < 3) return {};
    if (is_convex(corners)) return {{corners, 0}};
    return convex_pieces(corners);
}

}  // namespace standproud
