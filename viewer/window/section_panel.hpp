// The section through the chosen fitting, as on paper.
#pragma once

#include <cstdint>
#include <string>

#include "window/app.hpp"

namespace standproud::viewer {

/// Keeps the drawn sheet as a texture; draws it anew when job, choice or size change.
class SectionPanel {
  public:
    ~SectionPanel();
    void draw(App& app);

  private:
    void redraw(const Document& document, std::size_t placed, int width, int height);
    unsigned texture_ = 0;
    std::string drawn_;
};

}  // namespace standproud::viewer
