// Inside the join planner: the critical places of up to three joins of a row, as the corners at which as many limits
// meet as there are joins.
#pragma once

#include <string>
#include <vector>

#include "joins/problem.hpp"

namespace standproud::joins {

inline std::size_t power(std::size_t base, std::size_t times) {
    std::size_t all = 1;
    for (std::size_t i = 0; i < times; ++i) all *= base;
    return all;
}

/// Joins in their places, and all that sharing out sheets needs to know of them.
struct Corner {
    Places places;
    JoinScore score;  ///< of the places alone
    double room = 0;
    std::vector<std::string> reasons;  ///< what they break; empty with the rules kept
};

/// Layouts that share sheets out alike.
struct Alike {
    std::string fits;             ///< see `fits`
    std::vector<Corner> corners;  ///< the best few, apart from one another; best first
};

/// What is asked of the corners of a row.
struct CornerWish {
    bool keep_rules = true;
    bool soft = true;       ///< wettest line or outlet kept off
    std::size_t joins = 0;  ///< at most 3
    unsigned most_of_each =
        1;  ///< 1: a strip takes a piece once; rows of a grid are taken as often as there are columns
    std::size_t keep = 3;
    double apart = 50;
};

/// For each strip, for each number of times that each piece is taken (the first piece's changing fastest), 1 when they
/// fit with a kerf between; 8 to a byte.
[[nodiscard]] std::string fits(const Problem& problem, const Places& places, unsigned most_of_each);

/// Whether `fits` has a 1 for this strip, with these numbers as one: sum of times x (most_of_each + 1)^piece.
[[nodiscard]] bool fits_there(const std::string& fits, std::size_t strip, std::size_t choices, std::size_t choice);

/// Those that another fits as well as, and scores no worse, are left out.
[[nodiscard]] std::vector<Alike> corners_of(const Problem& problem, const CornerWish& wish);

}  // namespace standproud::joins
