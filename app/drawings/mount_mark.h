#pragma once

#include <QPainter>

#include "app/drawings/strip_picture.h"
#include "app/looks.h"

namespace sillwright::app {

/// How mounts are drawn on a strip.
struct MountScale {
    double pixels_for_mm = 1.0;  ///< Of their shapes, the same both ways.
    double ellipse = 1.0;        ///< Pixels for a millimetre of their uncertainty.
    bool bold = false;
};

/// 95 % of a plane normal distribution lie within this many standard deviations.
/// Source: sqrt(chi-square quantile of 0.95 with two degrees of freedom, 5.9915).
inline constexpr double k_ellipse_95 = 2.4477;

/// Half the width and half the height of a mount's shape in pixels, its hole in the part included.
QSizeF mount_half_size(const StripMount& mount, const MountScale& scale);

/// A mount at its true shape: a round hole, a slot or a square with a centre cross; a stud filled, a nut as a
/// hexagon; the hole to be made in the part as a dashed outline; the uncertainty as an ellipse.
/// A mount whose size is not measured is drawn as a hollow square's cross alone.
void draw_mount(QPainter& painter, const QPointF& at, const StripMount& mount, const MountScale& scale,
                looks::Tone tone);

}  // namespace sillwright::app
