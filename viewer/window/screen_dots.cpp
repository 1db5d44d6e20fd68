// What X and the monitor say about the size of their pixels.
#define GLFW_EXPOSE_NATIVE_X11
#include <GLFW/glfw3.h>
#include <GLFW/glfw3native.h>

#include <cstdlib>

#include "window/lettering.hpp"

namespace standproud::viewer {

ScreenDots screen_dots() {
    ScreenDots dots;
    Display* display = glfwGetX11Display();
    // The resource that desktops set: "Xft.dpi: 192".
    if (const char* asked = XGetDefault(display, "Xft", "dpi")) dots.asked = std::atof(asked);
    const int screen = XDefaultScreen(display);
    dots.served = dots_to_an_inch(XDisplayWidth(display, screen), XDisplayHeight(display, screen),
                                  XDisplayWidthMM(display, screen), XDisplayHeightMM(display, screen));
    GLFWmonitor* monitor = glfwGetPrimaryMonitor();
    const GLFWvidmode* mode = monitor ? glfwGetVideoMode(monitor) : nullptr;
    if (!mode) return dots;
    int wide_mm = 0;
    int high_mm = 0;
    glfwGetMonitorPhysicalSize(monitor, &wide_mm, &high_mm);
    dots.measured = dots_to_an_inch(mode->width, mode->height, wide_mm, high_mm);
    return dots;
}

}  // namespace standproud::viewer
