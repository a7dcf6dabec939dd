#pragma once

#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/units.h"

namespace sillwright::app {

/// A mesh with a normal at every point, for shading alone.
struct ShadedMesh {
    std::vector<Eigen::Vector3d> points;
    std::vector<Eigen::Vector3d> normals;  ///< Unit vectors, as many as points.
    std::vector<geometry::Triangle> triangles;
};

/// The same triangles in the same order; where neighbours at a point lean from
/// each other by less than `crease` they share a normal, weighted by area, and the
/// point; else the point is there once for each normal.
/// A triangle without area takes the direction of up.
ShadedMesh shaded(const geometry::Mesh& mesh, geometry::Angle crease);

/// The edges, as pairs of numbers of the mesh's points, the lower first, at which two
/// triangles lean from each other by more than `crease`, or that have not two triangles.
/// Triangles without area take no part.
std::vector<std::array<std::int32_t, 2>> sharp_edges(const geometry::Mesh& mesh, geometry::Angle crease);

}  // namespace sillwright::app
