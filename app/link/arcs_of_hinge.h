#pragma once

#include "app/drawings/arc_picture.h"
#include "core/job.h"
#include "core/survey/results.h"

namespace sillwright::app {

/// The targets of a hinge as seen along its axis.
ArcPicture arcs_of_hinge(const core::survey::Book& book, const core::survey::Results& results,
                         const core::survey::HingeOutcome& hinge);

}  // namespace sillwright::app
