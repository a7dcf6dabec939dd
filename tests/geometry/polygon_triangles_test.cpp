#include "geometry/polygon_triangles.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace sillwright::geometry {
namespace {

double area_of(const std::vector<Eigen::Vector2d>& corners, const std::vector<Triangle>& triangles) {
    double area = 0.0;
    for (const Triangle& t : triangles) {
        const double a = polygon_area({corners[static_cast<std::size_t>(t[0])], corners[static_cast<std::size_t>(t[1])],
                                       corners[static_cast<std::size_t>(t[2])]});
        EXPECT_GE(a, -1e-12);
        area += a;
    }
    return area;
}

TEST(PolygonTriangles, FillsACombAndAThinArc) {
    std::vector<Eigen::Vector2d> comb{{0.0, 0.0}, {21.0, 0.0}};
    for (int i = 10; i >= 0; --i) {
        comb.emplace_back(2.0 * i + 1.0, 10.0);
        comb.emplace_back(2.0 * i, i == 0 ? 10.0 : 1.0);
    }
    const auto filled = polygon_triangles(comb).value();
    EXPECT_EQ(filled.size(), comb.size() - 2);
    EXPECT_NEAR(area_of(comb, filled), polygon_area(comb), 1e-9);

    std::vector<Eigen::Vector2d> arc;
    for (int i = 0; i <= 100; ++i) {
        arc.emplace_back(60.0 * std::cos(i * 0.05), 60.0 * std::sin(i * 0.05));
    }
    for (int i = 100; i >= 0; --i) {
        arc.emplace_back(57.0 * std::cos(i * 0.05), 57.0 * std::sin(i * 0.05));
    }
    const auto sheet = polygon_triangles(arc).value();
    EXPECT_EQ(sheet.size(), arc.size() - 2);
    // Closed form: 100 rings of half the sine of the step times r^2.
    EXPECT_NEAR(area_of(arc, sheet), 50.0 * std::sin(0.05) * (3600.0 - 3249.0), 1e-9);
}

TEST(PolygonTriangles, KeepsCornersOnStraights) {
    const std::vector<Eigen::Vector2d> corners{{0, 0}, {1, 0}, {2, 0}, {3, 0}, {3, 1}, {2, 1}, {1, 1}, {0, 1}};
    const auto triangles = polygon_triangles(corners).value();
    EXPECT_EQ(triangles.size(), 6U);
    EXPECT_NEAR(area_of(corners, triangles), 3.0, 1e-12);
}

TEST(PolygonTriangles, RefusesCrossingAndClockwise) {
    EXPECT_FALSE(polygon_triangles({{0, 0}, {10, 10}, {10, 0}, {0, 11}}).has_value());
    EXPECT_FALSE(polygon_triangles({{0, 0}, {0, 1}, {1, 1}, {1, 0}}).has_value());
    EXPECT_FALSE(polygon_triangles({{0, 0}, {1, 1}}).has_value());
}

}  // namespace
}  // namespace sillwright::geometry
