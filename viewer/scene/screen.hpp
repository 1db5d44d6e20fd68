// The kernel's viewer: driver, lights, one view. Kept apart from what is shown in it.
#pragma once

#include <OpenGl_GraphicDriver.hxx>
#include <V3d_View.hxx>
#include <V3d_Viewer.hxx>

#include "scene/look.hpp"

namespace standproud::viewer {

/// Throws FileError with one clear sentence when there is no display or no OpenGL.
/// `own_context`: without a window whose context is used.
Handle(OpenGl_GraphicDriver) open_driver(const Handle(Aspect_DisplayConnection) & display, bool own_context = true);
Handle(Aspect_DisplayConnection) open_display();

/// A view holds its viewer by a bare pointer: both must be kept.
struct Stage {
    Handle(V3d_Viewer) viewer;
    Handle(V3d_View) view;
};
/// A viewer with its lights and one view that has no window yet.
Stage make_stage(const Handle(OpenGl_GraphicDriver) & driver);

void set_ground(const Handle(V3d_View) & view, bool dark);

/// Looks from `pose`; `aspect` is width over height of the picture.
void aim(const Handle(Graphic3d_Camera) & camera, const Pose& pose, double aspect);
void set_pose(const Handle(V3d_View) & view, const Pose& pose, double aspect);

}  // namespace standproud::viewer
