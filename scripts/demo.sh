#!/bin/sh
# From a bare Debian 12: installs, builds, and runs the main job on the demo models.
# Leaves reports, section pictures and STEP files in out/.
set -eu
cd "$(dirname "$0")/.."
sh scripts/install.sh
cmake --preset release -DSTANDPROUD_TESTS=OFF -B build/demo >/dev/null
cmake --build build/demo
program=build/demo/standproud

mkdir -p out
for job in models/*.toml; do
    name=$(basename "$job" .toml)
    echo
    echo "== $program check $job"
    # A demo job has something that fails on purpose: exit status 1. Anything else is a fault.
    status=0
    "$program" check "$job" >"out/$name.txt" || status=$?
    cat "out/$name.txt"
    [ "$status" -le 1 ] || exit "$status"
    "$program" check "$job" --format json >"out/$name.json" || [ $? -eq 1 ]
    "$program" export "$job" --step "out/$name.step"
    "$program" sections "$job" -o "out/$name-sections" >/dev/null
    # A picture needs a screen; where there is none, a virtual one will do.
    xvfb-run -a "$program" view "$job" --snapshot "out/$name.png" >/dev/null
    "$program" setout "$job" -o "out/$name-setout" >"out/$name-setout.txt"
    # Something is to be settled before the first cut: exit status 1.
    "$program" bench "$job" -o "out/$name-bench" >/dev/null 2>&1 || [ $? -eq 1 ]
done
echo
echo "Left in out/: a report (.txt, .json) and a STEP model for each job, a section of every fitting, a picture (.png), a set-out sheet of every wall, and the bench: cut lists, drawings, templates:"
ls -d out/*.step out/*.png out/*-sections out/*-setout out/*-bench
