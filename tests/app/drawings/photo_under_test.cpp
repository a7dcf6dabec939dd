#include "app/drawings/photo_under.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

using Eigen::Vector2d;

TEST(PhotoUnder, TwoPlacesAreALengthApart) {
    PhotoUnder photo;
    photo.mm_per_pixel = 0.5;
    photo.top_left_mm = {-10, 40};
    // 30 mm as it lies, 45 mm in truth: half as large again about the first place.
    const PhotoUnder scaled = scaled_to(photo, {0, 10}, {30, 10}, 45.0);
    EXPECT_DOUBLE_EQ(scaled.mm_per_pixel, 0.75);
    EXPECT_LT((scaled.top_left_mm - Vector2d(-15, 55)).norm(), 1e-12);
}

TEST(PhotoUnder, IsLaidInTheMiddleOfWhatIsSeen) {
    const SectionScale scale{2.0, QPointF(100, 300)};
    // 800 by 400 pixels on a field of 400 by 400: half as large.
    const PhotoUnder photo = laid_out(QPixmap(800, 400), QRectF(100, 100, 400, 400), scale);
    EXPECT_DOUBLE_EQ(photo.mm_per_pixel * scale.pixels_per_mm, 0.5);
    EXPECT_EQ(scale.on_sheet(photo.top_left_mm), QPointF(100, 200));
}

}  // namespace
}  // namespace sillwright::app
