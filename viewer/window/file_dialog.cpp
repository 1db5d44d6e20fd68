#include "window/file_dialog.hpp"

#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>

#include "window/app.hpp"
#include "window/dialog.hpp"

namespace standproud::viewer {

void ask_file(App& app, FileDialog::Kind kind, const std::string& title, const std::string& button,
              const std::string& ending, const std::filesystem::path& start,
              std::function<void(const std::filesystem::path&)> then) {
    const std::filesystem::path whole = std::filesystem::absolute(start);
    const bool is_folder = std::filesystem::is_directory(whole);
    app.dialog = {true,
                  kind,
                  title,
                  button,
                  ending,
                  is_folder ? whole : whole.parent_path(),
                  is_folder ? "" : whole.filename().string(),
                  std::move(then),
                  {},
                  true,
                  ""};
}

namespace {

void read_folder(FileDialog& dialog) {
    dialog.read_again = false;
    dialog.entries.clear();
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(dialog.folder, error)) {
        const std::string name = entry.path().filename().string();
        if (name.rfind('.', 0) == 0) continue;
        std::error_code unreadable;
        const bool folder = entry.is_directory(unreadable);
        if (folder || (dialog.kind != FileDialog::Kind::folder && entry.path().extension() == dialog.ending)) {
            dialog.entries.push_back(entry);
        }
    }
    std::sort(dialog.entries.begin(), dialog.entries.end(), [](const auto& a, const auto& b) {
        std::error_code unreadable;
        const bool folder_a = a.is_directory(unreadable);
        const bool folder_b = b.is_directory(unreadable);
        return folder_a != folder_b ? folder_a : a.path() < b.path();
    });
}

void go_to(FileDialog& dialog, const std::filesystem::path& folder) {
    dialog.folder = folder;
    dialog.marked.clear();
    if (dialog.kind == FileDialog::Kind::folder) dialog.name.clear();
    dialog.read_again = true;
}

/// True when a file was double-clicked, or Enter pressed on it.
bool draw_entries(App& app) {
    FileDialog& dialog = app.dialog;
    bool taken = false;
    std::filesystem::path next;
    const bool folders = dialog.kind == FileDialog::Kind::folder;
    const bool enter = ImGui::IsKeyPressed(GLFW_KEY_ENTER, false) || ImGui::IsKeyPressed(GLFW_KEY_KP_ENTER, false);
    ImGui::BeginChild("entries", ImVec2(0, -2.4F * ImGui::GetFrameHeightWithSpacing()), true);
    for (const auto& entry : dialog.entries) {
        std::error_code unreadable;
        const bool folder = entry.is_directory(unreadable);
        const std::string name = entry.path().filename().string();
        const std::string label = folder ? name + "/" : name;
        const bool marked = name == (folder && !folders ? dialog.marked : dialog.name);
        if (ImGui::Selectable(label.c_str(), marked, ImGuiSelectableFlags_AllowDoubleClick)) {
            // One click chooses: were another folder's list there at once, a second would fall on whatever lies there.
            const bool open = ImGui::IsMouseDoubleClicked(0) || enter;
            (folder && !folders ? dialog.marked : dialog.name) = name;
            if (open && folder) next = entry.path();
            if (open && !folder) taken = true;
        }
        note_place(app, "file " + name);
    }
    ImGui::EndChild();
    if (!next.empty()) go_to(dialog, next);
    return taken;
}

std::filesystem::path chosen_path(const FileDialog& dialog) {
    if (dialog.kind == FileDialog::Kind::folder && dialog.name.empty()) return dialog.folder;
    std::filesystem::path path = dialog.folder / dialog.name;  // an absolute name stands alone
    if (dialog.kind == FileDialog::Kind::write && path.extension().empty()) path += dialog.ending;
    return path;
}

void take(App& app) {
    const auto path = chosen_path(app.dialog);
    const auto then = app.dialog.then;
    const bool over = app.dialog.kind == FileDialog::Kind::write && std::filesystem::exists(path);
    app.dialog.wanted = false;
    ImGui::CloseCurrentPopup();
    if (!over) {
        then(path);
        return;
    }
    app.question = Question{"Replace the file?",
                            fmt::format("{} is there already.", path.string()),
                            {{"Replace it", [then, path] { then(path); }}, {"Cancel", [] {}}}};
}

}  // namespace

void draw_file_dialog(App& app) {
    FileDialog& dialog = app.dialog;
    if (!dialog.wanted) return;
    if (!begin_dialog(app, dialog.title + "###file-dialog", 44, 32)) return;
    const float em = ImGui::GetFontSize();
    if (dialog.read_again) read_folder(dialog);
    if (ImGui::Button("Up") && dialog.folder.has_parent_path()) go_to(dialog, dialog.folder.parent_path());
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(dialog.folder.string().c_str());
    bool taken = draw_entries(app);
    ImGui::SetNextItemWidth(-1);
    if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
    const char* hint =
        dialog.kind == FileDialog::Kind::folder ? "this folder, or the name of a new one in it" : "file name or path";
    taken |= ImGui::InputTextWithHint("##name", hint, &dialog.name, ImGuiInputTextFlags_EnterReturnsTrue);
    note_place(app, "file name");
    const bool can = dialog.kind == FileDialog::Kind::folder || !dialog.name.empty();
    ImGui::BeginDisabled(!can);
    taken |= ImGui::Button(dialog.button.c_str(), ImVec2(8 * em, 0));
    note_place(app, "file take");
    ImGui::EndDisabled();
    ImGui::SameLine();
    if (ImGui::Button("Cancel", ImVec2(6 * em, 0)) || escaped(app)) {
        dialog.wanted = false;
        ImGui::CloseCurrentPopup();
    } else if (taken && can) {
        take(app);
    }
    ImGui::EndPopup();
}

}  // namespace standproud::viewer
