#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "app/drawings/ladder_picture.h"

namespace sillwright::core {
struct Evaluation;
}

namespace sillwright::app {

/// Names of the dimensions that have a ladder, in their order; `number` is that of the planned pieces.
std::vector<std::string> ladder_names(const core::Evaluation& evaluation, std::size_t number);

/// One of them from the painted part down to the buck.
LadderPicture ladder_of_job(const core::Evaluation& evaluation, std::size_t number, std::size_t dimension);

}  // namespace sillwright::app
