#include "geometry/tool_path.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

constexpr Length k_tolerance = millimetres(0.01);

Profile closed(const std::vector<Vector2d>& points, const std::vector<double>& radii = {}) {
    std::vector<ProfileNode> nodes;
    for (std::size_t i = 0; i < points.size(); ++i) {
        nodes.push_back({points[i], millimetres(i < radii.size() ? radii[i] : 0.0)});
    }
    return make_profile(nodes, true).value();
}

Profile slotted(double width, double depth) {
    const double a = 60 - width / 2.0;
    const double b = 60 + width / 2.0;
    return closed({{0, 0}, {a, 0}, {a, depth}, {b, depth}, {b, 0}, {120, 0}, {120, 100}, {0, 100}});
}

TEST(ToolPath, GoesRoundASquareAtTheBitsRadius) {
    // Steiner: area + perimeter r + pi r^2 outside; inside the square shrunk by r.
    const Profile square = closed({{0, 0}, {50, 0}, {50, 50}, {0, 50}});
    const auto outside = tool_path(square, millimetres(3), CutSide::outside, k_tolerance).value();
    ASSERT_EQ(outside.chains.size(), 1U);
    EXPECT_NEAR(enclosed_area_mm2(outside.chains[0]), 2500 + 200 * 3 + 9 * std::numbers::pi, 1e-9);
    EXPECT_TRUE(outside.uncut.empty());
    const auto inside = tool_path(square, millimetres(3), CutSide::inside, k_tolerance).value();
    ASSERT_EQ(inside.chains.size(), 1U);
    EXPECT_NEAR(enclosed_area_mm2(inside.chains[0]), 44.0 * 44.0, 1e-9);
    // The four corners of a cut-out keep (sqrt 2 - 1) r = 1.243.
    ASSERT_EQ(inside.uncut.size(), 4U);
    for (const UncutPlace& place : inside.uncut) {
        EXPECT_NEAR(in_mm(place.depth), 1.2426, 5e-5);
        EXPECT_NEAR(std::abs(place.at_mm.x() - 25), 25, 1e-6);
        EXPECT_NEAR(std::abs(place.at_mm.y() - 25), 25, 1e-6);
    }
}

TEST(ToolPath, LeavesTheCornersOfASlot) {
    const auto path = tool_path(slotted(20, 40), millimetres(3), CutSide::outside, k_tolerance).value();
    ASSERT_EQ(path.uncut.size(), 2U);
    EXPECT_NEAR(in_mm(path.uncut[0].depth), 3.0 * (std::numbers::sqrt2 - 1.0), 1e-6);
    EXPECT_LT((path.uncut[0].at_mm - Vector2d(50, 40)).norm(), 1e-4);
    EXPECT_LT((path.uncut[1].at_mm - Vector2d(70, 40)).norm(), 1e-4);
    EXPECT_NEAR(in_mm(path.uncut[0].along), 50 + 40, 1e-4);
}

TEST(ToolPath, LeavesASlotThatIsNarrowerThanTheBit) {
    // The bit of 6 stands before the mouth of 4 with its middle sqrt(9 - 4) below it; the end is 40 + that from it, and
    // its corners further.
    const auto path = tool_path(slotted(4, 40), millimetres(3), CutSide::outside, k_tolerance).value();
    ASSERT_EQ(path.uncut.size(), 1U);
    const double corner = std::hypot(2.0, 40.0 + std::sqrt(5.0)) - 3.0;
    EXPECT_NEAR(in_mm(path.uncut[0].depth), corner, 1e-6);
    EXPECT_NEAR(path.uncut[0].at_mm.y(), 40.0, 1e-6);
}

TEST(ToolPath, LeavesWhatIsRounderThanTheBit) {
    // A hollow corner of radius 2 under a bit of radius 3: (sqrt 2 - 1)(3 - 2) at its middle.
    const Profile outline =
        closed({{0, 0}, {40, 0}, {40, 40}, {80, 40}, {80, 0}, {120, 0}, {120, 100}, {0, 100}}, {0, 0, 2, 4});
    const auto path = tool_path(outline, millimetres(3), CutSide::outside, k_tolerance).value();
    ASSERT_EQ(path.uncut.size(), 1U);
    EXPECT_NEAR(in_mm(path.uncut[0].depth), std::numbers::sqrt2 - 1.0, 1e-6);
    EXPECT_LT((path.uncut[0].at_mm - Vector2d(42 - std::numbers::sqrt2, 38 + std::numbers::sqrt2)).norm(), 1e-4);
    EXPECT_TRUE(tool_path(outline, millimetres(2), CutSide::outside, k_tolerance).value().uncut.empty());
}

TEST(ToolPath, CountsAStretchOverTheStartOnce) {
    // The outline starts in the middle of a slot's end that the bit does not get to.
    Profile outline = slotted(4, 40);
    const Segment end = outline.segments[2];
    outline.segments[2] = part_of(end, 0.5, 1.0);
    std::rotate(outline.segments.begin(), outline.segments.begin() + 2, outline.segments.end());
    outline.segments.push_back(part_of(end, 0.0, 0.5));
    const auto path = tool_path(outline, millimetres(3), CutSide::outside, k_tolerance).value();
    EXPECT_EQ(path.uncut.size(), 1U);
}

TEST(ToolPath, SaysNothingOfAnInsideThatIsTooNarrow) {
    const Profile small = closed({{0, 0}, {5, 0}, {5, 50}, {0, 50}});
    const auto path = tool_path(small, millimetres(3), CutSide::inside, k_tolerance).value();
    EXPECT_TRUE(path.chains.empty());
}

TEST(ToolPath, RefusesWhatIsNoOutline) {
    const Profile square = closed({{0, 0}, {50, 0}, {50, 50}, {0, 50}});
    Profile open = square;
    open.closed = false;
    const auto code = [](const Profile& outline, double radius, double tolerance) {
        return tool_path(outline, millimetres(radius), CutSide::outside, millimetres(tolerance)).error().code;
    };
    EXPECT_EQ(code(open, 3, 0.01), ErrorCode::invalid_argument);
    EXPECT_EQ(code(reversed(square), 3, 0.01), ErrorCode::invalid_argument);
    EXPECT_EQ(code(square, 0, 0.01), ErrorCode::invalid_argument);
    EXPECT_EQ(code(square, 3, 0), ErrorCode::invalid_argument);
    EXPECT_EQ(code({{}, true}, 3, 0.01), ErrorCode::invalid_argument);
}

}  // namespace
}  // namespace sillwright::geometry
