#include "app/link/straightened_photo.h"

#include <gtest/gtest.h>

#include "core/job.h"
#include "core/typed.h"

namespace sillwright::app {
namespace {

using Eigen::Vector2d;

core::survey::Photo photo_of(const std::vector<Vector2d>& px, const std::vector<Vector2d>& mm) {
    core::survey::Photo photo;
    photo.plane = core::survey::PhotoPlane::elevation;
    for (std::size_t i = 0; i < px.size(); ++i) {
        core::survey::PhotoPoint point;
        point.right_px = px[i].x();
        point.down_px = px[i].y();
        point.across = core::entry(geometry::millimetres(mm[i].x()));
        point.up = core::entry(geometry::millimetres(mm[i].y()));
        photo.points.push_back(point);
    }
    return photo;
}

// A red square of 40 mm, its lower left corner at (20, 10), taken aslant: the picture of a known map, and back.
TEST(StraightenedPhoto, ShowsASlantedSquareSquare) {
    const std::vector<Vector2d> plate{{0, 0}, {100, 0}, {100, 80}, {0, 80}};
    const std::vector<Vector2d> px{{60, 520}, {700, 460}, {640, 120}, {120, 60}};
    const auto photo = photo_of(px, plate);
    const auto rectified = core::survey::rectify({}, photo, {});
    ASSERT_TRUE(rectified.map) << rectified.lacks;
    QImage taken(800, 600, QImage::Format_RGB32);
    for (int y = 0; y < taken.height(); ++y) {
        for (int x = 0; x < taken.width(); ++x) {
            const auto mm = rectified.map->map({x + 0.5, y + 0.5});
            const bool red = mm && mm->x() > 20 && mm->x() < 60 && mm->y() > 10 && mm->y() < 50;
            taken.setPixel(x, y, red ? qRgb(255, 0, 0) : qRgb(255, 255, 255));
        }
    }
    const auto straight = straighten(taken, 1.0, rectified, 500);
    ASSERT_TRUE(straight);
    const auto colour = [&](double across, double up) {
        const Vector2d at = (Vector2d(across, up) - straight->top_left_mm) / straight->mm_per_pixel;
        return straight->picture.pixelColor(static_cast<int>(at.x()), static_cast<int>(-at.y()));
    };
    for (const double across : {22.0, 40.0, 58.0}) {
        for (const double up : {12.0, 30.0, 48.0}) {
            EXPECT_EQ(colour(across, up), QColor(255, 0, 0)) << across << " " << up;
        }
    }
    EXPECT_EQ(colour(18, 30), QColor(255, 255, 255));
    EXPECT_EQ(colour(62, 30), QColor(255, 255, 255));
    EXPECT_EQ(colour(40, 52), QColor(255, 255, 255));
    EXPECT_EQ(colour(-70, 30).alpha(), 0) << "beside the photo there is nothing";
    EXPECT_FALSE(straighten({}, 1.0, rectified));
    EXPECT_FALSE(straighten(taken, 1.0, core::survey::rectify({}, {}, {})));
}

// The same place of a photo that was made smaller by half.
TEST(StraightenedPhoto, KnowsThatAPictureWasMadeSmaller) {
    const auto photo = photo_of({{0, 200}, {200, 200}, {200, 0}, {0, 0}}, {{0, 0}, {100, 0}, {100, 100}, {0, 100}});
    const auto rectified = core::survey::rectify({}, photo, {});
    QImage half(100, 100, QImage::Format_RGB32);
    half.fill(Qt::white);
    half.setPixelColor(50, 50, Qt::blue);
    const auto straight = straighten(half, 2.0, rectified, 500);
    const Vector2d at = (Vector2d(50.5, 49.5) - straight->top_left_mm) / straight->mm_per_pixel;
    EXPECT_EQ(straight->picture.pixelColor(static_cast<int>(at.x()), static_cast<int>(-at.y())), QColor(Qt::blue));
}

}  // namespace
}  // namespace sillwright::app
