// Clearances timed: Google Benchmark. scripts/bench.sh prints the ratios.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <numeric>

#include "bench/scene.hpp"
#include "modeler/kernel_clearance.hpp"
#include "modeler/solids.hpp"
#include "support/references.hpp"

namespace standproud {

namespace {

constexpr double clearance = 50;

Nearness within_50() {
    Nearness nearness;
    nearness.largest = clearance;
    return nearness;
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
    state.counters["solids"] = double(parts.size());
    state.counters["pairs"] = double(pairs);
    state.counters["overlaps"] = double(over);
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
    state.counters["changed"] = double(changed.size());
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
    state.counters["overlaps"] = double(over);
}
BENCHMARK(common_on_all_pairs)->Unit(benchmark::kMicrosecond)->Iterations(1);

/// FCL's tree and distances on meshes of 0.1 mm, made before.
void fcl_meshes(benchmark::State& state) {
    const references::MeshScene scene(bench::recess(), 0.1);
    std::size_t pairs = 0;
    for (auto _ : state) pairs = scene.near(clearance);
    state.counters["pairs"] = double(pairs);
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
    state.counters["solids"] = double(parts.size());
    state.counters["pairs"] = double(pairs);
}
BENCHMARK(rooms)->ArgNames({"rooms", "threads"})->Args({1, 1})->Args({3, 1})->Args({10, 1})->Args({29, 1})
    ->Args({29, 0})->Unit(benchmark::kMicrosecond)->UseRealTime();

/// The other broad phase that was tried: sort along x, sweep.
std::size_t swept(const std::vector<Body>& bodies, double within) {
    std::vector<std::size_t> order(bodies.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(),
              [&](std::size_t i, std::size_t j) { return bodies[i].box.low.x < bodies[j].box.low.x; });
    std::vector<std::pair<std::size_t, std::size_t>> found;
    for (std::size_t i = 0; i < order.size(); ++i) {
        const Box& a = bodies[order[i]].box;
        for (std::size_t j = i + 1; j < order.size() && bodies[order[j]].box.low.x <= a.high.x + within; ++j) {
            const Box& b = bodies[order[j]].box;
            if (a.low.y <= b.high.y + within && b.low.y <= a.high.y + within && a.low.z <= b.high.z + within &&
                b.low.z <= a.high.z + within) {
                found.emplace_back(std::min(order[i], order[j]), std::max(order[i], order[j]));
            }
        }
    }
    std::sort(found.begin(), found.end());
    return found.size();
}

void broad_tree(benchmark::State& state) {
    const auto bodies = make_bodies(bench::recesses(static_cast<std::size_t>(state.range(0))));
    for (auto _ : state) benchmark::DoNotOptimize(near_boxes(bodies, clearance));
}
BENCHMARK(broad_tree)->Arg(1)->Arg(29)->Unit(benchmark::kMicrosecond);

void broad_sweep(benchmark::State& state) {
    const auto bodies = make_bodies(bench::recesses(static_cast<std::size_t>(state.range(0))));
    for (auto _ : state) benchmark::DoNotOptimize(swept(bodies, clearance));
}
BENCHMARK(broad_sweep)->Arg(1)->Arg(29)->Unit(benchmark::kMicrosecond);

}  // namespace

}  // namespace standproud

BENCHMARK_MAIN();
