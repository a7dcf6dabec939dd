#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// What a gap between door and skirt must be: the gap asked for, the films of paint
/// that narrow it, and twice the standard deviation of what can be elsewhere than
/// measured.
///
/// required = asked + paint on each painted face
///            + 2 sqrt(survey^2 + forming^2 + sag^2 + axis^2), all standard deviations.
/// Source: root sum of squares of independent deviations, twice for about 95 %
///   (ISO/IEC Guide 98-3, from memory); the gaps asked for are common practice.
struct GapBudget {
    geometry::Length required;  ///< Of what is known; a lower bound if something is missing.
    std::vector<Input> inputs;
    std::vector<UnsureBy> unsure_by;   ///< All under the root, largest first.
    std::vector<std::string> missing;  ///< What must be measured before `required` is the whole.
};

/// `sag_lever`: distance of the door's point from the hinge, if the door is off its
/// striker there; none on the striker, where it does not sag.
/// `axis_sd`: of the door's place by its hinge axis (axis_sd.h); none if the axis is not kept from the book: then its
/// typed pins are taken as they are.
GapBudget gap_budget(const Job& job, const Door& door, geometry::Length asked,
                     std::optional<geometry::Length> sag_lever, std::optional<geometry::Length> axis_sd = {});

}  // namespace sillwright::core
