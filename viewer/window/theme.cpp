// Lettering and colours of the panels.
#include <imgui.h>

#include <filesystem>

#include "scene/palette.hpp"
#include "window/app.hpp"

namespace standproud::viewer {

namespace {

ImVec4 colour(int red, int green, int blue, float alpha = 1) {
    return {static_cast<float>(red) / 255, static_cast<float>(green) / 255, static_cast<float>(blue) / 255, alpha};
}

// Slate and paper, with the blue of the Okabe-Ito set for what is chosen.
void set_light_colours(ImVec4* c) {
    ImGui::StyleColorsLight();
    c[ImGuiCol_Text] = colour(30, 34, 38);
    c[ImGuiCol_TextDisabled] = colour(112, 118, 122);
    c[ImGuiCol_WindowBg] = colour(244, 245, 242);
    c[ImGuiCol_PopupBg] = colour(250, 250, 248);
    c[ImGuiCol_ChildBg] = colour(244, 245, 242, 0);
    c[ImGuiCol_MenuBarBg] = colour(228, 231, 229);
    c[ImGuiCol_Border] = colour(192, 198, 198);
    c[ImGuiCol_FrameBg] = colour(255, 255, 254);
    c[ImGuiCol_FrameBgHovered] = colour(232, 241, 247);
    c[ImGuiCol_FrameBgActive] = colour(216, 232, 243);
    c[ImGuiCol_Button] = colour(220, 226, 228);
    c[ImGuiCol_TableHeaderBg] = colour(230, 233, 232);
    c[ImGuiCol_TableRowBgAlt] = colour(0, 0, 0, 0.03F);
    c[ImGuiCol_TitleBgActive] = colour(214, 220, 221);
    c[ImGuiCol_TitleBg] = colour(226, 230, 230);
    c[ImGuiCol_Tab] = colour(226, 230, 230);
}

void set_dark_colours(ImVec4* c) {
    ImGui::StyleColorsDark();
    c[ImGuiCol_Text] = colour(228, 232, 234);
    c[ImGuiCol_TextDisabled] = colour(142, 150, 156);
    c[ImGuiCol_WindowBg] = colour(34, 38, 42);
    c[ImGuiCol_PopupBg] = colour(40, 45, 50);
    c[ImGuiCol_ChildBg] = colour(34, 38, 42, 0);
    c[ImGuiCol_MenuBarBg] = colour(44, 49, 54);
    c[ImGuiCol_Border] = colour(72, 80, 86);
    c[ImGuiCol_FrameBg] = colour(24, 27, 30);
    c[ImGuiCol_FrameBgHovered] = colour(38, 52, 62);
    c[ImGuiCol_FrameBgActive] = colour(40, 62, 78);
    c[ImGuiCol_Button] = colour(60, 68, 75);
    c[ImGuiCol_TableHeaderBg] = colour(46, 52, 57);
    c[ImGuiCol_TableRowBgAlt] = colour(255, 255, 255, 0.03F);
    c[ImGuiCol_TitleBgActive] = colour(52, 59, 65);
    c[ImGuiCol_TitleBg] = colour(44, 49, 54);
    c[ImGuiCol_Tab] = colour(44, 49, 54);
}

}  // namespace

void set_theme(bool dark, double scale) {
    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle();
    ImVec4* c = style.Colors;
    dark ? set_dark_colours(c) : set_light_colours(c);
    const ImVec4 blue = colour(0, 114, 178);
    const auto tint = [&](float alpha) { return ImVec4(blue.x, blue.y, blue.z, alpha); };
    c[ImGuiCol_Header] = tint(dark ? 0.55F : 0.22F);
    c[ImGuiCol_HeaderHovered] = tint(dark ? 0.45F : 0.14F);
    c[ImGuiCol_HeaderActive] = tint(dark ? 0.7F : 0.3F);
    c[ImGuiCol_ButtonHovered] = tint(dark ? 0.6F : 0.25F);
    c[ImGuiCol_ButtonActive] = tint(dark ? 0.85F : 0.45F);
    c[ImGuiCol_TabHovered] = tint(dark ? 0.6F : 0.25F);
    c[ImGuiCol_TabActive] = tint(dark ? 0.5F : 0.2F);
    c[ImGuiCol_CheckMark] = dark ? colour(86, 180, 233) : blue;
    // Seen through: the number stands behind it.
    c[ImGuiCol_SliderGrab] = dark ? colour(86, 180, 233, 0.55F) : tint(0.5F);
    c[ImGuiCol_SliderGrabActive] = dark ? colour(86, 180, 233, 0.75F) : tint(0.7F);
    c[ImGuiCol_PlotHistogram] = dark ? colour(86, 180, 233) : blue;
    c[ImGuiCol_TextSelectedBg] = tint(0.35F);
    c[ImGuiCol_ModalWindowDimBg] = colour(0, 0, 0, dark ? 0.5F : 0.28F);
    style.WindowRounding = 0;
    style.ChildRounding = 3;
    style.FrameRounding = 3;
    style.PopupRounding = 3;
    style.GrabRounding = 3;
    style.TabRounding = 3;
    style.WindowBorderSize = 1;
    style.FrameBorderSize = dark ? 0.0F : 1.0F;
    style.WindowPadding = ImVec2(10, 8);
    style.FramePadding = ImVec2(8, 4);
    style.ItemSpacing = ImVec2(8, 6);
    style.CellPadding = ImVec2(6, 3);
    style.ScrollbarSize = 13;
    style.ScaleAllSizes(static_cast<float>(scale));
}

void load_fonts(double scale) {
    ImGuiIO& io = ImGui::GetIO();
    io.Fonts->Clear();
    // Latin with accents, dashes and quotes, arrows, mathematical signs.
    static const ImWchar ranges[] = {0x20, 0x17f, 0x2010, 0x2044, 0x2190, 0x21ff, 0x2200, 0x22ff, 0};
    const float size = static_cast<float>(15 * scale);
    std::error_code ignored;
    if (std::filesystem::exists(STANDPROUD_FONT, ignored)) {
        io.Fonts->AddFontFromFileTTF(STANDPROUD_FONT, size, nullptr, ranges);
    } else {
        ImFontConfig plain;
        plain.SizePixels = size;
        io.Fonts->AddFontDefault(&plain);
    }
}

void tooltip(const std::string& words) {
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(26 * ImGui::GetFontSize());
    ImGui::TextUnformatted(words.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
}

void faint(const std::string& words) {
    ImGui::PushStyleColor(ImGuiCol_Text, ImGui::GetStyleColorVec4(ImGuiCol_TextDisabled));
    ImGui::TextWrapped("%s", words.c_str());
    ImGui::PopStyleColor();
}

void verdict_chip(rules::Verdict verdict, bool with_word) {
    const Colour plate = verdict_colour(verdict);
    const float em = ImGui::GetFontSize();
    const std::string words =
        with_word ? std::string(verdict_sign(verdict)) + "  " + to_string(verdict) : verdict_sign(verdict);
    const float width = with_word ? ImGui::CalcTextSize(words.c_str()).x + 0.8F * em : 1.35F * em;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float height = 1.3F * em;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float inset = 0.08F * em;
    draw->AddRectFilled(ImVec2(at.x, at.y + inset), ImVec2(at.x + width, at.y + height - inset),
                        IM_COL32(plate.red, plate.green, plate.blue, 255), 0.2F * em);
    const double light = 0.299 * plate.red + 0.587 * plate.green + 0.114 * plate.blue;
    const ImU32 ink = light > 130 ? IM_COL32(16, 18, 20, 255) : IM_COL32(255, 255, 255, 255);
    const ImVec2 text = ImGui::CalcTextSize(words.c_str());
    draw->AddText(ImVec2(at.x + (width - text.x) / 2, at.y + (height - text.y) / 2), ink, words.c_str());
    ImGui::Dummy(ImVec2(width, height));
}

}  // namespace standproud::viewer
