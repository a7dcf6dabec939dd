#pragma once

#include "core/buck/buck_plan.h"
#include "geometry/units.h"

/// The limits of buck_findings (buck_plan.h).
namespace sillwright::core {

/// A slot that slides on: common practice, no source (project's reference values, section 12, "egg-crate").
constexpr geometry::Length k_fit_least = geometry::millimetres(0.1);
constexpr geometry::Length k_fit_most = geometry::millimetres(0.3);
/// Where the job says nothing: common practice, no source.
constexpr geometry::Length k_chord_most = geometry::millimetres(0.8);
/// The project's own requirement.
constexpr geometry::Length k_misfit_most = geometry::millimetres(0.05);
/// A gap under the skin that is smaller is none: a glue line.
constexpr double k_seen_gap_mm = 0.1;

}  // namespace sillwright::core
