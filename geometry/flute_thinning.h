#pragma once

#include "geometry/units.h"

namespace sillwright::geometry {

/// A long groove that sheet is drawn into, symmetrical.
///
/// Preconditions: width and depth are greater than zero; the wall stands between 0 and a right angle to the mouth's
///   plane. Where the bottom's radius is too great for the depth and the wall, bottom and wall are one rounding.
struct Groove {
    Length width, depth;   ///< Across the mouth, and to the floor.
    Length bottom_radius;  ///< Of its two corners; zero is sharp, and would draw the sheet out to nothing there.
    Angle wall;            ///< Where it meets the mouth's plane: 90 degrees is square.
};

/// Thickness of sheet in it, of that at its mouth.
struct GrooveShares {
    double middle = 1.0;  ///< Where the floor is first touched.
    double corner = 1.0;  ///< At the bottom's corners, which are filled last: the least.
};

/// How sheet thins that is drawn into a groove.
///
/// Model: the sheet lies at the mouth's edges and comes in no more from outside; what is free is a circular arc of even
///   thickness in every section, sticks where it touches, keeps its volume, and does not stretch lengthwise. It bulges
///   until it lies at the walls or touches the floor, follows the walls down, and fills the corners last.
/// Accuracy: to the model, 1e-6 (the stretch where the bulge spreads over the floor is integrated by Simpson's rule,
///   all else is closed). Limits of the model: cold moulds, friction and plugs are not in it.
/// Source: the bulge sin b / b, the wedge (sin b / b) (1 - h/H)^(tan b / b - 1), and the trough with square walls
///   (2/pi) exp(-4 h / (pi w)): the assumptions of the cone published at bmi.berkeley.edu/Me221 (thermoforming theory),
///   derived for a long trough; the corner (r/r0)^(2 tan(b/2) / b - 1) by the same balance of volume.
GrooveShares groove_shares(const Groove& groove);

/// In a wedge whose walls stand at `wall`, at that part of its full depth. Precondition: wall in (0, 90), part in [0,
/// 1).
double wedge_share(Angle wall, double part_of_depth);

/// At that depth, in widths, down a trough with square walls, before its floor is touched.
double square_trough_share(double depth_in_widths);

}  // namespace sillwright::geometry
