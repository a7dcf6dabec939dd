#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "geometry/corner.h"
#include "geometry/offset_law.h"
#include "geometry/ring_mesh.h"
#include "geometry/units.h"

/// The face of a sheet whose thickness changes round its section: for every point of an open rounded line the point
/// at that place's distance square to it.
///
/// Units and frame: millimetres, in the plane of the line; distances to its left.
/// Shape: as the parallel at one distance (sheet_ring.h): a sharp corner is an arc about itself outside, and the two
///   straights meet inside. Where a rounding is too tight for the face on its hollow side, it is taken as large as the
///   face needs; the face's law is then that of the drawn line's rounding, and that of its straights is squeezed into
///   what is left of them.
/// Precondition: the corners have room for the greatest and the least distance (check_room).
namespace sillwright::geometry {

/// What marks a node's rounding on the drawn line covers.
struct CornerMarks {
    double before = 0.0, at = 0.0, behind = 0.0;
};

/// One for every node of an open chain; `node_marks` are the nodes' own, rising.
std::vector<CornerMarks> corner_marks(const std::vector<Corner>& corners, const std::vector<double>& node_marks);

/// A place of a rounded line: arc length from its start, and mark.
struct LinePlace {
    Length along;
    double mark = 0.0;
};

/// Places between which mark and arc length go in step: a line's ends, its nodes, the ends of its roundings. Rising in
/// both.
std::vector<LinePlace> line_places(const std::vector<Corner>& corners, const std::vector<double>& node_marks);

/// Into what a face is divided: chords of each node's rounding (0: none), and parts of each straight between
/// neighbouring nodes at which it has a point, rising, 0 and 1 left out.
struct FaceLayout {
    std::vector<std::size_t> chords;
    std::vector<std::vector<double>> parts;
};

/// Widens the layout so that the face's points here, joined by straights, stand no further than `tolerance` off it. An
/// empty layout is one without any.
void widen(FaceLayout& layout, const std::vector<Corner>& corners, const std::vector<double>& node_marks,
           const OffsetRow& offsets, Length tolerance);

/// Writes a face's points behind those that are there: chords + 1 for every node, one for every part of a straight.
/// Returns how far the face stands off the straights between them, at most.
Length append_varying_parallel(const std::vector<Corner>& corners, const std::vector<double>& node_marks,
                               const OffsetRow& offsets, const FaceLayout& layout,
                               std::vector<Eigen::Vector2d>& points);

/// The same as curves, in the same order: for each node with chords one arc, for each part of a straight a straight.
///
/// Accuracy: where the distance changes along a rounding the arc is a conic through its ends and middle.
void append_varying_curves(const std::vector<Corner>& corners, const std::vector<double>& node_marks,
                           const OffsetRow& offsets, const FaceLayout& layout, std::vector<StripCurve>& curves);

/// The face as a polyline: no point of it is further than `tolerance` from the face. Neighbours at one place are one.
std::vector<Eigen::Vector2d> varying_parallel(const std::vector<Corner>& corners, const std::vector<double>& node_marks,
                                              const OffsetRow& offsets, Length tolerance);

/// 0, 1, 2 ... for `count` nodes.
std::vector<double> plain_marks(std::size_t count);

}  // namespace sillwright::geometry
