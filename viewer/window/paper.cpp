#include "window/paper.hpp"

#include <GLFW/glfw3.h>
#include <cairo.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <memory>

namespace standproud::viewer {

namespace {

#ifndef GL_BGRA
constexpr unsigned GL_BGRA = 0x80E1;  // OpenGL 1.2; the plain header stops at 1.1
#endif

struct Tone {
    double ink = 0;
    double paper = 255;
};

/// Blue, green, red as they lie in memory: the grounds of the dark theme.
constexpr std::array<Tone, 3> dark_tones{Tone{238, 46}, Tone{236, 42}, Tone{232, 38}};

/// Drawings are black, grey and white: each tone has its place between light ink and dark paper.
void darken(unsigned char* pixels, int width, int height, int stride) {
    std::array<std::array<unsigned char, 256>, 3> table{};
    for (std::size_t c = 0; c < 3; ++c) {
        for (std::size_t v = 0; v < 256; ++v) {
            const double share = static_cast<double>(v) / 255;
            table[c][v] = static_cast<unsigned char>(
                std::lround(dark_tones[c].ink + share * (dark_tones[c].paper - dark_tones[c].ink)));
        }
    }
    for (int y = 0; y < height; ++y) {
        unsigned char* row = pixels + static_cast<std::ptrdiff_t>(y) * stride;
        for (int x = 0; x < width; ++x, row += 4) {
            for (std::size_t c = 0; c < 3; ++c) row[c] = table[c][row[c]];
        }
    }
}

}  // namespace

Paper::~Paper() {
    if (texture_ != 0) glDeleteTextures(1, &texture_);
}

void Paper::paint(const PaperView& view, const std::function<void(cairo_t*)>& draw) {
    const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, view.width, view.height), cairo_surface_destroy);
    const std::unique_ptr<cairo_t, decltype(&cairo_destroy)> context(cairo_create(surface.get()), cairo_destroy);
    cairo_set_source_rgb(context.get(), 1, 1, 1);
    cairo_paint(context.get());
    cairo_scale(context.get(), view.pixels, view.pixels);
    cairo_translate(context.get(), -view.left_top.x, -view.left_top.y);
    draw(context.get());
    cairo_surface_flush(surface.get());
    const int stride = cairo_image_surface_get_stride(surface.get());
    if (view.dark) darken(cairo_image_surface_get_data(surface.get()), view.width, view.height, stride);
    if (texture_ == 0) glGenTextures(1, &texture_);
    glBindTexture(GL_TEXTURE_2D, texture_);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, stride / 4);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB, view.width, view.height, 0, GL_BGRA, GL_UNSIGNED_BYTE,
                 cairo_image_surface_get_data(surface.get()));
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
}

ImTextureID Paper::image() const { return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture_)); }

}  // namespace standproud::viewer
