// The 3D view as an image inside the window.
#pragma once

#include <Graphic3d_Camera.hxx>
#include <TopoDS_Shape.hxx>
#include <V3d_View.hxx>
#include <memory>
#include <optional>
#include <string>

#include "scene/scene.hpp"
#include "scene/screen.hpp"
#include "window/app.hpp"

struct GLFWwindow;

namespace standproud::viewer {

class ViewPanel {
  public:
    /// The window's OpenGL context must be current. Throws FileError when the kernel cannot draw on it.
    explicit ViewPanel(GLFWwindow* window);
    ~ViewPanel();
    ViewPanel(const ViewPanel&) = delete;
    ViewPanel& operator=(const ViewPanel&) = delete;

    /// Draws the image into what is left of the current ImGui window, and takes the mouse over it.
    void draw(App& app);
    /// Draws the 3D picture anew if anything changed. Leaves the window's context current.
    void render(App& app);
    /// While the eye flies, frames are wanted without anybody touching anything.
    [[nodiscard]] bool moving() const { return fly_left_ > 0; }

  private:
    void resize(int width, int height);
    void bring_up_to_date(App& app);
    void take_mouse(App& app, float x, float y, bool over);
    void take_press(App& app, float x, float y);
    void take_drag(App& app, float x, float y);
    void take_click(App& app, int x, int y);
    void turn(float dx, float dy);
    void shift(float dx, float dy);
    void nearer(float steps, float x, float y);
    void fly(const Pose& pose);
    void look_from(const Pose& pose);
    /// Where the box round all solids lies, and the flags, for tests; the view begins at x, y of the window.
    void note_picture(App& app, float x, float y) const;
    void fly_on();
    void flip_perspective();
    void measure_at(App& app, int x, int y);
    bool grab(App& app, int x, int y);
    bool grab_join(App& app, float x, float y);
    /// Where joins can be taken hold of, for tests; the view begins at x, y of the window.
    void note_grips(App& app, float x, float y) const;
    void drag_to(App& app, float x, float y);
    void drag_fitting_to(App& app, double u, double v);
    void drag_join_to(App& app, double u, double v);
    /// Where the line of sight through a pixel meets a plane of a wall at depth n; false when it does not.
    bool on_wall(const Frame& wall, double n, float x, float y, double& u, double& v) const;

    GLFWwindow* window_;
    Stage stage_;
    std::unique_ptr<Scene> scene_;
    Handle(Standard_Transient) target_;
    SolidStore store_;
    std::uint64_t drawn_generation_ = 0;
    int width_ = 0;
    int height_ = 0;
    bool stale_ = true;  ///< the picture no longer shows what it should

    bool pressed_ = false;
    bool turned_ = false;  ///< the button was moved with, so its release is no click
    float press_x_ = 0;
    float press_y_ = 0;
    std::string hover_;
    float hover_x_ = -1;
    float hover_y_ = -1;

    std::optional<Pose> pose_;  ///< the last that was asked for, until the eye is moved by hand

    // A flight from one camera to another.
    Handle(Graphic3d_Camera) from_;
    Handle(Graphic3d_Camera) to_;
    double fly_left_ = 0;  ///< seconds
    double fly_begun_ = 0;

    // A fitting or a join being dragged: where it was, and where it was taken hold of.
    struct Held {
        std::string fitting;
        std::optional<std::size_t> join;  ///< index into the wall's joins; then `fitting` is empty
        std::size_t wall = 0;
        double n = 0;
        double u = 0, v = 0;            ///< of the pointer when it was taken
        double across = 0, height = 0;  ///< as written then
        double sign = 1;                ///< of `across` when it moves right
    };
    std::optional<Held> held_;

    std::vector<TopoDS_Shape> pieces_;
};

}  // namespace standproud::viewer
