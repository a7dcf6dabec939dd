#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

namespace sillwright::app {

/// Where a target was measured at one opening.
struct ArcPlace {
    int opening = 0;
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d miss_mm = Eigen::Vector2d::Zero();  ///< Fitted minus measured.
    bool suspect = false;

    friend bool operator==(const ArcPlace&, const ArcPlace&) = default;
};

/// One target's arc about the axis.
struct TargetArc {
    std::string name;
    std::vector<ArcPlace> places;

    friend bool operator==(const TargetArc&, const TargetArc&) = default;
};

/// The targets of a door as seen along its hinge axis.
///
/// Units and frame: millimetres; the axis is at (0, 0), along to the right, out downward.
struct ArcPicture {
    std::string door;
    std::vector<TargetArc> targets;
    bool axis = false;  ///< Whether the axis is found; only then arcs can be drawn.
    std::string words;  ///< What is missing, if it is not.

    friend bool operator==(const ArcPicture&, const ArcPicture&) = default;
};

}  // namespace sillwright::app
