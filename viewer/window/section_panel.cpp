#include "window/section_panel.hpp"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "viewer/section.hpp"
#include "window/dialog.hpp"

namespace standproud::viewer {

void SectionPanel::draw(App& app) {
    if (!app.show_section || !app.document || !app.document->job) return;
    const Document& document = *app.document;
    const ImVec2 screen = ImGui::GetMainViewport()->Size;
    ImGui::SetNextWindowPos(ImVec2(0.55F * screen.x, 0.94F * screen.y), ImGuiCond_Appearing, ImVec2(0.5F, 1));
    ImGui::SetNextWindowSize(ImVec2(0.47F * screen.x, 0.37F * screen.x), ImGuiCond_Appearing);
    if (ImGui::Begin("Section", &app.show_section, ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_NoScrollbar)) {
        keep_on_screen(app, "section");
        const PlacedFitting* placed = placed_of(document.job->model, document.selection.fitting);
        const ImVec2 area = ImGui::GetContentRegionAvail();
        const double size =
            std::min(static_cast<double>(area.x) / paper_width, static_cast<double>(area.y) / paper_height);
        const int width = static_cast<int>(size * paper_width);
        const int height = static_cast<int>(size * paper_height);
        if (!placed) {
            ImGui::TextDisabled("Choose a fitting to see the section through it.");
        } else if (width > 60 && height > 40) {
            const std::string wanted = fmt::format("{} {} {} {} {}", document.generation, document.selection.fitting,
                                                   width, height, document.file.string());
            if (wanted != drawn_) {
                const auto index = static_cast<std::size_t>(placed - document.job->model.fittings.data());
                paper_.paint({width, height, size, {0, 0}, false}, [&](cairo_t* context) {
                    draw_section(context,
                                 section_of(document.job->model, document.parts, document.job->findings, index));
                });
                drawn_ = wanted;
            }
            ImGui::Image(paper_.image(), ImVec2(static_cast<float>(width), static_cast<float>(height)));
        }
    }
    ImGui::End();
}

}  // namespace standproud::viewer
