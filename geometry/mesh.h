#pragma once

#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <vector>

#include "geometry/units.h"

namespace sillwright::geometry {

using Triangle = std::array<std::int32_t, 3>;

/// A triangle mesh: points, and triples of indices into them.
///
/// Units and frame: millimetres, one Cartesian frame named by the owner.
/// Shape: seen from outside, the corners of a triangle run anticlockwise. A
///   closed mesh has each edge in exactly two triangles, once each way; several
///   closed parts may stand in one mesh, and may touch.
/// Accuracy: no point of the true surface is further than `deviation` from the
///   mesh, nor the other way round; zero for a mesh that is itself the truth.
struct Mesh {
    std::vector<Eigen::Vector3d> points;
    std::vector<Triangle> triangles;
    Length deviation;
};

/// Signed volume by the divergence theorem: positive for a closed mesh whose
/// triangles face outward. Cubic millimetres.
/// Accuracy: exact for the mesh to rounding, taken about the first point.
double volume_mm3(const Mesh& mesh);

/// Sum of the triangles' areas, square millimetres.
double area_mm2(const Mesh& mesh);

/// How many undirected edges are not shared by exactly two triangles that run
/// along it in opposite directions. Zero for a closed, consistently turned mesh.
std::size_t open_edge_count(const Mesh& mesh);

/// Adds the triangles of `other`; the deviation becomes the greater of the two.
void append(Mesh& mesh, const Mesh& other);

/// The mirror image in the plane y = 0, its triangles turned so that they face
/// outward again.
Mesh mirrored_y(const Mesh& mesh);

}  // namespace sillwright::geometry
