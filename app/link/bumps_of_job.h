#pragma once

#include "app/drawings/bumps_picture.h"
#include "core/job.h"

namespace sillwright::app {

/// The bumps of the skirt's lines, then those of the body's, where they are measured or drawn by sections.
BumpsPicture bumps_of_job(const core::Job& job);

}  // namespace sillwright::app
