#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

namespace sillwright::app {

/// What a line or a point of a section drawing belongs to; it decides its pen.
enum class SectionRole { body, door, door_limit, skirt_drawn, skirt_inside, skirt_outside, mount_axis, keep_out };

/// A line of a section drawing.
struct SectionLine {
    SectionRole role = SectionRole::body;
    std::vector<Eigen::Vector2d> points_mm;  ///< (out, up), fine enough to be drawn as it is.
    bool closed = false;
    std::string name;  ///< "front door"; written once beside the line, empty for none.
};

/// A point with a name: a node of the skirt, the centre of a mount.
struct SectionPoint {
    SectionRole role = SectionRole::skirt_drawn;
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();
    std::string name;
    /// Direction of a short tick across the line, of any length; zero for a cross.
    Eigen::Vector2d across = Eigen::Vector2d::Zero();
};

/// A section of the car at one place, ready to be drawn.
///
/// Units and frame: millimetres; (out, up): out away from the car on either
///   side, out always runs to the right, so
///   the right side of a car is seen looking forward, the left looking rearward.
struct SectionPicture {
    std::string title;  ///< "section at 3.9 · 700 mm"
    std::vector<SectionLine> lines;
    std::vector<SectionPoint> points;
};

}  // namespace sillwright::app
