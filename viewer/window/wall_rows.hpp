// The parts of the walls panel. Each returns false when it changed the job: the model is another one then, and the rest
// of the panel is drawn with the next frame.
#pragma once

#include <cstddef>

#include "modeler/colour.hpp"

namespace standproud::viewer {

struct App;

using Drawn = bool;

inline constexpr float row_names = 6.4F;  ///< letters' widths

/// What a wall's panels look like.
Colour panel_colour(App& app, std::size_t wall);

Drawn draw_build_up(App& app, std::size_t wall);
Drawn draw_frame(App& app, std::size_t wall);
Drawn draw_openings(App& app, std::size_t wall);
Drawn draw_services(App& app, std::size_t wall);     ///< pipes, cables, screens
Drawn draw_panel_rules(App& app, std::size_t wall);  ///< of all walls; what packing this one takes
Drawn draw_tray(App& app);
Drawn draw_job(App& app);

}  // namespace standproud::viewer
