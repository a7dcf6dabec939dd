#pragma once

#include <cstddef>

#include "app/drawings/flute_picture.h"

namespace sillwright::core {
struct Evaluation;
}

namespace sillwright::app {

/// A piece's flutes on its shelf; `number` is that of the planned pieces.
FlutePicture flutes_of_job(const core::Evaluation& evaluation, std::size_t number);

}  // namespace sillwright::app
