#pragma once

#include <algorithm>
#include <ctime>
#include <limits>

namespace sillwright::bench {

/// Processor time since `start`, in milliseconds.
inline double ms_since(std::clock_t start) {
    return 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

/// Least processor time of some runs, in milliseconds. All that is measured runs in one thread, so on an idle
/// machine this is the time on the clock, and on a busy one it stays near it.
template <class Work>
double least_ms(int runs, const Work& work) {
    double least = std::numeric_limits<double>::infinity();
    for (int i = 0; i < runs; ++i) {
        const std::clock_t start = std::clock();
        work();
        least = std::min(least, ms_since(start));
    }
    return least;
}

}  // namespace sillwright::bench
