#pragma once

#include <optional>
#include <string>

#include "core/entry.h"
#include "geometry/units.h"

/// How the part is to fit the body in every season, as decided: plain values of the job.
namespace sillwright::core {

/// Temperatures of the part and of the body behind it at one time. A dark part in the sun is hotter than its car.
struct Warmth {
    std::optional<geometry::Temperature> part, body;
    Unknown unknown{};

    friend bool operator==(const Warmth&, const Warmth&) = default;
};

/// What holes and slots are sized by. Usual values are common practice, no source.
struct Fitting {
    std::string locator;  ///< Mount whose hole is round and gives the part its place; empty: the one proposed.
    std::string guide;    ///< Mount whose slot keeps the part from turning; empty: the one proposed.
    std::optional<Warmth> hot, cold, fitted;                ///< Fitted: when the screws are tightened.
    geometry::Temperature drawn = geometry::celsius(20.0);  ///< At which all lengths are as drawn and measured.
    std::string body_material;                              ///< A name of the table of materials; empty: not said.
    std::optional<Entry> part_half;                     ///< Half-width within which a hole of the part is at its place.
    bool fits_other_cars = false;                       ///< Not only the car that was measured.
    Entry car_to_car{geometry::millimetres(1.5), ""};   ///< Half-width of a factory hole from car to car.
    Entry cutter_step{geometry::millimetres(0.5), ""};  ///< Sizes to be cut are whole steps of it.
    std::optional<Entry> front_gap, rear_gap;           ///< Between the part's end and what is beside it, as drawn.
    Unknown unknown{};

    friend bool operator==(const Fitting&, const Fitting&) = default;
};

}  // namespace sillwright::core
