#pragma once

#include <optional>
#include <string>

#include "core/entry.h"
#include "geometry/units.h"

/// What the part is made of, and what it must bear: plain values of the job.
namespace sillwright::core {

/// A sheet material by its name in the table of materials; each number given here goes before the table's.
struct Material {
    std::string name;
    std::optional<double> expansion_per_k;                                ///< Linear, 1/K.
    std::optional<double> density_kg_per_m3;                              ///< Of the sheet.
    std::optional<geometry::Stress> modulus, hot_modulus, creep_modulus;  ///< At 23 °C, hot, after 1 000 h.
    std::optional<double> strain_most;                                    ///< That the sheet is asked to bear.
    Unknown unknown{};

    friend bool operator==(const Material&, const Material&) = default;
};

/// Whether people may step on the part.
enum class Stepping { stood_on, refused };

/// Loads and what is asked under them. Usual values are common practice, no source.
struct Loads {
    double air_speed_kmh = 130.0;
    double air_coefficient = 1.0;  ///< Pressure on the part, of the stagnation pressure; either way.
    double shaking_g = 5.0;        ///< Weight times this, either way.
    std::optional<Stepping> stepping;
    geometry::Force foot = geometry::newtons(1000.0);
    geometry::Force heel = geometry::newtons(250.0);  ///< Against the outer face.
    Entry deflection_most{geometry::millimetres(8.0), ""};
    double clip_share = 0.5;  ///< Of what a fastener holds, that may be asked of it.
    Unknown unknown{};

    friend bool operator==(const Loads&, const Loads&) = default;
};

}  // namespace sillwright::core
