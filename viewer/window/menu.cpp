// The menu, and the keys that stand in it: one table for both.
#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <imgui.h>

#include <functional>

#include "window/app.hpp"
#include "window/dialog.hpp"

namespace standproud::viewer {

namespace {

enum Modifier { none = 0, ctrl = 1, shift = 2 };

/// Nothing is chosen any more, in the list, the picture and the panels, nor framed by the keyboard.
void let_go(App& app) {
    choose_nothing(*app.document);
    hide_frame();
    say(app, "Nothing is chosen");
    app.scene_changed = true;
}

struct Entry {
    const char* menu;
    std::string name;
    const char* keys;  ///< as shown
    int modifiers = none;
    int key = 0;  ///< 0: none
    std::function<void()> run;
    bool can = true;
    bool ticked = false;
    bool line_before = false;
    bool while_typing = false;  ///< the key works in a text field, too
    int also_modifiers = none;  ///< of a second pair of keys that does the same
    int also_key = 0;
};

std::filesystem::path beside(const App& app, const std::string& ending) {
    std::filesystem::path file = app.document->file;
    return file.replace_extension(ending);
}

void ask_open(App& app) {
    const std::filesystem::path start =
        app.document ? std::filesystem::absolute(app.document->file).parent_path() : std::filesystem::current_path();
    ask_file(app, FileDialog::Kind::open, "Open a job", "Open", ".toml", start, [&app](const auto& file) {
        when_saved(app, "Open another job?", [&app, file] { open_job_file(app, file); });
    });
}

void ask_save_as(App& app) {
    ask_file(app, FileDialog::Kind::write, "Save the job as", "Save", ".toml", app.document->file,
             [&app](const auto& file) {
                 try {
                     save_as(*app.document, file);
                     add_recent(app.settings, file);
                     store_settings(app.settings);
                     app.scene_changed = true;
                     say(app, fmt::format("Saved {}", file.string()));
                 } catch (const std::exception& error) {
                     outcome(app, error.what(), "");
                 }
             });
}

void ask_compare(App& app) {
    ask_file(app, FileDialog::Kind::open, "Compare with an earlier file", "Compare", ".toml",
             std::filesystem::absolute(app.document->file).parent_path(),
             [&app](const auto& file) { compare_with(app, file); });
}

void add_file_entries(App& app, bool open, bool good, std::vector<Entry>& entries) {
    entries.push_back(
        {"File", "New...", "Ctrl+N", ctrl, GLFW_KEY_N, [&app] { begin_new(app); }, true, false, false, true});
    entries.push_back(
        {"File", "Open...", "Ctrl+O", ctrl, GLFW_KEY_O, [&app] { ask_open(app); }, true, false, false, true});
    entries.push_back({"File", "Save", "Ctrl+S", ctrl, GLFW_KEY_S, [&app] { save_job(app); }, open, false, true, true});
    entries.push_back({"File", "Save as...", "Ctrl+Shift+S", ctrl | shift, GLFW_KEY_S, [&app] { ask_save_as(app); },
                       open, false, false, true});
    entries.push_back({"File", "Take the file on disk", "Ctrl+R", ctrl, GLFW_KEY_R,
                       [&app] {
                           try {
                               reload(*app.document);
                               outcome(app, "", "Taken from disk. Undo brings back what was here.");
                           } catch (const std::exception& error) {
                               outcome(app, error.what(), "");
                           }
                       },
                       open, false, false, true});
    entries.push_back({"File", "Compare with...", "Ctrl+Shift+C", ctrl | shift, GLFW_KEY_C,
                       [&app] { ask_compare(app); }, good, false, true, true});
    if (app.earlier) {
        entries.push_back({"File", "End the comparison", "", none, 0, [&app] { end_comparison(app); }, good});
    }
    entries.push_back({"File", "Solids as STEP...", "Ctrl+E", ctrl, GLFW_KEY_E,
                       [&app] {
                           ask_file(app, FileDialog::Kind::write, "Write solids as STEP AP242", "Write", ".step",
                                    beside(app, ".step"), [&app](const auto& file) { export_step(app, file); });
                       },
                       good, false, true, true});
    entries.push_back({"File", "Sections as PDF, SVG, PNG...", "Ctrl+Shift+E", ctrl | shift, GLFW_KEY_E,
                       [&app] {
                           ask_file(app, FileDialog::Kind::folder, "Folder for the sections", "Draw them here", "",
                                    std::filesystem::absolute(app.document->file).parent_path(),
                                    [&app](const auto& folder) { export_sections(app, folder); });
                       },
                       good, false, false, true});
    entries.push_back({"File", "Set-out sheets as PDF, SVG, PNG...", "Ctrl+Shift+O", ctrl | shift, GLFW_KEY_O,
                       [&app] {
                           ask_file(app, FileDialog::Kind::folder, "Folder for the set-out sheets", "Draw them here",
                                    "", std::filesystem::absolute(app.document->file).parent_path(),
                                    [&app](const auto& folder) { export_setouts(app, folder); });
                       },
                       good, false, false, true});
    entries.push_back({"File", "Report as text, or .json...", "Ctrl+Shift+P", ctrl | shift, GLFW_KEY_P,
                       [&app] {
                           ask_file(app, FileDialog::Kind::write,
                                    "Write the report: .txt for people, .json for programs", "Write", ".txt",
                                    beside(app, ".txt"), [&app](const auto& file) { export_report(app, file); });
                       },
                       good, false, false, true});
    entries.push_back({"File", "Picture of the view...", "Ctrl+P", ctrl, GLFW_KEY_P,
                       [&app] {
                           ask_file(app, FileDialog::Kind::write, "Write a picture of the view", "Write", ".png",
                                    beside(app, ".png"), [&app](const auto& file) { app.snapshot = file.string(); });
                       },
                       good, false, false, true});
    entries.push_back({"File", "Quit", "Ctrl+Q", ctrl, GLFW_KEY_Q,
                       [&app] { when_saved(app, "Quit?", [&app] { app.quit = true; }); }, true, false, true, true});
}

void first_cure(App& app) {
    const auto& chosen = app.document->selection.finding;
    const auto offered = chosen ? offers(*app.document, *chosen) : std::vector<Offer>{};
    if (offered.empty()) {
        outcome(app, "No remedy of one click for this finding; its text says what to do.", "");
        return;
    }
    outcome(app, apply_cure(*app.document, *chosen, offered.front().cure, offered.front().move),
            "Done: " + offered.front().words);
}

void add_edit_entries(App& app, bool open, bool good, std::vector<Entry>& entries) {
    const auto after = [&app] { app.scene_changed = true; };
    const std::string last = open ? undo_name(*app.document) : "";
    const std::string next = open ? redo_name(*app.document) : "";
    entries.push_back({"Edit", "Undo" + (last.empty() ? "" : " \"" + last + "\""), "Ctrl+Z", ctrl, GLFW_KEY_Z,
                       [&app, after, last] {
                           undo(*app.document);
                           say(app, "Undone: " + last);
                           after();
                       },
                       !last.empty()});
    entries.push_back({"Edit", "Redo" + (next.empty() ? "" : " \"" + next + "\""), "Ctrl+Shift+Z, Ctrl+Y", ctrl | shift,
                       GLFW_KEY_Z,
                       [&app, after, next] {
                           redo(*app.document);
                           say(app, "Done again: " + next);
                           after();
                       },
                       !next.empty(), false, false, false, ctrl, GLFW_KEY_Y});
    const bool finding = good && app.document->selection.finding.has_value();
    const bool fitting = good && !app.document->selection.fitting.empty();
    entries.push_back({"Edit", "Apply the remedy", "Ctrl+Enter", ctrl, GLFW_KEY_ENTER, [&app] { first_cure(app); },
                       finding, false, true, true});
    entries.push_back({"Edit", "Add a fitting...", "Ctrl+Shift+A", ctrl | shift, GLFW_KEY_A,
                       [&app] { app.adding = true; }, good, false, true, true});
    entries.push_back({"Edit", "Take out the fitting", "Shift+Del", shift, GLFW_KEY_DELETE,
                       [&app] {
                           const std::string id = app.document->selection.fitting;
                           outcome(app, remove_fitting(*app.document, id), "Taken out: " + id);
                       },
                       fitting});
    entries.push_back({"Edit", "Drag in 3D: the fitting, or joins", "D", none, GLFW_KEY_D,
                       [&app] {
                           app.drag_fitting = !app.drag_fitting;
                           app.scene_changed = true;
                       },
                       good, app.drag_fitting});
}

void add_finding_entries(App& app, bool good, std::vector<Entry>& entries) {
    entries.push_back({"Findings", "Next", "N", none, GLFW_KEY_N, [&app] { step_finding(app, 1); }, good});
    entries.push_back({"Findings", "Previous", "Shift+N", shift, GLFW_KEY_N, [&app] { step_finding(app, -1); }, good});
    entries.push_back({"Findings", "Filter by words", "Ctrl+F", ctrl, GLFW_KEY_F, [&app] { app.find_text = true; },
                       good, false, false, true});
    // The key is not taken here: it lets go of more than this, one thing at a time.
    entries.push_back({"Findings", "Choose nothing", "Esc", none, 0, [&app] { let_go(app); }, good});
    entries.push_back({"Findings", "Section through the fitting", "S", none, GLFW_KEY_S,
                       [&app] { app.show_section = !app.show_section; }, good, app.show_section, true});
}

void add_view_entries(App& app, bool good, std::vector<Entry>& entries) {
    const auto flip = [&app](bool Look::*what) {
        return [&app, what] {
            app.look.*what = !(app.look.*what);
            app.scene_changed = true;
        };
    };
    const Middle middle = app.bench.middle;
    const auto show = [&app](Middle what) { return [&app, what] { show_middle(app, what); }; };
    entries.push_back(
        {"View", "Recess in 3D", "R", none, GLFW_KEY_R, show(Middle::recess), good, middle == Middle::recess});
    entries.push_back(
        {"View", "Panels unfolded", "U", none, GLFW_KEY_U, show(Middle::panels), good, middle == Middle::panels});
    entries.push_back({"View", "Sheets and drawings", "T", none, GLFW_KEY_T, show(Middle::drawings), good,
                       middle == Middle::drawings});
    const bool drawings = good && middle == Middle::drawings;
    entries.push_back(
        {"View", "Next drawing", "PgDn", none, GLFW_KEY_PAGE_DOWN, [&app] { turn_page(app, 1); }, drawings});
    entries.push_back(
        {"View", "Previous drawing", "PgUp", none, GLFW_KEY_PAGE_UP, [&app] { turn_page(app, -1); }, drawings});
    entries.push_back({"View", "Joins: scores and layouts", "J", none, GLFW_KEY_J,
                       [&app] {
                           if (app.bench.middle == Middle::drawings) app.bench.middle = Middle::panels;
                           app.bench.show_joins = true;
                       },
                       good});
    const auto tab = [&](const char* name, const char* words, const char* keys, int key, bool can) {
        entries.push_back({"View", words, keys, ctrl, key,
                           [&app, name] {
                               if (app.bench.middle == Middle::drawings) show_middle(app, Middle::recess);
                               app.tab_wanted = name;
                           },
                           can, false, false, true});
    };
    tab("Fitting", "Tab: the fitting", "Ctrl+1", GLFW_KEY_1, good);
    tab("Walls", "Tab: walls", "Ctrl+2", GLFW_KEY_2, good);
    tab("Survey", "Tab: survey", "Ctrl+3", GLFW_KEY_3, good && app.document->job->model.survey);
    tab("Show", "Tab: what is shown", "Ctrl+4", GLFW_KEY_4, good);
    entries.push_back({"View", middle == Middle::recess ? "Whole recess" : "Fit it in", "F", none, GLFW_KEY_F,
                       [&app] { fit_in(app); }, good, false, true});
    if (good) {
        const auto& walls = app.document->job->model.job.walls;
        static const char* const digits[] = {"1", "2", "3", "4", "5", "6", "7", "8", "9"};
        for (std::size_t w = 0; w < walls.size() && w < 9; ++w) {
            entries.push_back({"View", "Straight on: " + walls[w].name, digits[w], none,
                               GLFW_KEY_1 + static_cast<int>(w),
                               [&app, w] { app.fly_to = facing_wall(app.document->job->model, w); }, true});
        }
    }
    entries.push_back({"View", "Perspective", "P", none, GLFW_KEY_P, [&app] { app.flip_perspective = true; }, good,
                       app.perspective, true});
    entries.push_back({"View", "Measure", "M", none, GLFW_KEY_M,
                       [&app] {
                           app.measure = {!app.measure.on, {}, {}, ""};
                           if (app.measure.on) say(app, "Measure: click two corners, edges or faces.");
                           app.scene_changed = true;
                       },
                       good, app.measure.on});
    entries.push_back({"View", "Edges", "E", none, GLFW_KEY_E, flip(&Look::edges), good, app.look.edges, true});
    entries.push_back({"View", "Flags", "G", none, GLFW_KEY_G, flip(&Look::flags), good, app.look.flags});
    entries.push_back({"View", "Colours by layer", "C", none, GLFW_KEY_C, flip(&Look::by_layer_colour), good,
                       app.look.by_layer_colour});
    entries.push_back({"View", "Leave out walls seen from behind", "B", none, GLFW_KEY_B, flip(&Look::hide_in_the_way),
                       good, app.look.hide_in_the_way});
    entries.push_back({"View", "Inches beside mm", "I", none, GLFW_KEY_I, [&app] { set_inches(app, !app.look.inches); },
                       true, app.look.inches, true});
    entries.push_back({"View", "Dark", "Ctrl+D", ctrl, GLFW_KEY_D, [&app] { set_dark(app, !app.look.dark); }, true,
                       app.look.dark, false, true});
    entries.push_back({"View", "Larger lettering", "Ctrl++", ctrl, GLFW_KEY_EQUAL,
                       [&app] { set_scale(app, app.look.scale + 0.25); }, true, false, false, true});
    entries.push_back({"View", "Smaller lettering", "Ctrl+-", ctrl, GLFW_KEY_MINUS,
                       [&app] { set_scale(app, app.look.scale - 0.25); }, true, false, false, true});
    entries.push_back({"View", "Lettering as the screen has it", "Ctrl+0", ctrl, GLFW_KEY_0,
                       [&app] { set_scale(app, 0); }, true, app.wanted_scale == 0, false, true});
    entries.push_back({"Help", "Mouse and keys", "F1", none, GLFW_KEY_F1, [&app] { app.show_keys = !app.show_keys; },
                       true, app.show_keys, false, true});
}

std::vector<Entry> all_entries(App& app) {
    std::vector<Entry> entries;
    const bool open = app.document.has_value();
    const bool good = open && app.document->job.has_value();
    add_file_entries(app, open, good, entries);
    add_edit_entries(app, open, good, entries);
    add_finding_entries(app, good, entries);
    add_view_entries(app, good, entries);
    return entries;
}

void draw_recent(App& app) {
    if (!ImGui::BeginMenu("Open recent", !app.settings.recent.empty())) return;
    const auto recent = app.settings.recent;  // opening one changes the list
    for (const auto& file : recent) {
        if (ImGui::MenuItem(file.c_str())) {
            when_saved(app, "Open another job?", [&app, file] { open_job_file(app, file); });
        }
    }
    ImGui::EndMenu();
}

}  // namespace

void draw_menu(App& app) {
    if (!ImGui::BeginMainMenuBar()) return;
    const auto entries = all_entries(app);
    for (const char* menu : {"File", "Edit", "Findings", "View", "Help"}) {
        const bool is_open = ImGui::BeginMenu(menu);
        note_place(app, std::string("menu ") + menu);
        if (!is_open) continue;
        for (const auto& entry : entries) {
            if (std::string(entry.menu) != menu) continue;
            if (entry.line_before) ImGui::Separator();
            if (ImGui::MenuItem(entry.name.c_str(), entry.keys, entry.ticked, entry.can)) entry.run();
            note_place(app, "entry " + entry.name);
            if (entry.name == "Open...") draw_recent(app);
        }
        ImGui::EndMenu();
    }
    if (app.document && app.document->job) draw_middle_switch(app);
    ImGui::EndMainMenuBar();
}

void run_shortcuts(App& app) {
    const ImGuiIO& io = ImGui::GetIO();
    if (form_open(app)) return;
    const int held = (io.KeyCtrl ? ctrl : none) | (io.KeyShift ? shift : none);
    for (const auto& entry : all_entries(app)) {
        if (entry.key == 0 || !entry.can || (io.WantTextInput && !entry.while_typing)) continue;
        const auto pressed = [&](int modifiers, int key) {
            return key != 0 && modifiers == held && ImGui::IsKeyPressed(key, false);
        };
        const bool enter = entry.key == GLFW_KEY_ENTER && pressed(entry.modifiers, GLFW_KEY_KP_ENTER);
        const bool plus = entry.key == GLFW_KEY_EQUAL && pressed(entry.modifiers, GLFW_KEY_KP_ADD);
        if (!pressed(entry.modifiers, entry.key) && !pressed(entry.also_modifiers, entry.also_key) && !enter && !plus)
            continue;
        entry.run();
        return;  // what was run may have changed everything
    }
}

bool form_open(const App& app) {
    return app.question || app.form || app.dialog.wanted || app.adding || app.answers || app.bench.answers;
}

EscapeStep next_escape(const App& app) {
    const bool good = app.document && app.document->job;
    const Selection chosen = app.document ? app.document->selection : Selection{};
    Standing standing;
    standing.list = lists_open() > 0;
    standing.form = form_open(app);
    standing.typing = ImGui::GetIO().WantTextInput;
    standing.help = app.show_keys;
    standing.section = good && app.show_section;
    standing.tool = app.measure.on || app.drag_fitting;
    standing.choice = chosen.finding || !chosen.fitting.empty() || !chosen.part.empty();
    standing.view = good;
    return escape_step(standing);
}

void take_escape(App& app) {
    switch (app.escape) {
        case EscapeStep::help:
            app.show_keys = false;
            break;
        case EscapeStep::section:
            app.show_section = false;
            break;
        case EscapeStep::tool:
            app.measure = {};
            app.drag_fitting = false;
            app.scene_changed = true;
            break;
        case EscapeStep::choice:
            let_go(app);
            break;
        case EscapeStep::view:
            fit_in(app);
            break;
        default:
            break;
    }
}

void draw_keys(App& app) {
    if (!app.show_keys) return;
    const float em = ImGui::GetFontSize();
    const ImVec2 screen = ImGui::GetMainViewport()->Size;
    ImGui::SetNextWindowPos(ImVec2(screen.x / 2, screen.y / 2), ImGuiCond_Appearing, ImVec2(0.5F, 0.5F));
    ImGui::SetNextWindowSize(ImVec2(34 * em, std::min(40 * em, 0.9F * screen.y)), ImGuiCond_Appearing);
    if (ImGui::Begin("Mouse and keys", &app.show_keys, ImGuiWindowFlags_NoCollapse)) {
        keep_on_screen(app, "keys");
        ImGui::TextWrapped(
            "Left button: turn; a click chooses. Right or middle button, or Shift and left: shift the picture. Wheel, "
            "or "
            "two fingers: nearer and farther, towards the pointer.");
        ImGui::Spacing();
        ImGui::TextWrapped(
            "Tab and arrows go through fields and lists; Enter or Space acts on what is framed. Escape lets go of one "
            "thing at a time: an open list, a form, a window, what is chosen, then the view.");
        ImGui::Spacing();
        if (ImGui::BeginTable("keys", 2, ImGuiTableFlags_RowBg)) {
            ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, 12 * em);
            ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
            for (const auto& entry : all_entries(app)) {
                if (*entry.keys == '\0') continue;
                ImGui::TableNextColumn();
                ImGui::TextUnformatted(entry.keys);
                ImGui::TableNextColumn();
                ImGui::Text("%s: %s", entry.menu, entry.name.c_str());
            }
            ImGui::EndTable();
        }
    }
    ImGui::End();
}

}  // namespace standproud::viewer
