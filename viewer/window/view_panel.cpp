#define GLFW_EXPOSE_NATIVE_X11
#define GLFW_EXPOSE_NATIVE_GLX
#include "window/view_panel.hpp"

#include <GLFW/glfw3.h>
#include <GLFW/glfw3native.h>
// X11's macros collide with the kernel's names.
#undef None
#undef Status
#undef Success
#undef Convex
#undef Opposite
#undef FillSolid
#undef Bool
#include <fmt/format.h>
#include <imgui.h>

#include <Aspect_DisplayConnection.hxx>
#include <Aspect_NeutralWindow.hxx>
#include <OpenGl_FrameBuffer.hxx>
#include <OpenGl_Texture.hxx>
#include <algorithm>
#include <cmath>

#include "modeler/files.hpp"
#include "rules/words.hpp"
#include "scene/picture.hpp"
#include "viewer/units.hpp"
#include "window/measure.hpp"

namespace standproud::viewer {

namespace {

constexpr double fly_time = 0.28;  // s: long enough to see which way it goes
constexpr float still = 4;         // pixels that a click may wander

}  // namespace

ViewPanel::ViewPanel(GLFWwindow* window) : window_(window) {
    const Handle(Aspect_DisplayConnection) display =
        new Aspect_DisplayConnection(reinterpret_cast<Aspect_XDisplay*>(glfwGetX11Display()));
    const Handle(OpenGl_GraphicDriver) driver = open_driver(display, false);
    stage_ = make_stage(driver);
    Handle(Aspect_NeutralWindow) area = new Aspect_NeutralWindow();
    area->SetNativeHandle(glfwGetX11Window(window));
    area->SetSize(64, 64);
    stage_.view->SetWindow(area, glfwGetGLXContext(window));
    scene_ = std::make_unique<Scene>(stage_.view);
    glfwMakeContextCurrent(window);
}

ViewPanel::~ViewPanel() {
    glfwMakeContextCurrent(window_);
    if (!target_.IsNull()) {
        stage_.view->View()->SetFBO(nullptr);
        stage_.view->View()->FBORelease(target_);
    }
    scene_.reset();
    stage_.view->Remove();
}

void ViewPanel::resize(int width, int height) {
    if (width == width_ && height == height_) return;
    width_ = width;
    height_ = height;
    const Handle(V3d_View)& view = stage_.view;
    // Picks go by the window's size, so it must be that of the picture.
    if (!target_.IsNull()) {
        view->View()->SetFBO(nullptr);
        view->View()->FBORelease(target_);
    }
    Handle(Aspect_NeutralWindow)::DownCast(view->Window())->SetSize(width, height);
    view->MustBeResized();
    target_ = view->View()->FBOCreate(width, height);
    view->View()->SetFBO(target_);
    view->Camera()->SetAspect(static_cast<double>(width) / height);
    // What was to be seen whole is so at any size.
    if (pose_) look_from(*pose_);
    stale_ = true;
}

void ViewPanel::bring_up_to_date(App& app) {
    const Document& document = *app.document;
    if (document.generation != drawn_generation_ || app.scene_changed) {
        drawn_generation_ = document.generation;
        app.scene_changed = true;
    }
    if (!app.scene_changed) return;
    std::vector<std::string> have = keys_of(store_);
    std::vector<Part> parts = document.parts;
    if (app.earlier) parts.insert(parts.end(), app.earlier->parts.begin(), app.earlier->parts.end());
    std::size_t missing = 0;
    for (const auto& part : parts) missing += store_.count(shape_key(part)) == 0;
    constexpr std::size_t at_once = 24;  // some 50 ms of work: more than that goes on beside the window
    const auto took = [this, &app](SolidStore made) {
        for (const auto& [key, solid] : made) {
            if (!solid.fault.empty()) outcome(app, solid.fault, "");
        }
        store_.merge(made);
        app.scene_changed = true;
    };
    if (missing > 0 && missing <= at_once) {
        Progress progress;
        took(make_missing(parts, have, progress));
    } else if (missing > 0 && !app.work.busy()) {
        auto made = std::make_shared<SolidStore>();
        app.work.start(
            "Making solids", [made, parts, have](Progress& progress) { *made = make_missing(parts, have, progress); },
            [made, took](const std::string&) { took(*made); }, glfwPostEmptyEvent);
    }
    app.look.grips = app.drag_fitting;
    scene_->pick_pieces(app.measure.on);
    scene_->show(document, store_, app.look, app.earlier.get());
    scene_->show_measure(app.measure.ends.empty() ? app.measure.points : app.measure.ends, app.measure.words, app.look);
    app.scene_changed = false;
    stale_ = true;
}

void ViewPanel::look_from(const Pose& pose) {
    set_pose(stage_.view, pose, static_cast<double>(std::max(width_, 1)) / std::max(height_, 1));
    pose_ = pose;
    fly_left_ = 0;
    stale_ = true;
}

void ViewPanel::fly(const Pose& pose) {
    // The target is worked out on a copy of the view's camera.
    const Handle(Graphic3d_Camera) now = new Graphic3d_Camera(stage_.view->Camera());
    look_from(pose);
    to_ = new Graphic3d_Camera(stage_.view->Camera());
    from_ = now;
    // Between perspective and straight-on there is nothing to see on the way.
    if (now->ProjectionType() != to_->ProjectionType()) return;
    stage_.view->Camera()->Copy(from_);
    fly_left_ = fly_time;
    fly_begun_ = glfwGetTime();
}

void ViewPanel::flip_perspective() {
    pose_.reset();
    const Handle(Graphic3d_Camera) camera = stage_.view->Camera();
    // What is seen at the middle keeps its size.
    const double height = std::min(camera->ViewDimensions().X(), camera->ViewDimensions().Y());
    if (camera->IsOrthographic()) {
        const gp_Vec back(gp_Vec(camera->Center(), camera->Eye()).Normalized());
        const double distance = height / 2 / std::tan(field_of_view * pi / 360);
        camera->SetProjectionType(Graphic3d_Camera::Projection_Perspective);
        camera->SetFOVy(field_of_view);
        camera->SetEyeAndCenter(camera->Center().Translated(distance * back), camera->Center());
    } else {
        camera->SetProjectionType(Graphic3d_Camera::Projection_Orthographic);
        camera->SetScale(height);
    }
    fly_left_ = 0;
    stale_ = true;
}

void ViewPanel::fly_on() {
    if (fly_left_ <= 0) return;
    const double part = std::min(1.0, (glfwGetTime() - fly_begun_) / fly_time);
    const double eased = part * part * (3 - 2 * part);
    Graphic3d_CameraLerp way(from_, to_);
    Handle(Graphic3d_Camera) camera = stage_.view->Camera();
    way.Interpolate(eased, camera);
    camera->SetAspect(static_cast<double>(width_) / height_);
    fly_left_ = part < 1 ? fly_time * (1 - part) : 0;
    stale_ = true;
}

void ViewPanel::render(App& app) {
    if (!app.document || !app.document->job || width_ == 0) {
        app.scene_changed = false;  // there is nothing to bring up to date, and nothing to draw frames for
        return;                     // wishes wait: a job may have been opened after this frame's view was laid out
    }
    bring_up_to_date(app);
    if (app.show_whole) look_from(overview(*app.document, app.look));
    app.show_whole = false;
    if (app.fly_to) fly(*app.fly_to);
    app.fly_to.reset();
    if (app.flip_perspective) flip_perspective();
    app.flip_perspective = false;
    app.perspective = !stage_.view->Camera()->IsOrthographic();
    fly_on();
    if (stale_) {
        scene_->update_for_eye(*app.document, app.look);
        stage_.view->Redraw();
        stale_ = false;
    }
    if (!app.snapshot.empty()) {
        try {
            write_picture(stage_.view, 2 * width_, 2 * height_, app.snapshot);
            say(app, fmt::format("{}: {} x {} pixels", app.snapshot, 2 * width_, 2 * height_));
        } catch (const FileError& error) {
            outcome(app, error.what(), "");
        }
        app.snapshot.clear();
        stale_ = true;
    }
    glfwMakeContextCurrent(window_);  // the kernel has made its own drawable current
}

void ViewPanel::draw(App& app) {
    const ImVec2 area = ImGui::GetContentRegionAvail();
    resize(std::max(16, static_cast<int>(area.x)), std::max(16, static_cast<int>(area.y)));
    const auto target = Handle(OpenGl_FrameBuffer)::DownCast(target_);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    if (!target.IsNull()) {
        const auto texture = static_cast<std::uintptr_t>(target->ColorTexture()->TextureId());
        ImGui::Image(reinterpret_cast<ImTextureID>(texture), area, ImVec2(0, 1), ImVec2(1, 0));
    }
    note_place(app, "view");
    if (app.places) note_picture(app, at.x, at.y);
    if (app.places && app.drag_fitting) note_grips(app, at.x, at.y);
    ImGui::SetCursorScreenPos(at);
    // A button under the pointer keeps the window from being dragged, and says when the mouse is ours.
    ImGui::InvisibleButton(
        "view", area,
        ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight | ImGuiButtonFlags_MouseButtonMiddle);
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    take_mouse(app, mouse.x - at.x, mouse.y - at.y, ImGui::IsItemHovered());
    const float inset = ImGui::GetFontSize();
    if (held_ && held_->join) draw_score_card(app, held_->wall, ImVec2(at.x + inset, at.y + inset));
}

void ViewPanel::take_mouse(App& app, float x, float y, bool over) {
    const ImGuiIO& io = ImGui::GetIO();
    if (!app.document || !app.document->job) return;
    if (over && io.MouseWheel != 0) nearer(io.MouseWheel, x, y);
    const bool any = ImGui::IsMouseClicked(0) || ImGui::IsMouseClicked(1) || ImGui::IsMouseClicked(2);
    if (over && any) take_press(app, x, y);
    if (pressed_) take_drag(app, x, y);
    if (pressed_ && !ImGui::IsMouseDown(0) && !ImGui::IsMouseDown(1) && !ImGui::IsMouseDown(2)) {
        pressed_ = false;
        held_.reset();
        if (!turned_ && over && ImGui::IsMouseReleased(0)) take_click(app, static_cast<int>(x), static_cast<int>(y));
    }
    if (!over || pressed_ || moving()) {
        hover_.clear();
        return;
    }
    if (x != hover_x_ || y != hover_y_) {
        hover_x_ = x;
        hover_y_ = y;
        hover_ = scene_->part_at(static_cast<int>(x), static_cast<int>(y));
    }
    if (hover_.empty()) return;
    for (const auto& part : app.document->parts) {
        if (part.id == hover_)
            ImGui::SetTooltip("%s\n%s, %s", part.name.c_str(), part.trade.c_str(), part.layer.c_str());
    }
}

void ViewPanel::take_press(App& app, float x, float y) {
    pressed_ = true;
    turned_ = false;
    press_x_ = x;
    press_y_ = y;
    if (moving()) pose_.reset();  // stopped on the way
    fly_left_ = 0;
    if (!app.drag_fitting || !ImGui::IsMouseClicked(0)) return;
    if (!grab(app, static_cast<int>(x), static_cast<int>(y))) grab_join(app, x, y);
}

void ViewPanel::take_drag(App& app, float x, float y) {
    if (!turned_ && std::hypot(x - press_x_, y - press_y_) < still) return;
    turned_ = true;
    if (held_) {
        drag_to(app, x, y);
        return;
    }
    const ImVec2 by = ImGui::GetIO().MouseDelta;
    if (by.x == 0 && by.y == 0) return;
    const bool shifting = ImGui::IsMouseDown(1) || ImGui::IsMouseDown(2) || ImGui::GetIO().KeyShift;
    shifting ? shift(by.x, by.y) : turn(by.x, by.y);
}

void ViewPanel::take_click(App& app, int x, int y) {
    if (app.measure.on) {
        measure_at(app, x, y);
        return;
    }
    const std::string part = scene_->part_at(x, y);
    if (part.empty()) {
        choose_nothing(*app.document);
    } else {
        choose_part(*app.document, part);
        say(app, part);
    }
    app.scene_changed = true;
}

void ViewPanel::turn(float dx, float dy) {
    pose_.reset();
    const Handle(Graphic3d_Camera) camera = stage_.view->Camera();
    const gp_Pnt centre = camera->Center();
    gp_Vec back(centre, camera->Eye());
    const double distance = back.Magnitude();
    back.Normalize();
    // As a turntable: level stays level.
    const double pace = 2.6 / std::max(height_, 200);
    double across = std::atan2(back.Y(), back.X()) - pace * static_cast<double>(dx);
    const double lift =
        std::clamp(std::asin(std::clamp(back.Z(), -1.0, 1.0)) + pace * static_cast<double>(dy), -1.5, 1.5);
    const gp_Vec now(std::cos(lift) * std::cos(across), std::cos(lift) * std::sin(across), std::sin(lift));
    camera->SetUp(gp_Dir(0, 0, 1));
    camera->SetEyeAndCenter(centre.Translated(distance * now), centre);
    camera->OrthogonalizeUp();
    stale_ = true;
}

void ViewPanel::shift(float dx, float dy) {
    pose_.reset();
    const Handle(Graphic3d_Camera) camera = stage_.view->Camera();
    const gp_XYZ seen = camera->ViewDimensions();
    const gp_Dir side = camera->Direction().Crossed(camera->Up());
    const gp_Vec by = gp_Vec(side) * (-static_cast<double>(dx) * seen.X() / width_) +
                      gp_Vec(camera->Up()) * (static_cast<double>(dy) * seen.Y() / height_);
    camera->SetEyeAndCenter(camera->Eye().Translated(by), camera->Center().Translated(by));
    stale_ = true;
}

void ViewPanel::nearer(float steps, float x, float y) {
    pose_.reset();
    const Handle(Graphic3d_Camera) camera = stage_.view->Camera();
    const double factor = std::pow(0.86, static_cast<double>(steps));
    const gp_XYZ seen = camera->ViewDimensions();
    if (camera->IsOrthographic() ? camera->Scale() * factor < 20 : camera->Distance() * factor < 40) return;
    if (camera->IsOrthographic() ? camera->Scale() * factor > 60000 : camera->Distance() * factor > 90000) return;
    const gp_Dir side = camera->Direction().Crossed(camera->Up());
    // What is under the pointer stays there.
    const double right = (static_cast<double>(x) / width_ - 0.5) * seen.X() * (1 - factor);
    const double up = (0.5 - static_cast<double>(y) / height_) * seen.Y() * (1 - factor);
    const gp_Vec by = gp_Vec(side) * right + gp_Vec(camera->Up()) * up;
    const gp_Pnt centre = camera->Center().Translated(by);
    const gp_Vec back = gp_Vec(camera->Center(), camera->Eye()) * (camera->IsOrthographic() ? 1 : factor);
    camera->SetEyeAndCenter(centre.Translated(back), centre);
    if (camera->IsOrthographic()) camera->SetScale(camera->Scale() * factor);
    stale_ = true;
}

void ViewPanel::measure_at(App& app, int x, int y) {
    TopoDS_Shape piece;
    RoomPoint point;
    if (!scene_->piece_at(x, y, piece, point)) return;
    if (app.measure.points.size() == 2) app.measure = {true, {}, {}, ""};
    if (app.measure.points.empty()) pieces_.clear();
    pieces_.push_back(piece);
    app.measure.points.push_back(point);
    if (pieces_.size() == 2) {
        const Measured3d found = measure(pieces_[0], app.measure.points[0], pieces_[1], app.measure.points[1]);
        app.measure.ends = {found.ends[0], found.ends[1]};
        app.measure.words = fmt::format(" {} ", length_words(std::round(100 * found.distance) / 100, app.look.inches));
        say(app, found.words);
    } else {
        say(app, fmt::format("From a {}; now the second one.", piece_word(piece)));
    }
    app.scene_changed = true;
}

bool ViewPanel::on_wall(const Frame& wall, double n, float x, float y, double& u, double& v) const {
    double px = 0, py = 0, pz = 0, dx = 0, dy = 0, dz = 0;
    stage_.view->ConvertWithProj(static_cast<int>(x), static_cast<int>(y), px, py, pz, dx, dy, dz);
    const RoomPoint along{dx, dy, dz};
    const double toward = dot(along, wall.z);
    if (std::abs(toward) < 0.05) return false;
    const RoomPoint from{px, py, pz};
    const double t = (n - dot(from - wall.origin, wall.z)) / toward;
    const auto local = wall.from_room(from + t * along);
    u = local[0];
    v = local[1];
    return true;
}

bool ViewPanel::grab(App& app, int x, int y) {
    const std::string id = scene_->part_at(x, y);
    const Document& document = *app.document;
    const auto part =
        std::find_if(document.parts.begin(), document.parts.end(), [&](const Part& p) { return p.id == id; });
    if (part == document.parts.end() || part->fitting.empty() || part->fitting != document.selection.fitting)
        return false;
    const Model& model = document.job->model;
    const PlacedFitting* placed = placed_of(model, part->fitting);
    const Fitting& fitting = fitting_of(model, *placed);
    if (fitting.as_built && (fitting.as_built->across || fitting.as_built->height)) {
        outcome(app, fmt::format("{} was measured where it is; take that out before moving it", fitting.id), "");
        return false;
    }
    Held held;
    held.fitting = fitting.id;
    held.wall = placed->wall;
    held.n = front_at(model, placed->wall, {placed->u, placed->v});
    held.across = fitting.across.distance;
    held.height = fitting.height;
    held.sign =
        fitting.across.from == Across::From::right_bare || fitting.across.from == Across::From::right_finished ? -1 : 1;
    if (!on_wall(model.room.walls[held.wall], held.n, static_cast<float>(x), static_cast<float>(y), held.u, held.v))
        return false;
    held_ = held;
    return true;
}

void ViewPanel::note_picture(App& app, float x, float y) const {
    if (!app.document || !app.document->job) return;
    auto& box = (*app.places)["box of all"];
    box = {1e9F, 1e9F, -1e9F, -1e9F};
    for (const RoomPoint& corner : box_of_all(*app.document, app.look.apart)) {
        const gp_Pnt at = stage_.view->Camera()->Project(gp_Pnt(corner.x, corner.y, corner.z));
        const auto px = static_cast<float>(x + (1 + at.X()) / 2 * width_);
        const auto py = static_cast<float>(y + (1 - at.Y()) / 2 * height_);
        box = {std::min(box[0], px), std::min(box[1], py), std::max(box[2], px), std::max(box[3], py)};
    }
    for (const auto& [name, plate] : scene_->flag_boxes()) {
        (*app.places)["flag " + name] = {static_cast<float>(x + plate.left), static_cast<float>(y + plate.top),
                                         static_cast<float>(x + plate.right), static_cast<float>(y + plate.bottom)};
    }
}

void ViewPanel::note_grips(App& app, float x, float y) const {
    if (!app.document || !app.document->job) return;
    const Model& model = app.document->job->model;
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        const auto& joins = model.job.walls[w].joins;
        for (std::size_t j = 0; j < joins.size(); ++j) {
            const double v = panel_bottom(model.job, w) + 300;
            const auto u = along_wall(model.job, model.room, w, joins[j], v);
            if (!u) continue;
            const RoomPoint at = model.room.walls[w].to_room(*u, v, front_at(model, w, {*u, v}));
            int px = 0;
            int py = 0;
            stage_.view->Convert(at.x, at.y, at.z, px, py);
            const float left = x + static_cast<float>(px);
            const float top = y + static_cast<float>(py);
            (*app.places)[fmt::format("grip join {} of {}", j + 1, model.job.walls[w].id)] = {left, top, left, top};
        }
    }
}

