#include "app/link/straightened_photo.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace sillwright::app {

using Eigen::Vector2d;

namespace {

/// Of the known points' own extent, what is shown beside them.
constexpr double k_beside = 0.75;
/// How sure a place is changes slowly: it is asked for once in a square of so many pixels.
constexpr int k_block = 16;
constexpr int k_hatch = 9;  ///< Pixels from line to line.

Eigen::AlignedBox2d shown(const core::survey::RectifiedPhoto& photo) {
    Eigen::AlignedBox2d box;
    for (const core::survey::RectifiedPoint& point : photo.points) {
        if (point.known_mm) {
            box.extend(*point.known_mm);
        }
    }
    const Vector2d beside = Vector2d::Constant(k_beside * box.sizes().maxCoeff());
    return {box.min() - beside, box.max() + beside};
}

bool sure(const core::survey::RectifiedPhoto& photo, const Vector2d& at_mm) {
    const auto px = photo.map->back(at_mm);
    const auto sd = px ? photo.sd_at(*px) : std::nullopt;
    return sd && *sd <= core::survey::k_trace_limit;
}

}  // namespace

std::optional<StraightenedPhoto> straighten(const QImage& picture, double photo_per_picture,
                                            const core::survey::RectifiedPhoto& photo, int most) {
    if (!photo.map || picture.isNull()) {
        return std::nullopt;
    }
    const Eigen::AlignedBox2d box = shown(photo);
    StraightenedPhoto straight;
    straight.mm_per_pixel = box.sizes().maxCoeff() / most;
    straight.top_left_mm = Vector2d(box.min().x(), box.max().y());
    const int width = std::max(1, static_cast<int>(box.sizes().x() / straight.mm_per_pixel));
    const int height = std::max(1, static_cast<int>(box.sizes().y() / straight.mm_per_pixel));
    const QImage source = picture.convertToFormat(QImage::Format_RGB32);
    straight.picture = QImage(width, height, QImage::Format_ARGB32_Premultiplied);
    straight.picture.fill(Qt::transparent);
    const auto at = [&](int column, int row) {
        return Vector2d(straight.top_left_mm + straight.mm_per_pixel * Vector2d(column + 0.5, -(row + 0.5)));
    };
    for (int top = 0; top < height; top += k_block) {
        for (int left = 0; left < width; left += k_block) {
            const bool traced = sure(photo, at(left + k_block / 2, top + k_block / 2));
            for (int row = top; row < std::min(height, top + k_block); ++row) {
                auto* line = reinterpret_cast<QRgb*>(straight.picture.scanLine(row));
                for (int column = left; column < std::min(width, left + k_block); ++column) {
                    const auto px = photo.map->back(at(column, row));
                    if (!px) {
                        continue;
                    }
                    const int x = static_cast<int>(std::floor(px->x() / photo_per_picture));
                    const int y = static_cast<int>(std::floor(px->y() / photo_per_picture));
                    if (!source.valid(x, y)) {
                        continue;
                    }
                    const bool hatched = !traced && (column + row) % k_hatch < 2;
                    line[column] = hatched ? qRgb(0x5F, 0x5F, 0x5F) : source.pixel(x, y);
                }
            }
        }
    }
    return straight;
}

}  // namespace sillwright::app
