// The window: opening it, its layout, and a loop that sleeps until something happens.
#include "viewer/window.hpp"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui.h>

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <algorithm>
#include <set>
#include <vector>

#include "modeler/files.hpp"
#include "window/dialog.hpp"
#include "window/drawings_panel.hpp"
#include "window/layout.hpp"
#include "window/lettering.hpp"
#include "window/section_panel.hpp"
#include "window/view_panel.hpp"

namespace standproud::viewer {

namespace {

constexpr int least_width = 900;
constexpr int least_height = 560;

/// As it was asked for, else for letters of this size, as far as the screen has room.
std::pair<int, int> size_wanted(const WindowOptions& options, double scale) {
    if (options.width > 0) return {options.width, options.height};
    if (scale <= 0) scale = lettering(screen_dots());
    int x = 0;
    int y = 0;
    int width = 0;
    int height = 0;
    if (GLFWmonitor* monitor = glfwGetPrimaryMonitor()) glfwGetMonitorWorkarea(monitor, &x, &y, &width, &height);
    const auto fitting = [&](int plain, int room, int least) {
        const int wanted = static_cast<int>(plain * scale);
        return std::max(room > 0 ? std::min(wanted, room) : wanted, least);
    };
    return {fitting(1280, width, least_width), fitting(800, height, least_height)};
}

/// The parts of a window that GLFW and Dear ImGui hold for us, given back in the right order.
class Shell {
  public:
    /// `scale` of lettering; 0: as the screen has it.
    Shell(const WindowOptions& options, double scale) {
        if (!glfwInit())
            throw FileError("there is no display to open a window on; for a picture, use --snapshot under xvfb-run");
        glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
        glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
        glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
        glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
        const auto [width, height] = size_wanted(options, scale);
        window = glfwCreateWindow(width, height, "standproud", nullptr, nullptr);
        if (!window) {
            glfwTerminate();
            throw FileError("this display has no OpenGL 3.3, which the window needs");
        }
        glfwSetWindowSizeLimits(window, least_width, least_height, GLFW_DONT_CARE, GLFW_DONT_CARE);
        glfwMakeContextCurrent(window);
        glfwSwapInterval(1);
    }
    ~Shell() {
        if (ImGui::GetCurrentContext()) {
            ImGui_ImplOpenGL3_Shutdown();
            ImGui_ImplGlfw_Shutdown();
            ImGui::DestroyContext();
        }
        glfwDestroyWindow(window);
        glfwTerminate();
    }
    Shell(const Shell&) = delete;
    Shell& operator=(const Shell&) = delete;

    /// After our own callbacks are set, so that both are called.
    void start_panels() const {
        ImGui::CreateContext();
        // Tab and arrows go through the fields of a panel, Space and Enter press what they are on.
        ImGui::GetIO().ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        ImGui::GetIO().IniFilename = nullptr;  // the layout is ours, and the same every time
        ImGui_ImplGlfw_InitForOpenGL(window, true);
        ImGui_ImplOpenGL3_Init("#version 330 core");
    }

    GLFWwindow* window = nullptr;
};

/// Key presses, handed on so that each is seen for a frame at least: in a slow frame both press and release of a quick
/// tap would come at once, and Dear ImGui would see neither.
class Keys {
  public:
    struct Event {
        int key, code, action, held;
    };
    void add(Event event) { waiting_.push_back(event); }
    /// Hands on what can be seen in this frame; true when some are left for the next.
    bool hand_on(GLFWwindow* window) {
        std::size_t taken = 0;
        bool pressed = false;
        // A frame has no more than one key pressed, and whatever is held with it is still held.
        std::set<int> released;
        while (taken < waiting_.size() && !pressed) {
            const Event& event = waiting_[taken];
            // Let go and pressed again is seen only if a frame lies between.
            if (event.action == GLFW_PRESS && released.count(event.key)) break;
            if (event.action == GLFW_RELEASE) released.insert(event.key);
            ++taken;
            ImGui_ImplGlfw_KeyCallback(window, event.key, event.code, event.action, event.held);
            const bool modifier = event.key >= GLFW_KEY_LEFT_SHIFT && event.key <= GLFW_KEY_RIGHT_SUPER;
            pressed = event.action == GLFW_PRESS && !modifier;
        }
        waiting_.erase(waiting_.begin(), waiting_.begin() + static_cast<std::ptrdiff_t>(taken));
        return !waiting_.empty();
    }

