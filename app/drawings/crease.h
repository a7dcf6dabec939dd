#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/units.h"

namespace sillwright::app {

/// A mesh with a normal at every point, for shading alone: every triangle has
/// three points of its own.
struct ShadedMesh {
    std::vector<Eigen::Vector3d> points;
    std::vector<Eigen::Vector3d> normals;  ///< Unit vectors, as many as points.
    std::vector<geometry::Triangle> triangles;
};

/// The same triangles in the same order; where neighbours at a point lean from
/// each other by less than `crease` they share a normal, weighted by area.
/// A triangle without area takes the direction of up.
ShadedMesh shaded(const geometry::Mesh& mesh, geometry::Angle crease);

}  // namespace sillwright::app
