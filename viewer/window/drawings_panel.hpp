// The bench's drawings, page by page: elevations, stock sheets with their cuts in order, panels front and rear.
#pragma once

#include <memory>
#include <string>

#include "window/app.hpp"
#include "window/paper.hpp"

namespace standproud::viewer {

/// Keeps the page as a texture; draws it anew when bench, page, size or ground change.
class DrawingsPanel {
  public:
    void draw(App& app);

  private:
    void draw_list(App& app);
    void draw_page_shown(App& app);
    Paper paper_;
    std::string drawn_;
    std::shared_ptr<const BenchResult> of_;
};

}  // namespace standproud::viewer
