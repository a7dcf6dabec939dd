#pragma once

#include "app/drawings/section_picture.h"
#include "core/evaluate.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::app {

/// The section of a job at a place along the car: body, shut doors and their limit
/// lines, the skirt's faces, and the mounts and keep-outs that are there.
///
/// Accuracy: lines drawn by sections are exact parallels and arcs, as polylines
///   within 0.02 mm; what was trimmed or comes from a file is cut from its mesh.
/// Left out: what does not reach to this place; mounts further off than 25 mm.
/// Errors: does_not_fit where a section has no shape there; as geometry::parallel and
///   core::door_limit_lines.
geometry::Result<SectionPicture> section_of_job(const core::Evaluation& evaluation, geometry::Length along);

}  // namespace sillwright::app
