#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/checked_job.h"
#include "core/evaluate.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::app {

/// Clearance against opening of each body that swings to each that stands, from shut
/// to the stop, at every half degree: of all doors, or of one.
///
/// Accuracy: of the meshes, 1e-9 mm at each angle; nothing is proven between them.
/// Errors: as geometry::clearance_curve; stopped.
geometry::Result<std::vector<ClearanceCurve>> clearance_curves(const core::Evaluation& evaluation,
                                                               const std::optional<std::string>& door = std::nullopt,
                                                               const geometry::Watch& watch = {});

/// One line for each body of `curves` that swings: at every angle the nearest of all that stands.
std::vector<ClearanceLine> clearance_lines(const std::vector<ClearanceCurve>& curves);

/// What the findings say of a door that moves: of its edges, of its cladding, of what it carries.
std::vector<ClearanceMark> clearance_marks(const std::vector<core::Finding>& findings, const std::string& door,
                                           core::BareUnit unit);

}  // namespace sillwright::app
