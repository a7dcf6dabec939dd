#include "app/drawings/photo_under.h"

#include <algorithm>
#include <utility>

namespace sillwright::app {

PhotoUnder laid_out(QPixmap picture, const QRectF& field, const SectionScale& scale) {
    PhotoUnder photo;
    const double pixels = std::max(1.0, std::max(picture.width() / field.width(), picture.height() / field.height()));
    photo.mm_per_pixel = 1.0 / (scale.pixels_per_mm * pixels);
    const QPointF half(0.5 * picture.width() / pixels, 0.5 * picture.height() / pixels);
    photo.top_left_mm = scale.from_sheet(field.center() - half);
    photo.picture = std::move(picture);
    return photo;
}

PhotoUnder scaled_to(PhotoUnder photo, const Eigen::Vector2d& first_mm, const Eigen::Vector2d& second_mm,
                     double length_mm) {
    const double factor = length_mm / (second_mm - first_mm).norm();
    photo.mm_per_pixel *= factor;
    photo.top_left_mm = first_mm + factor * (photo.top_left_mm - first_mm);
    return photo;
}

void draw_photo(QPainter& painter, const PhotoUnder& photo, const SectionScale& scale) {
    const double size = photo.mm_per_pixel * scale.pixels_per_mm;
    painter.save();
    painter.setOpacity(photo.opacity);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    painter.drawPixmap(
        QRectF(scale.on_sheet(photo.top_left_mm), QSizeF(size * photo.picture.width(), size * photo.picture.height())),
        photo.picture, QRectF(photo.picture.rect()));
    painter.restore();
}

}  // namespace sillwright::app
