// What the window's panels share. Panels read it, call the state library's commands, and leave wishes for the 3D view.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "scene/look.hpp"
#include "viewer/earlier.hpp"
#include "viewer/new_job.hpp"
#include "viewer/state.hpp"
#include "window/bench_desk.hpp"
#include "window/entry_form.hpp"
#include "window/escape.hpp"
#include "window/file_dialog.hpp"
#include "window/settings.hpp"
#include "window/work.hpp"

namespace standproud::viewer {

/// A question that must be answered before anything else.
struct Question {
    std::string title;
    std::string words;
    std::vector<std::pair<std::string, std::function<void()>>> answers;
};

/// Two picks and what lies between them.
struct Measure {
    bool on = false;
    std::vector<RoomPoint> points;  ///< what was picked
    std::vector<RoomPoint> ends;    ///< of the shortest line between the two things picked
    std::string words;
};

/// What is typed into the fitting panel and not yet taken.
struct FittingDraft {
    std::string of;  ///< the fitting and the generation it was read from
    double across = 0;
    double height = 0;
    double seat = 0;
    double measured = 0;
    double measured_tolerance = 0.5;
    std::string date;
    std::string by;
};

/// A number that is typed and not yet taken.
struct NumberDraft {
    std::string of;  ///< the state of the document that it was read from
    double value = 0;
};

struct TextDraft {
    std::string of;
    std::string value;
};

struct ColourDraft {
    std::string of;
    std::array<float, 3> value{};  ///< sRGB, 0 to 1
};

struct App {
    std::optional<Document> document;
    Settings settings;
    Look look;
    FindingFilter filter;
    std::optional<std::size_t> listed_choice;  ///< the finding that the list has brought into sight
    FittingDraft draft;
    NewFitting added;
    std::map<std::string, NumberDraft> numbers;  ///< by their paths in the job file
    std::map<std::string, TextDraft> texts;
    std::map<std::string, ColourDraft> colours;
    std::size_t wall = 0;  ///< shown in the walls panel
    FileDialog dialog;
    std::optional<Question> question;
    std::optional<EntryForm> form;
    Work work;
    BenchDesk bench;
    Measure measure;
    std::shared_ptr<const Earlier> earlier;  ///< what the job is compared with
    rules::Comparison changes;               ///< since then, of generation `changes_of`
    std::uint64_t changes_of = 0;
    bool show_changes = false;  ///< bring their panel to the front

    std::string message;  ///< the last thing done or refused, in the status line
    bool refused = false;

    // Wishes for the 3D view and the window.
    std::optional<Pose> fly_to;
    bool show_whole = false;  ///< the whole recess, at once: of a job just opened, as soon as there is one to be seen
    bool scene_changed = true;
    bool flip_perspective = false;
    bool perspective = true;                  ///< as the view is now
    EscapeStep escape = EscapeStep::nothing;  ///< what Escape, pressed in this frame, lets go of
    bool drag_fitting = false;                ///< the mouse moves the chosen fitting, or a join, instead of the eye
    bool show_section = false;
    bool show_keys = false;
    bool adding = false;
    std::optional<NewJob> answers;  ///< of the new job that is being asked about
    bool find_text = false;         ///< put the caret into the filter
    bool rebuild_fonts = true;
    double wanted_scale = 0;  ///< of lettering; 0: as the screen says
    std::string tab_wanted;   ///< the tab to bring to the front, with the keyboard in it
    bool quit = false;
    std::string snapshot;  ///< a picture to write after the next frame

    std::optional<std::map<std::string, std::array<float, 4>>> places;  ///< where things are on screen, for tests
};

// Doing things, with their outcome in the status line.
void say(App& app, const std::string& words);
/// Takes a command's refusal, or "" for done, and what was done.
void outcome(App& app, const Refusal& refusal, const std::string& done);
void open_job_file(App& app, const std::filesystem::path& file);
void begin_new(App& app);
/// Asks about unsaved changes first.
void when_saved(App& app, const std::string& title, std::function<void()> then);
bool save_job(App& app, bool over = false);
void choose_and_fly(App& app, std::size_t finding);
void step_finding(App& app, int by);
/// All of what the middle of the window shows.
void fit_in(App& app);
void set_dark(App& app, bool dark);
void set_inches(App& app, bool inches);
void set_scale(App& app, double scale);  ///< 0: as the screen has it
void compare_with(App& app, const std::filesystem::path& file);
void end_comparison(App& app);
void export_step(App& app, const std::filesystem::path& file);
void export_report(App& app, const std::filesystem::path& file);
void export_setouts(App& app, const std::filesystem::path& folder);
void export_sections(App& app, const std::filesystem::path& folder);
/// Changed on disk while we were not looking?
void look_at_disk(App& app);

/// The last item drawn, by name: where tests click.
void note_place(App& app, const std::string& name);

// Panels.
void draw_menu(App& app);
void run_shortcuts(App& app);
/// A form or question stands in the way of everything else.
bool form_open(const App& app);
/// What a press of Escape would let go of now.
EscapeStep next_escape(const App& app);
/// Lets go of it, where it is not a list or form: those close themselves.
void take_escape(App& app);
void draw_findings(App& app);
void draw_detail(App& app);
void draw_show(App& app);
void draw_fitting(App& app);
void draw_walls(App& app);
void draw_survey(App& app);
void draw_changes(App& app);
void draw_status(App& app);
void draw_questions(App& app);
void draw_keys(App& app);
void draw_welcome(App& app);
void draw_adding(App& app);
void draw_new(App& app);

// Looks.
void set_theme(bool dark, double scale);
void load_fonts(double scale);
/// Words at the pointer, in lines of a readable length.
void tooltip(const std::string& words);
/// Wrapped words in the quieter ink.
void faint(const std::string& words);
/// A coloured sign for a verdict.
void verdict_chip(rules::Verdict verdict, bool with_word);

}  // namespace standproud::viewer
