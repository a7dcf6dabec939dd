#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/buck/buck_plan.h"

namespace sillwright::core {

/// How far a rib stands off the base when it is put into a place, as it is or turned about the upright; no value where
/// it does not go in at all, as its slots are elsewhere or narrower. Zero: it goes in as if it belonged there.
///
/// Slots: two match where their middles agree within the play of rib slot and spine; those of a turned rib come the
///   other way round, and it may be shifted across.
std::optional<double> lift_mm(const Rib& rib, const std::vector<Spine>& spines, std::size_t place, bool turned);

/// Of every two ribs in each other's places, each as it is or turned, and of every rib turned in its own place: the one
/// that shows least. Two that are swapped show by the higher of the two. No value if none goes in, or there is no
/// spine.
std::optional<WrongPlace> worst_wrong_place(const std::vector<Rib>& ribs, const std::vector<Spine>& spines);

}  // namespace sillwright::core