  private:
    std::vector<Event> waiting_;
};

/// What an event changes may take the panels some frames to settle.
constexpr int settle = 4;

/// What GLFW's callbacks reach.
struct Reached {
    App app;
    Keys keys;
    int frames = settle;  ///< still to be drawn without waiting
};

Reached& reached(GLFWwindow* window) { return *static_cast<Reached*>(glfwGetWindowUserPointer(window)); }

void on_key(GLFWwindow* window, int key, int code, int action, int held) {
    reached(window).keys.add({key, code, action, held});
    reached(window).frames = settle;
}

/// An event may come while frames are being drawn: those after it must be drawn, too.
void set_wakers(GLFWwindow* window) {
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int, int, int) { reached(w).frames = settle; });
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double, double) { reached(w).frames = settle; });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double, double) { reached(w).frames = settle; });
    glfwSetCharCallback(window, [](GLFWwindow* w, unsigned) { reached(w).frames = settle; });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { reached(w).frames = settle; });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { reached(w).frames = settle; });
}

App& app_of(GLFWwindow* window) { return reached(window).app; }

void on_drop(GLFWwindow* window, int count, const char** paths) {
    if (count < 1) return;
    App& app = app_of(window);
    const std::string file = paths[0];
    when_saved(app, "Open another job?", [&app, file] { open_job_file(app, file); });
}

void on_focus(GLFWwindow* window, int focused) {
    if (focused) look_at_disk(app_of(window));
}

void set_lettering(App& app) {
    app.look.scale = app.wanted_scale > 0 ? app.wanted_scale : lettering(screen_dots());
    load_fonts(app.look.scale);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
    set_theme(app.look.dark, app.look.scale);
    app.rebuild_fonts = false;
}

constexpr ImGuiWindowFlags fixed = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                                   ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_NoBringToFrontOnFocus |
                                   ImGuiWindowFlags_NoSavedSettings;

bool begin_area(const char* name, float x, float y, float width, float height, ImGuiWindowFlags more = 0) {
    ImGui::SetNextWindowPos(ImVec2(x, y));
    ImGui::SetNextWindowSize(ImVec2(width, height));
    return ImGui::Begin(name, nullptr, fixed | more);
}

void draw_left(App& app, float x, float y, float width, float height) {
    const float list = std::max(0.46F * height, 12 * ImGui::GetFontSize());
    if (begin_area("findings", x, y, width, list)) draw_findings(app);
    ImGui::End();
    if (begin_area("detail", x, y + list, width, height - list)) draw_detail(app);
    ImGui::End();
}

/// Tabs are narrow, so that all of them go side by side. The bar remembers its padding from its begin.
struct NarrowTabs {
    NarrowTabs() {
        ImGui::PushStyleVar(ImGuiStyleVar_ItemInnerSpacing, ImVec2(2, 2));
        const ImGuiStyle& style = ImGui::GetStyle();
        ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0.5F * style.FramePadding.x, style.FramePadding.y));
    }
    ~NarrowTabs() { ImGui::PopStyleVar(2); }
    NarrowTabs(const NarrowTabs&) = delete;
    NarrowTabs& operator=(const NarrowTabs&) = delete;
};

bool begin_tabs() {
    const NarrowTabs narrow;
    return ImGui::BeginTabBar("tabs");
}

