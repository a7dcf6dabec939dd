#pragma once

#include <cstddef>
#include <stop_token>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/landing.h"
#include "core/skirt/flange_face.h"
#include "geometry/mesh.h"

namespace sillwright::core {

/// Findings of one mount that is fixed to a drawn flange: `mounts/H1/reach`, `/edge`,
/// `/bend`, `/seat gap`, `/seat angle`, `/grip`, with mends where they fall short.
/// Where the axis never meets the face only reach and grip are there. `known`: where the mount lands on this face, with
/// its covariance, if that was computed already.
std::vector<Finding> drawn_mount_findings(const Job& job, const CarModel& car, const Mount& mount, std::size_t piece,
                                          const FlangeFace& face, Mends mends = Mends::look_for,
                                          const std::stop_token& stop = {}, const Landing* known = nullptr);

/// The same for a part that is a mesh: where it lands, gap and angle; edge and bend
/// are not measured, as a mesh does not say where its flange ends.
std::vector<Finding> mesh_mount_findings(const Job& job, const Mount& mount, std::size_t piece,
                                         const geometry::Mesh& mesh);

/// All findings of a mount for which there is no surface yet: not measured.
std::vector<Finding> unmeasured_mount_findings(const Job& job, const Mount& mount,
                                               const std::vector<std::string>& missing);

}  // namespace sillwright::core
