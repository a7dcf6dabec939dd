#include "app/drawings/section_scale.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

TEST(SectionScale, ThereAndBack) {
    const SectionScale scale{2.5, QPointF(40, 300)};
    const Eigen::Vector2d p_mm(12.0, -7.0);
    EXPECT_EQ(scale.on_sheet(p_mm), QPointF(70, 317.5));  // 40 + 30, 300 + 17.5
    EXPECT_LT((scale.from_sheet(scale.on_sheet(p_mm)) - p_mm).norm(), 1e-12);
}

TEST(SectionScale, ZoomingKeepsWhatIsUnderThePointer) {
    const SectionScale scale{2.0, QPointF(100, 200)};
    const SectionScale larger = zoomed(scale, 3.0, QPointF(150, 120));
    EXPECT_DOUBLE_EQ(larger.pixels_per_mm, 6.0);
    EXPECT_LT((larger.from_sheet({150, 120}) - scale.from_sheet({150, 120})).norm(), 1e-12);
}

TEST(SectionScale, ZoomingHasAnEnd) {
    const SectionScale scale{2.0, QPointF(0, 0)};
    EXPECT_LE(zoomed(scale, 1e9, {}).pixels_per_mm, 100.0);
    EXPECT_GE(zoomed(scale, 1e-9, {}).pixels_per_mm, 0.1);
}

}  // namespace
}  // namespace sillwright::app
