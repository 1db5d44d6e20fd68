// The window timed without its panels: Google Benchmark, on a virtual screen. scripts/bench.sh prints the ratios.
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Xw_Window.hxx>
#include <filesystem>
#include <map>
#include <stdexcept>

#include "modeler/files.hpp"
#include "scene/scene.hpp"
#include "scene/screen.hpp"
#include "viewer/bench_view.hpp"
#include "viewer/state.hpp"

namespace standproud::viewer {

namespace {

/// A long wall with so many taps of six solids each, and their holes; a join every 1200 mm.
std::string long_wall(int taps) {
    std::string text = fmt::format(
        "[job]\nname = \"long wall\"\ndatum = \"floor\"\n"
        "[[layers]]\nkind = \"board\"\nname = \"board\"\nthickness = \"9 +/- 0.3\"\n"
        "[[layers]]\nkind = \"bed\"\nname = \"bed\"\nthickness = \"2 +/- 0.5\"\n"
        "[[layers]]\nkind = \"panel\"\nname = \"panel\"\nthickness = \"6 +/- 0.3\"\n"
        "[[walls]]\nid = \"w\"\nwidth = {}\nheight = 2400\n[walls.studs]\nwidth = 45\ndepth = 90\ncentres = [22.5]\n",
        120 * taps + 200);
    for (int at = 1300; at < 120 * taps; at += 1200)
        text += fmt::format("[[walls.joins]]\nacross = {}\nfrom = \"left bare\"\n", at);
    text +=
        "[[types]]\nid = \"t\"\nname = \"tap\"\nfamily = \"spindle\"\ntrade = \"plumber\"\nconnection = \"s\"\n"
        "spindle_length = \"60 +/- 1\"\nproud_min = 10\nproud_max = 60\nholes = [{diameter = 30, passes = 20}]\n"
        "flanges = [{diameter = 60}]\n";
    for (const auto& [role, from, diameter, start, length] : {std::tuple{"body", "seat", 40, -30, 30},
                                                              {"body", "seat", 30, -60, 30},
                                                              {"body", "seat", 20, -80, 20},
                                                              {"spindle", "seat", 16, 0, 60},
                                                              {"flange", "face", 60, 0, 3},
                                                              {"handle", "face", 40, 10, 40}}) {
        text += fmt::format("[[types.parts]]\nrole = \"{}\"\nfrom = \"{}\"\ndiameter = {}\nstart = {}\nlength = {}\n",
                            role, from, diameter, start, length);
    }
    for (int i = 0; i < taps; ++i) {
        text += fmt::format(
            "[[fittings]]\nid = \"f{}\"\ntype = \"t\"\nwall = \"w\"\nacross = {}\nfrom = \"left bare\"\nheight = 1100\n"
            "seat = \"-10 +/- 2\"\n",
            i, 160 + 120 * i);
    }
    return text;
}

/// A job on a stage, drawn once.
struct Shown {
    explicit Shown(int taps) {
        Message::DefaultMessenger()->ChangePrinters().Clear();
        const auto file = std::filesystem::temp_directory_path() / fmt::format("standproud-bench-{}.toml", taps);
        write_whole(file, long_wall(taps));
        document = open_document(file);
        std::filesystem::remove(file);
        if (!document.job) throw std::runtime_error(to_string(document.faults.front()));
        const Handle(Aspect_DisplayConnection) display = open_display();
        driver = open_driver(display);
        stage = make_stage(driver);
        Handle(Xw_Window) window = new Xw_Window(display, "standproud", 0, 0, 1200, 800);
        window->SetVirtual(true);
        stage.view->SetWindow(window);
        scene = std::make_unique<Scene>(stage.view);
        set_pose(stage.view, overview(document, Look{}), 1.5);
        draw();
    }
    void draw() {
        Progress progress;
        store.merge(make_missing(document.parts, keys_of(store), progress));
        scene->show(document, store, look);
        stage.view->Redraw();
    }
    void edit() {
        step = -step;
        across += step;
        if (const auto refusal = move_fitting(document, "f0", across, 1100); !refusal.empty())
            throw std::runtime_error(refusal);
    }
    Document document;
    SolidStore store;
    Look look;
    Handle(OpenGl_GraphicDriver) driver;
    Stage stage;
    std::unique_ptr<Scene> scene;
    double across = 160;
    double step = 1;
};

/// Taps that make some 100 and some 1000 solids.
Shown& shown(int taps) {
    static std::map<int, std::unique_ptr<Shown>> all;
    auto& one = all[taps];
    if (!one) one = std::make_unique<Shown>(taps);
    return *one;
}

void note(benchmark::State& state, const Shown& on) { state.counters["solids"] = double(on.document.parts.size()); }

void edit_to_verdicts(benchmark::State& state) {
    Shown& on = shown(static_cast<int>(state.range(0)));
    for (auto _ : state) on.edit();
    note(state, on);
}
BENCHMARK(edit_to_verdicts)->Arg(14)->Arg(160)->Unit(benchmark::kMicrosecond)->UseRealTime();

void edit_to_pixels(benchmark::State& state) {
    Shown& on = shown(static_cast<int>(state.range(0)));
    for (auto _ : state) {
        on.edit();
        on.draw();
    }
    note(state, on);
}
BENCHMARK(edit_to_pixels)->Arg(14)->Arg(160)->Unit(benchmark::kMicrosecond)->UseRealTime();

void frame(benchmark::State& state) {
    Shown& on = shown(static_cast<int>(state.range(0)));
    double turn = 0.01;
    for (auto _ : state) {
        turn = -turn;
        on.stage.view->Rotate(turn, 0, 0, Standard_True);
        on.stage.view->Redraw();
    }
    note(state, on);
}
BENCHMARK(frame)->Arg(14)->Arg(160)->Unit(benchmark::kMicrosecond)->UseRealTime();

// The installer's bench, on a surveyed demo job.

Document& stable() {
    static Document document = open_document(STANDPROUD_SOURCE_DIR "/models/old-stable.toml");
    return document;
}

/// One step of a drag: text, job, verdicts.
void join_to_verdicts(benchmark::State& state) {
    double across = 0;
    for (auto _ : state) {
        across = across > 0 ? 0 : 20;
        if (!move_join(stable(), 1, 0, across).empty()) state.SkipWithError("not moved");
    }
}
BENCHMARK(join_to_verdicts)->Unit(benchmark::kMicrosecond)->UseRealTime();

/// What follows it: the scores of all three walls, and the walls unfolded.
void joins_scored(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(score_job_joins(*stable().job, "", {}));
}
BENCHMARK(joins_scored)->Unit(benchmark::kMicrosecond)->UseRealTime();

void walls_unfolded(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(unfold(*stable().job));
}
BENCHMARK(walls_unfolded)->Unit(benchmark::kMicrosecond)->UseRealTime();

/// What goes on beside the window.
void bench_worked_out(benchmark::State& state) {
    const auto job = std::make_shared<const CheckedJob>(*stable().job);
    for (auto _ : state) benchmark::DoNotOptimize(work_out({1, job, {}}));
}
BENCHMARK(bench_worked_out)->Unit(benchmark::kMicrosecond)->UseRealTime();

}  // namespace

}  // namespace standproud::viewer

BENCHMARK_MAIN();
