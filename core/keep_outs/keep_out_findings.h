#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/keep_outs/keep_out_body.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// Findings on what must stay free, in the order of the job's keep-outs. Stage::mounts.
///
/// `mounts/keep-out/<name>`: of the part's pieces that the body carries and of the fasteners' tips, the one with the
///   least margin. Found is proven: the meshes' least distance, less the deviation of the part's mesh (a keep-out's
///   mesh stands outside of it). A tip is the end of a straight shank of the fastener's diameter from the mount's seat
///   inwards, through the panel and by the fastener's tail. What is not measured of a fastener is listed where it
///   could matter: where the longest that may be there comes too near.
///   required = clearance + paint on the part + 2 sqrt(survey^2 + forming^2); of a tip: clearance + 2 sqrt(survey^2 +
///   mount^2).
/// `mounts/lift/<name>` for each jacking pad: a jack and the arms of a lift get there (LiftRoom), with the spare asked
///   for beside the arm.
/// Mends: nodes near the place are moved (room_mend.h); a fastener's tail is made shorter.
/// `bodies` must be those of `job`; making them takes longer than the findings.
std::vector<Finding> keep_out_findings(const Job& job, const CarModel& car, const MountPlan& plan,
                                       const KeepOutBodies& bodies, Mends mends = Mends::look_for);
/// The same, with bodies made for it.
std::vector<Finding> keep_out_findings(const Job& job, const CarModel& car, const MountPlan& plan,
                                       Mends mends = Mends::look_for);

/// The clearance of a keep-out that has none of its own: common practice, no source.
geometry::Length usual_clearance(KeepOutKind kind);

/// Beside the pad of a lift's arm: common practice, no source.
constexpr geometry::Length k_arm_spare = geometry::millimetres(15.0);

}  // namespace sillwright::core
