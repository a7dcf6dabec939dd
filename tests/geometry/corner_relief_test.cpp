#include "geometry/corner_relief.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "geometry/segment_intersection.h"
#include "geometry/tool_path.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

/// A board 120 wide and `height` high with a slot from below, its middle at `at`.
Profile slotted(double at, double width, double depth, double height = 100.0) {
    const double a = at - width / 2.0;
    const double b = at + width / 2.0;
    std::vector<ProfileNode> nodes;
    for (const Vector2d& p :
         {Vector2d(0, 0), {a, 0}, {a, depth}, {b, depth}, {b, 0}, {120, 0}, {120, height}, {0, height}}) {
        nodes.push_back({p, {}});
    }
    return make_profile(nodes, true).value();
}

/// No two segments meet but neighbours at their joint.
void expect_simple(const Profile& closed) {
    const std::size_t n = closed.segments.size();
    for (std::size_t i = 0; i < n; ++i) {
        EXPECT_LT((end_point(closed.segments[i]) - start_point(closed.segments[(i + 1) % n])).norm(), 1e-9);
        for (std::size_t k = i + 1; k < n; ++k) {
            for (const Vector2d& p : meeting_points(closed.segments[i], closed.segments[k], millimetres(1e-7))) {
                const bool joint = (k == i + 1 && (p - end_point(closed.segments[i])).norm() < 1e-3) ||
                                   (i == 0 && k == n - 1 && (p - start_point(closed.segments[i])).norm() < 1e-3);
                EXPECT_TRUE(joint) << i << " and " << k << " at " << p.transpose();
            }
        }
    }
}

/// What stands in the slot, thinner than it by `clear` all round, touches no wood.
void expect_peg_fits(const Profile& cut, double at, double width, double depth, double clear) {
    const double a = at - width / 2.0 + clear;
    const double b = at + width / 2.0 - clear;
    const double top = depth - clear;
    for (int i = 0; i <= 400; ++i) {
        const double part = i / 400.0;
        for (const Vector2d& p : {Vector2d(a, part * top), {b, part * top}, {std::lerp(a, b, part), top}}) {
            EXPECT_FALSE(contains(cut, p)) << p.transpose();
            EXPECT_GE(in_mm(nearest_point(cut, p).distance), clear * (1.0 - 1e-9)) << p.transpose();
        }
    }
}

TEST(CornerRelief, PutsTheMiddleOfADiagonalOneWhereTheTradeDoes) {
    // A bit of 6: corner - r / sqrt 2 in each axis, 2.1213 (workshop pages on dog-bones; computed).
    const auto cut = relieved(slotted(50, 30, 40), millimetres(3), ReliefKind::diagonal).value();
    ASSERT_EQ(cut.cuts.size(), 2U);
    EXPECT_LT((cut.cuts[0].corner_mm - Vector2d(35, 40)).norm(), 1e-12);
    EXPECT_NEAR(cut.cuts[0].centre_mm.x(), 35 + 2.1213, 5e-5);
    EXPECT_NEAR(cut.cuts[0].centre_mm.y(), 40 - 2.1213, 5e-5);
    EXPECT_NEAR(cut.cuts[1].centre_mm.x(), 65 - 2.1213, 5e-5);
    EXPECT_NEAR(in_mm(nearest_point(cut.outline, {35, 40}).distance), 0.0, 1e-9);
    // Each takes the half disc over its diameter, less the triangle to the corner: pi r^2 / 2 - r^2.
    EXPECT_NEAR(enclosed_area_mm2(cut.outline), 120 * 100 - 30 * 40 - 2 * (4.5 * std::numbers::pi - 9.0), 1e-9);
    expect_simple(cut.outline);
}

