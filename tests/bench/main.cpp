#include <benchmark/benchmark.h>

#include <string_view>

#include "tests/bench/check.h"

/// `--check` measures what has a target and says whether each is met; else the benchmark library's table.
int main(int argc, char** argv) {
    if (argc == 2 && std::string_view(argv[1]) == "--check") {
        return sillwright::bench::check() ? 0 : 1;
    }
    benchmark::Initialize(&argc, argv);
    if (benchmark::ReportUnrecognizedArguments(argc, argv)) {
        return 2;
    }
    benchmark::RunSpecifiedBenchmarks();
    return 0;
}
