#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "geometry/units.h"

namespace sillwright::core {

/// What a hole's edge bears in the flat of the sheet: F = d · t · bearing strength.
/// Source: from memory, machine elements.
geometry::Force bearing_force(geometry::Length shank, geometry::Length thickness, geometry::Stress bearing);

/// At what a fastener tears out to the edge: F = 2 · t · (e - d/2) · shear strength, e from the hole's centre, d the
/// hole's width. Zero where the hole reaches the edge.
/// Source: from memory, machine elements.
geometry::Force tear_out_force(geometry::Length thickness, geometry::Length to_edge, geometry::Length hole,
                               geometry::Stress shear);

/// Where holes are to one another and to the ends, and what their edges bear. (Hole to edge and to bend: see
/// mount_findings.h.)
///
/// `mounts/<mount>/next hole`: from the centre of a hole's end to that of the nearest further to the rear on its piece
///   >= `hole_pitch_diameters` of the thicker fastener, and so that as much sheet stays between wider holes.
/// `mounts/<mount>/pitch`: to the next fastener to the rear <= `pitch_most`.
/// `mounts/<piece>/front overhang`, `/rear overhang`: from the last fastener to the piece's end <= `overhang_most`.
/// `mounts/<mount>/bearing`, `/tear-out` (newtons): what the hole's edge bears, of a flange thinner by two standard
///   deviations and an edge nearer by two, >= what the fastener holds.
/// Holes as drawn; as planned where there is none yet. Slots are taken as not crossing one another.
/// Source: common practice, no source.
std::vector<Finding> edge_findings(const Job& job, const CarModel& car, const MountPlan& plan);

}  // namespace sillwright::core
