#pragma once

#include <Eigen/Core>
#include <QPainter>
#include <QPixmap>
#include <QString>

#include "app/drawings/section_scale.h"

namespace sillwright::app {

/// A reference photo under a section: an aid to the eye, and no part of the job. It lasts for the
/// window. Nothing in it is straightened.
struct PhotoUnder {
    QPixmap picture;
    double mm_per_pixel = 1.0;
    Eigen::Vector2d top_left_mm = Eigen::Vector2d::Zero();  ///< (out, up) of its upper left corner.
    double opacity = 0.5;
};

/// As large as the field on the sheet, and in its middle: where it lies until it is placed by scale.
PhotoUnder laid_out(QPixmap picture, const QRectF& field, const SectionScale& scale);

/// The photo at the size at which two places on it, as it lies now, are `length_mm` apart; the first stays
/// where it is. Precondition: the places are not the same.
PhotoUnder scaled_to(PhotoUnder photo, const Eigen::Vector2d& first_mm, const Eigen::Vector2d& second_mm,
                     double length_mm);

void draw_photo(QPainter& painter, const PhotoUnder& photo, const SectionScale& scale);

}  // namespace sillwright::app
