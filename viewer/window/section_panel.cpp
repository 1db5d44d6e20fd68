#include "window/section_panel.hpp"

#include <GLFW/glfw3.h>
#include <cairo.h>
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <memory>

#include "viewer/section.hpp"

namespace standproud::viewer {

namespace {

constexpr double sheet_width = 297;  // mm, A4
constexpr double sheet_height = 210;

#ifndef GL_BGRA
constexpr unsigned GL_BGRA = 0x80E1;  // OpenGL 1.2; the plain header stops at 1.1
#endif

}  // namespace

SectionPanel::~SectionPanel() {
    if (texture_ != 0) glDeleteTextures(1, &texture_);
}

void SectionPanel::redraw(const Document& document, std::size_t placed, int width, int height) {
    const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height), cairo_surface_destroy);
    const std::unique_ptr<cairo_t, decltype(&cairo_destroy)> context(cairo_create(surface.get()), cairo_destroy);
    cairo_set_source_rgb(context.get(), 1, 1, 1);
    cairo_paint(context.get());
    cairo_scale(context.get(), width / sheet_width, height / sheet_height);
    draw_section(context.get(), section_of(document.job->model, document.parts, document.job->findings, placed));
    cairo_surface_flush(surface.get());
    if (texture_ == 0) glGenTextures(1, &texture_);
    glBindTexture(GL_TEXTURE_2D, texture_);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, cairo_image_surface_get_stride(surface.get()) / 4);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB, width, height, 0, GL_BGRA, GL_UNSIGNED_BYTE,
                 cairo_image_surface_get_data(surface.get()));
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
}

void SectionPanel::draw(App& app) {
    if (!app.show_section || !app.document || !app.document->job) return;
    const Document& document = *app.document;
    const ImVec2 screen = ImGui::GetMainViewport()->Size;
    ImGui::SetNextWindowPos(ImVec2(0.55F * screen.x, 0.94F * screen.y), ImGuiCond_Appearing, ImVec2(0.5F, 1));
    ImGui::SetNextWindowSize(ImVec2(0.47F * screen.x, 0.37F * screen.x), ImGuiCond_Appearing);
    if (ImGui::Begin("Section", &app.show_section, ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_NoScrollbar)) {
        const PlacedFitting* placed = placed_of(document.job->model, document.selection.fitting);
        const ImVec2 area = ImGui::GetContentRegionAvail();
        const double size =
            std::min(static_cast<double>(area.x) / sheet_width, static_cast<double>(area.y) / sheet_height);
        const int width = static_cast<int>(size * sheet_width);
        const int height = static_cast<int>(size * sheet_height);
        if (!placed) {
            ImGui::TextDisabled("Choose a fitting to see the section through it.");
        } else if (width > 60 && height > 40) {
            const std::string wanted = fmt::format("{} {} {} {} {}", document.generation, document.selection.fitting,
                                                   width, height, document.file.string());
            if (wanted != drawn_) {
                redraw(document, static_cast<std::size_t>(placed - document.job->model.fittings.data()), width, height);
                drawn_ = wanted;
            }
            ImGui::Image(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture_)),
                         ImVec2(static_cast<float>(width), static_cast<float>(height)));
        }
    }
    ImGui::End();
}

}  // namespace standproud::viewer
