#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/profile.h"

/// Edges of the part that somebody beside the car may meet.
///
/// Source: from memory of UN Regulation 26 (external projections), sections 2 and 5; its scope, the 30 degree cone, the
///   100 mm sphere and the 2.5 mm were read in second-hand texts. The rules of the country, and its inspection, have
///   the last word: findings say so.
namespace sillwright::core {

/// What a line of the car's outside says of an edge.
enum class EdgeRule {
    exempt,     ///< Below the floor line, or out of a 100 mm sphere's reach.
    soft,       ///< 60 Shore A or softer: any radius will do.
    low,        ///< Stands out by less than 1.5 mm: any radius will do.
    blunted,    ///< By less than 5 mm: must be blunted.
    radius_2_5  ///< By more: a radius of 2.5 mm at least.
};

/// `shore_a`: none for what is harder than that scale, as sheet is.
EdgeRule classify(double protrusion_mm, std::optional<double> shore_a, bool below_floor_line);

/// The radius that a rule asks for; none if any will do. Blunted is taken as 0.5 mm: common practice, no source.
std::optional<double> radius_asked_mm(EdgeRule rule);

/// Where the cone of 30 degrees touches a section of the outside as low as it can: the point with the greatest
/// out cos 30 - up sin 30. The side of the car is taken as straight along; where it curves, the surface's normal in
/// space has up = -sin 30 instead.
/// Precondition: a segment.
Eigen::Vector2d floor_line_point(const geometry::Profile& outside);

/// `mounts/road/edge <node>` for every node name whose corner, or free end, is on the outside: at the place where it
/// falls short by most; and `mounts/road/edge front end`, `... rear end` for the part's ends. Stage::mounts.
///
/// Radius: the drawn one grown by the sheet, as thick as it is formed there, and its paint where the corner is convex
/// outside; a free edge of the sheet
///   is rounded over to half the sheet at most. Hollow corners are no edges. How far an edge stands out is
///   taken from the body's outermost line; an end beside a neighbour stands out by what a 100 mm sphere dips into the
///   gap (fitting's front_gap, rear_gap).
/// Accuracy: looked at in every drawn section and seven places between two.
/// Mends: the node's radius in the sections where it is too small.
std::vector<Finding> outer_edge_findings(const Job& job, const CarModel& car, Mends mends = Mends::look_for);

}  // namespace sillwright::core
