#pragma once

#include <Eigen/Core>
#include <QImage>
#include <optional>

#include "core/survey/photo.h"

namespace sillwright::app {

/// A photo as it would look straight on, in scale.
struct StraightenedPhoto {
    QImage picture;
    double mm_per_pixel = 1.0;
    Eigen::Vector2d top_left_mm = Eigen::Vector2d::Zero();  ///< Of the plane: across and up of its upper left corner.
};

/// What is round the known points, at no more than `most` pixels a side. Where a place is less sure than the trace
/// limit it is hatched; what the photo does not show is left clear.
/// `photo_per_picture`: how many pixels of the photo, in which its points are, make one of `picture`.
/// None if the photo has no map.
std::optional<StraightenedPhoto> straighten(const QImage& picture, double photo_per_picture,
                                            const core::survey::RectifiedPhoto& photo, int most = 1600);

}  // namespace sillwright::app
