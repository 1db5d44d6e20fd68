// Paper templates, 1:1, for cut-outs and groups of holes, in tiles of an A4 sheet that overlap.
#pragma once

#include "bench_drawing/page.hpp"

namespace standproud::viewer {

inline constexpr double tile_width = 276;  ///< mm of paper that is drawn on
inline constexpr double tile_height = 158;
inline constexpr double tile_overlap = 20;     ///< with the next tile
inline constexpr double template_around = 12;  ///< mm of panel around the openings
inline constexpr double template_link = 150;   ///< mm: openings nearer than this are on one template

/// A mark that lies on two tiles, to lay them over one another. Panel's frame, front.
struct Registration {
    std::string name;
    Vec2 at;
};

/// One sheet of paper: which part of the panel it shows.
struct Tile {
    std::size_t row = 0;     ///< from the top
    std::size_t column = 0;  ///< from the left
    Vec2 corner;             ///< lower left, in the panel's frame, front
};

struct Template {
    std::string panel;
    std::vector<std::size_t> openings;  ///< indices into the panel's openings
    std::size_t rows = 1;
    std::size_t columns = 1;
    std::vector<Tile> tiles;  ///< row by row
    std::vector<Registration> marks;
};

/// For every cut-out, and every group of round holes of more than one. A round hole on its own is marked from the
/// panel's edges. Must hold: the panel has a plan.
std::vector<Template> templates_of(const BenchPanel& panel);

/// Where the panel's frame lies on the paper of a tile.
OnPaper tile_on_paper(const Tile& tile);

void draw_tile(Sheet& sheet, const Bench& bench, const BenchPanel& panel, const Template& paper, std::size_t tile);

}  // namespace standproud::viewer
