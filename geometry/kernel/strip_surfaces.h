#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/result.h"
#include "geometry/ring_mesh.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Control points of one strip at one place, in columns from, middle, to: along, out
/// and up times weight, and weight.
using StripControl = Eigen::Matrix<double, 4, 3>;

/// A row of poles: every strip's control points, and their change along the car.
struct ControlRow {
    double along_mm = 0.0;
    std::vector<StripControl> value, slope;
};

/// A stretch in which every strip has width all along or nowhere (its two ends
/// excepted), followed by cubics between its rows.
struct StripPiece {
    std::vector<ControlRow> rows;
    std::vector<bool> has_width;                  ///< By strip.
    std::vector<bool> closed_front, closed_rear;  ///< The strip's width is zero at that end.
};

/// Rows of poles that follow `body` within `fit`, cut at run-outs and where a strip's
/// width begins or ends.
/// Errors: as the outline says; does_not_fit if the curves cannot be followed.
Result<std::vector<StripPiece>> strip_pieces(const RingBody& body, Length fit);

}  // namespace sillwright::geometry
