#pragma once

#include <Eigen/Core>

#include "geometry/kernel/shape.h"
#include "geometry/result.h"

namespace sillwright::geometry {

enum class Mirror { none, in_y };

/// The shape mirrored in the plane y = 0 if asked, then moved. A mirrored solid still
/// faces outward.
///
/// Units and frame: millimetres.
/// Errors: kernel_failure if the kernel gives up.
Result<Shape> placed(const Shape& shape, Mirror mirror, const Eigen::Vector3d& by_mm);

}  // namespace sillwright::geometry
