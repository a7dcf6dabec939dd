#pragma once

#include <Eigen/Core>
#include <optional>

#include "core/job.h"
#include "geometry/mesh.h"

namespace sillwright::core {

/// Where a mount's axis meets a part that is known as a mesh only.
struct MeshLanding {
    Eigen::Vector3d p_mm;
    Eigen::Vector3d normal;     ///< Of the triangle met, towards the car.
    double down_axis_mm = 0.0;  ///< From the mount's centre along its axis.
};

/// The face turned to the car that the axis meets nearest to the seat, between the
/// same bounds as landing(); no value if there is none. An axis through an edge of
/// two triangles meets one of them.
/// Units and frame: millimetres, (along, out, up). Accuracy: that of the mesh.
std::optional<MeshLanding> mesh_landing(const Mount& mount, const geometry::Mesh& mesh);

}  // namespace sillwright::core
