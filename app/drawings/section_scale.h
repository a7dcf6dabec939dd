#pragma once

#include <Eigen/Core>
#include <QPointF>
#include <QRectF>

#include "app/drawings/section_picture.h"

namespace sillwright::app {

/// How a section lies on its sheet: one scale for both directions.
struct SectionScale {
    double pixels_per_mm = 1.0;
    QPointF origin;  ///< Of (out, up) = (0, 0) on the sheet.

    [[nodiscard]] QPointF on_sheet(const Eigen::Vector2d& p_mm) const {
        return {origin.x() + pixels_per_mm * p_mm.x(), origin.y() - pixels_per_mm * p_mm.y()};
    }
    [[nodiscard]] Eigen::Vector2d from_sheet(const QPointF& p) const {
        return {(p.x() - origin.x()) / pixels_per_mm, (origin.y() - p.y()) / pixels_per_mm};
    }
    friend bool operator==(const SectionScale&, const SectionScale&) = default;
};

/// The largest scale at which all of the picture is inside `field`, in its
/// middle, but for what a door has more than 30 mm beyond all that stands still. A
/// picture without extent has one millimetre to the pixel, an empty one room for a usual sill.
SectionScale fit(const SectionPicture& picture, const QRectF& field);

/// The scale `factor` times as large, with what is at `still` kept there; bounded so that
/// a section stays a few pixels large, and a pixel no less than a hundredth of a millimetre.
SectionScale zoomed(const SectionScale& scale, double factor, const QPointF& still);

}  // namespace sillwright::app
