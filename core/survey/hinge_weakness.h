#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "geometry/hinge_fit.h"

namespace sillwright::core::survey {

/// Below these a hinge set is called weak: common practice, no source.
constexpr double k_narrow_swing_deg = 45.0;
constexpr double k_targets_apart_mm = 400.0;
constexpr std::size_t k_few_openings = 4;
constexpr double k_pins_apart_mm = 200.0;
/// Pins nearer than this have no direction.
constexpr double k_least_pins_apart_mm = 1.0;

/// What makes the axis weak, each with what to add; empty if nothing.
std::vector<std::string> hinge_weaknesses(const geometry::HingeFit& fit);

/// The same of an axis through two pins.
std::vector<std::string> pin_weaknesses(const Eigen::Vector3d& lower_mm, const Eigen::Vector3d& upper_mm);

}  // namespace sillwright::core::survey