TEST(CornerRelief, GoesOnAlongTheLongerEdge) {
    // The slot's side is longer than its end: the end is cut over by half a disc, the side not at all.
    const auto cut = relieved(slotted(50, 30, 40), millimetres(3), ReliefKind::along_edge).value();
    ASSERT_EQ(cut.cuts.size(), 2U);
    EXPECT_LT((cut.cuts[0].centre_mm - Vector2d(38, 40)).norm(), 1e-12);
    EXPECT_LT((cut.cuts[1].centre_mm - Vector2d(62, 40)).norm(), 1e-12);
    EXPECT_NEAR(enclosed_area_mm2(cut.outline), 120 * 100 - 30 * 40 - 9.0 * std::numbers::pi, 1e-9);
    expect_simple(cut.outline);
    // Where the end is the longer one, its line goes on into the sides.
    const auto wide = relieved(slotted(50, 60, 20), millimetres(3), ReliefKind::along_edge).value();
    EXPECT_LT((wide.cuts[0].centre_mm - Vector2d(20, 17)).norm(), 1e-12);
    EXPECT_NEAR(enclosed_area_mm2(wide.outline), 120 * 100 - 60 * 20 - 9.0 * std::numbers::pi, 1e-9);
    // Neither is longer: half-way.
    const auto even = relieved(slotted(50, 30, 30), millimetres(3), ReliefKind::along_edge).value();
    EXPECT_NEAR(even.cuts[0].centre_mm.x(), 35 + 3 / std::numbers::sqrt2, 1e-12);
}

TEST(CornerRelief, LetsRandomPegsInAndTheBitToAllOfTheEdge) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    for (int i = 0; i < 200; ++i) {
        const double bit = 1.5 + 4.5 * share(random);  // radius
        const double width = 2.0 * bit + 0.3 + 20.0 * share(random);
        const double depth = 2.0 * bit * std::numbers::sqrt2 + 2.0 + 30.0 * share(random);
        const double at = 40.0 + 30.0 * share(random);
        const auto kind = i % 2 == 0 ? ReliefKind::diagonal : ReliefKind::along_edge;
        SCOPED_TRACE(testing::Message() << "bit " << bit << ", slot " << width << " x " << depth);
        const auto cut = relieved(slotted(at, width, depth), millimetres(bit + 0.1), kind);
        ASSERT_TRUE(cut.has_value()) << cut.error().message;
        expect_simple(cut.value().outline);
        expect_peg_fits(cut.value().outline, at, width, depth, 0.05);
        const auto path = tool_path(cut.value().outline, millimetres(bit), CutSide::outside, millimetres(0.01)).value();
        EXPECT_TRUE(path.uncut.empty()) << in_mm(path.uncut.front().depth) << " left at "
                                        << path.uncut.front().at_mm.transpose();
        EXPECT_EQ(path.chains.size(), 1U);
    }
}

TEST(CornerRelief, MakesOneCutOfTwoThatMeet) {
    // Slot 7 wide, r 3.1: the circles' middles are at +-(3.5 - 3.1 / sqrt 2), 3.1 / sqrt 2 below the end; they cross
    // beyond it by Pythagoras.
    const double r = 3.1;
    const auto cut = relieved(slotted(50, 7, 40), millimetres(r), ReliefKind::diagonal).value();
    const double off = 3.5 - r / std::numbers::sqrt2;
    const Vector2d point(50, 40 - r / std::numbers::sqrt2 + std::sqrt(r * r - off * off));
    EXPECT_GT(point.y(), 40.0);
    EXPECT_LT(in_mm(nearest_point(cut.outline, point).distance), 1e-9);
    EXPECT_TRUE(contains(cut.outline, point + Vector2d(0, 0.01)));
    EXPECT_FALSE(contains(cut.outline, point - Vector2d(0, 0.01)));
    expect_simple(cut.outline);
    expect_peg_fits(cut.outline, 50, 7, 40, 0.01);
}

TEST(CornerRelief, SaysWhereThereIsNoRoom) {
    // Narrower than the circles' middles are apart: 2 r / sqrt 2 = 4.38.
    const auto narrow = relieved(slotted(50, 4, 40), millimetres(3.1), ReliefKind::diagonal);
    ASSERT_FALSE(narrow.has_value());
    EXPECT_EQ(narrow.error().code, ErrorCode::does_not_fit);
    EXPECT_THAT(narrow.error().message, testing::HasSubstr("(48.00 mm, 40.00 mm)"));
    // The slot's side is 4 deep, the relief takes 4.38 of it.
    const auto shallow = relieved(slotted(50, 30, 4), millimetres(3.1), ReliefKind::diagonal);
    ASSERT_FALSE(shallow.has_value());
    EXPECT_THAT(shallow.error().message, testing::HasSubstr("4.00 mm long"));
    // Beside the slot are 2 mm of wood at (5, ...): the bit of 20 breaks through the board's side.
    const auto through = relieved(slotted(20, 36, 60), millimetres(10), ReliefKind::diagonal);
    ASSERT_FALSE(through.has_value());
    EXPECT_EQ(through.error().code, ErrorCode::does_not_fit);
}

