#!/usr/bin/env bash
# From a bare Debian 12 to a checked car side and a folder for the workshop:
# installs what is missing, builds, checks the invented Estate A, writes its
# handover folder, and opens the window where there is a display.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")/.."
. resources/prepare.sh

job=samples/estate_a.sillwright
folder=build/handover/estate_a

install_packages build
mkdir -p build/handover
build build sillwright -DBUILD_TESTING=OFF

say "Checking $job"
status=0
build/sillwright check "$job" || status=$?
case $status in
    0 | 1 | 4) ;;
    *) exit "$status" ;;
esac

say "Writing the handover folder"
build/sillwright handover "$job" --to "$folder"

say "Done"
echo "The handover folder is $(readlink -f "$folder")"
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
    echo "Opening the window."
    exec build/sillwright "$job"
fi
echo "To see the job in the window, on a machine with a display: build/sillwright $job"
