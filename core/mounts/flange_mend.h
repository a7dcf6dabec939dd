#pragma once

#include <optional>

#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/mount_check.h"
#include "geometry/loft.h"

namespace sillwright::core {

/// The move of flange nodes, at the stations before and behind a mount, that brings
/// a check that falls short to a margin of zero: found by moving, landing the axis
/// anew and checking again; the margin so found is carried.
///
/// free edge: the flange end goes on along the flange. Bend: the flange root draws
///   back along it. Gap: root and end move square to the flange. Angle: the flange end
///   moves square to it.
/// Accuracy: 0 <= proven margin < 0.01 (millimetres or degrees).
/// No value where no such move within `k_most_move_mm` does it: a piece too short
///   along the car, roundings that no longer fit, a lean along the car.
std::optional<Mend> flange_mend(const Job& job, std::size_t piece, const geometry::Loft& line, const Mount& mount,
                                MountCheck check, const Landing& landing, const CheckedMount& checked,
                                const FormedSheet* formed = nullptr);

constexpr double k_most_move_mm = 150.0;

}  // namespace sillwright::core
