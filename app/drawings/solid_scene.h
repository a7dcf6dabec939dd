#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/units.h"

namespace sillwright::app {

enum class SolidRole { body, door, skirt };

/// One body of the solid view.
/// Units and frame: millimetres; x, y, z of the car; a door's body shut.
struct SolidBody {
    std::string name;
    SolidRole role = SolidRole::body;
    geometry::Mesh mesh;
    std::optional<std::size_t> door;  ///< Index of the door that it swings with.
};

/// Rotation and translation in one: columns 0 to 2, and column 3 in millimetres.
using DoorPose = Eigen::Matrix<double, 3, 4>;

/// How one door turns.
struct DoorTurn {
    std::string name;
    geometry::Angle opening;                        ///< From shut to the stop, > 0.
    std::function<DoorPose(geometry::Angle)> pose;  ///< Takes a shut body's points to where they are.
};

struct SolidScene {
    std::vector<SolidBody> bodies;
    std::vector<DoorTurn> doors;
};

}  // namespace sillwright::app
