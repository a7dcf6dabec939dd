#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/holding/loads.h"
#include "geometry/units.h"

namespace sillwright::core {

/// What a material is taken to be. What nobody has said is empty.
struct MaterialNumbers {
    std::string name;
    bool for_body = false;  ///< What cars are made of; else what is formed.
    bool brittle = false;   ///< Cracks at a hole's edge before it gives.
    std::optional<double> expansion_per_k, density_kg_per_m3;
    std::optional<geometry::Stress> modulus, hot_modulus, creep_modulus;  ///< At 23 °C, hot, after 1 000 h.
    std::optional<double> strain_most;
    std::optional<geometry::Stress> bearing, shear;  ///< At a hole's edge.
    std::string source;
};

/// The table of materials: resources/materials.json, which gives the sources.
const std::vector<MaterialNumbers>& material_table();
/// Null if the table has none of that name.
const MaterialNumbers* find_material(const std::string& name);

/// A job's own numbers, and those of the table where it gives none.
MaterialNumbers numbers_of(const Material& material);

}  // namespace sillwright::core
