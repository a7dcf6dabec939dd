#pragma once

#include <cstddef>

#include "app/drawings/platen_picture.h"

namespace sillwright::core {
struct Evaluation;
}

namespace sillwright::app {

/// A piece on the forming machine; `number` is that of the planned pieces.
PlatenPicture platen_of_job(const core::Evaluation& evaluation, std::size_t number);

}  // namespace sillwright::app
