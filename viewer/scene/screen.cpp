#include "scene/screen.hpp"

#include <Aspect_DisplayConnection.hxx>
#include <Graphic3d_Camera.hxx>
#include <Standard_Failure.hxx>
#include <V3d_AmbientLight.hxx>
#include <V3d_DirectionalLight.hxx>
#include <algorithm>
#include <cmath>

#include "modeler/files.hpp"
#include "scene/kernel_colours.hpp"
#include "scene/palette.hpp"

namespace standproud::viewer {

Handle(Aspect_DisplayConnection) open_display() {
    try {
        return new Aspect_DisplayConnection();
    } catch (const Standard_Failure&) {
        throw FileError("there is no display to draw on; without a screen, run it under xvfb-run");
    }
}

Handle(OpenGl_GraphicDriver) open_driver(const Handle(Aspect_DisplayConnection) & display, bool own_context) {
    try {
        Handle(OpenGl_GraphicDriver) driver = new OpenGl_GraphicDriver(display, false);
        driver->ChangeOptions().buffersNoSwap = true;
        driver->ChangeOptions().contextCompatible = false;
        driver->ChangeOptions().sRGBDisable = true;  // an sRGB target is drawn too dark as an image of the window
        driver->ChangeOptions().ffpEnable = false;
        if (own_context && !driver->InitContext()) throw Standard_Failure("no context");
        return driver;
    } catch (const Standard_Failure&) {
        throw FileError("this display has no OpenGL 3.3, which the 3D view needs");
    }
}

namespace {

void add_light(const Handle(V3d_Viewer) & viewer, const gp_Dir& direction, double strength) {
    Handle(V3d_DirectionalLight) light =
        new V3d_DirectionalLight(direction, Quantity_Color(strength, strength, strength, Quantity_TOC_RGB));
    light->SetHeadlight(true);
    viewer->AddLight(light);
    viewer->SetLightOn(light);
}

}  // namespace

Stage make_stage(const Handle(OpenGl_GraphicDriver) & driver) {
    Handle(V3d_Viewer) viewer = new V3d_Viewer(driver);
    Handle(V3d_AmbientLight) ambient = new V3d_AmbientLight(Quantity_NOC_WHITE);
    ambient->SetIntensity(0.5F);
    viewer->AddLight(ambient);
    viewer->SetLightOn(ambient);
    // They go with the eye: from over the left shoulder, and weaker from the right, so that no face is black.
    add_light(viewer, gp_Dir(0.45, -0.55, -0.9), 0.45);
    add_light(viewer, gp_Dir(-0.8, 0.1, -0.5), 0.2);
    Handle(V3d_View) view = viewer->CreateView();
    Graphic3d_RenderingParams& how = view->ChangeRenderingParams();
    how.NbMsaaSamples = 4;
    how.IsAntialiasingEnabled = true;
    view->SetShadingModel(Graphic3d_TOSM_FRAGMENT);
    view->Camera()->SetFOVy(field_of_view);
    return {viewer, view};
}

void set_ground(const Handle(V3d_View) & view, bool dark) {
    const Ground colours = ground(dark);
    view->SetBgGradientColors(kernel_colour(colours.top), kernel_colour(colours.bottom), Aspect_GFM_VER, false);
}

namespace {

/// Where to stand, and how far off, so that all points are just seen: what is seen of a plane z towards the eye reaches
/// (distance - z) * spread to either side.
struct Stand {
    RoomPoint at;
    double distance = 0;
};

Stand stand_for(const Pose& pose, double aspect) {
    constexpr double margin = 0.93;  // of the picture: edges and flags want room
    const double narrow = margin * std::tan(field_of_view * pi / 360);
    const double spread[2] = {narrow * std::max(aspect, 1.0), narrow / std::min(aspect, 1.0)};
    const RoomPoint side = cross(pose.up, pose.back);
    const RoomPoint right = 1 / norm(side) * side;
    const RoomPoint axes[2] = {right, cross(pose.back, right)};
    Stand stand{pose.at, 0};
    for (int i = 0; i < 2; ++i) {
        double ahead = -1e9;
        double behind = -1e9;
        for (const auto& point : pose.whole) {
            const RoomPoint from = point - pose.at;
            const double across = dot(from, axes[i]);
            const double nearer = pose.perspective ? spread[i] * dot(from, pose.back) : 0;
            ahead = std::max(ahead, nearer + across);
            behind = std::max(behind, nearer - across);
        }
        stand.at = stand.at + ((ahead - behind) / 2) * axes[i];
        stand.distance = std::max(stand.distance, (ahead + behind) / 2 / spread[i]);
    }
    return stand;
}

}  // namespace

void aim(const Handle(Graphic3d_Camera) & camera, const Pose& pose, double aspect) {
    // The kernel counts the angle of view, and the scale, across the picture's shorter side.
    double across = std::max(pose.fit_height * std::min(aspect, 1.0), pose.fit_width / std::max(aspect, 1.0));
    const double spread = std::tan(field_of_view * pi / 360);
    RoomPoint at = pose.at;
    if (!pose.whole.empty()) {
        const Stand stand = stand_for(pose, aspect);
        at = stand.at;
        across = 2 * stand.distance * spread;
    }
    const RoomPoint eye = at + (across / 2 / spread) * pose.back;
    camera->SetProjectionType(pose.perspective ? Graphic3d_Camera::Projection_Perspective
                                               : Graphic3d_Camera::Projection_Orthographic);
    camera->SetFOVy(field_of_view);
    camera->SetAspect(aspect);
    camera->SetUp(gp_Dir(pose.up.x, pose.up.y, pose.up.z));
    camera->SetEyeAndCenter(gp_Pnt(eye.x, eye.y, eye.z), gp_Pnt(at.x, at.y, at.z));
    camera->OrthogonalizeUp();
    if (!pose.perspective) camera->SetScale(across);
}

void set_pose(const Handle(V3d_View) & view, const Pose& pose, double aspect) {
    aim(view->Camera(), pose, aspect);
    view->Invalidate();
}

}  // namespace standproud::viewer
