#!/bin/sh
# Installs what is needed, configures and builds one preset (release unless named).
set -eu
cd "$(dirname "$0")/.."
preset=${1:-release}
sh scripts/install.sh
cmake --preset "$preset" >/dev/null
cmake --build --preset "$preset"