bool begin_tab(App& app, const char* name, bool to_front = false) {
    const NarrowTabs narrow;
    if (app.tab_wanted == name) {
        to_front = true;
        app.tab_wanted.clear();
        ImGui::SetWindowFocus();
    }
    const bool open = ImGui::BeginTabItem(name, nullptr, to_front ? ImGuiTabItemFlags_SetSelected : 0);
    note_place(app, fmt::format("tab {}", name));
    return open;
}

void draw_tab(App& app, const char* name, void (*draw)(App&)) {
    if (!begin_tab(app, name)) return;
    draw(app);
    ImGui::EndTabItem();
}

/// The left column's two, one above the other in a tab.
void draw_findings_tab(App& app) {
    if (!begin_tab(app, "Findings", app.find_text)) return;
    const float height = ImGui::GetContentRegionAvail().y;
    ImGui::BeginChild("findings",
                      ImVec2(0, std::min(std::max(0.46F * height, 12 * ImGui::GetFontSize()), 0.6F * height)));
    draw_findings(app);
    ImGui::EndChild();
    ImGui::Separator();
    ImGui::BeginChild("detail");
    draw_detail(app);
    ImGui::EndChild();
    ImGui::EndTabItem();
}

void draw_right(App& app, float x, float y, float width, float height, bool with_findings) {
    if (begin_area("right", x, y, width, height) && begin_tabs()) {
        if (with_findings) draw_findings_tab(app);
        draw_tab(app, "Fitting", draw_fitting);
        draw_tab(app, "Walls", draw_walls);
        app.bench.joins_shown = begin_tab(app, "Joins", app.bench.show_joins);
        app.bench.show_joins = false;
        if (app.bench.joins_shown) {
            draw_joins_tab(app);
            ImGui::EndTabItem();
        }
        // Its picture is there as long as the panel is.
        const bool survey = app.document->job->model.survey && begin_tab(app, "Survey");
        if (survey) {
            draw_survey(app);
            ImGui::EndTabItem();
        }
        if (app.look.survey.on != survey) app.scene_changed = true;
        app.look.survey.on = survey;
        if (app.earlier) {
            const bool changes = begin_tab(app, "Changes", app.show_changes);
            app.show_changes = false;
            if (changes) {
                draw_changes(app);
                ImGui::EndTabItem();
            }
        }
        draw_tab(app, "Show", draw_show);
        ImGui::EndTabBar();
    }
    ImGui::End();
}

/// While the text has faults, the picture and the findings are those of an earlier text.
float draw_faults(App& app, float x, float y, float width) {
    const auto& faults = app.document->faults;
    if (faults.empty()) return 0;
    const float line = ImGui::GetTextLineHeightWithSpacing();
    const float height = line * static_cast<float>(std::min<std::size_t>(2 * faults.size() + 1, 7)) + line;
    ImGui::PushStyleColor(ImGuiCol_WindowBg,
                          app.look.dark ? ImVec4(0.36F, 0.22F, 0.1F, 1) : ImVec4(1, 0.92F, 0.82F, 1));
    if (begin_area("faults", x, y, width, height)) {
        ImGui::TextUnformatted(app.document->job ? "The file has faults; what is shown is as it was before them."
                                                 : "The file has faults; there is nothing to show yet.");
        for (const auto& fault : faults) ImGui::TextWrapped("%s", to_string(fault).c_str());
    }
    ImGui::End();
    ImGui::PopStyleColor();
    return height;
}

/// What draws pictures of its own.
struct Pictures {
    ViewPanel view;
    SectionPanel section;
    DrawingsPanel drawings;
    explicit Pictures(GLFWwindow* window) : view(window) {}
};

void draw_middle(App& app, Pictures& pictures) {
    if (app.bench.middle == Middle::panels) return draw_unfolded(app);
    if (app.bench.middle == Middle::drawings) return pictures.drawings.draw(app);
    pictures.view.draw(app);
}

