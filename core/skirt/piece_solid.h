#pragma once

#include "core/car_model.h"
#include "core/job.h"
#include "geometry/kernel/shape.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// The sheet of a piece drawn by sections as the kernel's solid, without end caps.
///
/// Units and frame: millimetres, (along, out, up).
/// Thickness: as formed where the model has it, else that of the sheet everywhere.
/// Accuracy: within `fit` of the loft; where the thickness changes along a rounding its arc is a conic that may stand
/// off
///   further, by less than the law bends there; see geometry::make_solid.
/// Errors: as make_solid, led by the piece. Precondition: the model has a line and a
///   meshed ring.
geometry::Result<geometry::Shape> piece_solid(const Piece& piece, const PieceModel& model, geometry::Length fit);

}  // namespace sillwright::core
