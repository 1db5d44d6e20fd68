// A new job from a few answers.
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "modeler/files.hpp"
#include "window/app.hpp"
#include "window/dialog.hpp"
#include "window/value_rows.hpp"

namespace standproud::viewer {

namespace {

void number_row(App& app, const char* name, double& value, const char* place) {
    row_name(name);
    ImGui::PushID(place);
    ImGui::InputDouble("##number", &value, 1, 10, "%.6g mm");
    note_place(app, place);
    ImGui::PopID();
}

/// The fitting's place follows the wall until somebody types one.
void put_in_middle(const NewJob& job, NewJobFitting& fitting) {
    const double width = fitting.wall == "left" ? job.left : fitting.wall == "right" ? job.right : job.back;
    fitting.across = width / 2;
}

void draw_shape(App& app, NewJob& job) {
    row_name("name");
    if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
    ImGui::InputText("##name", &job.name);
    note_place(app, "new name");
    row_name("shape");
    for (const int walls : {2, 3}) {
        if (walls == 3) ImGui::SameLine();
        if (ImGui::RadioButton(walls == 2 ? "corner, two walls" : "recess, three walls", job.walls == walls)) {
            job.walls = walls;
            for (auto& fitting : job.fittings) {
                if (walls == 2 && fitting.wall == "left") fitting.wall = "back";
            }
        }
        note_place(app, fmt::format("new walls {}", walls));
    }
    if (job.walls == 3) number_row(app, "left wall, width", job.left, "new left");
    number_row(app, "back wall, width", job.back, "new back");
    number_row(app, "right wall, width", job.right, "new right");
    number_row(app, "height", job.height, "new height");
    number_row(app, "lining board", job.board, "new board");
    number_row(app, "bed", job.bed, "new bed");
    number_row(app, "panel", job.panel, "new panel");
}

/// What a fitting can be: the examples, and what the open job's catalogues hold.
struct Offered {
    std::string word;
    std::string says;
    bool from_catalogue = false;
};

std::vector<Offered> offered(const App& app) {
    std::vector<Offered> all;
    for (const auto& [word, says] : fitting_kinds()) all.push_back({word, "example: " + says, false});
    if (!app.document || !app.document->job) return all;
    for (const auto& [id, name] : catalogue_types(*app.document->job)) {
        all.push_back({id, fmt::format("{} ({})", name, id), true});
    }
    return all;
}

void draw_first_fitting(App& app, NewJob& job, std::size_t i) {
    ImGui::PushID(static_cast<int>(i));
    row_name(i == 0 ? "first fitting" : "second fitting");
    const bool there = i < job.fittings.size();
    std::string shown = "none";
    for (const auto& kind : offered(app)) {
        if (there && kind.word == job.fittings[i].kind && kind.from_catalogue == job.fittings[i].from_catalogue) {
            shown = kind.says;
        }
    }
    const bool open = ImGui::BeginCombo("##kind", shown.c_str());
    note_place(app, fmt::format("new fitting {}", i + 1));
    if (open) {
        if (ImGui::Selectable("none", !there)) job.fittings.resize(std::min(i, job.fittings.size()));
        for (const auto& kind : offered(app)) {
            const bool taken = ImGui::Selectable(kind.says.c_str(), kind.says == shown);
            note_place(app, "new kind " + kind.word);
            if (!taken) continue;
            if (job.fittings.size() <= i) {
                job.fittings.resize(i + 1);
                put_in_middle(job, job.fittings[i]);
            }
            job.fittings[i].kind = kind.word;
            job.fittings[i].from_catalogue = kind.from_catalogue;
            job.fittings[i].height = kind.word == "rose" ? std::min(2000.0, 0.85 * job.height) : 1050;
        }
        ImGui::EndCombo();
    }
    if (i < job.fittings.size()) {
        NewJobFitting& fitting = job.fittings[i];
        row_name("   on wall");
        if (ImGui::BeginCombo("##on", fitting.wall.c_str())) {
            for (const char* wall : {"left", "back", "right"}) {
                if (job.walls == 2 && std::string(wall) == "left") continue;
                if (!ImGui::Selectable(wall, fitting.wall == wall)) continue;
                fitting.wall = wall;
                put_in_middle(job, fitting);
            }
            ImGui::EndCombo();
        }
        number_row(app, "   from left bare", fitting.across, i == 0 ? "new across 1" : "new across 2");
        number_row(app, "   height", fitting.height, i == 0 ? "new height 1" : "new height 2");
    }
    ImGui::PopID();
}

void write_and_open(App& app, const NewJob& job) {
    const std::filesystem::path start =
        app.document ? std::filesystem::absolute(app.document->file).parent_path() : std::filesystem::current_path();
    ask_file(app, FileDialog::Kind::write, "Write the new job as", "Write", ".toml", start / "new-job.toml",
             [&app, job](const auto& file) {
                 try {
                     const auto folder = std::filesystem::absolute(file).parent_path();
                     const std::string text = new_job_text(job, folder);
                     // A large fitting may not go where it was put: said before anything is written.
                     Faults faults;
                     if (!open_job_text(text, file.string(), faults)) {
                         sort_faults(faults);
                         outcome(app, "Not written: " + (faults.empty() ? "it has faults" : faults.front().says), "");
                         return;
                     }
                     write_whole(file, text);
                     open_job_file(app, file);
                 } catch (const std::exception& error) {
                     outcome(app, error.what(), "");
                 }
             });
}

}  // namespace

void begin_new(App& app) {
    when_saved(app, "Begin a new job?", [&app] {
        app.answers = NewJob{};
        app.answers->fittings = {{"mixer", false, "back", app.answers->back / 2, 1050}};
        if (app.document && app.document->job) app.answers->catalogues = catalogues_of(*app.document->job);
    });
}

void draw_new(App& app) {
    if (!app.answers) return;
    if (!begin_dialog(app, "A new job", 32)) return;
    const float em = ImGui::GetFontSize();
    NewJob& job = *app.answers;
    faint("Seen from inside, on the bare faces. Everything can be changed afterwards.");
    if (begin_rows("answers", 9)) {
        draw_shape(app, job);
        draw_first_fitting(app, job, 0);
        if (!job.fittings.empty()) draw_first_fitting(app, job, 1);
        ImGui::EndTable();
    }
    faint(
        "Figures of examples are to be replaced by the maker's. Depths are left open, and the "
        "findings then say how deep to set each body.");
    const std::string fault = refused_answers(job);
    if (!fault.empty()) {
        ImGui::PushStyleColor(ImGuiCol_Text, app.look.dark ? ImVec4(1, 0.62F, 0.38F, 1) : ImVec4(0.66F, 0.27F, 0, 1));
        ImGui::TextWrapped("%s", fault.c_str());
        ImGui::PopStyleColor();
    }
    ImGui::Spacing();
    ImGui::BeginDisabled(!fault.empty());
    const bool write = ImGui::Button("Write the file...", ImVec2(9 * em, 0));
    note_place(app, "new write");
    ImGui::EndDisabled();
    ImGui::SameLine();
    const bool stop = ImGui::Button("Cancel", ImVec2(6 * em, 0)) || escaped(app);
    note_place(app, "new cancel");
    if (write || stop) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
    if (write) write_and_open(app, NewJob(job));
    if (write || stop) app.answers.reset();
}

}  // namespace standproud::viewer