void draw_all(App& app, Pictures& pictures) {
    const bool good = app.document && app.document->job;
    if (good && (app.fly_to || app.show_whole)) app.bench.middle = Middle::recess;  // that is where it is seen
    draw_menu(app);
    const ImVec2 screen = ImGui::GetMainViewport()->Size;
    const float em = ImGui::GetFontSize();
    const float top = ImGui::GetFrameHeight();
    const float bottom = 2.4F * em;
    const float height = screen.y - top - bottom;
    const Middle shows = app.bench.middle;
    app.bench.joins_shown = false;
    const auto [left, right, one] = columns(
        screen.x, em, {good && shows == Middle::recess, good && shows != Middle::drawings, app.earlier != nullptr});
    if (left > 0) draw_left(app, 0, top, left, height);
    if (right > 0) draw_right(app, screen.x - right, top, right, height, one);
    const float middle = screen.x - left - right;
    const float faults = app.document ? draw_faults(app, left, top, middle) : 0;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, good ? ImVec2(0, 0) : ImVec2(2 * em, em));
    if (begin_area("middle", left, top + faults, middle, height - faults, ImGuiWindowFlags_NoScrollbar)) {
        if (good) {
            draw_middle(app, pictures);
        } else if (!app.document) {
            draw_welcome(app);
        }
    }
    ImGui::End();
    ImGui::PopStyleVar();
    if (begin_area("status", 0, screen.y - bottom, screen.x, bottom, ImGuiWindowFlags_NoScrollbar)) draw_status(app);
    ImGui::End();
    pictures.section.draw(app);
    draw_keys(app);
    draw_file_dialog(app);
    if (good) draw_adding(app);
    if (good) draw_form(app);
    draw_new(app);
    if (good) draw_new_bench(app);
    draw_questions(app);
}

void set_title(GLFWwindow* window, const App& app, std::string& shown) {
    std::string title = "standproud";
    if (app.document) {
        title = fmt::format("{}{} - standproud", unsaved(*app.document) ? "* " : "",
                            app.document->file.filename().string());
    }
    if (title == shown) return;
    glfwSetWindowTitle(window, title.c_str());
    shown = title;
}

/// Keeps changes beside the file once the user has paused.
class Autosaver {
  public:
    /// Seconds until there is something to do; negative for never.
    double wait(App& app) {
        if (!app.document) return -1;
        const std::size_t now = std::hash<std::string>{}(app.document->file.string() + app.document->text);
        if (now != seen_) {
            seen_ = now;
            due_ = glfwGetTime() + 2;
            pending_ = unsaved(*app.document);
        }
        if (!pending_) return -1;
        if (glfwGetTime() < due_) return due_ - glfwGetTime();
        pending_ = false;
        try {
            autosave(*app.document);
        } catch (const FileError& error) {
            outcome(app, error.what(), "");
        }
        return -1;
    }

  private:
    std::size_t seen_ = 0;
    double due_ = 0;
    bool pending_ = false;
};

void write_places(App& app, const std::string& file, int frame) {
    std::string text = fmt::format("frame {}\nwork {}\n", frame, app.work.busy() || app.bench.work.busy() ? 1 : 0);
    for (const auto& [name, r] : *app.places) {
        text += fmt::format("{:.0f} {:.0f} {:.0f} {:.0f} {}\n", r[0], r[1], r[2], r[3], name);
    }
    text += fmt::format("message {}\n", app.message);
    write_whole(file, text);
}

/// Dear ImGui presses what is framed by Space alone.
void let_enter_press() {
    ImGuiIO& io = ImGui::GetIO();
    const bool down = io.KeysDown[GLFW_KEY_ENTER] || io.KeysDown[GLFW_KEY_KP_ENTER];
    if (down && !io.KeyCtrl) io.NavInputs[ImGuiNavInput_Activate] = 1;
}

/// Begins a frame, in which at most one thing is let go of by Escape. What is there to be let go of is seen before Dear
/// ImGui has taken the key for itself.
void begin_frame(App& app) {
    const EscapeStep next = next_escape(app);
    const int lists = lists_open();
    ImGui::NewFrame();
    app.escape = ImGui::IsKeyPressed(GLFW_KEY_ESCAPE, false) ? next : EscapeStep::nothing;
    if (app.escape == EscapeStep::list && lists_open() == lists) close_list();
    take_escape(app);
}

