#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// Where water stands on or in the part, with the car level. Stage::mounts.
///
/// `mounts/road/shelf fall`: the least fall outwards from shelf inner to shelf edge, against the least asked for: a
///   shelf that falls outwards everywhere has no place along it where water stands. None without a shelf.
/// `mounts/road/drain <n>`: each place, front to rear, where water would stand deeper than k_standing_most inside the
///   part without its drain holes; found is how deep it stands with those that are large enough. Its deepest water
///   runs along the lowest inside to an open end, over the lip towards the flange's end, or out of a hole.
///   `mounts/road/drain` where there is no such place.
/// Accuracy: sections at most 20 mm apart, those of drain holes among them; sections exact.
/// Mends: shelf inner nodes are raised; a drain hole at the lowest place.
std::vector<Finding> drainage_findings(const Job& job, const CarModel& car, Mends mends = Mends::look_for);

/// What stays behind in any hollow that is painted and dries: common practice, no source.
constexpr geometry::Length k_standing_most = geometry::millimetres(1.0);

}  // namespace sillwright::core
