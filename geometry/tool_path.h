#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// On which side of a closed outline the bit runs.
enum class CutSide { outside, inside };

/// A stretch of the outline that the bit does not get to.
struct UncutPlace {
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();  ///< On the outline, where most is left,
    Length depth;                                     ///< from there to where the bit has cut.
    std::size_t segment = 0;                          ///< Of the outline.
    Length along;                                     ///< Arc length from the outline's start.
};

/// The way of a bit's middle round a closed outline.
struct ToolPath {
    std::vector<Profile> chains;    ///< Closed, the way of the outline; none where an inside is too narrow everywhere.
    std::vector<UncutPlace> uncut;  ///< One for each stretch where more than the tolerance is left, along the outline.
};

/// The parallel at the bit's radius, and what of the outline a bit on it does not get to: where a hollow is rounder
/// than the bit, or narrower.
///
/// Units and frame: millimetres, one plane frame. The outline runs anticlockwise.
/// Accuracy: the path as `parallel`. A depth is the distance from the outline to the path, less the radius; the
///   deepest place of a stretch is looked for every 0.25 mm and then refined: to 1e-6 mm where it is a corner, an arc
///   or the end of a slot.
/// Errors: invalid_argument for an open outline, one that runs clockwise, or a radius or tolerance that is not greater
///   than zero; as `parallel`.
/// Source: plane geometry; a square corner keeps (sqrt 2 - 1) · radius.
Result<ToolPath> tool_path(const Profile& outline, Length bit_radius, CutSide side, Length tolerance);

}  // namespace sillwright::geometry
