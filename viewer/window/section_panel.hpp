// The section through the chosen fitting, as on paper.
#pragma once

#include <string>

#include "window/app.hpp"
#include "window/paper.hpp"

namespace standproud::viewer {

/// Keeps the drawn sheet as a texture; draws it anew when job, choice or size change.
class SectionPanel {
  public:
    void draw(App& app);

  private:
    Paper paper_;
    std::string drawn_;
};

}  // namespace standproud::viewer