TEST(CornerRelief, RefusesWhatIsNoOutline) {
    Profile open = slotted(50, 30, 40);
    open.closed = false;
    EXPECT_EQ(relieved(open, millimetres(3), ReliefKind::diagonal).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(relieved(reversed(slotted(50, 30, 40)), millimetres(3), ReliefKind::diagonal).error().code,
              ErrorCode::invalid_argument);
    EXPECT_EQ(relieved({{}, true}, millimetres(3), ReliefKind::diagonal).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(relieved(slotted(50, 30, 40), millimetres(0), ReliefKind::diagonal).error().code,
              ErrorCode::invalid_argument);
}

TEST(CornerRelief, LeavesRoundAndOutsideCornersAlone) {
    std::vector<ProfileNode> nodes;
    for (const Vector2d& p : {Vector2d(0, 0), {35, 0}, {35, 40}, {65, 40}, {65, 0}, {120, 0}, {120, 100}, {0, 100}}) {
        nodes.push_back({p, p.y() == 40 ? millimetres(5) : Length{}});
    }
    const Profile outline = make_profile(nodes, true).value();
    const auto cut = relieved(outline, millimetres(3.1), ReliefKind::diagonal).value();
    EXPECT_TRUE(cut.cuts.empty());
    EXPECT_EQ(cut.outline.segments.size(), outline.segments.size());
}

TEST(CornerRelief, GoesThroughACornerBetweenAnArcAndAStraight) {
    // A step of 30 on a round edge of radius 80: the circle goes through the corner and ends on the arc.
    const Vector2d corner(80.0 * std::cos(0.9), 80.0 * std::sin(0.9));
    Profile outline{{}, true};
    outline.segments.push_back({LineSegment{{0, 0}, {80, 0}}, 0});
    outline.segments.push_back({ArcSegment{{0, 0}, 80.0, radians(0.0), radians(0.9)}, 1});
    const Vector2d out = corner.normalized();
    outline.segments.push_back({LineSegment{corner, corner + 30.0 * out}, 2});
    outline.segments.push_back({LineSegment{corner + 30.0 * out, {-40, 100}}, 3});
    outline.segments.push_back({LineSegment{{-40, 100}, {0, 0}}, 4});
    const auto cut = relieved(outline, millimetres(3.1), ReliefKind::diagonal).value();
    ASSERT_EQ(cut.cuts.size(), 1U);
    EXPECT_LT((cut.cuts[0].corner_mm - corner).norm(), 1e-9);
    EXPECT_NEAR((cut.cuts[0].centre_mm - corner).norm(), 3.1, 1e-9);
    expect_simple(cut.outline);
    EXPECT_LT(enclosed_area_mm2(cut.outline), enclosed_area_mm2(outline));
    EXPECT_TRUE(tool_path(cut.outline, millimetres(3), CutSide::outside, millimetres(0.01)).value().uncut.empty());
}

TEST(CornerRelief, OfAMirroredOutlineIsTheMirrorOfIt) {
    for (const auto kind : {ReliefKind::diagonal, ReliefKind::along_edge}) {
        for (const double width : {7.0, 12.0, 30.0}) {
            const auto cut = relieved(slotted(50, width, 30), millimetres(3.1), kind).value();
            const auto other = relieved(slotted(70, width, 30), millimetres(3.1), kind).value();  // x -> 120 - x
            EXPECT_NEAR(enclosed_area_mm2(cut.outline), enclosed_area_mm2(other.outline), 1e-9);
            ASSERT_EQ(cut.cuts.size(), other.cuts.size());
            const auto points = polyline(cut.outline, millimetres(0.01)).value();
            for (const Vector2d& p : points) {
                EXPECT_LT(in_mm(nearest_point(other.outline, {120.0 - p.x(), p.y()}).distance), 1e-9);
            }
        }
    }
}

}  // namespace
}  // namespace sillwright::geometry