void draw_frame(App& app, GLFWwindow* window, Pictures& pictures) {
    if (app.rebuild_fonts) set_lettering(app);
    if (app.places) app.places->clear();
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    let_enter_press();
    begin_frame(app);
    tend_bench(app);
    run_shortcuts(app);
    draw_all(app, pictures);
    ImGui::Render();
    if (app.bench.middle == Middle::recess || !app.snapshot.empty()) pictures.view.render(app);
    int width = 0;
    int height = 0;
    glfwGetFramebufferSize(window, &width, &height);
    glViewport(0, 0, width, height);
    glClearColor(0.5F, 0.5F, 0.5F, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window);
}

void close_if_asked(App& app, GLFWwindow* window) {
    if (!glfwWindowShouldClose(window) || app.quit) return;
    glfwSetWindowShouldClose(window, GLFW_FALSE);
    if (!app.question) when_saved(app, "Quit?", [&app] { app.quit = true; });
}

void run_loop(App& app, GLFWwindow* window, const WindowOptions& options) {
    Pictures pictures(window);
    Autosaver autosaver;
    std::string title;
    int& frames = reached(window).frames;
    int drawn = 0;
    while (!app.quit) {
        const double wait = autosaver.wait(app);
        const bool moving = app.bench.middle == Middle::recess && pictures.view.moving();
        if (frames > 0 || moving) {
            glfwPollEvents();
        } else if (app.work.busy()) {
            glfwWaitEventsTimeout(0.2);
            frames = 1;
        } else if (wait > 0) {
            glfwWaitEventsTimeout(wait);
            frames = settle;
        } else {
            glfwWaitEvents();
            frames = settle;
        }
        if (reached(window).keys.hand_on(window)) frames = std::max(frames, 2);
        app.work.poll();
        close_if_asked(app, window);
        draw_frame(app, window, pictures);
        set_title(window, app, title);
        --frames;
        const bool seen = app.bench.middle == Middle::recess;
        const bool wish = app.document && app.document->job && (app.fly_to || app.show_whole);
        if ((seen && app.scene_changed) || wish || app.rebuild_fonts) frames = std::max(frames, 2);
        if (app.places && frames <= 0 && !(seen && pictures.view.moving())) write_places(app, options.places, ++drawn);
    }
}

}  // namespace

void run_window(const WindowOptions& options) {
    Message::DefaultMessenger()->ChangePrinters().Clear();  // the kernel's remarks are not for our users
    Reached reach;
    App& app = reach.app;
    app.settings = load_settings();
    // What the command line says holds for this time; the settings keep what was chosen in the window.
    app.look.dark = options.dark || app.settings.dark;
    app.look.inches = app.settings.inches;
    app.wanted_scale = options.scale > 0 ? options.scale : app.settings.scale;
    if (!options.places.empty()) app.places.emplace();
    const Shell shell(options, app.wanted_scale);
    glfwSetWindowUserPointer(shell.window, &reach);
    glfwSetDropCallback(shell.window, on_drop);
    glfwSetWindowFocusCallback(shell.window, on_focus);
    set_wakers(shell.window);
    shell.start_panels();
    glfwSetKeyCallback(shell.window, on_key);
    if (!options.job.empty()) open_job_file(app, options.job);
    if (!options.job.empty() && !app.document) throw FileError(app.message);
    try {
        run_loop(app, shell.window, options);
    } catch (const Standard_Failure& failure) {
        // Whatever went wrong in the picture, the changes are kept.
        if (app.document) autosave(*app.document);
        throw std::runtime_error(failure.GetMessageString());
    } catch (const std::exception&) {
        if (app.document) autosave(*app.document);
        throw;
    }
}

}  // namespace standproud::viewer
