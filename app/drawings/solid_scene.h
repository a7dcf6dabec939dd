#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "geometry/mesh.h"
#include "geometry/units.h"

/// What the solid view shows, as plain values.
/// Units and frame: millimetres; x, y, z of the car.
namespace sillwright::app {

enum class SolidRole { body, door, skirt };

/// Of a triangle in its role's own colour.
constexpr int k_no_tint = -1;

/// One body of the solid view; a door's body shut. Never null: a mesh may be empty. It is shared with the
/// thread that draws, so it is made anew and never changed.
struct SolidBody {
    std::string name;
    SolidRole role = SolidRole::body;
    std::shared_ptr<const geometry::Mesh> mesh;
    std::optional<std::size_t> door;  ///< Index of the door that it swings with.
    std::string part_of{};            ///< Name of the door that it is a part of, if it is one.
    /// Of every triangle the step of its tint, as in ThicknessTint, or k_no_tint. Null: none has one. Shared as `mesh`.
    std::shared_ptr<const std::vector<int>> tints{};
};

/// Rotation and translation in one: columns 0 to 2, and column 3 in millimetres.
using DoorPose = Eigen::Matrix<double, 3, 4>;

/// How one door turns.
struct DoorTurn {
    std::string name;
    geometry::Angle opening;                        ///< From shut to the stop, > 0.
    std::function<DoorPose(geometry::Angle)> pose;  ///< Takes a shut body's points to where they are.
};

/// A mount on the body, shown as a disc across its axis.
struct SolidMount {
    std::string name;
    Eigen::Vector3d at_mm = Eigen::Vector3d::Zero();
    Eigen::Vector3d axis = Eigen::Vector3d::UnitZ();  ///< Unit.
    geometry::Length radius;
};

struct SolidScene {
    std::vector<SolidBody> bodies;
    std::vector<DoorTurn> doors;
    std::vector<SolidMount> mounts;
    bool right_hand = true;            ///< Which side of the car it is on: outside is where y points, or against it.
    std::vector<std::string> tints{};  ///< What is at the edges of the tints' steps, strongest first; empty if none.
};

/// The nearest points of a finding, joined by a dimension line.
struct SolidDimension {
    Eigen::Vector3d from_mm, to_mm;
    std::string words;  ///< "1.90 mm"
    core::State state = core::State::falls_short;
    std::string door;    ///< Whose opening it holds at; empty if it holds at any.
    geometry::Angle at;  ///< That opening.

    friend bool operator==(const SolidDimension&, const SolidDimension&) = default;
};

/// What is known along a door's opening, for its slider.
struct DoorMarks {
    struct Worst {
        geometry::Angle at;
        core::State state = core::State::falls_short;
        friend bool operator==(const Worst&, const Worst&) = default;
    };
    std::vector<core::AngleRange> touching;
    std::optional<Worst> worst;  ///< Where the gap is least against what is needed.
};

/// Something in the solid view that can be chosen.
struct SolidPart {
    enum class Kind { none, body, door, skirt, mount };
    Kind kind = Kind::none;
    std::string name;  ///< Of the door or the mount; of the body or piece else.

    friend bool operator==(const SolidPart&, const SolidPart&) = default;
};

}  // namespace sillwright::app
