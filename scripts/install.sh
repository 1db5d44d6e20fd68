#!/bin/sh
# Installs the packages of scripts/packages.txt on Debian 12; does nothing when all are there.
set -eu
cd "$(dirname "$0")/.."

packages=$(grep -v '^#' scripts/packages.txt)
missing=
for package in $packages; do
    dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null | grep -qx installed || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

as_root=
if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || {
        echo "install.sh: these packages are missing, and there is neither root nor sudo to install them:$missing" >&2
        exit 1
    }
    as_root=sudo
fi
export DEBIAN_FRONTEND=noninteractive
$as_root apt-get update -qq
# shellcheck disable=SC2086
$as_root apt-get install -y -qq --no-install-recommends $missing >/dev/null
