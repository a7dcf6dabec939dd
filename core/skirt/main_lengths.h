#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A length of a section that its maker looks at first.
struct MainLength {
    std::string name;                                   ///< "flange", "shelf"
    Eigen::Vector2d from_mm = Eigen::Vector2d::Zero();  ///< (out, up), on the drawn line's corners.
    Eigen::Vector2d to_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d away = Eigen::Vector2d::UnitY();  ///< Unit, square to it, to where it is free.
    geometry::Length length{};
};

/// The flange from root to end and the shelf from its inner edge to its edge, as far as their nodes are
/// there at `along`: straight from corner to corner of the drawn line. The flange's is free outside,
/// the shelf's inside, below the door.
std::vector<MainLength> main_lengths(const geometry::Loft& line, geometry::Length along);

}  // namespace sillwright::core
