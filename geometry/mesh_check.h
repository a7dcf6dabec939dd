#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/units.h"

namespace sillwright::geometry {

enum class MeshFault {
    empty,                    ///< No triangle.
    not_closed,               ///< An edge with an odd number of faces: the rim of a hole.
    not_consistently_turned,  ///< Neighbours that face opposite ways.
    inside_out,               ///< Closed, but its faces look inward.
    degenerate_faces,         ///< Two corners at one place, or all three in a line.
    too_small,                ///< The unit is probably wrong.
    too_large,
};

/// One thing that is wrong with a mesh.
struct MeshFinding {
    MeshFault kind;
    std::string words;                        ///< One or two sentences: what, how much, what would be right.
    double number = 0.0;                      ///< Edges or faces; for a size, the greatest extent in millimetres.
    std::optional<Eigen::Vector3d> first_mm;  ///< The middle of the first edge or face, where there is one.
};

/// Between which greatest extents a mesh of a part of a car is believed.
struct ExpectedSize {
    Length least = millimetres(50.0);
    Length greatest = millimetres(10000.0);
};

/// What is wrong with the mesh, in the order of MeshFault; nothing if it can be
/// used as a closed solid.
///
/// Shape: any mesh whose indices are valid. Parts may touch: an edge of four
///   faces that pair up is closed. Each fault is reported once, with its count.
/// Accuracy: a face is degenerate if it is no higher than 1e-9 mm over its
///   longest side. Sizes at the limits are believed.
std::vector<MeshFinding> check_mesh(const Mesh& mesh, const ExpectedSize& size);

/// The same surface without its degenerate faces.
///
/// Two corners at one place become one point. A face whose corners are in a
/// line is taken into its neighbour across the longest side, so that no edge
/// is opened and nothing moves by more than 1e-9 mm; where there is no such
/// neighbour (the rim of an open mesh, an edge of more than two faces) it stays.
/// Points that no face uses any more stay too, so that indices keep their meaning.
Mesh cleaned(const Mesh& mesh);

}  // namespace sillwright::geometry
