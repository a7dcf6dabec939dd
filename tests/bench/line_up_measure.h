#pragma once

namespace sillwright::bench {

/// 100 000 draws for nine mounts over 1.7 m, with who is to blame and what growth would bring 99.9 %.
struct LineUpTimes {
    double nearly_all_ms = 0.0, most_ms = 0.0, few_ms = 0.0;
    double nearly_all = 0.0, most = 0.0, few = 0.0;  ///< Share of draws that fit.
};
LineUpTimes measure_line_up();

}  // namespace sillwright::bench
