#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/holding/loads.h"
#include "core/holding/part_sections.h"
#include "geometry/continuous_beam.h"
#include "geometry/units.h"

/// The loads that a part must bear, along a beam.
namespace sillwright::core {

/// Air at sea level, kg/m³ (ISO 2533), and the standard fall, m/s² (CGPM 1901).
constexpr double k_air_density = 1.225;
constexpr double k_fall = 9.80665;
/// A foot is a square of this side (job practice: 60 x 60, no source).
constexpr double k_foot_mm = 60.0;

/// Pressure where air is stopped, ½ rho V², pascals.
double stagnation_pressure_pa(double speed_kmh);
/// Force of a pressure on an area in mm².
geometry::Force pressure_force(double pressure_pa, double area_mm2);
/// Weight of a mass (kg), times so many g.
geometry::Force weight_force(double mass_kg, double times = 1.0);

/// Which way a beam is loaded: its loads and deflections are positive that way.
enum class LoadWay { down, outward };

enum class LoadKind { weight, shaking, air, foot, heel };

/// Where a load acts in its section, (out, up).
struct LoadPoint {
    Eigen::Vector2d p_mm = Eigen::Vector2d::Zero();
};

/// A load on the whole part: what acts where, spread or at a point.
struct LoadCase {
    std::string name;  ///< "weight and shaking down", "foot at 3.9 · 700 mm"
    LoadKind kind = LoadKind::weight;
    LoadWay way = LoadWay::down;
    bool lasting = false;  ///< Always there: by the creep modulus.
    geometry::BeamLoads loads;
    std::vector<LoadPoint> spread_at, points_at;  ///< One for each spread and each point load.
};

/// Where a foot and a heel may come on the part at a place along it.
struct StepPlace {
    geometry::Length along;
    Eigen::Vector2d foot_mm, heel_mm;  ///< (out, up) of the middle of the foot; of the heel on the face.
    std::string words;                 ///< "at 3.9 · 700 mm"
};

/// The load cases of a part whose sections are given end to end.
///
/// weight: density · area; shaking: the weight times the asked g, down (with the weight), up (less the weight), outward
///   and inward; air: stagnation pressure · coefficient · height of the outline, outward and inward, at half its height
///   (pressure on the shelf is left out); foot: only if the part may be stood on, with the weight, on the middle
///   of the foot; heel: inward. Weight, shaking and foot need a density; without one they are left out, but the foot,
///   which is then without the weight.
/// Source: section by section from the sheet's area; loads are common practice, no source.
std::vector<LoadCase> load_cases(const Loads& loads, std::optional<double> density_kg_per_m3,
                                 const std::vector<PartSection>& sections, const std::vector<StepPlace>& places);

}  // namespace sillwright::core
