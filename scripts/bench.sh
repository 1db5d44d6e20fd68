#!/bin/sh
# Times clearances against the kernel and FCL on one scene, in one run, and prints the ratios. Needs a release build.
set -eu
cd "$(dirname "$0")/.."
build=${1:-build/release}
[ -f "$build/build.ninja" ] || cmake --preset release >/dev/null
cmake --build "$build" --target clearance_bench standproud >/dev/null
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
    END {
        whole = "whole/tilt_tenths:0"; all = "common_on_all_pairs/iterations:1"; mesh = "fcl_meshes/min_time:0.500"
        printf "Scene: %d solids, %d pairs within 50 mm\n", solids[whole], pairs[whole]
        row("parts to pairs, one thread", whole)
        row("the same, side walls leaning by half a degree", "whole/tilt_tenths:5")
        row("after moving one fitting", "one_fitting_moved")
        row(sprintf("a whole check of a demo job, %d things, from its parsed file", solids["whole_check"]), "whole_check")
        row(sprintf("the same after moving one fitting, %d of its things measured again", solids["whole_check_again"]), \
            "whole_check_again")
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

# Many rooms at once: 500 copies of a demo job.
rooms=$(mktemp -d)
trap 'rm -rf "$rooms"' EXIT
cp -r models/catalogue "$rooms/"
i=0
while [ $i -lt 500 ]; do
    cp models/level-entry.toml "$rooms/room-$i.toml"
    i=$((i + 1))
done
start=$(date +%s%N)
"$build/standproud" check --format json "$rooms"/room-*.toml >/dev/null || [ $? -eq 1 ]
end=$(date +%s%N)
awk -v ns=$((end - start)) 'BEGIN { printf "%-66s %12.0f rooms per second\n", "check of 500 rooms, all cores, files to JSON", 500e9 / ns }'
