#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <vector>

#include "core/mounts/landing.h"
#include "core/skirt/flange_face.h"
#include "geometry/units.h"

namespace sillwright::core {

/// The flange's bounds at one place along the car, as distances from the corner at its root, along the flange.
struct FlatRow {
    double along_mm = 0.0;
    double flat_from_mm = 0.0;  ///< Where both faces of the sheet are flat.
    double free_edge_mm = 0.0;
};

/// A flange laid flat.
///
/// Units and frame: millimetres: along the car, rearward; across, from root to end. Hand: as the job's frame.
/// Accuracy: along is measured along the car, not along the flange: on one that rises by an angle a it is shorter by
///   1 - cos a (0.06 % for 2 degrees).
struct FlatFlange {
    std::vector<FlatRow> rows;  ///< Front to rear; gaps where the flange has run out are left out.
};

/// Rows at both ends, at every section, and `step` apart or less.
FlatFlange flat_flange(const FlangeFace& face, geometry::Length step);

/// Where a place on the face comes to lie; no value where the flange has run out.
std::optional<Eigen::Vector2d> on_flat(const FlangeFace& face, const Eigen::Vector3d& p_mm);

/// Covariance of a landing on the flat: the mount's own, carried along its axis onto the face. None if it is not
///   measured.
std::optional<Eigen::Matrix2d> flat_covariance_mm2(const FlangeFace& face, const Mount& mount, const Landing& landing);

}  // namespace sillwright::core
