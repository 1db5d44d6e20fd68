// A section as files.
#include "drawing/section_panes.hpp"
#include "drawing/write_sheet.hpp"

namespace standproud::viewer {

std::vector<std::filesystem::path> write_section(const SectionDrawing& drawing, const std::filesystem::path& stem) {
    return write_sheet(
        drawing.title, [&](Sheet& sheet) { draw_section_on(sheet, drawing); }, stem);
}

}  // namespace standproud::viewer
