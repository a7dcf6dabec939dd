#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "geometry/mesh.h"

namespace sillwright::geometry {

/// A plane by one of its points and its unit normal. Millimetres.
struct Plane {
    Eigen::Vector3d point_mm = Eigen::Vector3d::Zero();
    Eigen::Vector3d normal = Eigen::Vector3d::UnitX();
};

/// A line in which a mesh is cut; closed: the first point is not repeated.
struct CutChain {
    std::vector<Eigen::Vector3d> points_mm;
    bool closed = false;
};

/// Where a plane cuts a mesh, as chains of straights from edge to edge.
///
/// Units and frame: millimetres, one frame for mesh and plane.
/// Shape: closed chains where the mesh is closed and consistently turned, running
///   anticlockwise round its material as seen against the normal (a hole clockwise);
///   open ones else. No two neighbouring points are the same.
/// Accuracy: on the mesh and in the plane to rounding. Corners nearer than 1e-9 mm to
///   the plane are taken to lie in it, and count as in front (on the normal's side): a face in the plane is cut round
///   its rim if the body lies behind the plane, and not at all if it lies in front.
std::vector<CutChain> mesh_section(const Mesh& mesh, const Plane& plane);

/// The same for many planes across one direction, in one pass over the triangles: `normal` is of length one, and
/// `places_mm` (in any order) are where the planes stand along it, from the origin.
/// Shape: one entry for each place, in their order. Where triangles of an open mesh are not turned consistently, the
///   stretches of a line are joined all the same, so that a line runs through; which way it runs then means nothing.
std::vector<std::vector<CutChain>> mesh_sections(const Mesh& mesh, const Eigen::Vector3d& normal,
                                                 std::span<const double> places_mm);

}  // namespace sillwright::geometry