/// The join whose line passes nearest to the pointer, within a finger's breadth.
bool ViewPanel::grab_join(App& app, float x, float y) {
    const Model& model = app.document->job->model;
    const gp_Pnt eye = stage_.view->Camera()->Eye();
    double nearest = 11 * app.look.scale;  // pixels
    std::optional<Held> found;
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        const Frame& wall = model.room.walls[w];
        if (dot(RoomPoint{eye.X(), eye.Y(), eye.Z()} - wall.origin, wall.z) < 0) continue;
        const auto& joins = model.job.walls[w].joins;
        for (std::size_t j = 0; j < joins.size(); ++j) {
            Held held;
            held.wall = w;
            held.join = j;
            held.across = joins[j].distance;
            const bool right =
                joins[j].from == Across::From::right_bare || joins[j].from == Across::From::right_finished;
            held.sign = right ? -1 : 1;
            const auto low = along_wall(model.job, model.room, w, joins[j], panel_bottom(model.job, w));
            if (!low) continue;
            held.n = front_at(model, w, {*low, panel_bottom(model.job, w) + 1});
            if (!on_wall(wall, held.n, x, y, held.u, held.v)) continue;
            if (held.v < panel_bottom(model.job, w) || held.v > panel_top(model.job, model.room, w, *low)) continue;
            const auto u = along_wall(model.job, model.room, w, joins[j], held.v);
            if (!u) continue;
            const RoomPoint on_join = wall.to_room(*u, held.v, held.n);
            int px = 0;
            int py = 0;
            stage_.view->Convert(on_join.x, on_join.y, on_join.z, px, py);
            const double away = std::hypot(px - static_cast<double>(x), py - static_cast<double>(y));
            if (away >= nearest) continue;
            nearest = away;
            found = held;
        }
    }
    held_ = found;
    return held_.has_value();
}

