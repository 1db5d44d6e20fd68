// The installer's bench in the window: what its panels share. One file a panel.
#pragma once

#include <cstdint>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "viewer/bench_view.hpp"
#include "window/work.hpp"

struct ImVec2;

namespace standproud::viewer {

struct App;

/// What the middle of the window shows.
enum class Middle { recess, panels, drawings };

/// How a plan is moved and enlarged on screen.
struct PlanView {
    double pixels = 0;   ///< to a mm
    Vec2 middle;         ///< what is seen in the middle of the picture
    bool moved = false;  ///< by hand; else all of it is fitted in, whatever the window's size
};

/// A join of an unfolded wall that the mouse holds.
struct HeldJoin {
    std::size_t wall = 0;
    std::size_t join = 0;
    double x = 0;       ///< of the pointer when it was taken
    double start = 0;   ///< of the join then
    double across = 0;  ///< as written then
    double sign = 1;
    bool moved = false;  ///< until then it may have been a click
};

struct BenchDesk {
    Middle middle = Middle::recess;
    BenchView view;
    std::stop_source stop;                ///< breaks off the work under way
    Work work;                            ///< of its own: solids and exports go on beside it
    bool show_joins = false;              ///< bring their tab to the front
    bool joins_shown = false;             ///< that tab is open
    std::optional<BenchAnswers> answers;  ///< to what a job without a bench is asked

    std::vector<UnfoldedWall> walls;
    std::uint64_t unfolded = 0;  ///< the generation that `walls` are of
    PlanView plan;
    std::optional<HeldJoin> held;
    std::string pointed_wall;     ///< whose proposed layout the pointer is on
    std::vector<double> pointed;  ///< its places
    std::size_t page = 0;
    PlanView paper;

    ~BenchDesk() { stop.request_stop(); }  // else the window's end waits for the work's
};

/// Before anything is drawn: takes results, begins work that is wanted. Never while the mouse holds something.
void tend_bench(App& app);
/// After another job was opened.
void clear_bench(App& app);
void show_middle(App& app, Middle middle);
/// Back and forth among the drawings.
void turn_page(App& app, int by);

/// The switch between the three, at the right end of the menu bar.
void draw_middle_switch(App& app);
/// The walls side by side.
void draw_unfolded(App& app);
/// Scores, layouts to take over, and what stands against better ones.
void draw_joins_tab(App& app);
/// What a job without a bench is asked.
void draw_new_bench(App& app);
/// What lacks, and the button that asks for it; true when nothing lacks.
bool draw_lack(App& app);

/// "join 1 of back: left 744 bare / 726 finished, right ...; 1 join, 2 new sheets ...", at height v.
std::string join_words(App& app, std::size_t wall, std::size_t join, double v);
/// The live score of a wall on a card whose left top corner is `at`; nothing where there is none.
void draw_score_card(App& app, std::size_t wall, const ImVec2& at);

/// Words in lines no wider than this, broken at spaces only: the toolkit would break "228.00" behind its point.
std::string in_lines(const std::string& words, float width, float letters);
/// The same as an item, as wide as there is room; `quiet`: in the quieter ink.
void say_lines(const std::string& words, bool quiet);

/// Takes wheel and dragging with a button over the last item.
void move_plan(PlanView& plan, const ImVec2& at, const ImVec2& size, bool may_drag);

}  // namespace standproud::viewer
