#!/bin/sh
# From a bare Debian 12: installs, builds, and runs every test; then the arithmetic again under the sanitizers.
set -eu
cd "$(dirname "$0")/.."
sh scripts/build.sh release
ctest --preset release -j "$(nproc)"
if [ "${1:-}" = "--quick" ]; then exit 0; fi
sh scripts/build.sh sanitize
ctest --preset sanitize -j "$(nproc)"
