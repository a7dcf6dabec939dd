#include "app/drawings/network_scale.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/drawings/mount_mark.h"
#include "app/drawings/strip_scale.h"

namespace sillwright::app {

using Eigen::Matrix2d;
using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;

namespace {

constexpr double k_margin = 34.0;    ///< Beside the points: names and ellipses.
constexpr double k_above = 26.0;     ///< Above and below them.
constexpr double k_least_mm = 60.0;  ///< A network that is flat one way is drawn as if it were so deep.
constexpr double k_ellipse = 26.0;   ///< The largest ellipse's longer half-axis, pixels at most.
constexpr double k_least_sd_mm = 1e-6;

struct Extent {
    Vector3d low = Vector3d::Zero(), high = Vector3d::Zero();
};

Extent extent_of(const NetworkPicture& picture) {
    Extent extent{picture.points.front().at_mm, picture.points.front().at_mm};
    const auto take = [&extent](const Vector3d& p_mm) {
        extent.low = extent.low.cwiseMin(p_mm);
        extent.high = extent.high.cwiseMax(p_mm);
    };
    for (const NetworkPoint& point : picture.points) {
        take(point.at_mm);
    }
    for (const NetworkMirror& mirror : picture.mirrors) {
        take(mirror.there_mm);
    }
    for (int axis = 0; axis < 3; ++axis) {
        if (const double lacks = k_least_mm - (extent.high[axis] - extent.low[axis]); lacks > 0.0) {
            extent.low[axis] -= lacks / 2.0;
            extent.high[axis] += lacks / 2.0;
        }
    }
    return extent;
}

Matrix2d in_view(NetworkView view, const Matrix3d& covariance_mm2) {
    const int other = view == NetworkView::plan ? 1 : 2;
    Matrix2d part;
    part << covariance_mm2(0, 0), covariance_mm2(0, other), covariance_mm2(other, 0), covariance_mm2(other, other);
    return part;
}

}  // namespace

QPointF NetworkScale::at(NetworkView view, const Vector3d& p_mm) const {
    const double x = plan.left() + (p_mm.x() - along_left_mm) * pixels;
    return view == NetworkView::plan ? QPointF(x, plan.top() + (p_mm.y() - out_top_mm) * pixels)
                                     : QPointF(x, side.top() + (up_top_mm - p_mm.z()) * pixels);
}

Vector3d NetworkScale::mm_at(NetworkView view, const QPointF& at, const Vector3d& like_mm) const {
    Vector3d p_mm = like_mm;
    p_mm.x() = along_left_mm + (at.x() - plan.left()) / pixels;
    if (view == NetworkView::plan) {
        p_mm.y() = out_top_mm + (at.y() - plan.top()) / pixels;
    } else {
        p_mm.z() = up_top_mm - (at.y() - side.top()) / pixels;
    }
    return p_mm;
}

Vector3d NetworkScale::middle_mm() const {
    return {along_left_mm + plan.width() / (2.0 * pixels), out_top_mm + plan.height() / (2.0 * pixels),
            up_top_mm - side.height() / (2.0 * pixels)};
}

NetworkScale network_scale(const NetworkPicture& picture, const QRectF& room) {
    const Extent extent = extent_of(picture);
    const Vector3d size = extent.high - extent.low;
    NetworkScale scale;
    const double wide = std::max(1.0, room.width() - 2.0 * k_margin);
    const double high = std::max(1.0, room.height() - 4.0 * k_above);
    scale.pixels = std::min(wide / size.x(), high / (size.y() + size.z()));
    const double plan_height = size.y() * scale.pixels + 2.0 * k_above;
    const double side_height = size.z() * scale.pixels + 2.0 * k_above;
    const double spare = std::max(0.0, room.height() - plan_height - side_height) / 2.0;
    scale.plan = QRectF(room.left(), room.top(), room.width(), plan_height + spare);
    scale.side = QRectF(room.left(), scale.plan.bottom(), room.width(), room.bottom() - scale.plan.bottom());
    for (const NetworkPoint& point : picture.points) {
        for (const NetworkView view : {NetworkView::plan, NetworkView::side}) {
            scale.largest_mm = std::max(scale.largest_mm, ellipse_95(view, point.covariance_mm2, 1.0).longer);
        }
    }
    return closer(scale, 1.0, 0.5 * (extent.low + extent.high));
}

NetworkScale closer(NetworkScale scale, double times, const Vector3d& middle_mm) {
    scale.pixels *= times;
    scale.along_left_mm = middle_mm.x() - scale.plan.width() / (2.0 * scale.pixels);
    scale.out_top_mm = middle_mm.y() - scale.plan.height() / (2.0 * scale.pixels);
    scale.up_top_mm = middle_mm.z() + scale.side.height() / (2.0 * scale.pixels);
    scale.ellipses = scale.largest_mm > k_least_sd_mm ? exaggerated(scale.largest_mm, scale.pixels, k_ellipse) : 1.0;
    return scale;
}

Ellipse ellipse_95(NetworkView view, const Matrix3d& covariance_mm2, double pixels) {
    const Eigen::SelfAdjointEigenSolver<Matrix2d> axes(in_view(view, covariance_mm2));
    const auto half = [&](int axis) { return k_ellipse_95 * std::sqrt(std::max(0.0, axes.eigenvalues()[axis])); };
    const Vector2d longer = axes.eigenvectors().col(1);
    // Out runs down the sheet as y does; up runs against it.
    const double down = view == NetworkView::plan ? longer.y() : -longer.y();
    return {half(1) * pixels, half(0) * pixels, std::atan2(down, longer.x()) * 180.0 / std::numbers::pi};
}

}  // namespace sillwright::app
