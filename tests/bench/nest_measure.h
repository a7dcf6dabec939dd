#pragma once

#include <string>

namespace sillwright::bench {

/// Forty ribs of about 600 x 180 on sheets of 2440 x 1220, gap 8, margin 10: ours beside the best of libnest2d's own
/// settings. Processor time of one thread.
struct NestTimes {
    double first_ms = 0.0, all_ms = 0.0;
    std::size_t sheets = 0, library_sheets = 0;
    double emptiest_m2 = 0.0, library_emptiest_m2 = 0.0;  ///< Area of the box used on the emptiest sheet.
    double used_m2 = 0.0, library_used_m2 = 0.0;          ///< Of all sheets together.
    std::string library_settings;
    double small_ms = 0.0;  ///< Ten ribs of 120 x 160 and two spines of 1900 x 80.
    bool failed = false;
};
NestTimes measure_nest();

}  // namespace sillwright::bench
