#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "app/checked_job.h"
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

/// What a section is made from while somebody works on a job.
struct SectionSource {
    const core::Job& job;                       ///< As it is now.
    const core::Evaluation* results = nullptr;  ///< Null before the first.
    bool current = false;                       ///< Whether they are of `job`.
    geometry::Length along{};
    const std::map<std::string, geometry::Angle>& openings;
};

/// What stands still while the skirt is drawn: body, keep-outs, shut doors, the limit lines that
/// are given, and the skirt at the stations to either side.
SectionPicture section_ground(const SectionSource& source, const std::vector<DoorLimit>& limits);

/// All of a section on its ground: open doors as the hinges carry them, the skirt, the
/// nodes that can be taken hold of, mounts, dimensions, the gap.
///
/// Accuracy: as section_of_job. What is drawn by sections is that of the job as it is now, whether the
///   results are current or not; doors and gaps are the results'.
/// A body that has no shape is drawn as its nodes joined by straights, and the picture's note
///   says why.
SectionPicture section_on_ground(const SectionSource& source, std::shared_ptr<const SectionPicture> ground);

}  // namespace sillwright::app
