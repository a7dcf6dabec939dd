#pragma once

#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/units.h"

/// How near the part comes to the ground.
///
/// Units and frame: side view, along and up; heights are above the ground that the tyres stand on. Angles between a
///   plane and the level ground.
namespace sillwright::core {

/// Ramp breakover with the lowest point half-way between the wheels: 2 atan(2 h / wheelbase).
/// Source: calculator.7search.cc, breakover page. It prints 27.04 degrees for h 12, wheelbase 100; 26.991 is right.
geometry::Angle breakover_of_middle(geometry::Length height, geometry::Length wheelbase);

/// For a point anywhere between the wheels, by lines from where the tyres touch the ground:
/// atan(h / a) + atan(h / b), a behind the front contact, b ahead of the rear one.
geometry::Angle breakover(geometry::Length height, geometry::Length behind_front, geometry::Length ahead_of_rear);

/// The slope of the line through a point, `away` from a wheel's centre, that touches the tyre's circle from below:
/// atan2(h - r, d) + asin(r / sqrt(d^2 + (h - r)^2)). The least over all points ahead of the front wheel is the
/// approach angle (behind the rear one, departure).
/// Source: the definition of 49 CFR 523.2 (tangent to the static loaded radius).
/// Precondition: the point is not inside the tyre.
geometry::Angle tyre_angle(geometry::Length away, geometry::Length height, geometry::Length radius);

/// Breakover of a car that rolls over a crest: both planes touch the tyres' circles. Never less than `breakover`.
geometry::Angle rolling_breakover(geometry::Length height, geometry::Length behind_front,
                                  geometry::Length ahead_of_rear, geometry::Length radius);

/// `mounts/road/clearance` (laden), `/bump clearance`, `/breakover`, `/approach`. Stage::mounts.
///
/// Numbers: found is that of the part's painted outside, less the bound of low_line.h; the body without the part is
///   among the inputs. required = least + 2 sqrt(survey^2 + forming^2), in degrees by what that changes of the angle.
/// Mends: all nodes but the flange's that hang too low are raised to one height (to one breakover).
std::vector<Finding> ground_findings(const Job& job, const CarModel& car, Mends mends = Mends::look_for);

/// For points ahead of the front wheel or behind the rear one: common practice, no source.
constexpr geometry::Angle k_approach_least = geometry::degrees(10.0);

}  // namespace sillwright::core
