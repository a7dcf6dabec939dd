#include "core/buck/rib_outline.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/core/buck/hand_plug.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;
using testing::HasSubstr;

struct Made {
    PlugLayout layout;
    std::vector<PlugPoint> points;
    RibEdge edge;
};

Made made(const PlugSurface& plug, double x_mm, const PlugLayout& layout, double skin_mm = 3.0) {
    Made one{layout, plug.inner(x_mm, layout).value(), {}};
    auto edge = rib_edge(one.points, layout, millimetres(skin_mm));
    EXPECT_TRUE(edge) << (edge ? "" : edge.error().message);
    one.edge = edge.value();
    return one;
}

std::string error_of(const std::vector<HandNode>& section, double skin_mm) {
    const auto line = hand_line({section, section});
    const PlugSurface plug = hand_plug(line, plain_making(skin_mm));
    const auto layout = plug.layout(500).value();
    const auto edge = rib_edge(plug.inner(500, layout).value(), layout, millimetres(skin_mm));
    if (!edge) {
        return edge.error().message;
    }
    const auto outline = rib_outline(edge.value(), layout, 60.0);
    return outline ? "no error" : outline.error().message;
}

/// By hand: from base 70 to the crown at 147, 94 wide, less two corners of (1 - pi/4) 7².
TEST(RibOutline, IsExactLinesAndArcsWhereThePlanIsStraight) {
    const auto line = hand_line({u_section(10), u_section(10)});
    const PlugSurface plug = hand_plug(line, plain_making());
    const Made one = made(plug, 500, plug.layout(500).value());
    EXPECT_TRUE(one.edge.sharp.empty());
    EXPECT_NEAR(one.edge.lower_end_mm(), 90.0, 1e-9);
    const auto outline = rib_outline(one.edge, one.layout, 70.0).value();
    EXPECT_TRUE(outline.closed);
    EXPECT_NEAR(enclosed_area_mm2(outline), 94.0 * 77.0 - 2.0 * (1.0 - std::numbers::pi / 4.0) * 49.0, 1e-7);
    int arcs = 0;
    for (const geometry::Segment& segment : outline.segments) {
        if (const auto* const arc = std::get_if<geometry::ArcSegment>(&segment.shape)) {
            EXPECT_NEAR(arc->radius_mm, 7.0, 1e-8);
            ++arcs;
        }
    }
    EXPECT_EQ(arcs, 2);
    EXPECT_NEAR(start_point(outline.segments.back()).y(), 0.0, 1e-12);
    EXPECT_LT(start_point(outline.segments.back()).x(), end_point(outline.segments.back()).x());
    EXPECT_LT(misfit_mm(one.edge, outline, 70.0), 1e-9);
}

/// A rounding of 2 under a skin of 3 is a mitre: sharp, and the surface's middle stands sqrt2 (3 - 2) + 2 off it.
TEST(RibOutline, ARoundingSmallerThanTheSkinIsSharp) {
    const auto line = hand_line({u_section(2), u_section(2)});
    const PlugSurface plug = hand_plug(line, plain_making());
    const Made one = made(plug, 500, plug.layout(500).value());
    ASSERT_EQ(one.edge.sharp.size(), 2U);
    EXPECT_EQ(one.edge.sharp.front().where, "n2");
    EXPECT_NEAR(one.edge.sharp.front().under_mm, std::numbers::sqrt2 + 2.0 - 3.0, 0.01);
    const auto outline = rib_outline(one.edge, one.layout, 70.0).value();
    EXPECT_NEAR(enclosed_area_mm2(outline), 94.0 * 77.0, 1e-7);
}

/// A sharp hollow of the plug is round in the rib: everything nearer than the skin goes.
TEST(RibOutline, ASharpHollowIsRoundedByTheSkin) {
    const std::vector<HandNode> stepped{{110, 100}, {130, 100}, {130, 60}, {150, 60}, {150, 0}, {110, 0}};
    const auto line = hand_line({stepped, stepped});
    const PlugSurface plug = hand_plug(line, plain_making());
    const Made one = made(plug, 500, plug.layout(500).value());
    const auto outline = rib_outline(one.edge, one.layout, 60.0).value();
    bool found = false;
    for (const geometry::Segment& segment : outline.segments) {
        if (const auto* const arc = std::get_if<geometry::ArcSegment>(&segment.shape)) {
            EXPECT_NEAR(arc->radius_mm, 3.0, 1e-8);
            EXPECT_NEAR((arc->centre - Eigen::Vector2d(60, 70)).norm(), 0.0, 1e-8);
            found = true;
        }
    }
    EXPECT_TRUE(found);
}

TEST(RibOutline, RefusesARidgeThatIsNarrowerThanTwoSkins) {
    const std::vector<HandNode> ridged{{110, 100}, {150, 100}, {150, 52}, {170, 52},
                                       {170, 48},  {150, 48},  {150, 0},  {110, 0}};
    // 20 high, 4 wide: the skins of both sides take it all
    EXPECT_THAT(error_of(ridged, 3.0), HasSubstr("vanishes"));
    EXPECT_EQ(error_of(ridged, 1.0), "no error");
}

TEST(RibOutline, RefusesASectionThatIsNarrowerThanTwoSkins) {
    EXPECT_NE(error_of({{110, 5}, {150, 5}, {150, 0}, {110, 0}}, 3.0), "no error");
}

TEST(RibOutline, RefusesWhatTheBaseCuts) {
    const auto line = hand_line({u_section(10), u_section(10)});
    const PlugSurface plug = hand_plug(line, plain_making());
    const Made one = made(plug, 500, plug.layout(500).value());
    const auto outline = rib_outline(one.edge, one.layout, 95.0);
    ASSERT_FALSE(outline);
    EXPECT_THAT(outline.error().message, HasSubstr("5.00 mm below"));
}

/// A crown that rises by m: both faces are planes' sections, so the bevel is arctan m and the distance m t.
TEST(RibOutline, BevelsOfAWedgeAreItsSlope) {
    const double m = 0.08;
    const double t = 12.0;
    const auto line = hand_line({u_section(10, 150), u_section(10, 150 + 1000 * m)});
    const PlugSurface plug = hand_plug(line, plain_making());
    const auto layout = plug.layout(506).value();
    const Made near = made(plug, 512, layout);
    const Made far = made(plug, 500, layout);
    const auto all = bevels(near.edge, far.edge, near.points, layout, t);
    bool found = false;
    for (const Bevel& one : all) {
        const bool crown = one.strip == "n2 to n3";
        EXPECT_NEAR(in_rad(one.from), crown ? std::atan(m) : 0.0, 1e-6) << one.strip;
        EXPECT_NEAR(in_rad(one.to), crown ? std::atan(m) : 0.0, 1e-6) << one.strip;
        EXPECT_NEAR(in_mm(one.most), crown ? m * t : 0.0, 1e-6) << one.strip;
        found = found || crown;
    }
    EXPECT_TRUE(found);
    const auto backwards = bevels(far.edge, near.edge, far.points, layout, t);
    for (const Bevel& one : backwards) {
        EXPECT_LE(in_mm(one.most), 1e-6) << one.strip;
    }
    // both faces are made of planes and arcs that shift: half-way ruled is half-way cut
    const RibEdge ruled = half_way(near.edge, far.edge);
    const auto middle = made(plug, 506, plug.layout(506, true).value());
    EXPECT_LT(misfit_mm(middle.edge, rib_outline(ruled, layout, 70.0).value(), 70.0), 0.01);
}

}  // namespace
}  // namespace sillwright::core
