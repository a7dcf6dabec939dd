#pragma once

#include <QPointF>
#include <QRectF>
#include <QSizeF>

#include "app/drawings/strip_picture.h"

namespace sillwright::app {

/// How a strip lies on its sheet: true along the car, heights drawn larger or smaller by `heights`.
///
/// Units and frame: pixels of the sheet, y down; places of the strip in millimetres.
struct StripScale {
    QRectF plot;            ///< Where lines are drawn.
    double along = 1.0;     ///< Pixels for a millimetre along the car.
    double heights = 1.0;   ///< Times larger than that: a step of a tenth at least.
    double front_mm = 0.0;  ///< At the plot's left edge.
    double ceiling_mm = 0.0;
    double top = 0.0;  ///< y of the ceiling.

    [[nodiscard]] double x(double along_mm) const { return plot.left() + (along_mm - front_mm) * along; }
    [[nodiscard]] double y(double height_mm) const { return top + (ceiling_mm - height_mm) * along * heights; }
    [[nodiscard]] QPointF at(const Eigen::Vector2d& p_mm) const { return {x(p_mm.x()), y(p_mm.y())}; }
    [[nodiscard]] double along_at(double x_px) const { return front_mm + (x_px - plot.left()) / along; }
    [[nodiscard]] double height_at(double y_px) const { return ceiling_mm - (y_px - top) / (along * heights); }
};

/// The largest that fits, the strip in the middle of the height that is left.
/// Precondition: the ground is not empty, the plot has an area.
StripScale strip_scale(const StripGround& ground, const QRectF& plot);

/// How many times larger than the strip something small is drawn so that `size_mm` has `pixels` at least:
/// a round number, 1 if it has.
double enlarged(double size_mm, double pixels_for_mm, double pixels);

/// The largest round number of times (1, 2, 5, 10, ...) by which `size_mm` still stays within `pixels`.
double exaggerated(double size_mm, double pixels_for_mm, double pixels);

}  // namespace sillwright::app
