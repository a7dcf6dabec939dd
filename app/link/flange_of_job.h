#pragma once

#include "app/drawings/flange_picture.h"

namespace sillwright::core {
struct Evaluation;
}

namespace sillwright::app {

/// The flange of a computed job laid flat, with what to make in it.
FlangePicture flange_of_job(const core::Evaluation& evaluation);

}  // namespace sillwright::app
