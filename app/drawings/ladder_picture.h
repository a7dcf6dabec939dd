#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job.h"

namespace sillwright::app {

/// One size of a dimension, and what leads down to the next.
struct LadderRung {
    std::string generation;  ///< "painted part", "part", "male mould, hot", ..., "buck"
    double value_mm = 0.0, sd_mm = 0.0;
    std::optional<double> measured_mm;
    std::string step;      ///< To the rung below: "shrank 0.60 % along"; of the last what is missing, if anything.
    bool assumed = false;  ///< That step is not measured.
};

/// A dimension's sizes from the finished part down to the buck.
struct LadderPicture {
    std::string piece;
    std::string dimension;  ///< "length over all"
    bool across = false;
    std::vector<LadderRung> rungs;
    core::BareUnit unit = core::BareUnit::mm;
    std::string words;  ///< What must be decided first; then nothing is drawn.
};

}  // namespace sillwright::app
