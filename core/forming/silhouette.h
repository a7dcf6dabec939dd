#pragma once

#include <Eigen/Core>
#include <vector>

#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// What is seen of a section along the draw direction: it reaches from low to high.
struct SilhouetteRow {
    double along_mm = 0.0, low_mm = 0.0, high_mm = 0.0;
};

/// A drawn piece, seen along its draw direction.
///
/// Units and frame: millimetres; along the car, and across: (out, up) · (-sin tilt, cos tilt), so that up is across
///   where the draw direction is level. Heights are along the draw direction: (out, up) · (cos tilt, sin tilt).
struct Silhouette {
    std::vector<SilhouetteRow> rows;  ///< Rising along, two or more.
    double crown_mm = 0.0, foot_mm = 0.0;
    double low_mm = 0.0, high_mm = 0.0;  ///< The least and the greatest across.
};

/// The silhouette of the sheet, both of its faces, at a tilt.
///
/// Accuracy: never smaller than the sheet in the sections looked at (each station and run-out, and `k_rows_between`
///   places between each two), and larger by a part of the sheet's thickness only where a bend closes on its hollow
///   side. Between two of them a guide line bent to a radius R can stand out by h^2 / (8 R), h their distance:
///   0.02 mm for 25 mm and 4 m. A piece without a sheet thickness is a foil.
Silhouette silhouette(const Piece& piece, const geometry::Loft& line, geometry::Angle tilt);
constexpr int k_rows_between = 7;

/// The stretch between two places along, which lie within it or are moved to its ends.
Silhouette stretch_of(const Silhouette& whole, double from_mm, double to_mm);
/// What lies between two places across.
Silhouette strip_of(const Silhouette& whole, double low_mm, double high_mm);

/// Its outline, anticlockwise, grown by as much beyond its two ends and its two long edges: (along, across).
std::vector<Eigen::Vector2d> outline_of(const Silhouette& seen, double grown_mm);

/// Tilts between two at which the whole piece can be narrowest across, seen along the draw direction: its width is a
/// sinusoid of the tilt between those at which an edge of the hull of all its sections is seen end-on, and has its
/// least values there. Rising; both ends are in it. Roundings are taken by chords of 7.5 degrees.
std::vector<geometry::Angle> narrowest_tilts(const Piece& piece, const geometry::Loft& line, geometry::Angle from,
                                             geometry::Angle to);

}  // namespace sillwright::core
