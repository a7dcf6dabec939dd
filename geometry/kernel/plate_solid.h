#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/kernel/shape.h"
#include "geometry/profile.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// Where a flat drawing stands in space: its origin, its two axes (unit vectors square to each other), and how far and
/// which way a plate goes on from it. Millimetres.
struct PlatePlace {
    Eigen::Vector3d origin_mm, right, up;
    Eigen::Vector3d through_mm;
};

/// A plate as the kernel's solid: what lies inside a closed profile and outside of its holes, from the drawing's plane
/// on by `through_mm`.
///
/// Shape: a face for each line and arc, and the two sides; valid by the kernel's checker, faces outward.
/// Accuracy: exact; the kernel's volume is checked against the profiles' area.
/// Errors: invalid_argument for a profile that is not closed, or a plate without thickness; kernel_failure if the
///   kernel fails, its checker objects (a hole that meets the edge), or the volumes disagree.
Result<Shape> plate_solid(const Profile& outline, const std::vector<Profile>& holes, const PlatePlace& place);

/// Several shapes as one.
Result<Shape> together(const std::vector<Shape>& shapes);

}  // namespace sillwright::geometry
