#pragma once

#include <string>
#include <vector>

#include "core/evaluate.h"
#include "core/finding.h"

namespace sillwright::core {

/// Something that is assumed, or not measured: a sentence, and the stages that it bears on.
struct OpenPoint {
    std::string words;
    std::vector<Stage> stages;
    bool assumed = false;  ///< A value was taken; else one is missing.
};

/// Assumptions first, in the order of the work, then what is not measured, each once with what it leaves open.
std::vector<OpenPoint> open_points(const Evaluation& evaluation);

/// The words of those that bear on one of the stages.
std::vector<std::string> open_words(const std::vector<OpenPoint>& points, const std::vector<Stage>& stages);

}  // namespace sillwright::core
