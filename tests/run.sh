#!/usr/bin/env bash
# Installs what the tests need, builds everything and runs every test.
#   tests/run.sh              all tests
#   tests/run.sh --sanitize   with the address and undefined-behaviour sanitizers, in build/sanitize
#   tests/run.sh --tidy       clang-tidy over app, core, geometry, in build/tidy
#   tests/run.sh --bench      the measurements, in one run beside what they are held against
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")/.."
. resources/prepare.sh

variant=${1:-}
install_packages build test
mkdir -p build

run_tests() {
    say "Running every test"
    # ctest of a folder without tests succeeds; a run that found none must not.
    ctest --test-dir "$1" --output-on-failure --no-tests=error -j "$(nproc)"
}

case $variant in
    '')
        build build all -DBUILD_TESTING=ON
        run_tests build
        ;;
    --sanitize)
        build build/sanitize all -DBUILD_TESTING=ON -DSILLWRIGHT_SANITIZE=ON
        # Qt and fontconfig leak at exit, OpenCASCADE keeps static tables.
        ASAN_OPTIONS=detect_leaks=0 run_tests build/sanitize
        ;;
    --tidy)
        build build/tidy sillwright -DBUILD_TESTING=OFF -DCMAKE_CXX_CLANG_TIDY=clang-tidy
        ;;
    --bench)
        build build sillwright_bench -DBUILD_TESTING=ON
        say "Measuring"
        build/tests/sillwright_bench
        ;;
    *)
        sed -n '2,6p' "$0"
        exit 2
        ;;
esac
