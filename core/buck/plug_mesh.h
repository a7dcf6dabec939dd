#pragma once

#include "core/buck/buck_plan.h"
#include "core/car_model.h"
#include "core/job.h"
#include "geometry/mesh.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Rows of the plug's mesh are as near as this along it: a plan that bends by a radius of 1 m stands 0.0125 mm off
/// between two.
constexpr geometry::Length k_plug_rows = geometry::millimetres(10.0);

/// The plug as a closed body down to its base: what the sculptor builds, skin and all, without flutes.
///
/// Units and frame: millimetres of the buck, at the plug's size; x rearward, y the height and z the side on a car's
///   right-hand side; on its left y runs the other way, so that the plug's hand is right (as core/buck/buck_solid.h).
/// Shape: rows of one layout, `k_plug_rows` apart, at the stations too; walls straight down from the trim allowance's
///   edges to the base; flat ends.
/// Accuracy: points as PlugSurface; roundings in chords of its layout.
/// Errors: as PlugSurface; does_not_fit where an end cannot be filled. Precondition: the piece has ribs.
geometry::Result<geometry::Mesh> plug_mesh(const Job& job, const CarModel& car, const PieceBuck& buck);

}  // namespace sillwright::core
