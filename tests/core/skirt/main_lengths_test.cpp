#include "core/skirt/main_lengths.h"

#include <gtest/gtest.h>

// Expected values: hand counts on right triangles.
namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

geometry::Loft line(const std::vector<geometry::LoftNode>& nodes) {
    return geometry::Loft::make({{millimetres(0), nodes}, {millimetres(100), nodes}}, {}, false).value();
}

TEST(MainLengths, GoFromCornerToCorner) {
    const geometry::Loft loft = line({{"shelf inner", {0, 100}, {}},
                                      {"shelf edge", {40, 70}, millimetres(5)},
                                      {"lower edge", {40, 0}, {}},
                                      {"flange root", {24, 0}, {}},
                                      {"flange end", {0, -7}, {}}});
    const std::vector<MainLength> lengths = main_lengths(loft, millimetres(50));
    ASSERT_EQ(lengths.size(), 2U);
    EXPECT_EQ(lengths[0].name, "flange");
    EXPECT_NEAR(in_mm(lengths[0].length), 25.0, 1e-12);  // 7, 24, 25
    EXPECT_LT(lengths[0].away.y(), 0.0) << "below the flange";
    EXPECT_EQ(lengths[1].name, "shelf");
    EXPECT_NEAR(in_mm(lengths[1].length), 50.0, 1e-12);  // 30, 40, 50
    EXPECT_LT(lengths[1].away.y(), 0.0) << "below the shelf, away from the door";
}

TEST(MainLengths, WithoutTheNodesThereIsNone) {
    EXPECT_TRUE(main_lengths(line({{"a", {0, 0}, {}}, {"flange end", {9, 0}, {}}}), millimetres(50)).empty());
}

}  // namespace
}  // namespace sillwright::core
