#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/segment.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Places where two segments meet, for cutting both there.
///
/// Units and frame: millimetres, both segments in one plane frame.
/// Shape: crossings, touches, and ends of one that lie on the other, so that two
///   segments which run along each other are cut where the shared stretch begins
///   and ends. A place may be listed twice, and near a grazing contact two
///   places stand for one: cutting once too often does no harm, once too few does.
/// Accuracy: every place listed is within `slack` of both segments. A crossing is
///   found to rounding across both curves; along them a grazing one is no better
///   than the square root of that.
std::vector<Eigen::Vector2d> meeting_points(const Segment& a, const Segment& b, Length slack);

}  // namespace sillwright::geometry
