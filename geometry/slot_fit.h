#pragma once

#include <Eigen/Core>
#include <optional>
#include <span>

namespace sillwright::geometry {

/// A place that must come into a slot with round ends once the body it is on is shifted and turned.
///
/// Units and frame: millimetres in one plane. The room is that of the fastener's centre: all points within `radius_mm`
///   of the straight from `from_mm` to `to_mm` (one point for a round hole).
struct SlotTask {
    Eigen::Vector2d place_mm;
    Eigen::Vector2d from_mm, to_mm;
    double radius_mm = 0.0;
};

/// A small motion of the body: p goes to p + shift + turn · (-(p.y), p.x).
struct SmallMotion {
    Eigen::Vector2d shift_mm = Eigen::Vector2d::Zero();
    double turn_rad = 0.0;
};

/// A motion that brings every place into its slot; none if there is no such motion.
///
/// Exact: the set of such motions is convex in the three numbers; the answer is wrong only where the deepest point of
///   that set is within `k_slot_fit_tolerance_mm` of its border. Turns are small: the turn's square is left out, which
///   at 1 m and 1 mrad is 0.0005 mm.
/// Precondition: radii are not negative; a negative radius never fits.
std::optional<SmallMotion> slot_fit(std::span<const SlotTask> tasks);

constexpr double k_slot_fit_tolerance_mm = 1e-9;

}  // namespace sillwright::geometry
