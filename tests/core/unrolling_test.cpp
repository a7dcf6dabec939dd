#include "core/unrolling.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

// Expected values by hand: straights of 3-4-5 triangles.
namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::millimetres;

/// Side 100 down to the fold at (140, 10), then 30 in and 40 up (50 long), then 60 level.
geometry::Loft skirt(const std::string& fold_name) {
    const std::vector<geometry::LoftNode> nodes{{"shelf", {140.0, 110.0}, {}},
                                                {fold_name, {140.0, 10.0}, {}},
                                                {"root", {110.0, 50.0}, {}},
                                                {"end", {50.0, 50.0}, {}}};
    return geometry::Loft::make({{millimetres(0.0), nodes}, {millimetres(1000.0), nodes}}, {}, false).value();
}

TEST(Unrolling, KeepsUpOnTheSideAndDistanceFromTheFoldBelow) {
    const geometry::Loft loft = skirt("lower edge");
    const Unrolling unrolling(loft);
    EXPECT_EQ(unrolling.fold(), 1U);
    const UnrolledSection section = unrolling.at(millimetres(400.0));
    ASSERT_EQ(section.heights_mm.size(), 4U);
    EXPECT_NEAR(section.heights_mm[0], 110.0, 1e-9);
    EXPECT_NEAR(section.heights_mm[1], 10.0, 1e-9);
    EXPECT_NEAR(section.heights_mm[2], 10.0 - 50.0, 1e-9);
    EXPECT_NEAR(section.heights_mm[3], 10.0 - 110.0, 1e-9);
    EXPECT_NEAR(section.fold_mm(), 10.0, 1e-9);
}

TEST(Unrolling, PutsAPlaceAtItsFootOnTheUnderside) {
    const geometry::Loft loft = skirt("lower edge");
    const UnrolledSection section = Unrolling(loft).at(millimetres(400.0));
    EXPECT_NEAR(section.underside_mm({90.0, 50.0}), 10.0 - 70.0, 1e-9);
    EXPECT_NEAR(section.underside_mm({90.0, 53.0}), 10.0 - 70.0, 1e-9) << "3 mm above it";
    EXPECT_NEAR(section.underside_mm({20.0, 50.0}), 10.0 - 140.0, 1e-9) << "beyond the end it goes on straight";
    EXPECT_NEAR(section.underside_mm({200.0, 0.0}), 10.0, 1e-9) << "outside the fold";
    EXPECT_TRUE(section.direction_at({90.0, 50.0}).isApprox(Vector2d(-1.0, 0.0)));
    EXPECT_TRUE(section.direction_at({125.0, 30.0}).isApprox(Vector2d(-0.6, 0.8)));
}

TEST(Unrolling, FindsThePlaceOfAHeight) {
    const geometry::Loft loft = skirt("lower edge");
    const UnrolledSection section = Unrolling(loft).at(millimetres(400.0));
    EXPECT_TRUE(section.place_at(10.0 - 25.0).isApprox(Vector2d(125.0, 30.0)));
    EXPECT_TRUE(section.place_at(10.0 - 70.0).isApprox(Vector2d(90.0, 50.0)));
    EXPECT_TRUE(section.place_at(10.0 - 140.0).isApprox(Vector2d(20.0, 50.0)));
    EXPECT_TRUE(section.place_at(50.0).isApprox(Vector2d(140.0, 10.0))) << "no underside above the fold";
}

TEST(Unrolling, FoldsAtTheOuterLowerCornerWithoutALowerEdge) {
    const geometry::Loft loft = skirt("corner");
    EXPECT_EQ(Unrolling(loft).fold(), 1U);  // out less up: 30, 130, 60, 0
}

TEST(Unrolling, FoldsLevelWhereNothingIsDrawn) {
    const UnrolledSection section = Unrolling(Vector2d(140.0, 12.0)).at(millimetres(5.0));
    EXPECT_TRUE(section.heights_mm.empty());
    EXPECT_NEAR(section.underside_mm({60.0, 12.0}), 12.0 - 80.0, 1e-12);
}

}  // namespace
}  // namespace sillwright::core
