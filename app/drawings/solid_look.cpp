#include "app/drawings/solid_look.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace sillwright::app {

using Eigen::Vector3d;
using geometry::Angle;
using geometry::degrees;
using geometry::in_mm;
using geometry::in_rad;
using geometry::millimetres;

namespace {

/// Nearer than a tenth of a hair, or further than a street is long, nothing of a sill can be seen.
constexpr double k_least_across_mm = 0.5;
constexpr double k_most_across_mm = 100000.0;

/// Room round what was fitted, of the whole.
constexpr double k_room = 1.12;

double shorter(const QSizeF& sheet) {
    return std::max(1.0, std::min(sheet.width(), sheet.height()));
}

}  // namespace

Vector3d SolidLook::to_eye() const {
    const double a = in_rad(around);
    const double t = in_rad(above);
    return {std::cos(t) * std::cos(a), std::cos(t) * std::sin(a), std::sin(t)};
}

Vector3d SolidLook::right() const {
    const double a = in_rad(around);
    return {-std::sin(a), std::cos(a), 0.0};
}

Vector3d SolidLook::up() const {
    return to_eye().cross(right());
}

double SolidLook::mm_per_pixel(const QSizeF& sheet) const {
    return in_mm(across) / shorter(sheet);
}

QPointF SolidLook::on_sheet(const Vector3d& p_mm, const QSizeF& sheet) const {
    const double scale = mm_per_pixel(sheet);
    const Vector3d from_centre_mm = p_mm - centre_mm;
    return {sheet.width() / 2.0 + from_centre_mm.dot(right()) / scale,
            sheet.height() / 2.0 - from_centre_mm.dot(up()) / scale};
}

Vector3d SolidLook::under(const QPointF& point, const QSizeF& sheet) const {
    const double scale = mm_per_pixel(sheet);
    return centre_mm + (point.x() - sheet.width() / 2.0) * scale * right() -
           (point.y() - sheet.height() / 2.0) * scale * up();
}

SolidLook turned(const SolidLook& look, const QPointF& by, const QSizeF& sheet) {
    const Angle per_pixel = degrees(180.0) / shorter(sheet);
    SolidLook result = look;
    result.around = geometry::radians(std::remainder(in_rad(look.around - per_pixel * by.x()), in_rad(degrees(360.0))));
    result.above = std::clamp(look.above + per_pixel * by.y(), degrees(-90.0), degrees(90.0));
    return result;
}

SolidLook moved(const SolidLook& look, const QPointF& by, const QSizeF& sheet) {
    SolidLook result = look;
    const double scale = look.mm_per_pixel(sheet);
    result.centre_mm += -by.x() * scale * look.right() + by.y() * scale * look.up();
    return result;
}

SolidLook zoomed(const SolidLook& look, double factor, const QPointF& about, const QSizeF& sheet) {
    SolidLook result = look;
    result.across = millimetres(std::clamp(in_mm(look.across) / factor, k_least_across_mm, k_most_across_mm));
    result.centre_mm += look.under(about, sheet) - result.under(about, sheet);
    return result;
}

void SolidBounds::take_in(const Vector3d& p_mm) {
    low_mm = low_mm.cwiseMin(p_mm);
    high_mm = high_mm.cwiseMax(p_mm);
}

void SolidBounds::take_in(const SolidBounds& other) {
    low_mm = low_mm.cwiseMin(other.low_mm);
    high_mm = high_mm.cwiseMax(other.high_mm);
}

std::vector<Vector3d> SolidBounds::corners_mm() const {
    std::vector<Vector3d> corners;
    if (!empty()) {
        for (const double x : {low_mm.x(), high_mm.x()}) {
            for (const double y : {low_mm.y(), high_mm.y()}) {
                for (const double z : {low_mm.z(), high_mm.z()}) {
                    corners.emplace_back(x, y, z);
                }
            }
        }
    }
    return corners;
}

SolidBounds bounds_of(const geometry::Mesh& mesh) {
    SolidBounds bounds;
    for (const Vector3d& p_mm : mesh.points) {
        bounds.take_in(p_mm);
    }
    return bounds;
}

SolidBounds bounds_of(const SolidBounds& box, const DoorPose& pose) {
    SolidBounds bounds;
    for (const Vector3d& p_mm : box.corners_mm()) {
        bounds.take_in(pose.leftCols<3>() * p_mm + pose.col(3));
    }
    return bounds;
}

SolidLook fitted(const SolidLook& look, const std::vector<SolidBounds>& boxes, const QSizeF& sheet) {
    SolidBounds in_picture;  // in the picture's own directions
    for (const SolidBounds& box : boxes) {
        for (const Vector3d& p_mm : box.corners_mm()) {
            in_picture.take_in({p_mm.dot(look.right()), p_mm.dot(look.up()), p_mm.dot(look.to_eye())});
        }
    }
    if (in_picture.empty() || sheet.isEmpty()) {
        return look;
    }
    const Vector3d middle = (in_picture.low_mm + in_picture.high_mm) / 2.0;
    const Vector3d extent = in_picture.high_mm - in_picture.low_mm;
    SolidLook result = look;
    result.centre_mm = middle.x() * look.right() + middle.y() * look.up() + middle.z() * look.to_eye();
    const double mm_per_pixel = k_room * std::max(extent.x() / sheet.width(), extent.y() / sheet.height());
    result.across = millimetres(std::clamp(mm_per_pixel * shorter(sheet), k_least_across_mm, k_most_across_mm));
    return result;
}

SolidLook looking_from(LookFrom from, bool right_hand, const SolidLook& look) {
    const double sign = right_hand ? 1.0 : -1.0;
    SolidLook result = look;
    switch (from) {
        case LookFrom::corner:  // beside the car, somewhat above and behind: a sill is long and low
            result.around = degrees(sign * 70.0);
            result.above = degrees(22.0);
            break;
        case LookFrom::outside:
            result.around = degrees(sign * 90.0);
            result.above = Angle{};
            break;
        case LookFrom::below:
            result.around = degrees(sign * 90.0);
            result.above = degrees(-90.0);
            break;
        case LookFrom::end:  // out to the right, as the section is drawn
            result.around = right_hand ? Angle{} : degrees(180.0);
            result.above = Angle{};
            break;
    }
    return result;
}

}  // namespace sillwright::app
