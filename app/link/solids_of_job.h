#pragma once

#include "app/drawings/solid_scene.h"
#include "core/evaluate.h"
#include "geometry/result.h"

namespace sillwright::app {

/// Body, doors and skirt of a job as they are on the car, and how the doors turn:
/// a left-hand sill on the left. Where the distance to the mid-plane is not
/// measured, out is taken from it: for a picture, which names no y, that does.
///
/// Shape: a door stands on its striker at an opening of zero, and has its sag at
///   any other. A door whose hinge or opening is not measured does not turn.
/// Errors: does_not_fit where the body's sections cannot be laid out.
geometry::Result<SolidScene> solids_of_job(const core::Evaluation& evaluation);

}  // namespace sillwright::app
