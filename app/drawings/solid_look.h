#pragma once

#include <Eigen/Core>
#include <QPointF>
#include <QSizeF>
#include <limits>
#include <vector>

#include "app/drawings/solid_scene.h"
#include "geometry/units.h"

namespace sillwright::app {

/// How the solid is looked at: from afar along a straight line, without perspective, up being up.
/// Units and frame: millimetres; x, y, z of the car.
struct SolidLook {
    geometry::Angle around;  ///< Of the eye about the upright, from rearward towards the driver's right.
    geometry::Angle above;   ///< Of the eye over the horizon; from -90 to 90 degrees.
    Eigen::Vector3d centre_mm = Eigen::Vector3d::Zero();      ///< In the middle of the picture.
    geometry::Length across = geometry::millimetres(1000.0);  ///< The picture's shorter side, > 0.

    /// Unit vectors to the picture's right, up, and towards the eye.
    [[nodiscard]] Eigen::Vector3d right() const;
    [[nodiscard]] Eigen::Vector3d up() const;
    [[nodiscard]] Eigen::Vector3d to_eye() const;

    [[nodiscard]] double mm_per_pixel(const QSizeF& sheet) const;
    [[nodiscard]] QPointF on_sheet(const Eigen::Vector3d& p_mm, const QSizeF& sheet) const;
    /// The place under a point of the sheet, in the plane through the centre.
    [[nodiscard]] Eigen::Vector3d under(const QPointF& point, const QSizeF& sheet) const;

    friend bool operator==(const SolidLook&, const SolidLook&) = default;
};

/// Turned as the hand moved: to the right by so many pixels, and down. A hand's breadth across the picture
/// is half a turn.
SolidLook turned(const SolidLook& look, const QPointF& by, const QSizeF& sheet);
SolidLook moved(const SolidLook& look, const QPointF& by, const QSizeF& sheet);
/// Larger by `factor`, what is under `about` staying there.
SolidLook zoomed(const SolidLook& look, double factor, const QPointF& about, const QSizeF& sheet);

/// An upright box; empty if `low` is above `high`.
struct SolidBounds {
    Eigen::Vector3d low_mm = Eigen::Vector3d::Constant(std::numeric_limits<double>::infinity());
    Eigen::Vector3d high_mm = Eigen::Vector3d::Constant(-std::numeric_limits<double>::infinity());

    [[nodiscard]] bool empty() const { return low_mm.x() > high_mm.x(); }
    void take_in(const Eigen::Vector3d& p_mm);
    void take_in(const SolidBounds& other);
    [[nodiscard]] std::vector<Eigen::Vector3d> corners_mm() const;
};
SolidBounds bounds_of(const geometry::Mesh& mesh);
/// Of the corners of a box that was moved.
SolidBounds bounds_of(const SolidBounds& box, const DoorPose& pose);

/// From the same direction, all of `boxes` in the middle with a little room round it.
SolidLook fitted(const SolidLook& look, const std::vector<SolidBounds>& boxes, const QSizeF& sheet);

/// Directions that one asks for in words. `right_hand`: the sill is on the car's right.
enum class LookFrom { corner, outside, below, end };
SolidLook looking_from(LookFrom from, bool right_hand, const SolidLook& look);

}  // namespace sillwright::app
