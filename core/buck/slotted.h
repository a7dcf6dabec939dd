#pragma once

#include <vector>

#include "core/buck/buck_plan.h"
#include "geometry/profile.h"
#include "geometry/result.h"

namespace sillwright::core {

/// An outline with rectangular slots cut in from a level edge of it.
///
/// Units and frame: millimetres of the part; the outline is closed and anticlockwise. The edge: its straights at that
///   height, from which slots go up into it (a rib's base line) or down (a spine's upper edge).
/// Shape: closed, anticlockwise; slots in any order. Exact: lines stay lines, arcs stay arcs.
/// Errors: does_not_fit, naming the slot by its place, for one whose mouth is not wholly on a straight at that height
///   (with `k_slot_wood` beside it), that comes nearer than that to another edge, or to another slot;
///   invalid_argument for one that has no width or depth.
geometry::Result<geometry::Profile> slotted(const geometry::Profile& outline, const std::vector<Slot>& slots,
                                            double edge_mm);

/// Wood that must stay round a slot, so that there is something to hold: common practice, no source.
constexpr geometry::Length k_slot_wood = geometry::millimetres(1.0);

}  // namespace sillwright::core