void ViewPanel::drag_to(App& app, float x, float y) {
    double u = 0;
    double v = 0;
    if (!on_wall(app.document->job->model.room.walls[held_->wall], held_->n, x, y, u, v)) return;
    held_->join ? drag_join_to(app, u, v) : drag_fitting_to(app, u, v);
}

void ViewPanel::drag_fitting_to(App& app, double u, double v) {
    Document& document = *app.document;
    // Whole millimetres: nobody sets out finer by hand.
    const double across = std::round(held_->across + held_->sign * (u - held_->u));
    const double height = std::round(held_->height + v - held_->v);
    const Refusal refusal = move_fitting(document, held_->fitting, across, height);
    const PlacedFitting* placed = placed_of(document.job->model, held_->fitting);
    if (!placed) return;
    const bool with = app.look.inches;
    outcome(app, refusal,
            fmt::format("{}: left {}, right {}, height {}", held_->fitting,
                        bare_and_finished(placed->from_left_bare, placed->from_left_finished, with),
                        bare_and_finished(placed->from_right_bare, placed->from_right_finished, with),
                        length_words(std::round(10 * placed->v) / 10, with)));
}

void ViewPanel::drag_join_to(App& app, double u, double v) {
    Document& document = *app.document;
    const std::size_t w = held_->wall;
    const double across = std::round(held_->across + held_->sign * (u - held_->u));
    const Refusal refusal = move_join(document, w, *held_->join, across);
    outcome(app, refusal, join_words(app, w, *held_->join, v));
}

}  // namespace standproud::viewer
