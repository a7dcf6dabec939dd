#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// How an outline lies in a rectangular window: a point p of it comes to lie at R(yaw) p + shift, in the window's
/// frame, whose origin is the window's middle and whose first axis is its length.
struct WindowFit {
    Angle yaw;  ///< Anticlockwise, above -90 degrees, at most 90.
    Length
        excess;  ///< Greater of the two overhangs, width of the outline less the window's; negative is room to spare.
    Eigen::Vector2d shift_mm = Eigen::Vector2d::Zero();  ///< Puts the middle of the outline's extents on the window's.
};

/// The corners of the convex hull, anticlockwise, without points on its edges; two for points in a line, one for one
/// place. Units and frame: as `points_mm`. Precondition: finite.
std::vector<Eigen::Vector2d> convex_hull(std::span<const Eigen::Vector2d> points_mm);

/// The turn at which the greater overhang over a window is least.
///
/// Units and frame: millimetres, one plane frame. `window_mm` is length and width; zero or below is allowed, where
///   something was taken off a window: the excess says by how much it is too small.
/// Shape: any points; their hull is what counts.
/// Method: exact, by events. Across a direction the hull is as wide as the vector between the two corners that it lies
///   between, so each of the two widths is a sinusoid until the rotating callipers come to the next edge. A width
///   is positive, so these sinusoids are concave and have no least value of their own between two such events: the
///   least of the greater overhang is at an event, or where the two overhangs are equal, which is a closed form.
/// Accuracy: 1e-9 mm for coordinates within 100 m. Of turns that are equally good within that, the one nearest to
///   zero, of two opposite ones the positive.
/// Errors: invalid_argument for no points, or for a number that is not finite.
/// Source: rotating callipers, Shamos, Computational Geometry, 1978 (from memory).
Result<WindowFit> window_fit(std::span<const Eigen::Vector2d> points_mm, const Eigen::Vector2d& window_mm);

/// The same at a given turn. Errors: as window_fit.
Result<WindowFit> window_fit_at(std::span<const Eigen::Vector2d> points_mm, const Eigen::Vector2d& window_mm,
                                Angle yaw);

}  // namespace sillwright::geometry
