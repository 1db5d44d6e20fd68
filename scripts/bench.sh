#!/bin/sh
# Times clearances against the kernel and FCL on one scene, in one run, and prints the ratios. Needs a release build.
set -eu
cd "$(dirname "$0")/.."
build=${1:-build/release}
[ -f "$build/build.ninja" ] || cmake --preset release >/dev/null
cmake --build "$build" --target clearance_bench window_bench standproud standproud-solids >/dev/null
"$build/tests/clearance_bench" --benchmark_format=csv 2>/dev/null >"$build/clearance_bench.csv"
awk -F, '
    /^name,/ { gsub(/"/, ""); for (i = 1; i <= NF; ++i) column[$i] = i; next }
    /^"/ {
        gsub(/"/, "")
        # Processor time, so that other work on the machine does not count; elapsed time where several threads work.
        time[$1] = $1 ~ /threads:0/ ? $3 : $4
        solids[$1] = $(column["solids"]); pairs[$1] = $(column["pairs"])
    }
    function row(label, name) { printf "%-66s %12.3f ms\n", label, time[name] / 1000 }
    function worst(label, name,    i, most) {
        most = 0
        for (i = 1; i < 5; ++i) if (time[name "/" i] > time[name "/" most]) most = i
        row(label " (" demo[most] ")", name "/" most)
    }
    END {
        split("bath-renovation corner-mixer level-entry old-stable twin-taps", demo_of, " ")
        for (i = 1; i <= 5; ++i) demo[i - 1] = demo_of[i]
        whole = "whole/tilt_tenths:0"; all = "common_on_all_pairs/iterations:1"; mesh = "fcl_meshes/min_time:0.500"
        printf "Scene: %d solids, %d pairs within 50 mm\n", solids[whole], pairs[whole]
        row("parts to pairs, one thread", whole)
        row("the same, side walls leaning by half a degree", "whole/tilt_tenths:5")
        row("after moving one fitting", "one_fitting_moved")
        worst("a whole check from the parsed file, worst of the demo jobs", "whole_check")
        worst("the same with what to do about every finding", "whole_check_advised")
        worst("without advice, after moving one fitting", "whole_check_again")
        row("Boolean common on all pairs", all)
        row("FCL meshes of 0.1 mm, distances within 50 mm", mesh)
        printf "%-66s %12.0f times\n", "faster than Boolean common on all pairs", time[all] / time[whole]
        printf "%-66s %12.1f times\n", "faster than FCL meshes", time[mesh] / time[whole]
        small = "rooms/rooms:1/threads:1/real_time"; large = "rooms/rooms:29/threads:1/real_time"
        row(sprintf("%d solids, one thread", solids[large]), large)
        row("the same, all threads", "rooms/rooms:29/threads:0/real_time")
        printf "%-66s %12.2f\n", sprintf("growth exponent from %d to %d solids", solids[small], solids[large]), \
            log(time[large] / time[small]) / log(solids[large] / solids[small])
        row("broad phase alone, 1 recess", "broad_sweep/1")
        row("the same by FCL, tree of boxes", "broad_fcl_tree/1")
        row("broad phase alone, 29 recesses", "broad_sweep/29")
        row("the same by FCL, tree of boxes", "broad_fcl_tree/29")
    }' "$build/clearance_bench.csv"

# Many rooms at once: 100 copies of each demo job.
rooms=$(mktemp -d)
trap 'rm -rf "$rooms"' EXIT
cp -r models/catalogue "$rooms/"
for job in models/*.toml; do
    i=0
    while [ $i -lt 100 ]; do
        cp "$job" "$rooms/$(basename "$job" .toml)-$i.toml"
        i=$((i + 1))
    done
done
check_rooms() {
    start=$(date +%s%N)
    "$build/standproud" check --format json $2 "$rooms"/*.toml >/dev/null || [ $? -eq 1 ]
    end=$(date +%s%N)
    awk -v ns=$((end - start)) -v label="$1" 'BEGIN { printf "%-66s %12.0f rooms per second\n", label, 500e9 / ns }'
}
check_rooms "500 rooms, 100 of each demo job, files to JSON, all cores, no advice" --no-advice
check_rooms "the same with advice" ""

# Whole processes, time of a processor.
process() {
    label=$1
    shift
    bash -c 'TIMEFORMAT="%U %S"; time for i in 1 2 3 4 5 6 7 8 9 10; do "$@" >/dev/null; done' run "$@" 2>&1 |
        awk -v label="$label" 'END { printf "%-66s %12.1f ms\n", label, 100 * ($1 + $2) }'
}
process "standproud --version" "$build/standproud" --version
process "check --no-advice models/twin-taps.toml" "$build/standproud" check --no-advice models/twin-taps.toml

# The window, drawn in software on a virtual screen.
command -v xvfb-run >/dev/null || exit 0
xvfb-run -a "$build/tests/window_bench" --benchmark_format=csv 2>/dev/null >"$build/window_bench.csv"
awk -F, '
    /^name,/ { gsub(/"/, ""); for (i = 1; i <= NF; ++i) column[$i] = i; next }
    /^"/ { gsub(/"/, ""); time[$1] = $3; solids[$1] = $(column["solids"]) }
    function line(label, name) {
        small = name "/14/real_time"; large = name "/160/real_time"
        printf "%-34s %4d solids %9.2f ms   %4d solids %9.2f ms   %6.1f times\n", label, solids[small], \
            time[small] / 1000, solids[large], time[large] / 1000, time[large] / time[small]
    }
    function row(label, name) { printf "%-66s %12.3f ms\n", label, time[name] / 1000 }
    END {
        line("window: edit to verdicts", "edit_to_verdicts")
        line("window: edit to pixels", "edit_to_pixels")
        line("window: a frame, turning", "frame")
        row("old-stable: a join dragged a step, to verdicts", "join_to_verdicts/real_time")
        row("the same: scores of the joins of its three walls", "joins_scored/real_time")
        row("the same: its walls unfolded", "walls_unfolded/real_time")
        row("the same: nested, layouts proposed (beside the window)", "bench_worked_out/real_time")
    }' "$build/window_bench.csv"
start=$(date +%s%N)
xvfb-run -a "$build/standproud" view models/twin-taps.toml --snapshot "$rooms/first.png" >/dev/null
end=$(date +%s%N)
awk -v ns=$((end - start)) 'BEGIN { printf "%-66s %12.2f s\n", "start to first picture, virtual screen included", ns / 1e9 }'
