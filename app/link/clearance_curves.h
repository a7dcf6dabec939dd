#pragma once

#include <vector>

#include "app/checked_job.h"
#include "core/evaluate.h"
#include "geometry/result.h"

namespace sillwright::app {

/// Clearance against opening of each body that swings to each that stands, from shut
/// to the stop, at every half degree.
///
/// Accuracy: of the meshes, 1e-9 mm at each angle; nothing is proven between them.
/// Errors: as geometry::clearance_curve.
geometry::Result<std::vector<ClearanceCurve>> clearance_curves(const core::Evaluation& evaluation);

}  // namespace sillwright::app
