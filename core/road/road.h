#pragma once

#include <optional>

#include "core/entry.h"
#include "geometry/units.h"

/// How the car stands on the road: plain values of the job.
namespace sillwright::core {

/// Measured with the car at kerb weight on its wheels; limits are common practice, no source.
struct Road {
    std::optional<Entry> ground;                              ///< Up of the ground, in the job's frame.
    std::optional<Entry> front_wheel, rear_wheel;             ///< Along, of the wheels' centres.
    std::optional<Entry> tyre_radius;                         ///< Static loaded radius.
    std::optional<Entry> laden_drop;                          ///< By which the sill comes down when the car is laden.
    std::optional<Entry> bump;                                ///< Further travel of the springs to their stops.
    Entry clearance_least{geometry::millimetres(110.0), ""};  ///< Laden, standing.
    Entry bump_clearance_least{geometry::millimetres(30.0), ""};
    geometry::Angle breakover_least = geometry::degrees(10.0);
    geometry::Angle shelf_fall_least = geometry::degrees(1.5);  ///< Outward, so that water runs off.
    Entry drain_least{geometry::millimetres(6.0), ""};          ///< Diameter of a hole that lets water out.
    Entry end_gap_least{geometry::millimetres(2.0), ""};        ///< Hot.
    Entry end_gap_most{geometry::millimetres(10.0), ""};        ///< Cold.
    Unknown unknown{};

    friend bool operator==(const Road&, const Road&) = default;
};

}  // namespace sillwright::core
