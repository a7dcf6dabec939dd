#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/motion.h"

namespace sillwright::tests {

/// A fixed body, a moving body and the motion.
struct SwingScene {
    geometry::Mesh fixed, moving;
    geometry::HingeMotion motion;
};

/// A closed body: a ring of points in (y, z), anticlockwise seen from -x, carried
/// along x and shifted by `shift(x)` in (y, z). 2 * ring * (rows - 1) triangles and
/// the two ends, which are fans: the ring must be star-shaped about its first point.
geometry::Mesh swept(const std::vector<Eigen::Vector2d>& ring, double from_x, double to_x, int rows,
                     const std::function<Eigen::Vector2d(double)>& shift);

/// Points on a polygon, `count` in all, evenly by length, corners kept.
std::vector<Eigen::Vector2d> refined(const std::vector<Eigen::Vector2d>& polygon, int count);

/// Invented bodies of about 100 000 triangles each at full size; `part` < 1 gives
/// fewer rows and points.
/// clear: the least distance is inside the swing.
SwingScene clear_scene(double part = 1.0);
/// glide: a hem 5 mm above a shelf that curves 6 mm along 2 m and falls 2 degrees, axis tilted 1.4 degrees.
SwingScene glide_scene(double part = 1.0);
/// level glide: flat shelf, upright axis; every point of the hem is at 5 mm at every angle.
SwingScene level_glide_scene(double part = 1.0);

/// A sphere about a point, or a cylinder about an edge, enters as a triangle
/// without area: the radius is taken off the distance.
geometry::Mesh point_mesh(const Eigen::Vector3d& p);
geometry::Mesh edge_mesh(const Eigen::Vector3d& a, const Eigen::Vector3d& b);
geometry::Mesh triangle_mesh(const Eigen::Vector3d& a, const Eigen::Vector3d& b, const Eigen::Vector3d& c);
/// A closed box with 12 triangles.
geometry::Mesh box_mesh(const Eigen::Vector3d& low, const Eigen::Vector3d& high);

}  // namespace sillwright::tests
