#pragma once

#include <Eigen/Geometry>
#include <optional>
#include <string>
#include <vector>

#include "geometry/nest_shape.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Outlines as they lie on a sheet, and what they must keep.
struct SheetToCheck {
    Eigen::Vector2d size_mm = Eigen::Vector2d::Zero();
    Length margin;  ///< Of the sheet's edges and of defects.
    Length gap;     ///< Of one another.
    std::vector<Eigen::AlignedBox2d> defects;
    std::vector<Polygon> outlines_mm;
};

/// What is wrong with a sheet, in words with the outlines' numbers (from 0); none if all is kept.
///
/// Method: edge by edge against edge, and whether one holds another; it knows nothing of how the sheet was filled.
/// Accuracy: a distance of exactly gap or margin passes; rounding of 1e-6 mm is forgiven.
std::optional<std::string> sheet_fault(const SheetToCheck& sheet);

/// Least distance between the borders of two rings, zero where they cross; what is beyond `far_enough` may come out as
/// anything beyond it.
double ring_distance_mm(const Polygon& a, const Polygon& b, double far_enough);

/// Whether the point is inside the ring, its border left open.
bool inside_ring(const Polygon& ring, const Eigen::Vector2d& p_mm);

}  // namespace sillwright::geometry
