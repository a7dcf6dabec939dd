#pragma once

#include "app/drawings/strip_picture.h"
#include "core/evaluate.h"
#include "core/unrolling.h"
#include "geometry/units.h"

namespace sillwright::app {

/// The line that a job's strip is folded at: of the piece of the skirt that is at this place (the
/// nearest, else), of the body where no piece is drawn, else level through the outermost mount.
/// Lifetime: as the evaluation.
core::Unrolling unrolling_at(const core::Evaluation& evaluation, geometry::Length along);

/// A job unrolled along the sill: body, doors, stations, the skirt's named lines, mounts and keep-outs.
///
/// Accuracy: named lines are sampled at some sixty places and at every station; straight between.
StripPicture strip_of_job(const core::Evaluation& evaluation);

}  // namespace sillwright::app
