#pragma once

#include <Eigen/Core>
#include <vector>

#include "core/buck/buck_plan.h"

namespace sillwright::core {

/// Middles of the two holes for the datum rods, (side, height), the same for all ribs: inside both faces of each with
/// k_wood_about_rod_mm round the hole, that much clear of slots and spines, in whole steps of k_rod_step_mm, as far
/// apart as there is room. Fewer than two where there is no place for both.
std::vector<Eigen::Vector2d> datum_rods(const std::vector<Rib>& ribs, const std::vector<Spine>& spines, double pin_mm);

/// Height of the level line: about half-way up the lowest rib, in whole tens if there is room.
double level_height_mm(const std::vector<Rib>& ribs);

/// Distances to be measured: between the rods' holes of the first and the last rib across, of the spines' ends, of the
/// outermost ribs' feet, and from rib to rib.
std::vector<CheckDistance> check_distances(const PieceBuck& buck);

/// Common practice, no source: a hole nearer to an edge breaks out.
constexpr double k_wood_about_rod_mm = 10.0;
constexpr double k_rod_step_mm = 5.0;
/// Rods that are nearer to each other line nothing up: common practice, no source.
constexpr double k_rods_apart_mm = 30.0;

}  // namespace sillwright::core
