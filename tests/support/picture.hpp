// Pictures as numbers.
#pragma once

#include <cairo.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <vector>

namespace standproud::testing {

/// A picture as levels of red, green and blue.
struct Picture {
    int width = 0;
    int height = 0;
    std::vector<std::array<int, 3>> pixels;
};

inline Picture read_picture(const std::filesystem::path& path) {
    Picture picture;
    cairo_surface_t* surface = cairo_image_surface_create_from_png(path.c_str());
    if (cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS) {
        picture.width = cairo_image_surface_get_width(surface);
        picture.height = cairo_image_surface_get_height(surface);
        const unsigned char* data = cairo_image_surface_get_data(surface);
        for (int y = 0; y < picture.height; ++y) {
            const unsigned char* row = data + static_cast<std::ptrdiff_t>(y) * cairo_image_surface_get_stride(surface);
            for (int x = 0; x < picture.width; ++x)
                picture.pixels.push_back({row[4 * x + 2], row[4 * x + 1], row[4 * x]});
        }
    }
    cairo_surface_destroy(surface);
    return picture;
}

/// Pixels of a colour, each level within `off`.
inline int pixels_like(const Picture& picture, std::array<int, 3> colour, int off = 8) {
    int count = 0;
    for (const auto& pixel : picture.pixels) {
        bool like = true;
        for (std::size_t c = 0; c < 3; ++c) like = like && std::abs(pixel[c] - colour[c]) <= off;
        count += like ? 1 : 0;
    }
    return count;
}

}  // namespace standproud::testing
