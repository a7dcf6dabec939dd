#pragma once

#include <cstddef>

namespace sillwright::bench {

/// A scan of a million triangles cut at 20 stations.
struct ScanTimes {
    std::size_t triangles = 0;
    std::size_t lines = 0;  ///< One at each station.
    double cut_ms = 0.0;
};
ScanTimes measure_scan();

}  // namespace sillwright::bench
