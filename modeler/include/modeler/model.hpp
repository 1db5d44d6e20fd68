// The job worked out: room, panels with their holes, fittings in their places.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/job.hpp"
#include "modeler/room.hpp"

namespace standproud {

/// A fitting in its place.
struct PlacedFitting {
    std::size_t fitting = 0;  ///< index into job.fittings
    std::size_t type = 0;     ///< index into job.types
    std::size_t wall = 0;
    double u = 0;  ///< from the left bare corner
    double v = 0;  ///< above the datum
    std::optional<double> from_left_finished;
    std::optional<double> from_right_finished;
    double from_left_bare = 0;
    double from_right_bare = 0;
};

/// A hole through a panel, in the panel's own plane.
struct PanelHole {
    std::size_t fitting = 0;  ///< index into Model::fittings
    std::size_t need = 0;     ///< index into the type's holes
    RoundedRect opening;
    bool drilled = true;  ///< false: it crosses an edge or another hole, so the solid is left whole there
};

/// What an opening of the wall takes out of a panel, in the panel's own plane, its gap included.
struct PanelCut {
    std::size_t opening = 0;  ///< index into the wall's openings
    RoundedRect shape;
    bool notch = false;  ///< it reaches over the panel's edge; else it lies within
};

/// Which sides of a panel are where the wall ends, a join is, the rim or the top line; the others are at an opening.
struct PanelSides {
    bool left = true;
    bool right = true;
    bool bottom = true;
    bool top = true;
};

/// A panel is cut to its outline, then the cuts of openings and the holes are made in it.
struct Panel {
    std::string id;
    std::size_t wall = 0;
    Frame place;      ///< of its back: x level along the wall, y up the panel, z out of it; see panel_plane
    Polygon outline;  ///< in the x-y plane of `place`; convex
    double thickness = 0;
    std::vector<PanelHole> holes;
    Source source;
    std::vector<PanelCut> cuts{};
    std::size_t column = 0;  ///< how many of the wall's joins are left of it
    std::size_t row = 0;     ///< how many of its level joins are below it
    PanelSides sides{};
};

struct Model {
    Job job;                       ///< with adjusted widths, angles and heights, where there is a survey
    std::optional<Survey> survey;  ///< of the job's readings
    Room room;
    std::vector<Panel> panels;
    std::vector<Panel> reveals;  ///< the strips that line the reveals of openings; see openings.hpp
    std::vector<PlacedFitting> fittings;
};

/// Works a job out. Faults found on the way (a fitting outside its wall, a hole larger than its panel, a
/// closed recess that does not close) are added to `faults`; the model is good only if none were.
Model build_model(Job job, Faults& faults);

/// The same with the survey of the job's readings worked out before. Must hold: it is of this job, as read.
Model build_model(Job job, std::optional<Survey> survey, Faults& faults);

/// Panel outlines with their gaps, not yet drilled. See panels.cpp for the order of corners.
std::vector<Panel> lay_panels(const Job& job, const Room& room);

/// Where a level line out of the wall at (u, v) meets the back of a panel, in the panel's own plane. On a wall that is
/// upright and not turned, (u, v) itself.
Vec2 on_plane(const Frame& wall, const Frame& place, Vec2 at);
Vec2 on_panel(const Model& model, const Panel& panel, Vec2 at);

/// The panel that holds (u, v) of a wall, else the nearest on that wall; panels.size() if none.
std::size_t panel_of(const Model& model, std::size_t wall, Vec2 at);

const FittingType& type_of(const Model& model, const PlacedFitting& placed);
const Fitting& fitting_of(const Model& model, const PlacedFitting& placed);

}  // namespace standproud
