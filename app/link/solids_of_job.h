#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/drawings/solid_scene.h"
#include "app/link/section_forming.h"
#include "core/evaluate.h"
#include "core/finding.h"
#include "geometry/result.h"

namespace sillwright::app {

/// Body, doors and skirt of a job as they are on the car, and how the doors turn:
/// a left-hand sill on the left. Where the distance to the mid-plane is not
/// measured, out is taken from it: for a picture, which names no y, that does.
///
/// Shape: a door stands on its striker at an opening of zero, and has its sag at
///   any other. A door whose hinge or opening is not measured does not turn. A mount
///   without a size is drawn as one of 8 mm.
/// Errors: does_not_fit where the body's sections cannot be laid out.
geometry::Result<SolidScene> solids_of_job(const core::Evaluation& evaluation);

/// A scene, and what its body was made from.
struct MadeSolids {
    SolidScene scene;
    core::Drawn body;
    std::vector<core::Station> stations;
    std::optional<core::Entry> zero_to_midplane;
    SectionForming tinted = SectionForming::none;  ///< And its pieces' tints.
    std::shared_ptr<const core::FormingPlan> forming{};
};

/// The same as solids_of_job, after a change: bodies that are the same as before share their mesh with it, so
/// that a drawing knows what to make anew; the car's own body, which takes longest, is taken over unseen
/// if it was made from the same sections. The drawn pieces are tinted by what of their forming is wanted; under the
/// hand, where the plan of the forming stays what it was, they keep their tints.
geometry::Result<MadeSolids> solids_again(const core::Evaluation& evaluation, const MadeSolids& before,
                                          SectionForming tinted = SectionForming::none);

/// Name of the door that a finding is about; none if it is about none.
std::optional<std::string> door_of(const core::Finding& finding, const core::Job& job);

/// The nearest points of a finding, for the solid view; none if it has not both.
std::optional<SolidDimension> dimension_of(const core::Finding& finding, const core::Job& job);

/// Of the findings about a door, where it touches; and the worst that has an opening.
DoorMarks marks_of_door(const core::Evaluation& evaluation, const std::string& door);

/// The first of the findings about a door that has nearest points: findings stand worst first. Null if none.
const core::Finding* worst_of_door(const core::Evaluation& evaluation, const std::string& door);

}  // namespace sillwright::app
