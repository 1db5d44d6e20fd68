#include "window/dialog.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>

#include "window/app.hpp"
#include "window/layout.hpp"

namespace standproud::viewer {

namespace {

constexpr float most = 0.95F;  // of the window's width and height

const ImVector<ImGuiPopupData>& popups() { return ImGui::GetCurrentContext()->OpenPopupStack; }

bool is_form(const ImGuiPopupData& popup) {
    return popup.Window && (popup.Window->Flags & ImGuiWindowFlags_Modal) != 0;
}

void note_window(App& app, const char* name) {
    if (!app.places) return;
    const ImVec2 at = ImGui::GetWindowPos();
    const ImVec2 size = ImGui::GetWindowSize();
    (*app.places)[std::string("window ") + name] = {at.x, at.y, at.x + size.x, at.y + size.y};
}

}  // namespace

bool begin_dialog(App& app, const std::string& title, float width, float height) {
    if (!ImGui::IsPopupOpen(title.c_str())) ImGui::OpenPopup(title.c_str());
    const ImVec2 screen = ImGui::GetMainViewport()->Size;
    const float em = ImGui::GetFontSize();
    const ImVec2 largest(most * screen.x, most * screen.y);
    ImGui::SetNextWindowPos(ImVec2(screen.x / 2, screen.y / 2), ImGuiCond_Always, ImVec2(0.5F, 0.5F));
    ImGui::SetNextWindowSize(ImVec2(std::min(width * em, largest.x), std::min(height * em, largest.y)));
    ImGui::SetNextWindowSizeConstraints(ImVec2(0, 0), largest);
    if (!ImGui::BeginPopupModal(title.c_str(), nullptr, ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove))
        return false;
    note_window(app, "form");
    return true;
}

bool escaped(const App& app) {
    return app.escape == EscapeStep::form && !popups().empty() && popups().back().Window == ImGui::GetCurrentWindow();
}

bool enter_takes() {
    const bool pressed = ImGui::IsKeyPressed(GLFW_KEY_ENTER, false) || ImGui::IsKeyPressed(GLFW_KEY_KP_ENTER, false);
    const ImGuiIO& io = ImGui::GetIO();
    // In a field it is always meant for the form.
    return pressed && (io.WantTextInput || !io.NavVisible) && is_form(popups().back());
}

void keep_on_screen(App& app, const char* name) {
    const ImVec2 at = ImGui::GetWindowPos();
    const ImVec2 size = ImGui::GetWindowSize();
    const ImVec2 screen = ImGui::GetMainViewport()->Size;
    const float menu = ImGui::GetFrameHeight();
    const Box kept = kept_inside({at.x, at.y, size.x, size.y}, {0, menu, screen.x, screen.y - menu});
    if (kept.width < size.x || kept.height < size.y) ImGui::SetWindowSize(ImVec2(kept.width, kept.height));
    if (kept.x != at.x || kept.y != at.y) ImGui::SetWindowPos(ImVec2(kept.x, kept.y));
    note_window(app, name);
}

void bring_into_sight(float head) {
    const float top = ImGui::GetWindowPos().y + head;
    const float bottom = ImGui::GetWindowPos().y + ImGui::GetWindowHeight();
    const bool seen = ImGui::GetItemRectMin().y >= top && ImGui::GetItemRectMax().y <= bottom;
    if (!seen) ImGui::SetScrollHereY();
}

void hide_frame() { ImGui::GetCurrentContext()->NavDisableHighlight = true; }

int lists_open() {
    int count = 0;
    for (int i = popups().Size - 1; i >= 0 && !is_form(popups()[i]); --i) ++count;
    return count;
}

void close_list() { ImGui::ClosePopupToLevel(popups().Size - 1, true); }

}  // namespace standproud::viewer
