#pragma once

#include <Eigen/Core>
#include <QPointF>
#include <QRectF>
#include <QSizeF>

#include "app/drawings/network_picture.h"

namespace sillwright::app {

/// The two views of a network: from above, and from the side. Both have the same true scale, and what stands at one
/// place along the car stands above each other.
enum class NetworkView { plan, side };

/// How a network lies on its sheet.
///
/// Units and frame: pixels of the sheet, y down; along to the right in both; out downward in the plan (towards who
///   looks at the side below it), up upward in the side.
struct NetworkScale {
    QRectF plan, side;           ///< Where each view is drawn.
    double pixels = 1.0;         ///< For a millimetre.
    double ellipses = 1.0;       ///< 95 % ellipses are drawn so many times larger than the network.
    double along_left_mm = 0.0;  ///< At the left edge of both.
    double out_top_mm = 0.0, up_top_mm = 0.0;
    double largest_mm = 0.0;  ///< The longest half-axis of all ellipses.

    [[nodiscard]] QPointF at(NetworkView view, const Eigen::Vector3d& p_mm) const;
    /// The place that is drawn there; what a view does not show (up in the plan) is as in `like_mm`.
    [[nodiscard]] Eigen::Vector3d mm_at(NetworkView view, const QPointF& at, const Eigen::Vector3d& like_mm) const;
    [[nodiscard]] Eigen::Vector3d middle_mm() const;
    [[nodiscard]] const QRectF& box(NetworkView view) const { return view == NetworkView::plan ? plan : side; }
};

/// The largest that fits on `room`. Precondition: a point is placed.
NetworkScale network_scale(const NetworkPicture& picture, const QRectF& room);

/// The same views, so many times closer, with `middle_mm` in the middle of both.
NetworkScale closer(NetworkScale scale, double times, const Eigen::Vector3d& middle_mm);

/// An ellipse in one view, in pixels.
struct Ellipse {
    double longer = 0.0, shorter = 0.0;  ///< Half-axes.
    double turned_deg = 0.0;             ///< From the sheet's right to the longer axis, clockwise as it is seen.
};
/// Source: half-axes are 2.4477 times the standard deviations along the eigenvectors of the 2 x 2 covariance (95 % of a
///   normal distribution in a plane).
Ellipse ellipse_95(NetworkView view, const Eigen::Matrix3d& covariance_mm2, double pixels);

}  // namespace sillwright::app
