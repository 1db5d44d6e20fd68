// Inside the join planner: the search itself; see Limits in problem.hpp.
#pragma once

#include <algorithm>
#include <cmath>

#include "joins/problem.hpp"

namespace standproud::joins {

/// Joins are set one after another in every order; each on an anchor, or tied to joins that are set already.
template <typename Visit>
void Limits::each(std::size_t joins, const Visit& visit) {
    find_spans(joins);
    find_anchors(joins);
    Places places;
    places.count = joins;
    std::array<bool, most_pieces - 1> set{};
    place(joins, set, places, 0, visit);
    if (joins == 3 && symmetrical_) centred(visit);
}

/// Two spans side by side, as far from both ends.
template <typename Visit>
void Limits::centred(const Visit& visit) {
    const double whole = problem_.left + problem_.right;
    for (const double one : spans_) {
        for (const double two : spans_) {
            Places places;
            places.count = 3;
            places.at[0] = (whole - one - two) / 2;
            places.at[1] = places.at[0] + one;
            places.at[2] = places.at[1] + two;
            bool good = true;
            for (std::size_t join = 0; join < 3; ++join) {
                good = good && stands(3, join, places.at[join], {true, true, true}, places);
            }
            if (good) visit(places);
        }
    }
}

template <typename Visit>
void Limits::place(std::size_t joins, std::array<bool, most_pieces - 1>& set, Places& places, std::size_t placed,
                   const Visit& visit) {
    if (placed == joins) {
        visit(places);
        return;
    }
    const double whole = problem_.left + problem_.right;
    for (std::size_t join = 0; join < joins; ++join) {
        if (set[join]) continue;
        for (const double at : anchors_) try_at(joins, join, at, set, places, placed, visit);
        for (std::size_t other = 0; other < joins; ++other) {
            if (!set[other]) continue;
            const double way = other < join ? 1 : -1;
            for (const double span : spans_) {
                try_at(joins, join, places.at[other] + way * span, set, places, placed, visit);
            }
            if (symmetrical_ && other + join + 1 == joins) {
                try_at(joins, join, whole - places.at[other], set, places, placed, visit);
            }
        }
        if (joins == 3 && placed == 2) {
            // Pieces 1 and 3, or 2 and 4, share a sheet: places 1 - 2 + 3 have a fixed sum.
            for (const Strip& strip : problem_.strips) {
                for (const double sum : fixed_sums(strip)) {
                    const double others = join == 1   ? places.at[0] + places.at[2] - sum
                                          : join == 0 ? sum + places.at[1] - places.at[2]
                                                      : sum + places.at[1] - places.at[0];
                    try_at(joins, join, others, set, places, placed, visit);
                }
            }
        }
    }
}

template <typename Visit>
void Limits::try_at(std::size_t joins, std::size_t join, double at, std::array<bool, most_pieces - 1>& set,
                    Places& places, std::size_t placed, const Visit& visit) {
    if (!stands(joins, join, at, set, places)) return;
    places.at[join] = at;
    set[join] = true;
    place(joins, set, places, placed + 1, visit);
    set[join] = false;
}

}  // namespace standproud::joins
