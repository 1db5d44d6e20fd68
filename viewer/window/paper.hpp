// A drawing on paper as an image in the window: what the PDF gets, drawn at the size it is seen at.
#pragma once

#include <imgui.h>

#include <functional>

#include "modeler/geometry.hpp"

typedef struct _cairo cairo_t;

namespace standproud::viewer {

/// A4 landscape, mm.
inline constexpr double paper_width = 297;
inline constexpr double paper_height = 210;

/// What of the sheet is seen, and how large.
struct PaperView {
    int width = 0;  ///< pixels of the image
    int height = 0;
    double pixels = 1;  ///< to a mm
    Vec2 left_top;      ///< mm of the sheet at the image's left top corner
    bool dark = false;  ///< light ink on dark paper
};

/// The image is kept as a texture of the window's OpenGL context.
class Paper {
  public:
    Paper() = default;
    ~Paper();
    Paper(const Paper&) = delete;
    Paper& operator=(const Paper&) = delete;

    /// `draw` is given a context in mm of the sheet.
    void paint(const PaperView& view, const std::function<void(cairo_t*)>& draw);
    [[nodiscard]] ImTextureID image() const;

  private:
    unsigned texture_ = 0;
};

}  // namespace standproud::viewer
