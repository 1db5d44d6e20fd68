#!/bin/sh
# Puts a real run into README.md, between its marks. Needs a built program: path in $1.
set -eu
cd "$(dirname "$0")/.."
program=${1:-build/release/standproud}
"$program" check models/twin-taps.toml >build/run.txt || [ $? -eq 1 ]
awk '
    { print }
    /^<!-- run: check/ { getline; print; while ((getline line < "build/run.txt") > 0) print line
                         do { getline } while ($0 != "```"); print }
' README.md >build/README.md
cp build/README.md README.md
