// Clearances timed: Google Benchmark. scripts/bench.sh prints the ratios.
#include <benchmark/benchmark.h>

#include <algorithm>

#include "bench/scene.hpp"
#include "modeler/job_reader.hpp"
#include "modeler/kernel_clearance.hpp"
#include "modeler/scene.hpp"
#include "modeler/solids.hpp"
#include "rules/advise.hpp"
#include "rules/check.hpp"
#include "rules/limits.hpp"
#include "support/references.hpp"

namespace standproud {

namespace {

constexpr double clearance = 50;

Nearness within_50() {
    Nearness nearness;
    nearness.largest = clearance;
    return nearness;
}

/// The same three everywhere: the table has one heading.
void note(benchmark::State& state, std::size_t solids, std::size_t pairs, std::size_t over) {
    state.counters["solids"] = double(solids);
    state.counters["pairs"] = double(pairs);
    state.counters["overlaps"] = double(over);
}

/// Parts to pairs: bodies, broad phase, narrow phase.
void whole(benchmark::State& state) {
    const auto parts = bench::recess(double(state.range(0)) / 10);
    std::size_t pairs = 0;
    std::size_t over = 0;
    for (auto _ : state) {
        const auto near = near_pairs(make_bodies(parts), within_50());
        pairs = near.size();
        over = static_cast<std::size_t>(std::count_if(near.begin(), near.end(), overlaps));
        benchmark::DoNotOptimize(near);
    }
    note(state, parts.size(), pairs, over);
}
BENCHMARK(whole)->ArgName("tilt_tenths")->Arg(0)->Arg(5)->Unit(benchmark::kMicrosecond);

/// One fitting of five solids moved: its bodies made again, its pairs judged again.
void one_fitting_moved(benchmark::State& state) {
    auto parts = bench::recess();
    auto bodies = make_bodies(parts);
    auto result = near_pairs(bodies, within_50());
    std::vector<std::size_t> changed;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (parts[i].id.starts_with("back/fitting-2/")) changed.push_back(i);
    }
    double step = 1;
    for (auto _ : state) {
        step = -step;
        for (const std::size_t i : changed) {
            parts[i].outline = moved(parts[i].outline, {step, 0});
            bodies[i] = make_body(parts[i], i);
        }
        result = near_pairs(result, bodies, changed, within_50());
        benchmark::DoNotOptimize(result);
    }
    note(state, changed.size(), result.size(), 0);
}
BENCHMARK(one_fitting_moved)->Unit(benchmark::kMicrosecond);

/// Boolean common on every pair, solids made before.
void common_on_all_pairs(benchmark::State& state) {
    std::vector<TopoDS_Shape> solids;
    for (const auto& part : bench::recess()) solids.push_back(make_solid(part));
    std::size_t over = 0;
    for (auto _ : state) {
        over = 0;
        for (std::size_t i = 0; i < solids.size(); ++i) {
            for (std::size_t j = i + 1; j < solids.size(); ++j) {
                over += kernel_overlap(solids[i], solids[j]).volume > 0 ? 1 : 0;
            }
        }
    }
    note(state, solids.size(), solids.size() * (solids.size() - 1) / 2, over);
}
BENCHMARK(common_on_all_pairs)->Unit(benchmark::kMicrosecond)->Iterations(1);

/// FCL's tree and distances on meshes of 0.1 mm, made before.
void fcl_meshes(benchmark::State& state) {
    const references::MeshScene scene(bench::recess(), 0.1);
    std::size_t pairs = 0;
    for (auto _ : state) pairs = scene.near(clearance);
    note(state, 0, pairs, 0);
}
BENCHMARK(fcl_meshes)->Unit(benchmark::kMicrosecond)->MinTime(0.5);

void rooms(benchmark::State& state) {
    const auto parts = bench::recesses(static_cast<std::size_t>(state.range(0)));
    Nearness nearness = within_50();
    nearness.threads = static_cast<unsigned>(state.range(1));
    std::size_t pairs = 0;
    for (auto _ : state) {
        const auto near = near_pairs(make_bodies(parts), nearness);
        pairs = near.size();
        benchmark::DoNotOptimize(near);
    }
    note(state, parts.size(), pairs, 0);
}
BENCHMARK(rooms)
    ->ArgNames({"rooms", "threads"})
    ->Args({1, 1})
    ->Args({3, 1})
    ->Args({10, 1})
    ->Args({29, 1})
    ->Args({29, 0})
    ->Unit(benchmark::kMicrosecond)
    ->UseRealTime();

void broad_sweep(benchmark::State& state) {
    const auto bodies = make_bodies(bench::recesses(static_cast<std::size_t>(state.range(0))));
    std::size_t pairs = 0;
    for (auto _ : state) {
        const auto near = near_boxes(bodies, clearance);
        pairs = near.size();
        benchmark::DoNotOptimize(near);
    }
    note(state, bodies.size(), pairs, 0);
}
BENCHMARK(broad_sweep)->Arg(1)->Arg(29)->Unit(benchmark::kMicrosecond);

/// The same boxes under FCL's tree, made anew each time as ours is.
void broad_fcl_tree(benchmark::State& state) {
    const auto bodies = make_bodies(bench::recesses(static_cast<std::size_t>(state.range(0))));
    std::vector<std::pair<RoomPoint, RoomPoint>> boxes;
    const RoomPoint half{clearance / 2, clearance / 2, clearance / 2};
    for (const auto& body : bodies) boxes.emplace_back(body.box.low - half, body.box.high + half);
    std::size_t pairs = 0;
    for (auto _ : state) pairs = references::fcl_box_pairs(boxes);
    note(state, bodies.size(), pairs, 0);
}
BENCHMARK(broad_fcl_tree)->Arg(1)->Arg(29)->Unit(benchmark::kMicrosecond);

constexpr const char* demos[] = {"bath-renovation", "corner-mixer", "level-entry", "old-stable", "twin-taps"};

Job demo(const benchmark::State& state, Faults& faults) {
    return as_fixed(read_job(std::string(STANDPROUD_SOURCE_DIR "/models/") + demos[state.range(0)] + ".toml", faults));
}

/// Each demo job, read before: laid out, placed, and judged by every rule, without advice.
void whole_check(benchmark::State& state) {
    Faults faults;
    const Job job = demo(state, faults);
    const auto limits = rules::limits_for(job, faults);
    std::size_t findings = 0;
    for (auto _ : state) {
        const Model model = build_model(job, faults);
        findings = rules::check(model, limits).size();
        benchmark::DoNotOptimize(findings);
    }
    note(state, build_scene(build_model(job, faults), 2, 30).things.size(), findings, 0);
}
BENCHMARK(whole_check)->DenseRange(0, 4)->Unit(benchmark::kMicrosecond);

/// The same with what to do about every finding.
void whole_check_advised(benchmark::State& state) {
    Faults faults;
    const Job job = demo(state, faults);
    const auto limits = rules::limits_for(job, faults);
    std::size_t moves = 0;
    for (auto _ : state) {
        const Model model = build_model(job, faults);
        rules::Distances measured;
        auto findings = rules::check(model, limits, measured);
        rules::advise(model, limits, measured, findings);
        moves = 0;
        for (const auto& finding : findings) moves += finding.clash ? finding.clash->moves.size() : 0;
        benchmark::DoNotOptimize(moves);
    }
    note(state, 0, moves, 0);
}
BENCHMARK(whole_check_advised)->DenseRange(0, 4)->Unit(benchmark::kMicrosecond);

/// Without advice, with the distances of the check before at hand, one fitting moved by a millimetre to and fro.
void whole_check_again(benchmark::State& state) {
    Faults faults;
    Job job = demo(state, faults);
    const auto limits = rules::limits_for(job, faults);
    rules::Distances kept;
    (void)rules::check(build_model(job, faults), limits, kept);
    std::size_t findings = 0;
    double step = 1;
    for (auto _ : state) {
        step = -step;
        job.fittings.front().across.distance += step;
        const Model model = build_model(job, faults);
        findings = rules::check(model, limits, kept).size();
        benchmark::DoNotOptimize(findings);
    }
    note(state, kept.again, findings, 0);
}
BENCHMARK(whole_check_again)->DenseRange(0, 4)->Unit(benchmark::kMicrosecond);

}  // namespace

}  // namespace standproud

BENCHMARK_MAIN();
