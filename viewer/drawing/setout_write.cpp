// A set-out sheet on paper and as files.
#include <fmt/format.h>

#include "drawing/setout_panes.hpp"
#include "drawing/write_sheet.hpp"

namespace standproud::viewer {

void draw_setout(cairo_t* context, const Model& model, const WallSetOut& wall,
                 const std::vector<rules::Finding>& findings) {
    Sheet sheet(context);
    draw_setout_on(sheet, {model, wall, findings});
}

std::vector<std::filesystem::path> write_setout(const Model& model, const WallSetOut& wall,
                                                const std::vector<rules::Finding>& findings,
                                                const std::filesystem::path& stem) {
    const SetOutJob job{model, wall, findings};
    const std::string name = job.wall().name.empty() ? job.wall().id : job.wall().name;
    return write_sheet(
        fmt::format("Set-out: {}", name), [&](Sheet& sheet) { draw_setout_on(sheet, job); }, stem);
}

}  // namespace standproud::viewer
