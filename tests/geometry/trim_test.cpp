#include "geometry/trim.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "geometry/sheet_ring.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

Mesh solid(const Loft& loft, double tolerance_mm) {
    const auto layout = layout_of_solid(loft, millimetres(0.5 * tolerance_mm)).value();
    return mesh_of(solid_ring(loft, layout).value(), millimetres(tolerance_mm)).value().mesh;
}

/// A block 100 along, 20 out, 50 up, its own truth.
Mesh block() {
    using examples::node;
    const std::vector<LoftNode> nodes{node("a", 0, 0), node("b", 20, 0), node("c", 20, 50), node("d", 0, 50)};
    return solid(Loft::make({{millimetres(0.0), nodes}, {millimetres(100.0), nodes}}, {}, true).value(), 0.01);
}

void expect_block(const std::vector<Eigen::Vector2d>& outline, double side_area) {
    const auto trimmed = trimmed_to_outline(block(), outline);
    ASSERT_TRUE(trimmed.has_value()) << trimmed.error().message;
    EXPECT_EQ(open_edge_count(trimmed.value()), 0U);
    EXPECT_NEAR(volume_mm3(trimmed.value()), side_area * 20.0, 1e-8);
}

// Areas of the outline within 100 x 50, by hand.
TEST(Trim, BlockKeepsTheOutlinesArea) {
    expect_block({{-10, -10}, {110, -10}, {110, 60}, {-10, 60}}, 5000.0);  // all of it
    expect_block({{10, 10}, {90, 10}, {90, 60}, {10, 60}}, 80.0 * 40.0);
    expect_block({{10, 60}, {90, 60}, {90, 10}, {10, 10}}, 80.0 * 40.0);  // the other way round
    expect_block({{0, 0}, {100, 0}, {100, 50}, {0, 50}}, 5000.0);         // along its own faces
    expect_block({{20, 20}, {80, 20}, {100, 50}, {0, 50}}, 30.0 * 80.0);  // a trapezium
    expect_block({{-5, 0}, {60, 0}, {60, 30}, {105, 30}, {105, 60}, {-5, 60}}, 5000.0 - 40.0 * 30.0);  // a step cut out
    // A wheel arch: two corners that turn in; 100 x 50 less the trapezium (40 + 20) / 2 * 25.
    expect_block({{0, 0}, {30, 0}, {40, 25}, {60, 25}, {70, 0}, {100, 0}, {100, 50}, {0, 50}}, 5000.0 - 750.0);
}

TEST(Trim, PanelGrazedByItsLowerLineStaysClosed) {
    const Mesh panel = solid(examples::panel(), 0.05);
    const double whole = volume_mm3(panel);
    for (double low = -4.0; low <= 6.0; low += 0.25) {  // through the rounded foot
        SCOPED_TRACE(low);
        const auto above = trimmed_to_outline(panel, {{20.0, low}, {580.0, low + 1.0}, {580.0, 280.0}, {20.0, 280.0}});
        ASSERT_TRUE(above.has_value()) << above.error().message;
        EXPECT_EQ(open_edge_count(above.value()), 0U);
        EXPECT_LT(volume_mm3(above.value()), whole);
    }
}

// Law: the two sides of a cut make the whole.
TEST(Trim, TwoSidesOfACutMakeTheWhole) {
    const Mesh panel = solid(examples::panel(), 0.05);
    for (const Eigen::Vector3d& direction :
         {Eigen::Vector3d(0.0, 0.0, 1.0), Eigen::Vector3d(0.6, 0.0, 0.8), Eigen::Vector3d(0.3, -0.9, 0.2)}) {
        const Eigen::Vector3d n = direction.normalized();
        const double height = n.dot(Eigen::Vector3d(300.0, 0.0, 100.0));
        const Mesh below = cut_off(panel, n, height).value();
        const Mesh above = cut_off(panel, -n, -height).value();
        EXPECT_EQ(open_edge_count(below), 0U);
        EXPECT_EQ(open_edge_count(above), 0U);
        EXPECT_NEAR((volume_mm3(below) + volume_mm3(above)) / volume_mm3(panel), 1.0, 1e-12);
        EXPECT_EQ(below.deviation, panel.deviation);
    }
}

TEST(Trim, OutlineMovesOutwardByTheDeviation) {
    Mesh mesh = block();
    mesh.deviation = millimetres(0.5);
    const Mesh trimmed = trimmed_to_outline(mesh, {{10, 10}, {90, 10}, {90, 60}, {10, 60}}).value();
    EXPECT_NEAR(volume_mm3(trimmed), 81.0 * 40.5 * 20.0, 1e-8);
}

TEST(Trim, RefusesWhatIsNoOutline) {
    EXPECT_FALSE(trimmed_to_outline(block(), {{0, 0}, {1, 0}}).has_value());
    EXPECT_FALSE(trimmed_to_outline(block(), {{0, 0}, {1, 0}, {std::nan(""), 1}}).has_value());
    EXPECT_FALSE(trimmed_to_outline(block(), {{0, 0}, {50, 51}, {50, 0}, {0, 50}}).has_value());
    const auto nothing = trimmed_to_outline(block(), {{200, 0}, {300, 0}, {300, 50}});
    ASSERT_FALSE(nothing.has_value());
    EXPECT_EQ(nothing.error().code, ErrorCode::does_not_fit);
}

}  // namespace
}  // namespace sillwright::geometry
