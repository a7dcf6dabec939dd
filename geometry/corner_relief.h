#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// How a round bit makes room for a square corner.
enum class ReliefKind {
    diagonal,    ///< It goes on half-way between the two edges, until its rim is at the corner.
    along_edge,  ///< It goes on along the longer edge, until its axis is level with the corner.
};

/// What the bit takes at one corner.
struct CornerCut {
    Eigen::Vector2d corner_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d centre_mm = Eigen::Vector2d::Zero();
    std::size_t arriving = 0;  ///< Number of the segment that ends at the corner.
};

struct RelievedOutline {
    Profile outline;
    std::vector<CornerCut> cuts;  ///< In the order of the outline.
};

/// A closed outline with room made at its inside corners, where it turns right by `k_relief_turn` or more in a point:
/// a circle of `radius` through the corner is taken out of what lies on its left.
///
/// Units and frame: millimetres, one plane frame; the body is on the outline's left (anticlockwise).
/// Shape: closed, crosses itself nowhere; the circle is one true arc of twice the turn. Diagonal: its middle lies on
///   the bisector, at a square corner radius / sqrt 2 from both edges, and it ends 2 · radius · sin(turn / 2) from the
///   corner on both. Along an edge: it touches the longer edge at the corner and ends 2 · radius · sin(turn) from
///   it on the other; of two edges of one length neither is longer, and the corner is relieved diagonally. Two reliefs
///   that meet on the edge between their corners are one cut with a point between them, beyond that edge.
/// Accuracy: rounding; two edges are of one length within 1e-6 mm.
/// Errors: invalid_argument for an open or empty outline, one that runs clockwise, or a radius that is not greater than
///   zero; does_not_fit, with the place, where an edge is shorter than the relief at its one end, or where a relief
///   runs into another part of the outline.
/// Source: plane geometry; the two kinds are the trade's, common practice.
Result<RelievedOutline> relieved(const Profile& outline, Length radius, ReliefKind kind);

/// Less of a turn is no corner that something square could be pushed into: common practice, no source. A bit of 6 mm
/// leaves 0.11 mm in it.
constexpr Angle k_relief_turn = degrees(30.0);

}  // namespace sillwright::geometry
